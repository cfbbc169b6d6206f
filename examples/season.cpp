// Plans a season and prints its calendar, week by week, and its prospect, one block a succession.
// examples/season.py does the same in Python and prints the same.
//
//     season [PLAN] [--weather FILE --latitude L]
//
// Without a plan it is the demo farm's, sought from the project's top folder. A weather file and a
// latitude try the plan at another place.
#include <cstdlib>
#include <iostream>
#include <string>
#include <string_view>

#include <epicotyl/epicotyl.hpp>

namespace ep = epicotyl;

int main(int count, char** words) {
    std::string file = "examples/quillet_hollow/farm.toml";
    ep::open_season_options options;
    try {
        for (int i = 1; i < count; ++i) {
            std::string_view const word = words[i];
            if (word == "--weather" && i + 1 < count) {
                options.weather = words[++i];
            } else if (word == "--latitude" && i + 1 < count) {
                options.where = ep::latitude{std::stod(words[++i])};
            } else {
                file = word;
            }
        }
        ep::opened_season const season = ep::open_season(file, options);
        std::cout << ep::to_string(season.calendar) << '\n' << ep::to_string(season.prospect);
    } catch (std::exception const& e) {
        std::cerr << e.what() << '\n';
        return EXIT_FAILURE;
    }
}
