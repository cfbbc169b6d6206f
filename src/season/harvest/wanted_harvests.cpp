#include "wanted_harvests.hpp"

#include <fmt/format.h>

#include <epicotyl/plan/plan.hpp>

#include "../days/one_crop.hpp"
#include "../rows/say.hpp"

namespace epicotyl::detail {

namespace {

void require_number(stagger_options const& wanted) {
    if (wanted.every.has_value() == wanted.count.has_value()) {
        throw invalid_input{{.code = "stagger.every_or_count",
                             .field = "every",
                             .value = wanted.every ? fmt::format("{}", *wanted.every) : "",
                             .bound = "one of every and count",
                             .problem = wanted.every ? "every and count are both given"
                                                     : "neither every nor count is given",
                             .remedy = "give the days between harvests, or how many harvests"}};
    }
    if (wanted.every && !(*wanted.every >= 1 && *wanted.every <= longest_season)) {
        throw invalid_input{
            {.code = "stagger.every",
             .field = "every",
             .value = fmt::format("{}", *wanted.every),
             .bound = fmt::format("1 to {}", longest_season),
             .unit = "days",
             .problem = fmt::format("harvests {} apart are no sequence", say_days(*wanted.every)),
             .remedy = "give the days between harvests, such as 7"}};
    }
    if (wanted.count && *wanted.count < 1) {
        throw invalid_input{{.code = "stagger.count",
                             .field = "count",
                             .value = fmt::format("{}", *wanted.count),
                             .bound = "1 or more",
                             .problem = fmt::format("{} is no number of harvests", *wanted.count),
                             .remedy = "give how many harvests are wanted"}};
    }
}

}  // namespace

void require_options(plan const& of, stagger_options const& wanted) {
    require_in_season(of, wanted.first, "first");
    if (auto const* last = std::get_if<day>(&wanted.last)) {
        require_in_season(of, *last, "last");
        require_order(wanted.first, *last, "last");
    }
    require_number(wanted);
    if (wanted.day_length_at_least &&
        !(*wanted.day_length_at_least >= 0.0 && *wanted.day_length_at_least <= 24.0)) {
        throw invalid_input{
            {.code = "day_length.hours",
             .field = "day_length_at_least",
             .value = fmt::format("{}", *wanted.day_length_at_least),
             .bound = "0 to 24",
             .unit = "hours",
             .problem = fmt::format("{} is no length of a day", *wanted.day_length_at_least),
             .remedy = "give hours, such as 10"}};
    }
}

std::vector<int> wanted_days(int first, int last, stagger_options const& wanted) {
    std::vector<int> all;
    if (wanted.every) {
        for (int d = first; d <= last; d += *wanted.every) { all.push_back(d); }
        return all;
    }
    int const parts = *wanted.count - 1;
    int const span = last - first;
    if (parts > span) {
        throw invalid_input{{.code = "stagger.count",
                             .field = "count",
                             .value = fmt::format("{}", *wanted.count),
                             .bound = fmt::format("1 to {}", span + 1),
                             .problem = fmt::format("{} harvests do not fit into {}", *wanted.count,
                                                    say_days(span + 1)),
                             .remedy = "want fewer, or give a longer span"}};
    }
    for (int k = 0; k <= parts; ++k) {
        all.push_back(first + (parts == 0 ? 0 : (2 * k * span + parts) / (2 * parts)));
    }
    return all;
}

}  // namespace epicotyl::detail
