#include "say.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>

#include <date/date.h>
#include <fmt/format.h>

#include <epicotyl/detail/whole.hpp>
#include <epicotyl/plan/plan.hpp>

namespace epicotyl::detail {

std::string say_day(plan const& of, int offset) {
    std::optional<day> const when = of.window().day_at(offset);
    if (!when) { return "never"; }
    date::year_month_day const start{of.window().start()};
    date::year_month_day const ymd{*when};
    unit_system const units = of.parts().units;
    return ymd.year() == start.year() ? epicotyl::to_day_month(*when, units)
                                      : to_day_month_year(*when, units);
}

std::string say_number(double value) {
    double const tenths = std::round(value * 10.0);
    return std::fmod(tenths, 10.0) == 0.0 ? fmt::format("{}", whole_of<std::int64_t>(tenths / 10.0))
                                          : fmt::format("{:.1f}", tenths / 10.0);
}

std::string say_temperature(plan const& of, double celsius) {
    bool const metric = of.parts().units == unit_system::metric;
    double const value = metric ? celsius : temperature::from_celsius(celsius).fahrenheit();
    return say_number(value) + (metric ? " °C" : " °F");
}

std::string say_years(int count, int of) {
    return fmt::format("{} of {} years", count, of);
}

std::string say_in_only(int count, int of) {
    return count == 0 ? fmt::format("in none of {} years", of) : "in only " + say_years(count, of);
}

std::string say_more_than(int count, int of) {
    if (count == 0) { return fmt::format("1 year or more in {}", of); }
    return fmt::format("more than {} year{} in {}", count, count == 1 ? "" : "s", of);
}

std::string say_at_most(int count, int of) {
    if (count == 0) { return fmt::format("none of {} years", of); }
    return fmt::format("at most {} year{} in {}", count, count == 1 ? "" : "s", of);
}

std::string say_in_ten(double share) {
    double const tenths = 10.0 * share;
    double const whole = std::round(tenths);
    if (std::abs(tenths - whole) > 1e-9) { return fmt::format("{:g} % of years", 100.0 * share); }
    return fmt::format("{:g} year{} of 10", whole, whole == 1.0 ? "" : "s");
}

std::string say_days(int count) {
    return fmt::format("{} day{}", count, count == 1 ? "" : "s");
}

std::string say_event(std::string_view event) {
    std::string text{event};
    std::replace(text.begin(), text.end(), '_', ' ');
    return text;
}

std::string say_so_more(std::string_view one_does, std::string_view several_do,
                        std::vector<std::string> const& names, std::size_t most_named) {
    if (names.empty()) { return {}; }
    std::string text = fmt::format(", and so {} {} more (",
                                   names.size() == 1 ? one_does : several_do, names.size());
    for (std::size_t i = 0; i < names.size() && i < most_named; ++i) {
        text += (i == 0 ? "" : ", ") + names[i];
    }
    return text + (names.size() > most_named ? ", …)" : ")");
}

std::string say_place(plan const& of, int place) {
    return place < 0 ? "outdoors" : of.places()[static_cast<std::size_t>(place)].name;
}

void set_value(reason& why, std::string_view name, reason_value value) {
    auto const known = std::find_if(why.values.begin(), why.values.end(),
                                    [&](auto const& one) { return one.first == name; });
    if (known != why.values.end()) {
        known->second = std::move(value);
    } else {
        why.values.emplace_back(name, std::move(value));
    }
}

}  // namespace epicotyl::detail
