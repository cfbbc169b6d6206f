#include "say.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

namespace epicotyl::detail {

std::string say_day(plan const& of, int offset) {
    std::optional<day> const when = of.window().day_at(offset);
    if (!when) { return "never"; }
    date::year_month_day const start{of.window().start()};
    date::year_month_day const ymd{*when};
    return ymd.year() == start.year() ? epicotyl::to_day_month(*when) : to_day_month_year(*when);
}

std::string say_temperature(plan const& of, double celsius) {
    bool const metric = of.parts().units == unit_system::metric;
    double const value = metric ? celsius : temperature::from_celsius(celsius).fahrenheit();
    // One decimal, and none where it would be a zero.
    double const tenths = std::round(value * 10.0);
    std::string text = std::fmod(tenths, 10.0) == 0.0
                           ? fmt::format("{}", static_cast<int>(tenths / 10.0))
                           : fmt::format("{:.1f}", tenths / 10.0);
    if (text.front() == '-') { text.replace(0, 1, "−"); }
    return text + (metric ? " °C" : " °F");
}

std::string say_years(int count, int of) {
    return fmt::format("{} of {} years", count, of);
}

std::string say_days(int count) {
    return fmt::format("{} day{}", count, count == 1 ? "" : "s");
}

std::string say_event(std::string_view event) {
    std::string text{event};
    std::replace(text.begin(), text.end(), '_', ' ');
    return text;
}

std::string say_place(plan const& of, int place) {
    return place < 0 ? "outdoors" : of.places()[static_cast<std::size_t>(place)].name;
}

}  // namespace epicotyl::detail
