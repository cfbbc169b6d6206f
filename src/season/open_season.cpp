#include <epicotyl/season/open_season.hpp>

#include <algorithm>
#include <array>
#include <cstdint>
#include <system_error>
#include <utility>

#include <date/date.h>
#include <fmt/format.h>

#include <epicotyl/detail/month_day.hpp>
#include <epicotyl/plan/plan.hpp>
#include <epicotyl/plan/plan_file.hpp>
#include <epicotyl/season/days/schedule.hpp>
#include <epicotyl/season/days/simulate.hpp>
#include <epicotyl/weather/climate.hpp>
#include <epicotyl/weather/daily_csv.hpp>
#include <epicotyl/weather/generator.hpp>

#include "../weather/ghcn_by_year.hpp"
#include "../weather/text_file.hpp"

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
                             .problem = "the plan has neither a weather file nor normals",
                             .remedy = "name a GHCN-Daily file or a table of days, such as "
                                       "weather = \"station.csv\", or give the twelve means of "
                                       "monthly_low and of monthly_high"}};
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

/// Options that say how a weather file is to be read, where there is none for them.
[[noreturn]] void refuse_reading(ghcn_daily_options const& options, std::string file,
                                 std::string const& problem) {
    bool const names_station = !options.station.empty();
    throw invalid_input{{.code = "weather.not_ghcn_daily",
                         .file = std::move(file),
                         .field = names_station ? "station" : "whole_fahrenheit",
                         .value = names_station ? options.station : "true",
                         .problem = problem,
                         .remedy = "leave it out, or give a GHCN-Daily file"}};
}

/// The same plan at another latitude.
plan moved_to(plan const& of, latitude where) {
    plan_parts parts = of.parts();
    parts.where = where;
    return plan{std::move(parts)};
}

/// The season years of a plan: of the caller's weather file, of the plan's, or of its normals.
climate climate_of(plan const& of, plan_tree const& tree, std::filesystem::path const& file,
                   open_season_options const& options) {
    plan_parts const& parts = of.parts();
    bool const own_file = !options.weather;
    ghcn_daily_options const reading{
        .station = options.station.value_or(own_file ? parts.station : ""),
        .whole_fahrenheit = options.whole_fahrenheit.value_or(own_file && parts.whole_fahrenheit)};
    if (!own_file) { return climate_for(of, read_weather(*options.weather, reading)); }
    if (!parts.weather.empty() || !parts.normals) {
        return climate_for(of, read_weather(weather_of(of, tree, file), reading));
    }
    if (reading != ghcn_daily_options{}) {
        refuse_reading(reading, file.string(), "the plan has normals, and no weather file");
    }
    try {
        return climate_from_normals(of);
    } catch (invalid_input const& fault) {
        throw fault.in_file(file.string(), tree.line_of(fault.details().field));
    }
}

}  // namespace

daily_record read_weather(std::filesystem::path const& file, ghcn_daily_options const& options) {
    std::string const text = detail::read_text_file(file);
    auto const ending_of = [](std::filesystem::path const& path) {
        std::string ending = path.extension().string();
        for (char& letter : ending) {
            if (letter >= 'A' && letter <= 'Z') { letter = static_cast<char>(letter - 'A' + 'a'); }
        }
        return ending;
    };
    std::string const ending = ending_of(ending_of(file) == ".gz" ? file.stem() : file);
    if (ending == ".dly" || detail::is_ghcn_by_year(text)) {
        return parse_ghcn_daily(text, file.string(), options);
    }
    if (options != ghcn_daily_options{}) {
        refuse_reading(options, file.string(), "a table of days is no file of GHCN-Daily");
    }
    return parse_daily_csv(text, file.string());
}

climate climate_for(plan const& of, daily_record const& record) {
    date::year_month_day const start{of.window().start()};
    climate_options options{.season_start = start.month() / start.day(),
                            .season_days = of.window().length()};
    if (of.parts().max_gap) { options.max_gap = *of.parts().max_gap; }
    if (of.parts().years) { options.years = *of.parts().years; }
    return climate{record, of.parts().where, options};
}

climate climate_from_normals(plan const& of) {
    if (!of.parts().normals) {
        throw invalid_input{{.code = "normals.missing",
                             .field = "site.monthly_low",
                             .problem = "the plan has no normals to make season years of",
                             .remedy = "give the twelve means of monthly_low and of monthly_high"}};
    }
    if (of.parts().years) {
        throw invalid_input{{.code = "normals.chosen_years",
                             .field = "site.years",
                             .problem = "years are chosen of a weather file, and there is none",
                             .remedy = "say how many are made from the normals with normal_years, "
                                       "and leave years out"}};
    }
    monthly_normals const& normals = *of.parts().normals;
    auto const celsius = [](std::array<temperature, 12> const& means) {
        std::array<double, 12> all = {};
        std::transform(means.begin(), means.end(), all.begin(),
                       [](temperature mean) { return mean.celsius(); });
        return all;
    };
    weather_model const model = model_from_normals(celsius(normals.low), celsius(normals.high));
    date::year_month_day const start{of.window().start()};
    date::month_day const yearly = start.month() / start.day();
    detail::require_yearly(yearly, "site.season_start", "a season start");
    day const first = detail::day_in_year(1, yearly);
    day const end = detail::day_in_year(normals.years, yearly) + days{of.window().length()};
    daily_record const record = generate(model, first, static_cast<int>((end - first).count()),
                                         static_cast<std::uint64_t>(normals.seed));
    return climate{record,
                   of.parts().where,
                   {.season_start = yearly,
                    .season_days = of.window().length(),
                    .years = year_selection::all()}};
}

opened_season open_season(std::filesystem::path const& file, open_season_options const& options) {
    plan_tree const tree = parse_toml(detail::read_text_file(file), file.string());
    plan const written = plan_from_tree(tree, file.string());
    plan const planned = options.where ? moved_to(written, *options.where) : written;
    climate const under = climate_of(planned, tree, file, options);
    calendar const days = schedule(planned, under, options.wanted);
    return {.plan = planned,
            .climate = under,
            .calendar = days,
            .prospect = simulate(days, under, options.threads)};
}

}  // namespace epicotyl
