#include <string>

#include <epicotyl/crop/seed_count.hpp>
#include <epicotyl/frost/freeze_table.hpp>
#include <epicotyl/weather/climate.hpp>

namespace ep = epicotyl;

std::string about(ep::daily_record const& record) {
    ep::climate const weather{record, ep::latitude{50.0}, {.season_days = 365}};
    return ep::to_string(weather) + "; " +
           std::to_string(ep::seeds_needed(10, ep::chance{0.8}, ep::chance{1.0}, ep::chance{0.9}));
}
