// Laws of looking a record over, of moving it and of joining two, tried on invented records with
// fixed seeds: noise, gaps of all lengths, days with the minimum above the maximum.
#include "catch.hpp"

#include <cmath>
#include <cstddef>
#include <limits>
#include <random>
#include <vector>

#include <epicotyl/weather/adjust.hpp>
#include <epicotyl/weather/quality.hpp>
#include <epicotyl/weather/splice.hpp>

using namespace epicotyl;

namespace {

daily_record messy_record(unsigned seed) {
    std::mt19937 random{seed};
    std::uniform_real_distribution<double> celsius{-10.0, 10.0};
    day const start = make_day(2019, 12, 1) + days{static_cast<int>(random() % 100)};
    std::size_t const size = 1 + random() % 900;
    auto const column = [&](double offset) {
        std::vector<double> values(size);
        for (double& value : values) { value = celsius(random) + offset; }
        for (std::size_t k = 0; k < size; ++k) {
            if (random() % 12 != 0) { continue; }
            std::size_t const length = random() % 8;
            for (std::size_t i = k; i < std::min(size, k + length); ++i) {
                values[i] = std::numeric_limits<double>::quiet_NaN();
            }
        }
        return values;
    };
    std::vector<double> tmin = column(0.0);
    return {start, std::move(tmin), column(15.0), "station"};
}

/// The value on a day, NaN outside the record.
double on(daily_record const& record, std::span<double const> values, day d) {
    return record.holds(d) ? values[static_cast<std::size_t>(record.index_of(d))]
                           : std::numeric_limits<double>::quiet_NaN();
}

bool same(double a, double b) {
    return a == b || (std::isnan(a) && std::isnan(b));
}

}  // namespace

TEST_CASE("what is missing or inverted is either filled or not, and a longer gap fills no less") {
    for (unsigned seed = 1; seed <= 100; ++seed) {
        daily_record const record = messy_record(seed);
        int last_minima = record.size();
        int last_maxima = record.size();
        for (int max_gap = 0; max_gap <= longest_max_gap; ++max_gap) {
            record_quality const q = quality(record, max_gap);
            REQUIRE(q.filled_minima + q.unfilled_minima == q.missing_minima + q.inverted);
            REQUIRE(q.filled_maxima + q.unfilled_maxima == q.missing_maxima + q.inverted);
            REQUIRE(q.unfilled_minima <= last_minima);
            REQUIRE(q.unfilled_maxima <= last_maxima);
            REQUIRE(q.runs == record.gaps());
            REQUIRE(q.longest_run.has_value() == (q.runs > 0));
            last_minima = q.unfilled_minima;
            last_maxima = q.unfilled_maxima;
        }
    }
}

TEST_CASE("a morning reader's maxima move by one day and none is lost") {
    for (unsigned seed = 1; seed <= 100; ++seed) {
        daily_record const record = messy_record(seed);
        daily_record const moved = morning_reader(record);
        for (day d = record.start() - days{2}; d <= record.end() + days{1}; d += days{1}) {
            REQUIRE(same(on(moved, moved.tmin(), d), on(record, record.tmin(), d)));
            REQUIRE(same(on(moved, moved.tmax(), d), on(record, record.tmax(), d + days{1})));
        }
    }
}

TEST_CASE("heights add up") {
    for (unsigned seed = 1; seed <= 100; ++seed) {
        daily_record const record = messy_record(seed);
        double const a = seed * 20.0 - 1000.0;
        double const b = 700.0 - seed * 9.0;
        daily_record const twice =
            with_elevation_difference(with_elevation_difference(record, a), b);
        daily_record const once = with_elevation_difference(record, a + b);
        for (std::size_t k = 0; k < record.tmin().size(); ++k) {
            REQUIRE(std::isnan(once.tmin()[k]) == std::isnan(record.tmin()[k]));
            if (!std::isnan(once.tmin()[k])) {
                REQUIRE(twice.tmin()[k] == Approx(once.tmin()[k]).margin(1e-9));
            }
        }
    }
}

TEST_CASE("a splice has the first's value, else the second's, and counts every day once") {
    for (unsigned seed = 1; seed <= 100; ++seed) {
        daily_record const a = messy_record(seed);
        daily_record const b = messy_record(seed + 1000);
        auto const [record, report] = splice(a, b);
        for (day d = record.start() - days{1}; d <= record.end(); d += days{1}) {
            double const own = on(a, a.tmax(), d);
            REQUIRE(same(on(record, record.tmax(), d), std::isnan(own) ? on(b, b.tmax(), d) : own));
        }
        for (spliced_element const& element : {report.minimum, report.maximum}) {
            REQUIRE(element.from_first + element.from_second + element.missing == record.size());
        }
        REQUIRE(record.start() == std::min(a.start(), b.start()));
        REQUIRE(record.end() == std::max(a.end(), b.end()));
        // The other way round the same days have values, and the difference is turned.
        splice_report const turned = splice(b, a).report;
        REQUIRE(turned.minimum.missing == report.minimum.missing);
        REQUIRE(turned.minimum.overlap == report.minimum.overlap);
        if (report.minimum.mean_difference) {
            REQUIRE(turned.minimum.mean_difference->kelvin() ==
                    Approx(-report.minimum.mean_difference->kelvin()).margin(1e-12));
        }
    }
}

TEST_CASE("matched means leave no difference over the shared days") {
    int matched = 0;
    for (unsigned seed = 1; seed <= 200; ++seed) {
        daily_record const a = messy_record(seed);
        daily_record const b = messy_record(seed + 1000);
        splice_report const plain = splice(a, b).report;
        if (plain.minimum.overlap < least_overlap || plain.maximum.overlap < least_overlap) {
            CHECK_THROWS_AS(splice(a, b, {.match_means = true}), invalid_input);
            continue;
        }
        ++matched;
        auto const [record, report] = splice(a, b, {.match_means = true});
        double sum = 0.0;
        for (day d = record.start(); d < record.end(); d += days{1}) {
            double const difference =
                on(a, a.tmin(), d) - (on(b, b.tmin(), d) + report.minimum.added.kelvin());
            sum += std::isnan(difference) ? 0.0 : difference;
        }
        REQUIRE(sum / report.minimum.overlap == Approx(0.0).margin(1e-9));
    }
    CHECK(matched > 10);
}
