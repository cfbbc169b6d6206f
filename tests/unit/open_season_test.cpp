#include "catch.hpp"

#include <atomic>
#include <filesystem>
#include <fstream>
#include <string>

#include <fmt/format.h>
#include <unistd.h>

#include <epicotyl/plan/plan_file.hpp>
#include <epicotyl/season/days/schedule.hpp>
#include <epicotyl/season/open_season.hpp>

using namespace epicotyl;

namespace {

/// A folder of its own for each test, gone afterwards.
class scratch_folder {
public:
    scratch_folder() {
        static std::atomic<int> count{0};
        path_ = std::filesystem::temp_directory_path() /
                fmt::format("epicotyl_open_season_{}_{}", ::getpid(), count++);
        std::filesystem::create_directories(path_);
    }
    ~scratch_folder() {
        std::error_code ignored;
        std::filesystem::remove_all(path_, ignored);
    }
    scratch_folder(scratch_folder const&) = delete;
    scratch_folder& operator=(scratch_folder const&) = delete;

    std::filesystem::path write(std::string const& name, std::string const& text) const {
        std::filesystem::path const file = path_ / name;
        std::filesystem::create_directories(file.parent_path());
        std::ofstream{file} << text;
        return file;
    }

private:
    std::filesystem::path path_;
};

/// Twenty days after the sowing it stands in the beds; ten days later it is cut. Line 6 is
/// `[site]`, line 9 what a test adds.
std::string plan_text(std::string const& of_site) {
    return "format = 1\n"
           "units = \"metric\"\n"
           "title = \"Quoin Close 2027\"\n"
           "defaults = { risk = false }\n"
           "\n"
           "[site]\n"
           "latitude = 51.9\n"
           "season_start = 2027-01-01\n" +
           of_site +
           "season_days = 365\n"
           "\n"
           "[places]\n"
           "beds = { for = [\"field\"] }\n"
           "\n"
           "[crops.chard]\n"
           "stages = [\n"
           "  { begins = \"sow\", where = \"beds\", takes = { days = 20 } },\n"
           "  { begins = \"transplant\", where = \"beds\", takes = { days = 10 } },\n"
           "  { begins = \"first_harvest\", where = \"beds\", takes = { days = 7 } },\n"
           "]\n"
           "\n"
           "[[succession]]\n"
           "name = \"chard 1\"\n"
           "crop = \"chard\"\n"
           "plants = 40\n"
           "target = { event = \"transplant\", on = 2027-04-01 }\n";
}

/// Every day of the years `first` to `last` with 5 to 15 °C, but for `gap` days from 1 May of
/// `first`.
std::string table_text(int first, int last, int gap = 0) {
    std::string text = "date,tmin_c,tmax_c\n";
    day const hole = make_day(first, 5, 1);
    for (day d = make_day(first, 1, 1); d < make_day(last + 1, 1, 1); d += days{1}) {
        if (d >= hole && d < hole + days{gap}) { continue; }
        text += to_iso(d) + ",5,15\n";
    }
    return text;
}

/// A list of the same number for every month.
std::string list_of(char const* key, char const* number) {
    std::string text = fmt::format("{} = [{}", key, number);
    for (int month = 2; month <= 12; ++month) { text += fmt::format(", {}", number); }
    return text + "]\n";
}

/// Two stations over 2001 and 2002 in the form by year: one with 28 °F and 50 °F, one with 5 and
/// 15 °C.
std::string by_year_text() {
    std::string text;
    for (day d = make_day(2001, 1, 1); d < make_day(2003, 1, 1); d += days{1}) {
        std::string date = to_iso(d);
        date.erase(7, 1).erase(4, 1);
        text += fmt::format(
            "USW00000001,{0},TMIN,-22,,,W,\nUSW00000001,{0},TMAX,100,,,W,\n"
            "USC00000002,{0},TMIN,50,,,W,\nUSC00000002,{0},TMAX,150,,,W,\n",
            date);
    }
    return text;
}

input_fault fault_of(std::filesystem::path const& file, open_season_options const& options = {}) {
    try {
        (void)open_season(file, options);
    } catch (invalid_input const& fault) { return fault.details(); }
    return {.problem = "accepted"};
}

}  // namespace

TEST_CASE("a season is opened with the weather that the plan names, from the plan's folder") {
    scratch_folder const folder;
    folder.write("farm/data/quoin.csv", table_text(2001, 2012));
    auto const file = folder.write("farm/plan.toml", plan_text("weather = \"data/quoin.csv\"\n"));

    opened_season const opened = open_season(file);

    CHECK(opened.plan == read_plan(file));
    CHECK(opened.climate.record().name() == "quoin");
    CHECK(opened.climate.size() == 12);
    CHECK(opened.calendar.date("chard 1", "sow") == make_day(2027, 3, 12));
    CHECK(opened.prospect.chance_by("chard 1", "first_harvest", make_day(2027, 4, 11)) == 1.0);
    CHECK(opened.prospect.chance_by("chard 1", "first_harvest", make_day(2027, 4, 10)) == 0.0);
    CHECK(opened.prospect.climate() == opened.climate);
}

TEST_CASE("the climate of a plan has its season, its latitude, its years and its longest gap") {
    scratch_folder const folder;
    daily_record const record = read_weather(folder.write("quoin.csv", table_text(2001, 2012, 6)));

    climate const usual = climate_for(parse_plan(plan_text("")), record);
    CHECK(usual.season_start() == date::January / 1);
    CHECK(usual.season_days() == 365);
    CHECK(usual.site_latitude() == latitude{51.9});
    CHECK(usual.max_gap() == usual_max_gap);
    CHECK(usual.size() == 11);
    REQUIRE(usual.left_out().size() == 1);
    CHECK(usual.left_out().front().year == 2001);

    climate const chosen =
        climate_for(parse_plan(plan_text("years = [2001, 2004]\nmax_gap = 6\n")), record);
    CHECK(chosen.max_gap() == 6);
    CHECK(chosen.years().front() == 2001);
    CHECK(chosen.years().back() == 2004);
    CHECK(chosen.left_out().empty());
}

TEST_CASE("weather and latitude of the caller replace those of the plan") {
    scratch_folder const folder;
    auto const file = folder.write("plan.toml", plan_text("weather = \"nowhere.csv\"\n"));
    auto const other = folder.write("other.csv", table_text(2001, 2003));

    opened_season const opened =
        open_season(file, {.wanted = reliability{0.9}, .weather = other, .where = latitude{-35.0}});

    CHECK(opened.plan.parts().where == latitude{-35.0});
    CHECK(opened.plan.window() == season{make_day(2027, 1, 1), 365});
    CHECK(opened.climate.site_latitude() == latitude{-35.0});
    CHECK(opened.climate.record().name() == "other");
    CHECK(opened.calendar.reliability() == reliability{0.9});
}

TEST_CASE("a file that ends in .dly, in any case, is read as GHCN-Daily") {
    std::string text;
    for (char const* const element : {"TMIN  -15", "TMAX   40"}) {
        text += fmt::format("USC00000001202701{}   ", element);
        for (int i = 1; i < 31; ++i) { text += "-9999   "; }
        text += '\n';
    }
    scratch_folder const folder;
    for (char const* const name : {"station.dly", "STATION.DLY"}) {
        daily_record const record = read_weather(folder.write(name, text));
        CHECK(record.name() == "USC00000001");
        CHECK(record.tmin()[0] == -1.5);
    }
    CHECK_THROWS_AS(read_weather(folder.write("station.txt", text)), invalid_input);
}

TEST_CASE("a plan without weather is refused with its file, its line and what to write") {
    scratch_folder const folder;
    auto const file = folder.write("plan.toml", plan_text(""));

    input_fault const fault = fault_of(file);

    CHECK(fault.code == "plan.no_weather");
    CHECK(fault.file == file.string());
    CHECK(fault.line == 6);
    CHECK(fault.field == "site.weather");
    CHECK_FALSE(fault.remedy.empty());
}

TEST_CASE("a plan without a weather file is opened with season years made from its normals") {
    scratch_folder const folder;
    std::string const normals = list_of("monthly_low", "5") + list_of("monthly_high", "15");
    auto const file = folder.write("plan.toml", plan_text(normals + "normal_years = 20\n"));

    opened_season const opened = open_season(file);

    CHECK(opened.climate == climate_from_normals(read_plan(file)));
    CHECK(opened.climate.size() == 20);
    CHECK(opened.climate.origin() == "made from normals");
    CHECK(opened.calendar.origin() == "made from normals");
    CHECK(opened.prospect.origin() == "made from normals");

    SECTION("but a weather file wins, the plan's or the caller's, and the sheet names it") {
        folder.write("quoin.csv", table_text(2001, 2012));
        auto const two = folder.write("two.toml", plan_text(normals + "weather = \"quoin.csv\"\n"));
        auto const other = folder.write("other.csv", table_text(2001, 2003));
        for (auto const& [measured, name] : {std::pair{open_season(two), "quoin"},
                                             {open_season(file, {.weather = other}), "other"}}) {
            CHECK(measured.climate.record().name() == name);
            CHECK(measured.calendar.origin().empty());
            CHECK(to_string(measured.calendar).find(fmt::format("{}: ", name)) !=
                  std::string::npos);
            CHECK(to_string(measured.prospect).find("made from normals") == std::string::npos);
        }
    }
    SECTION("and a weather file that is not there is still missing") {
        auto const two = folder.write("two.toml", plan_text(normals + "weather = \"gone.csv\"\n"));
        CHECK(fault_of(two).code == "file.missing");
    }
    SECTION("and what says how a file is read has nothing to say") {
        input_fault const fault = fault_of(file, {.whole_fahrenheit = true});
        CHECK(fault.code == "weather.not_ghcn_daily");
        CHECK(fault.field == "whole_fahrenheit");
        CHECK(fault.file == file.string());
    }
    SECTION("and years of a weather file are refused with their line") {
        auto const two = folder.write("two.toml", plan_text(normals + "years = 20\n"));
        input_fault const fault = fault_of(two);
        CHECK(fault.code == "normals.chosen_years");
        CHECK(fault.file == two.string());
        CHECK(fault.line == 11);
    }
}

TEST_CASE("a file of GHCN-Daily by year is known by its content, and its station can be named") {
    scratch_folder const folder;
    auto const file = folder.write("2001.csv", by_year_text());
    daily_record const park = read_weather(file, {.station = "USW00000001"});
    CHECK(park.name() == "USW00000001");
    CHECK(park.size() == 730);
    CHECK(park.tmin()[0] == -2.2);
    CHECK(read_weather(file, {.station = "USC00000002"}).tmin()[0] == 5.0);
    CHECK(read_weather(file, {.station = "USW00000001", .whole_fahrenheit = true}).tmin()[0] ==
          temperature::from_fahrenheit(28.0).celsius());
    CHECK_THROWS_AS(read_weather(file), invalid_input);

    auto const bare = folder.write("bare.toml", plan_text("weather = \"2001.csv\"\n"));
    CHECK(fault_of(bare).code == "ghcn_daily.several_stations");
    CHECK(open_season(bare, {.station = "USW00000001"}).climate.record() == park);

    auto const said = folder.write("said.toml", plan_text("weather = \"2001.csv\"\n"
                                                          "station = \"USW00000001\"\n"
                                                          "whole_fahrenheit = true\n"));
    CHECK(open_season(said).calendar.origin() == "in whole °F");
    CHECK(open_season(said, {.whole_fahrenheit = false}).climate.record() == park);
    CHECK(open_season(said, {.station = "USC00000002", .whole_fahrenheit = false})
              .climate.record()
              .name() == "USC00000002");
    // What the plan says of its own file is not meant for another.
    auto const table = folder.write("quoin.csv", table_text(2001, 2003));
    CHECK(open_season(said, {.weather = table}).climate.record().name() == "quoin");
}

TEST_CASE("a station or whole °F asked of a table of days is refused") {
    scratch_folder const folder;
    auto const table = folder.write("quoin.csv", table_text(2001, 2003));
    auto const file = folder.write("plan.toml", plan_text(""));
    input_fault const fault = fault_of(file, {.weather = table, .station = "USW00000001"});
    CHECK(fault.code == "weather.not_ghcn_daily");
    CHECK(fault.file == table.string());
    CHECK(fault.field == "station");
    CHECK(fault.value == "USW00000001");
}

TEST_CASE("a table of days whose first comma stands where a station ends is a table of days") {
    scratch_folder const folder;
    auto const file = folder.write("t.csv", "temperature,date,tmin_c,tmax_c\n1,2001-01-01,5,15\n");
    CHECK(read_weather(file).tmin()[0] == 5.0);
    auto const noted =
        folder.write("n.csv", "# Quoin hill, 210 m\ndate,tmin_c,tmax_c\n2001-01-01,6,15\n");
    CHECK(read_weather(noted).tmin()[0] == 6.0);
}

TEST_CASE("a weather file that is not there is refused where the plan names it") {
    scratch_folder const folder;
    auto const file = folder.write("plan.toml", plan_text("weather = \"nowhere.csv\"\n"));

    input_fault const fault = fault_of(file);
    CHECK(fault.code == "file.missing");
    CHECK(fault.file == file.string());
    CHECK(fault.line == 9);
    CHECK(fault.value == "nowhere.csv");

    input_fault const given = fault_of(file, {.weather = "elsewhere.csv"});
    CHECK(given.code == "file.missing");
    CHECK(given.file == "elsewhere.csv");
}

TEST_CASE("a fault in the plan or in the weather names its own file") {
    scratch_folder const folder;
    auto const broken = folder.write("broken.toml", plan_text("wether = \"quoin.csv\"\n"));
    CHECK(fault_of(broken).file == broken.string());
    CHECK(fault_of(broken).line == 9);

    auto const table = folder.write("quoin.csv", "date,tmin_c,tmax_c\n2001-01-01,5,x\n");
    auto const file = folder.write("plan.toml", plan_text("weather = \"quoin.csv\"\n"));
    CHECK(fault_of(file).file == table.string());
    CHECK(fault_of(file).line == 2);
}
