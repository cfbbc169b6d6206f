// Everything at once in two translation units: what a header defines may be defined in both. The
// other unit is umbrella_second.cpp.
#include <epicotyl/epicotyl.hpp>

#include "catch.hpp"

namespace umbrella {
char const* version_in_second_unit();
}

TEST_CASE("every header may be included in several translation units of one program") {
    CHECK(std::string_view{umbrella::version_in_second_unit()} == epicotyl::version);
}
