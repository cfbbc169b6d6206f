// Laws that hold for every record, tried on many invented ones with fixed seeds: a yearly cycle,
// noise, gaps of all lengths, days with the minimum above the maximum.
#include "catch.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>
#include <random>
#include <string>
#include <vector>

#include <epicotyl/fmt.hpp>
#include <epicotyl/frost/freeze_risk.hpp>
#include <epicotyl/weather/climate.hpp>
#include <epicotyl/weather/daily_csv.hpp>
#include <epicotyl/weather/ghcn_daily.hpp>

using namespace epicotyl;

namespace {

double const gone = std::numeric_limits<double>::quiet_NaN();

struct invented {
    int years = 12;
    double mean = 6.0;       // of the minima over the year, °C
    double gap_rate = 0.01;  // chance that a gap begins on a day
};

daily_record make_record(unsigned seed, invented const& how) {
    std::mt19937 random{seed};
    std::normal_distribution<double> noise{0.0, 3.0};
    std::uniform_real_distribution<double> uniform{0.0, 1.0};
    day const start = make_day(1990, 1, 1) + days{static_cast<int>(random() % 400)};
    auto const size = static_cast<std::size_t>(how.years * 365 + random() % 365);
    std::vector<double> tmin(size);
    std::vector<double> tmax(size);
    for (std::size_t k = 0; k < size; ++k) {
        double const yearly = -std::cos(2.0 * 3.14159265 * static_cast<double>(k) / 365.25);
        double const low = how.mean + 10.0 * yearly + noise(random);
        // Whole tenths, as a file has them.
        tmin[k] = std::round(low * 10.0) / 10.0;
        tmax[k] = std::round((low + 1.0 + 8.0 * uniform(random)) * 10.0) / 10.0;
        if (uniform(random) < 0.001) { std::swap(tmin[k], tmax[k]); }
    }
    auto const punch = [&](std::vector<double>& values) {
        for (std::size_t k = 0; k < size; ++k) {
            if (uniform(random) >= how.gap_rate) { continue; }
            // Mostly short gaps, now and then a long one.
            std::size_t const length = uniform(random) < 0.95 ? 1 + random() % 3 : random() % 20;
            for (std::size_t i = k; i < std::min(size, k + length); ++i) { values[i] = gone; }
        }
    };
    punch(tmin);
    punch(tmax);
    return {start, tmin, tmax, "INV00000001"};
}

/// The value of a day by the definition: its own, or on the line between the nearest values when
/// at most `max_gap` days lie between them.
double filled_value(daily_record const& record, bool minimum, int k, int max_gap) {
    auto const value = [&](int i) {
        double const low = record.tmin()[static_cast<std::size_t>(i)];
        double const high = record.tmax()[static_cast<std::size_t>(i)];
        if (low > high) { return gone; }
        return minimum ? low : high;
    };
    if (!std::isnan(value(k))) { return value(k); }
    int before = k;
    int after = k;
    while (before >= 0 && std::isnan(value(before))) { --before; }
    while (after < record.size() && std::isnan(value(after))) { ++after; }
    if (before < 0 || after == record.size() || after - before - 1 > max_gap) { return gone; }
    double const share = static_cast<double>(k - before) / (after - before);
    return (1.0 - share) * value(before) + share * value(after);
}

std::string as_ghcn_daily(daily_record const& record) {
    std::string text;
    date::year_month_day const first{record.start()};
    for (date::year_month month{first.year(), first.month()}; day{month / 1} < record.end();
         month += date::months{1}) {
        for (bool const minimum : {true, false}) {
            text += fmt::format("{}{:04}{:02}{}", record.name(), int{month.year()},
                                unsigned{month.month()}, minimum ? "TMIN" : "TMAX");
            auto const length = unsigned{(month / date::last).day()};
            for (unsigned d = 1; d <= 31; ++d) {
                day const on = day{month / 1} + days{static_cast<int>(d) - 1};
                double value = gone;
                if (d <= length && record.holds(on)) {
                    auto const at = static_cast<std::size_t>(record.index_of(on));
                    value = minimum ? record.tmin()[at] : record.tmax()[at];
                }
                text += fmt::format("{:5}   ", std::isnan(value)
                                                   ? -9999
                                                   : static_cast<int>(std::lround(value * 10.0)));
            }
            text += '\n';
        }
    }
    return text;
}

std::string as_csv(daily_record const& record) {
    std::string text = "date,tmin_c,tmax_c\n";
    for (int k = 0; k < record.size(); ++k) {
        auto const cell = [&](std::span<double const> values) {
            double const value = values[static_cast<std::size_t>(k)];
            return std::isnan(value) ? std::string{} : fmt::format("{}", value);
        };
        text += fmt::format("{},{},{}\n", to_iso(record.start() + days{k}), cell(record.tmin()),
                            cell(record.tmax()));
    }
    return text;
}

/// Without the days at both ends that have no value, as a reader gives it.
daily_record between_values(daily_record const& record) {
    int from = 0;
    int until = record.size();
    auto const empty = [&](int k) {
        return std::isnan(record.tmin()[static_cast<std::size_t>(k)]) &&
               std::isnan(record.tmax()[static_cast<std::size_t>(k)]);
    };
    while (empty(from)) { ++from; }
    while (empty(until - 1)) { --until; }
    return {record.start() + days{from},
            {record.tmin().begin() + from, record.tmin().begin() + until},
            {record.tmax().begin() + from, record.tmax().begin() + until},
            record.name()};
}

/// Every minimum lowered or raised, maxima far above.
daily_record with_minima_moved(daily_record const& record, double by) {
    std::vector<double> tmin(record.tmin().begin(), record.tmin().end());
    for (double& value : tmin) { value += by; }
    return {record.start(), tmin, std::vector<double>(tmin.size(), 60.0), record.name()};
}

freeze_options const all_years{.max_gap = 31, .years = year_selection::all()};

std::vector<double> const chances = {0.01, 0.05, 0.1, 0.2, 0.25, 0.3,  0.4,
                                     0.5,  0.6,  0.7, 0.8, 0.9,  0.95, 0.99};

}  // namespace

TEST_CASE("a record written as GHCN-Daily or as a table is read back as it was") {
    for (unsigned seed = 1; seed <= 20; ++seed) {
        daily_record const record =
            between_values(make_record(seed, {.years = 1 + static_cast<int>(seed % 5)}));
        CHECK(parse_ghcn_daily(as_ghcn_daily(record), "f.dly") == record);
        CHECK(parse_daily_csv(as_csv(record), "INV00000001.csv") == record);
    }
}

TEST_CASE("a climate holds what the definition says, day by day, and leaves out what it says") {
    for (unsigned seed = 1; seed <= 30; ++seed) {
        INFO("seed " << seed);
        daily_record const record = make_record(seed, {.years = 6});
        climate_options const options{
            .season_start = date::month{1 + seed % 12} / static_cast<int>(1 + seed % 28),
            .season_days = 100 + static_cast<int>(seed * 37 % 700),
            .max_gap = static_cast<int>(seed % 5),
            .years = year_selection::latest(4)};
        std::vector<int> expected_years;
        std::vector<int> candidates;
        std::vector<std::vector<double>> expected_low;
        std::vector<std::vector<double>> expected_high;
        for (int year = 1980; year < 2010; ++year) {
            day const start{date::year{year} / *options.season_start};
            if (start < record.start() || start + days{options.season_days} > record.end()) {
                continue;
            }
            candidates.push_back(year);
        }
        if (candidates.size() > 4) { candidates.erase(candidates.begin(), candidates.end() - 4); }
        for (int const year : candidates) {
            int const at = record.index_of(day{date::year{year} / *options.season_start});
            std::vector<double> low;
            std::vector<double> high;
            for (int k = at; k < at + options.season_days; ++k) {
                low.push_back(filled_value(record, true, k, options.max_gap));
                high.push_back(filled_value(record, false, k, options.max_gap));
            }
            auto const is_gone = [](double value) {
                return std::isnan(value);
            };
            if (std::any_of(low.begin(), low.end(), is_gone) ||
                std::any_of(high.begin(), high.end(), is_gone)) {
                continue;
            }
            expected_years.push_back(year);
            expected_low.push_back(low);
            expected_high.push_back(high);
        }
        if (expected_years.empty()) {
            CHECK_THROWS_AS(climate(record, latitude{50.0}, options), invalid_input);
            continue;
        }
        climate const here{record, latitude{50.0}, options};
        REQUIRE(std::vector<int>(here.years().begin(), here.years().end()) == expected_years);
        CHECK(here.left_out().size() + expected_years.size() == candidates.size());
        bool same = true;
        for (int i = 0; i < here.size(); ++i) {
            auto const row = static_cast<std::size_t>(i);
            for (std::size_t k = 0; k < expected_low[row].size(); ++k) {
                same = same && std::abs(here.tmin(i)[k] - expected_low[row][k]) < 1e-9 &&
                       std::abs(here.tmax(i)[k] - expected_high[row][k]) < 1e-9;
            }
        }
        CHECK(same);
    }
}

TEST_CASE("a filled value lies between its neighbours, and season years agree on shared days") {
    for (unsigned seed = 1; seed <= 20; ++seed) {
        INFO("seed " << seed);
        daily_record const record = make_record(seed, {.gap_rate = 0.003});
        climate const here{record, latitude{50.0}, {.max_gap = 31}};
        int differing = 0;
        int outside = 0;
        for (int i = 0; i < here.size(); ++i) {
            season const mine = here.season_of(i);
            for (int k = 1; k + 1 < here.season_days(); ++k) {
                auto const low = here.tmin(i);
                auto const at = static_cast<std::size_t>(k);
                int const in_record = record.index_of(mine.start()) + k;
                bool const filled = std::isnan(record.tmin()[static_cast<std::size_t>(in_record)]);
                double const least = std::min(low[at - 1], low[at + 1]);
                double const most = std::max(low[at - 1], low[at + 1]);
                outside += filled && !(low[at] >= least - 1e-9 && low[at] <= most + 1e-9) ? 1 : 0;
            }
            if (i + 1 == here.size()) { continue; }
            int const shift = mine.offset_of(here.season_of(i + 1).start());
            for (int k = shift; k < here.season_days(); ++k) {
                auto const a = static_cast<std::size_t>(k);
                auto const b = static_cast<std::size_t>(k - shift);
                differing += here.tmin(i)[a] != here.tmin(i + 1)[b] ? 1 : 0;
                differing += here.tmax(i)[a] != here.tmax(i + 1)[b] ? 1 : 0;
            }
        }
        CHECK(outside == 0);
        CHECK(differing == 0);
    }
}

TEST_CASE("a greater chance gives a last freeze no later, a first freeze no earlier") {
    for (unsigned seed = 1; seed <= 40; ++seed) {
        INFO("seed " << seed);
        // From cold to so mild that many years have no freeze.
        daily_record const record = make_record(seed, {.mean = 4.0 + seed % 20});
        for (auto const estimator : {freeze_estimator::empirical, freeze_estimator::fitted}) {
            freeze_risk const risk{record, temperature::from_celsius(0.0), estimator, all_years};
            std::optional<double> last_before;
            std::optional<double> first_before;
            std::optional<double> length_before;
            for (double const p : chances) {
                auto const last = risk.last_freeze(chance{p});
                auto const first = risk.first_freeze(chance{p});
                auto const length = risk.frost_free_days(chance{p});
                if (last && last_before) { CHECK(*last <= *last_before + 1e-9); }
                if (first && first_before) { CHECK(*first >= *first_before - 1e-9); }
                if (length && length_before) { CHECK(*length <= *length_before + 1e-9); }
                if (last) { last_before = last; }
                if (first) { first_before = first; }
                if (length) { length_before = length; }
            }
            double later_before = 1.0;
            double earlier_before = 0.0;
            for (int step = 0; step < 400; ++step) {
                double const offset = -20.0 + 0.7 * step;
                double const later = risk.chance_later(offset).value();
                double const earlier = risk.chance_earlier(offset).value();
                CHECK(later <= later_before + 1e-12);
                CHECK(earlier >= earlier_before - 1e-12);
                later_before = later;
                earlier_before = earlier;
            }
        }
    }
}

TEST_CASE("the chance on the day for a chance is that chance, or more where years share a date") {
    for (unsigned seed = 1; seed <= 40; ++seed) {
        INFO("seed " << seed);
        daily_record const record = make_record(seed, {.mean = 4.0 + seed % 20});
        for (auto const estimator : {freeze_estimator::empirical, freeze_estimator::fitted}) {
            bool const exact = estimator == freeze_estimator::fitted;
            freeze_risk const risk{record, temperature::from_celsius(0.0), estimator, all_years};
            bool const several = risk.last_sample().sd > 0.0 && risk.first_sample().sd > 0.0;
            for (double const p : chances) {
                if (auto const last = risk.last_freeze(chance{p})) {
                    CHECK(risk.chance_later(*last).value() >= p - 1e-9);
                    if (exact && several) { CHECK(risk.chance_later(*last).value() == Approx(p)); }
                }
                if (auto const first = risk.first_freeze(chance{p})) {
                    CHECK(risk.chance_earlier(*first).value() >= p - 1e-9);
                    if (exact && several) {
                        CHECK(risk.chance_earlier(*first).value() == Approx(p));
                    }
                }
            }
        }
    }
}

TEST_CASE("a colder threshold never gives a later last or an earlier first freeze") {
    for (unsigned seed = 1; seed <= 30; ++seed) {
        INFO("seed " << seed);
        daily_record const record = make_record(seed, {.mean = 4.0 + seed % 12});
        for (double const warm : {2.2, 0.0, -2.2, -4.4}) {
            auto const at = [&](double celsius) {
                return freeze_risk{record, temperature::from_celsius(celsius),
                                   freeze_estimator::empirical, all_years};
            };
            freeze_risk const milder = at(warm);
            freeze_risk const colder = at(warm - 1.7);
            for (std::size_t y = 0; y < milder.dates().years().size(); ++y) {
                freeze_year const& a = milder.dates().years()[y];
                freeze_year const& b = colder.dates().years()[y];
                if (b.last()) { CHECK((a.last() && *b.last() <= *a.last())); }
                if (b.first()) { CHECK((a.first() && *b.first() >= *a.first())); }
            }
            for (double const p : chances) {
                auto const last = colder.last_freeze(chance{p});
                auto const milder_last = milder.last_freeze(chance{p});
                if (last) { CHECK((milder_last && *last <= *milder_last + 1e-9)); }
                auto const first = colder.first_freeze(chance{p});
                auto const milder_first = milder.first_freeze(chance{p});
                if (first) { CHECK((milder_first && *first >= *milder_first - 1e-9)); }
            }
        }
    }
}

TEST_CASE("colder nights never give an earlier last freeze, warmer ones never a later") {
    for (unsigned seed = 1; seed <= 20; ++seed) {
        daily_record const record = with_minima_moved(make_record(seed, {}), 0.0);
        temperature const zero = temperature::from_celsius(0.0);
        freeze_dates const now{record, zero, all_years};
        freeze_dates const colder{with_minima_moved(record, -1.0), zero, all_years};
        for (std::size_t y = 0; y < now.years().size(); ++y) {
            auto const before = now.years()[y];
            auto const after = colder.years()[y];
            if (before.last()) { CHECK((after.last() && *after.last() >= *before.last())); }
            if (before.first()) { CHECK((after.first() && *after.first() <= *before.first())); }
        }
    }
}

TEST_CASE("nights below a threshold are among those at or below it") {
    for (unsigned seed = 1; seed <= 20; ++seed) {
        daily_record const record = make_record(seed, {});
        temperature const limit = temperature::from_celsius(-1.0);
        freeze_options strict = all_years;
        strict.counts_when = comparison::below;
        freeze_dates const with{record, limit, all_years};
        freeze_dates const without{record, limit, strict};
        for (std::size_t y = 0; y < with.years().size(); ++y) {
            auto const a = with.years()[y];
            auto const b = without.years()[y];
            if (b.last()) { CHECK(*b.last() <= *a.last()); }
            if (b.first()) { CHECK(*b.first() >= *a.first()); }
        }
    }
}

TEST_CASE("a rule's day is never on the unsafe side of the empirical one") {
    std::mt19937 random{7};
    for (int trial = 0; trial < 300; ++trial) {
        std::vector<std::optional<int>> offsets;
        int const years = 1 + static_cast<int>(random() % 40);
        for (int k = 0; k < years; ++k) {
            offsets.emplace_back();
            if (random() % 5 != 0) { offsets.back() = static_cast<int>(random() % 200); }
        }
        std::optional<int> last_before;
        std::optional<int> first_before;
        for (double const p : chances) {
            auto const last = empirical_offset_last(offsets, chance{p});
            auto const first = empirical_offset_first(offsets, chance{p});
            if (last) {
                // At most a share p of n + 1 years is later than the day.
                auto const later = std::count_if(offsets.begin(), offsets.end(),
                                                 [&](auto const& o) { return o && *o > *last; });
                CHECK(static_cast<double>(later) <= p * (years + 1) + 1e-9);
                if (last_before) { CHECK(*last <= *last_before); }
                last_before = last;
            }
            if (first) {
                auto const earlier = std::count_if(offsets.begin(), offsets.end(),
                                                   [&](auto const& o) { return o && *o < *first; });
                CHECK(static_cast<double>(earlier) <= p * (years + 1) + 1e-9);
                if (first_before) { CHECK(*first >= *first_before); }
                first_before = first;
            }
        }
    }
}

TEST_CASE("a northern record half a year later gives the southern dates, half a year later") {
    for (unsigned seed = 1; seed <= 20; ++seed) {
        INFO("seed " << seed);
        daily_record const record = make_record(seed, {});
        // 181 days from 1 January of a common year to 1 July.
        daily_record const turned{record.start() + days{181},
                                  {record.tmin().begin(), record.tmin().end()},
                                  {record.tmax().begin(), record.tmax().end()}};
        temperature const zero = temperature::from_celsius(0.0);
        freeze_options southern = all_years;
        southern.halves = season_halves::for_latitude(latitude{-40.0});
        freeze_dates const north{record, zero, all_years};
        freeze_dates const south{turned, zero, southern};
        int compared = 0;
        for (freeze_year const& a : north.years()) {
            for (freeze_year const& b : south.years()) {
                // Both halves begin 181 days apart in common years, in which they also end alike.
                bool const alike =
                    a.cold_to_warm.span.begin + days{181} == b.cold_to_warm.span.begin &&
                    a.cold_to_warm.span.length() <= b.cold_to_warm.span.length();
                if (!alike || !a.cold_to_warm.used || !b.cold_to_warm.used || !a.last()) {
                    continue;
                }
                ++compared;
                CHECK(*b.last() >= *a.last() + days{181});
                // The southern half is three days longer (215 to 212).
                CHECK((*b.last() == *a.last() + days{181} ||
                       *b.last() > a.cold_to_warm.span.end + days{180}));
            }
        }
        CHECK(compared >= 3);
    }
}
