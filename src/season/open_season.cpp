#include <epicotyl/season/open_season.hpp>

#include <system_error>
#include <utility>

#include <fmt/format.h>

#include <epicotyl/plan/plan_file.hpp>
#include <epicotyl/season/schedule.hpp>
#include <epicotyl/season/simulate.hpp>
#include <epicotyl/weather/daily_csv.hpp>
#include <epicotyl/weather/ghcn_daily.hpp>

#include "../text_file.hpp"

namespace epicotyl {

namespace {

constexpr char const* weather_field = "site.weather";

/// The weather file that a plan names, sought from the folder of the plan file.
std::filesystem::path weather_of(plan const& of, plan_tree const& tree,
                                 std::filesystem::path const& file) {
    std::string const& written = of.parts().weather;
    if (written.empty()) {
        throw invalid_input{{.code = "plan.no_weather",
                             .file = file.string(),
                             .line = tree.line_of("site"),
                             .field = weather_field,
                             .problem = "the plan names no weather file",
                             .remedy = "name a GHCN-Daily file or a table of days, such as "
                                       "weather = \"station.csv\""}};
    }
    std::filesystem::path const found = file.parent_path() / written;
    std::error_code trouble;
    if (!std::filesystem::exists(found, trouble)) {
        throw invalid_input{
            {.code = "file.missing",
             .file = file.string(),
             .line = tree.line_of(weather_field),
             .field = weather_field,
             .value = written,
             .problem = fmt::format("there is no file {}", found.string()),
             .remedy = "put the file there, or name it relative to the folder of the plan"}};
    }
    return found;
}

/// The same plan at another latitude.
plan moved_to(plan const& of, latitude where) {
    plan_parts parts = of.parts();
    parts.where = where;
    return plan{std::move(parts)};
}

}  // namespace

daily_record read_weather(std::filesystem::path const& file) {
    bool const packed = file.extension() == ".gz";
    std::string ending = (packed ? file.stem() : file).extension().string();
    for (char& letter : ending) {
        if (letter >= 'A' && letter <= 'Z') { letter = static_cast<char>(letter - 'A' + 'a'); }
    }
    return ending == ".dly" ? read_ghcn_daily(file) : read_daily_csv(file);
}

climate climate_for(plan const& of, daily_record const& record) {
    date::year_month_day const start{of.window().start()};
    climate_options options{.season_start = start.month() / start.day(),
                            .season_days = of.window().length()};
    if (of.parts().max_gap) { options.max_gap = *of.parts().max_gap; }
    if (of.parts().years) { options.years = *of.parts().years; }
    return climate{record, of.parts().where, options};
}

opened_season open_season(std::filesystem::path const& file, open_season_options const& options) {
    plan_tree const tree = parse_toml(detail::read_text_file(file), file.string());
    plan const written = plan_from_tree(tree, file.string());
    plan const planned = options.where ? moved_to(written, *options.where) : written;
    daily_record const record =
        read_weather(options.weather ? *options.weather : weather_of(planned, tree, file));
    climate const under = climate_for(planned, record);
    calendar const days = schedule(planned, under, options.wanted);
    return {.plan = planned,
            .climate = under,
            .calendar = days,
            .prospect = simulate(days, under, options.threads)};
}

}  // namespace epicotyl
