// See umbrella_test.cpp.
#include <epicotyl/epicotyl.hpp>

namespace umbrella {

char const* version_in_second_unit();

char const* version_in_second_unit() {
    return epicotyl::version;
}

}  // namespace umbrella
