#include <string>

#include <epicotyl/clock/clock.hpp>
#include <epicotyl/clock/day_length.hpp>
#include <epicotyl/clock/germination.hpp>
#include <epicotyl/days.hpp>

std::string week_of_midsummer() {
    return epicotyl::to_week(epicotyl::parse_iso_day("2027-06-21"));
}
