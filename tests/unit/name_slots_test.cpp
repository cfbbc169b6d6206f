// Names found in the list that holds them: as a map finds them, whatever their number.
#include "catch.hpp"

#include <map>
#include <random>
#include <string>
#include <vector>

#include <epicotyl/detail/name_slots.hpp>

TEST_CASE("names of a list are found as in a map, with room made before or not") {
    for (std::size_t const room : {0, 1, 3000}) {
        std::mt19937 random{11};
        std::vector<std::string> names;
        auto const name_of = [&](int entry) -> std::string const& {
            return names[static_cast<std::size_t>(entry)];
        };
        epicotyl::detail::name_slots slots;
        if (room > 0) { slots.reserve(room); }
        std::map<std::string, int> known;
        CHECK(!slots.find("17", name_of));
        for (int entry = 0; entry < 3000; ++entry) {
            names.push_back(std::to_string(random() % 2000));
            bool const is_new = known.emplace(names.back(), entry).second;
            REQUIRE(slots.add(entry, name_of) == is_new);
        }
        for (int number = 0; number < 2500; ++number) {
            std::string const name = std::to_string(number);
            auto const found = known.find(name);
            auto const entry = slots.find(name, name_of);
            REQUIRE(entry.has_value() == (found != known.end()));
            if (entry) { REQUIRE(*entry == found->second); }
        }
    }
}
