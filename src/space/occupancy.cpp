#include <epicotyl/plan/plan.hpp>
#include <epicotyl/season/days/prospect.hpp>
#include <epicotyl/space/occupancy.hpp>

#include <algorithm>

#include <fmt/format.h>

#include "../detail/wrapped.hpp"
#include "../season/days/prospect_data.hpp"
#include "../season/rows/say.hpp"
#include "stays.hpp"

namespace epicotyl {

using detail::at;

namespace {

/// Row of a season year; the only row of planned days.
int row_of(detail::occupancy_data const& data, std::optional<int> year) {
    std::vector<int> const& years = data.years;
    if (!year && years.empty()) { return 0; }
    auto const found = year ? std::find(years.begin(), years.end(), *year) : years.end();
    if (found != years.end()) { return static_cast<int>(found - years.begin()); }
    bool const planned = years.empty();
    throw invalid_input{
        {.code = "space.year",
         .field = "year",
         .value = year ? fmt::format("{}", *year) : "none",
         .bound = planned ? "none" : fmt::format("{} to {}", years.front(), years.back()),
         .problem = planned ? "planned days are of no season year" : "this is no season year",
         .remedy = planned ? "leave the year out, or take the occupancy of a prospect"
                           : "name a season year of the prospect"}};
}

}  // namespace

occupancy::occupancy(calendar const& of)
    : data_{std::make_shared<detail::occupancy_data const>(
          detail::occupancy_data{.planned = of.plan(),
                                 .years = {},
                                 .rows = 1,
                                 .season_days = of.plan().window().length(),
                                 .stays = detail::stays_of(*of.data())})} {}

occupancy::occupancy(prospect const& of)
    : data_{std::make_shared<detail::occupancy_data const>(
          detail::occupancy_data{.planned = of.calendar().plan(),
                                 .years = of.years(),
                                 .rows = of.data()->model->years,
                                 .season_days = of.data()->model->season_days,
                                 .stays = detail::stays_of(*of.data())})} {}

plan const& occupancy::plan() const {
    return data_->planned;
}

std::vector<int> const& occupancy::years() const {
    return data_->years;
}

int occupancy::rows() const {
    return data_->rows;
}

int occupancy::season_days() const {
    return data_->season_days;
}

std::vector<double> occupancy::space(std::string_view place, room_kind kind) const {
    return detail::filled(*data_, {data_->planned.place_index(place), kind});
}

std::vector<double> occupancy::quantile(std::string_view place, room_kind kind,
                                        quantile_level q) const {
    std::vector<double> const all = space(place, kind);
    std::size_t const days = at(data_->season_days);
    auto const k = detail::needed_years(q.value(), data_->rows) - 1;
    std::vector<double> result(days);
    std::vector<double> of_day(at(data_->rows));
    for (std::size_t d = 0; d < days; ++d) {
        for (std::size_t row = 0; row < of_day.size(); ++row) { of_day[row] = all[row * days + d]; }
        std::nth_element(of_day.begin(), of_day.begin() + k, of_day.end());
        result[d] = of_day[at(k)];
    }
    return result;
}

std::optional<double> occupancy::room(std::string_view place, room_kind kind) const {
    return detail::room_of(data_->planned.places()[at(data_->planned.place_index(place))], kind);
}

std::vector<standing> occupancy::there(std::string_view place, room_kind kind, day when,
                                       std::optional<int> year) const {
    season const& window = data_->planned.window();
    int const offset = window.offset_of(when);
    if (offset < 0 || offset >= data_->season_days) {
        throw invalid_input{
            {.code = "space.day",
             .field = "when",
             .value = to_iso(when),
             .bound = fmt::format("{} to {}", to_iso(window.start()),
                                  to_iso(window.start() + days{data_->season_days - 1})),
             .problem = fmt::format("{} is no day of the season",
                                    to_day_month_year(when, data_->planned.parts().units)),
             .remedy = "give a day of the season"}};
    }
    return detail::standing_there(*data_, {data_->planned.place_index(place), kind}, offset,
                                  row_of(*data_, year));
}

std::vector<overflow> occupancy::overflows() const {
    return detail::find_overflows(*data_);
}

std::string to_string(occupancy const& of) {
    plan const& planned = of.plan();
    std::string text = fmt::format(
        "Room at {}, {}\n", planned.parts().title.empty() ? "the farm" : planned.parts().title,
        of.years().empty() ? "by planned days"
                           : fmt::format("in {} season years", of.years().size()));
    for (place const& one : planned.places()) {
        for (room_kind kind : detail::room_kinds) {
            std::optional<double> const room = detail::room_of(one, kind);
            if (!room) { continue; }
            std::vector<double> const space = of.space(one.name, kind);
            auto const most = std::max_element(space.begin(), space.end());
            if (*most == 0.0) {
                text += fmt::format("{}: empty; room for {}\n", one.name,
                                    detail::say_amount(planned, kind, *room));
                continue;
            }
            int const cell = static_cast<int>(most - space.begin());
            std::string const in =
                of.years().empty() ? std::string{}
                                   : fmt::format(" ({})", of.years()[at(cell / of.season_days())]);
            text += fmt::format("{}: at most {} on {}{}; room for {}\n", one.name,
                                detail::say_amount(planned, kind, *most),
                                detail::say_day(planned, cell % of.season_days()), in,
                                detail::say_amount(planned, kind, *room));
        }
    }
    for (overflow const& one : of.overflows()) { text += fmt::format("- {}\n", one.sentence); }
    return detail::wrapped(text);
}

}  // namespace epicotyl
