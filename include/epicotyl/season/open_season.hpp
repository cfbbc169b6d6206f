// epicotyl: open a season. From a plan file to plan, climate, calendar and prospect in one call.
//
// The weather file is the one that the plan names (`[site] weather`), sought from the folder of the
// plan file, so that a farm's folder can be moved as a whole. A file that ends in ".dly", or that
// begins as GHCN-Daily by year does, is read as GHCN-Daily, any other as a table of days; each may
// be compressed by gzip. The climate is made for the plan: its season start and length, its
// latitude, its `years` and its `max_gap`.
//
// Where there is no weather file, season years are made from the plan's normals (`[site]
// monthly_low` and `monthly_high`), and calendar and prospect say "made from normals". A weather
// file, the plan's or the caller's, wins over normals.
//
// A plan may be tried at another site without being rewritten: `weather` and `where` replace what
// it says. They are those of the caller, so a relative `weather` starts at the folder in which the
// program runs, and what the plan says of its own file (`station`, `whole_fahrenheit`) is not meant
// for it. The season start stays that of the plan.
//
//     opened_season const s = open_season("farm.toml");
//     s.calendar.date("snapdragon 1", "sow");
//     s.prospect.chance_by("snapdragon 1", "first_harvest", make_day(2027, 7, 1));
//
//     open_season("farm.toml", {.weather = "USW00094728.dly", .where = latitude{40.8}});
#ifndef EPICOTYL_SEASON_OPEN_SEASON_HPP
#define EPICOTYL_SEASON_OPEN_SEASON_HPP

#include <filesystem>
#include <optional>
#include <string>

#include <epicotyl/plan/plan.hpp>
#include <epicotyl/season/days/calendar.hpp>
#include <epicotyl/season/days/prospect.hpp>
#include <epicotyl/units.hpp>
#include <epicotyl/weather/climate.hpp>
#include <epicotyl/weather/daily_record.hpp>
#include <epicotyl/weather/ghcn_daily.hpp>

namespace epicotyl {

/// A plan with everything that follows from it.
struct opened_season {
    epicotyl::plan plan;
    epicotyl::climate climate;
    epicotyl::calendar calendar;
    epicotyl::prospect prospect;
};

struct open_season_options {
    /// Replaces the plan's reliability.
    std::optional<reliability> wanted = {};
    /// Replaces the plan's weather file.
    std::optional<std::filesystem::path> weather = {};
    /// Replaces the plan's station, the one to read of a GHCN-Daily file that holds several. Empty:
    /// the only one.
    std::optional<std::string> station = {};
    /// Replaces the plan's word on whether values are taken back to whole °F, see
    /// `ghcn_daily_options`.
    std::optional<bool> whole_fahrenheit = {};
    /// Replaces the plan's latitude.
    std::optional<latitude> where = {};
    /// As for `simulate`; 0: as many as the machine has.
    int threads = 0;
};

/// Reads a plan file and its weather, and plans the season.
///
/// Throws `invalid_input` with file, line and field: what `read_plan`, `read_ghcn_daily` and
/// `read_daily_csv` refuse; a plan with neither a weather file nor normals when no file is given
/// here; options for reading a file where there is none; a record that holds no season year of the
/// plan. A succession without an answer is no error, see `calendar::unresolved`.
[[nodiscard]] opened_season open_season(std::filesystem::path const& file,
                                        open_season_options const& options = {});

/// Reads a weather file: one that ends in ".dly" (any case), or begins as GHCN-Daily by year does,
/// as GHCN-Daily, any other as a table of days; each may be compressed by gzip. Throws
/// `invalid_input` as the two readers do, and for options of GHCN-Daily with a table of days.
[[nodiscard]] daily_record read_weather(std::filesystem::path const& file,
                                        ghcn_daily_options const& options = {});

/// The climate of a plan: its season start, length and latitude, and its choice of years and of the
/// longest gap to fill where it makes one. Throws `invalid_input` as `climate` does.
[[nodiscard]] climate climate_for(plan const& of, daily_record const& record);

/// The climate of a plan without a station: season years drawn by `generate` from the model of its
/// monthly normals (`model_from_normals`), with its season start, length and latitude. They did not
/// happen, so they are numbered 1, 2, 3 ... in place of calendar years, and a year of 29 February
/// comes every fourth. Plan, years and seed being the same they are the same on every machine; more
/// years of the same seed begin with the fewer. The climate's `origin` is "made from normals".
///
/// Throws `invalid_input` when the plan has no normals, and when it chooses `years`, which are
/// those of a weather file.
[[nodiscard]] climate climate_from_normals(plan const& of);

}  // namespace epicotyl

#endif
