// Twelve monthly lows and highs in place of a weather file: read, written, refused, and made into
// season years that say where they come from.
#include "catch.hpp"

#include <algorithm>
#include <array>
#include <numeric>
#include <string>
#include <vector>

#include <fmt/format.h>

#include <epicotyl/plan/plan_file.hpp>
#include <epicotyl/season/days/explain.hpp>
#include <epicotyl/season/days/schedule.hpp>
#include <epicotyl/season/days/simulate.hpp>
#include <epicotyl/season/open_season.hpp>
#include <epicotyl/weather/generator.hpp>

using namespace epicotyl;

namespace {

// An invented lowland place, °C.
std::array<double, 12> const lows{1, 1, 2.5, 4.5, 7.5, 10.5, 12.5, 12.5, 10, 7, 3.5, 1.5};
std::array<double, 12> const highs{7, 7.5, 10.5, 13.5, 17, 20, 22.5, 22, 19, 14.5, 10, 7.5};

std::string const both =
    "monthly_low = [1, 1, 2.5, 4.5, 7.5, 10.5, 12.5, 12.5, 10, 7, 3.5, 1.5]\n"
    "monthly_high = [7, 7.5, 10.5, 13.5, 17, 20, 22.5, 22, 19, 14.5, 10, 7.5]\n";

/// `[site]` is line 4, what a test adds begins on line 7.
std::string plan_text(std::string const& of_site, char const* units = "metric",
                      char const* latitude = "51.9", char const* start = "2027-01-01") {
    return fmt::format(
        "format = 1\nunits = \"{}\"\ntitle = \"Withy Bank 2027\"\n[site]\nlatitude = {}\n"
        "season_start = {}\n{}season_days = 365\n"
        "[places]\nbeds = {{ for = [\"field\"] }}\n"
        "[crops.chard]\nlimit_hardened = {}\nstages = [\n"
        "  {{ begins = \"sow\", where = \"beds\", takes = {{ days = 20 }} }},\n"
        "  {{ begins = \"transplant\", where = \"beds\", takes = {{ days = 10 }} }},\n"
        "]\n[[succession]]\nname = \"chard 1\"\ncrop = \"chard\"\nplants = 40\n"
        "target = {{ event = \"transplant\", risk = 0.1 }}\n",
        units, latitude, start, of_site, std::string{units} == "us" ? 32 : 0);
}

std::array<temperature, 12> means(std::array<double, 12> const& celsius) {
    std::array<temperature, 12> all;
    std::transform(celsius.begin(), celsius.end(), all.begin(), temperature::from_celsius);
    return all;
}

plan with(monthly_normals const& normals) {
    plan_parts parts = parse_plan(plan_text("")).parts();
    parts.normals = normals;
    return plan{std::move(parts)};
}

std::string list(std::vector<std::string> const& numbers) {
    return fmt::format("[{}]", fmt::join(numbers, ", "));
}

/// `both` with one number of a list replaced.
std::string changed(char const* key, std::size_t month, std::string const& number) {
    std::string text;
    for (auto const& [name, celsius] : {std::pair{"monthly_low", lows}, {"monthly_high", highs}}) {
        std::vector<std::string> numbers;
        for (double const value : celsius) { numbers.push_back(fmt::format("{}", value)); }
        if (std::string{key} == name) { numbers[month] = number; }
        text += fmt::format("{} = {}\n", name, list(numbers));
    }
    return text;
}

std::string message_of(std::string const& of_site, char const* units = "metric") {
    try {
        (void)parse_plan(plan_text(of_site, units), "farm.toml");
    } catch (invalid_input const& fault) {
        CHECK_FALSE(fault.code().empty());
        CHECK_FALSE(fault.details().remedy.empty());
        return fault.what();
    }
    return "accepted";
}

std::string twelve(char const* key, char const* number) {
    return fmt::format("{} = {}\n", key, list(std::vector<std::string>(12, number)));
}

}  // namespace

TEST_CASE("normals are read month by month, thirty years and seed 1 when not said") {
    plan const read = parse_plan(plan_text(both));
    REQUIRE(read.parts().normals);
    CHECK(*read.parts().normals == monthly_normals{means(lows), means(highs), 30, 1});
    CHECK(read == with({means(lows), means(highs)}));
    CHECK_FALSE(parse_plan(plan_text("")).parts().normals);

    plan const more = parse_plan(plan_text(both + "normal_years = 12\nnormal_seed = 7\n"));
    CHECK(*more.parts().normals == monthly_normals{means(lows), means(highs), 12, 7});
    CHECK(more != read);
}

TEST_CASE("normals in US units are degrees Fahrenheit, and are written as they were") {
    plan const read =
        parse_plan(plan_text("monthly_low = [27, 29, 35, 44, 54, 63, 69, 68, 61, 50, 41, 32]\n"
                             "monthly_high = [38, 42, 50, 61, 71, 79, 84, 83, 76, 64, 53, 43]\n",
                             "us"));
    CHECK(read.parts().normals->low[11] == temperature::from_fahrenheit(32.0));
    CHECK(read.parts().normals->high[6].celsius() == Approx(28.89).margin(0.005));
    std::string const written = to_toml(read);
    CHECK(written.find("\nmonthly_low = [27.0, 29.0, 35.0, 44.0, 54.0, 63.0, 69.0, 68.0, 61.0, "
                       "50.0, 41.0, 32.0]\n") != std::string::npos);
    CHECK(parse_plan(written) == read);
}

TEST_CASE("a plan with normals is written and read as an equal plan") {
    for (int const seed : {0, 3, largest_normal_seed}) {
        plan const made = with({means(lows), means(highs), 1 + seed % most_normal_years, seed});
        CHECK(parse_plan(to_toml(made)) == made);
        CHECK(plan_from_tree(to_tree(made)) == made);
    }
    CHECK(to_toml(parse_plan(plan_text(""))).find("normal") == std::string::npos);
}

TEST_CASE("normals that are not twelve pairs are refused with the whole sentence") {
    CHECK(message_of("monthly_low = [1, 2, 3]\n" + twelve("monthly_high", "9")) ==
          "farm.toml:7: site.monthly_low: 3 values are not twelve months (allowed: 12 months); "
          "give the means of January to December in this order");
    CHECK(message_of(twelve("monthly_low", "9") + "monthly_high = [9]\n") ==
          "farm.toml:8: site.monthly_high: 1 value is not twelve months (allowed: 12 months); "
          "give the means of January to December in this order");
    CHECK(message_of("monthly_low = []\nmonthly_high = []\n") ==
          "farm.toml:7: site.monthly_low: 0 values are not twelve months (allowed: 12 months); "
          "give the means of January to December in this order");
    CHECK(message_of(twelve("monthly_low", "9")) ==
          "farm.toml:4: site: \"monthly_high\" is missing; give the twelve mean highs beside the "
          "lows");
    CHECK(message_of(twelve("monthly_high", "9")) ==
          "farm.toml:4: site: \"monthly_low\" is missing; give the twelve mean lows beside the "
          "highs");
    CHECK(message_of("monthly_low = 9\nmonthly_high = 9\n") ==
          "farm.toml:7: site.monthly_low: 9 is a whole number, not a list; list the twelve monthly "
          "means");
    CHECK(message_of(changed("monthly_high", 4, "\"17\"")) ==
          "farm.toml:8: site.monthly_high[5]: \"17\" is a text, not a number; write a number of "
          "°C");
    CHECK(message_of(changed("monthly_low", 0, "nan")) ==
          "farm.toml:7: site.monthly_low[1]: nan is not a number that can be used; give a finite "
          "number of °C");
    CHECK(message_of("normal_years = 30\n") ==
          "farm.toml:7: site.normal_years: the site has no normals to make season years of; give "
          "monthly_low and monthly_high as well, or leave this out");
    CHECK(message_of("normal_seed = 3\n") ==
          "farm.toml:7: site.normal_seed: the site has no normals to make season years of; give "
          "monthly_low and monthly_high as well, or leave this out");
}

TEST_CASE("normals that cannot be right are refused with month, bound and unit") {
    // Bounds by numpy.linalg.lstsq: the year through the other eleven months, and the room that a
    // misfit of 2 K with all twelve leaves.
    CHECK(message_of(changed("monthly_low", 2, "11")) ==
          "farm.toml:7: site.monthly_low[3]: 11 °C in Mar does not fit the other months (allowed: "
          "-2.5 to 7.0 °C); give January to December in this order, all in °C");
    CHECK(message_of(twelve("monthly_low", "12") + twelve("monthly_high", "11.5")) ==
          "farm.toml:7: site.monthly_low[1]: the mean low of Jan, 12 °C, stands above its mean "
          "high, 11.5 °C (allowed: up to 11.5 °C); give mean daily minima as monthly_low and mean "
          "daily maxima as monthly_high");
    CHECK(message_of(twelve("monthly_low", "50") + twelve("monthly_high", "72")) ==
          "farm.toml:8: site.monthly_high[1]: no place has a mean of 72 °C in Jan (allowed: -80 "
          "to 55 °C); give monthly means in °C, the unit of the plan");
    CHECK(message_of(twelve("monthly_low", "-81") + twelve("monthly_high", "9")) ==
          "farm.toml:7: site.monthly_low[1]: no place has a mean of -81 °C in Jan (allowed: -80 "
          "to 55 °C); give monthly means in °C, the unit of the plan");
    CHECK(message_of(twelve("monthly_low", "60") + twelve("monthly_high", "140"), "us") ==
          "farm.toml:8: site.monthly_high[1]: no place has a mean of 140 °F in Jan (allowed: -112 "
          "to 131 °F); give monthly means in °F, the unit of the plan");
    CHECK(message_of(twelve("monthly_low", "60") + twelve("monthly_high", "55"), "us") ==
          "farm.toml:7: site.monthly_low[1]: the mean low of Jan, 60 °F, stands above its mean "
          "high, 55 °F (allowed: up to 55 °F); give mean daily minima as monthly_low and mean "
          "daily maxima as monthly_high");
    CHECK(message_of(twelve("monthly_low", "-80") + twelve("monthly_high", "55")) == "accepted");
    CHECK(message_of(twelve("monthly_low", "9") + twelve("monthly_high", "9")) == "accepted");
    CHECK(message_of(both + "normal_years = 0\n") ==
          "farm.toml:9: site.normal_years: 0 season years cannot be made (allowed: 1 to 1000 "
          "years); 30 are usual");
    CHECK(message_of(both + "normal_years = 1001\n") ==
          "farm.toml:9: site.normal_years: 1001 season years cannot be made (allowed: 1 to 1000 "
          "years); 30 are usual");
    CHECK(message_of(both + "normal_years = 30.5\n") ==
          "farm.toml:9: site.normal_years: 30.5 is no whole number that can be used (allowed: "
          "whole numbers); give a whole number");
    CHECK(message_of(both + "normal_seed = -1\n") ==
          "farm.toml:9: site.normal_seed: -1 is no seed (allowed: 0 to 1000000000); give any whole "
          "number in this range, or leave it out");
}

TEST_CASE("months swapped in a plan in US units are refused in degrees Fahrenheit") {
    // February and August have changed places.
    std::string const swapped = "monthly_low = [27, 68, 35, 44, 54, 63, 69, 29, 61, 50, 41, 32]\n" +
                                twelve("monthly_high", "99");
    CHECK(message_of(swapped, "us") ==
          "farm.toml:7: site.monthly_low[2]: 68 °F in Feb does not fit the other months (allowed: "
          "27.2 to 44.0 °F); give January to December in this order, all in °F");
}

TEST_CASE("parts made in code with normals that cannot be right are refused") {
    auto const field_of = [](monthly_normals const& normals) {
        try {
            (void)with(normals);
        } catch (invalid_input const& fault) { return fault.details().field; }
        return std::string{"accepted"};
    };
    CHECK(field_of({means(highs), means(lows)}) == "site.monthly_low[1]");
    CHECK(field_of({means(lows), means(highs), 0}) == "site.normal_years");
    CHECK(field_of({means(lows), means(highs), 30, -5}) == "site.normal_seed");
    CHECK(field_of({means(lows), means(highs), 30, largest_normal_seed + 1}) == "site.normal_seed");
}

TEST_CASE("season years made from normals are as many as asked, whole, and say so") {
    for (int const years : {1, 30, 1000}) {
        climate const made = climate_from_normals(with({means(lows), means(highs), years}));
        CHECK(made.size() == years);
        CHECK(made.years().front() == 1);
        CHECK(made.years().back() == years);
        CHECK(made.left_out().empty());
        CHECK(made.filled() == filled_days{});
        CHECK(made.origin() == "made from normals");
        CHECK(made.season_days() == 365);
        CHECK(made.site_latitude() == latitude{51.9});
    }
    CHECK(climate_from_normals(with({means(lows), means(highs)})).year_note() ==
          "30 season years, 1 – 30; none left out; made from normals");
}

TEST_CASE("season years from normals begin with the plan's season, in the south and past a year") {
    plan_parts parts = parse_plan(plan_text(both, "metric", "-43.5", "2026-07-01")).parts();
    parts.window = season{make_day(2026, 7, 1), 730};
    climate const made = climate_from_normals(plan{parts});
    CHECK(made.season_start() == date::July / 1);
    CHECK(made.season_days() == 730);
    CHECK(made.size() == 30);
    CHECK(made.season_of(0).start() == make_day(1, 7, 1));
    CHECK(made.record().end() == make_day(30, 7, 1) + days{730});

    parts.window = season{make_day(2028, 2, 29), 365};
    CHECK_THROWS_AS(climate_from_normals(plan{parts}), invalid_input);
}

TEST_CASE("the monthly means of many season years are the normals") {
    climate const made = climate_from_normals(with({means(lows), means(highs), 400}));
    std::array<double, 12> low = {};
    std::array<double, 12> high = {};
    std::array<double, 12> count = {};
    daily_record const& record = made.record();
    for (int k = 0; k < record.size(); ++k) {
        auto const month = unsigned{date::year_month_day{record.start() + days{k}}.month()} - 1;
        low[month] += record.tmin()[static_cast<std::size_t>(k)];
        high[month] += record.tmax()[static_cast<std::size_t>(k)];
        count[month] += 1.0;
    }
    // What is drawn of 400 Januaries has a standard error near 0.1 K; a day where the maximum is
    // drawn below the minimum lowers the one and raises the other, in winter by some tenths.
    for (std::size_t m = 0; m < 12; ++m) {
        CAPTURE(m);
        CHECK(low[m] / count[m] == Approx(lows[m]).margin(0.7));
        CHECK(high[m] / count[m] == Approx(highs[m]).margin(0.7));
    }
}

TEST_CASE("the same seed gives the same years, more of it begin alike, another gives others") {
    climate const thirty = climate_from_normals(with({means(lows), means(highs), 30, 4}));
    climate const again = climate_from_normals(with({means(lows), means(highs), 30, 4}));
    climate const forty = climate_from_normals(with({means(lows), means(highs), 40, 4}));
    climate const other = climate_from_normals(with({means(lows), means(highs), 30, 5}));
    CHECK(thirty == again);
    CHECK(std::equal(thirty.tmin(29).begin(), thirty.tmin(29).end(), forty.tmin(29).begin()));
    CHECK(std::equal(thirty.tmax(0).begin(), thirty.tmax(0).end(), forty.tmax(0).begin()));
    CHECK(thirty != other);
}

TEST_CASE("years are chosen of a weather file, not of normals") {
    auto const fault_of = [](std::string const& of_site) {
        try {
            (void)climate_from_normals(parse_plan(plan_text(of_site)));
        } catch (invalid_input const& fault) { return fault.details(); }
        return input_fault{.problem = "accepted"};
    };
    CHECK(fault_of(both + "years = [1991, 2020]\n").code == "normals.chosen_years");
    CHECK(fault_of(both + "years = 20\n").field == "site.years");
    CHECK(fault_of("").code == "normals.missing");
}

TEST_CASE("calendar, prospect, their sheets and every reason say made from normals") {
    plan const of = parse_plan(plan_text(both));
    climate const made = climate_from_normals(of);
    calendar const planned = schedule(of, made);
    prospect const seen = simulate(planned, made);
    planned.require();
    CHECK(planned.origin() == "made from normals");
    CHECK(seen.origin() == "made from normals");
    std::string const head =
        "Withy Bank 2027\nWeather of 30 season years, 1 – 30; none left out; made from normals.\n"
        "Planned to be in time in 80 % of the years: 24 of 30.\n";
    CHECK(to_string(planned).starts_with(head));
    CHECK(to_string(seen).starts_with(head));
    for (char const* const event : {"sow", "transplant", "clear"}) {
        reason const last = explain(planned, "chard 1", event).back();
        CHECK(last.code == "years.origin");
        CHECK(last.succession == "chard 1");
        CHECK(last.event == event);
        CHECK(last.sentence ==
              "counted in season years that are not simply those of a station: made from normals");
        CHECK(std::get<std::string>(last.values.at(0).second) == "made from normals");
    }
}

TEST_CASE("a station's years have no origin to tell, and their sheets name the station") {
    plan const of = parse_plan(plan_text(both));
    day const start = make_day(2001, 1, 1);
    std::vector<double> const cool(4383, 5.0);
    std::vector<double> const warm(4383, 15.0);
    climate const measured = climate_for(of, {start, cool, warm, "Quoin"});
    calendar const planned = schedule(of, measured);
    CHECK(planned.origin().empty());
    CHECK(to_string(planned).find("\nWeather of Quoin: 12 season years, 2001 – 2012; none left "
                                  "out.\n") != std::string::npos);
    for (reason const& one : explain(planned, "chard 1", "sow")) {
        CHECK(one.code != "years.origin");
    }

    // The station's calendar gone through in made years: the sheet tells the two apart.
    prospect const tried = simulate(planned, climate_from_normals(of));
    CHECK(tried.calendar().origin().empty());
    CHECK(tried.origin() == "made from normals");
    CHECK(to_string(tried).find("Gone through in other years: 30 season years, 1 – 30; none "
                                "left out; made from normals.\n") != std::string::npos);
}
