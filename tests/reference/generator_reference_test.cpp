// The generator against New York Central Park (GHCN-Daily USW00094728).
#include "catch.hpp"

#include <array>
#include <cmath>
#include <numbers>

#include <date/date.h>

#include <epicotyl/frost/freeze_risk.hpp>
#include <epicotyl/weather/generator.hpp>
#include <epicotyl/weather/ghcn_daily.hpp>

#include "reference_data.hpp"

using namespace epicotyl;

namespace {

daily_record central_park() {
    std::string const file = "USW00094728_TMAX_TMIN_1869-2020.dly.gz";
    return parse_ghcn_daily(reference::unpacked(reference::data_file(file)), file);
}

}  // namespace

TEST_CASE("freezes of 1000 generated years fall within six days of Central Park's 93 years") {
    if (reference::is_missing()) { return; }
    // The 10 % date of 93 years is known to about 2 days (standard error), that of the generated
    // ones to half a day; the rest is what the model leaves out (see the header).
    double const stated = 6.0;
    auto const years = year_selection::between(1926, 2018);
    daily_record const record = central_park();
    weather_model const model = fit_weather_model(record, years);
    CHECK(model.met_share() == Approx(0.01).margin(0.003));
    daily_record const made = generate(model, make_day(1001, 1, 1), 365250, 1);
    auto const zero = temperature::from_celsius(0.0);
    freeze_risk const real{record, zero, freeze_estimator::empirical, {.years = years}};
    freeze_risk const drawn{
        made, zero, freeze_estimator::empirical, {.years = year_selection::all()}};
    for (double const p : {0.1, 0.5, 0.9}) {
        INFO("chance " << p);
        CHECK(std::abs(*drawn.last_freeze(chance{p}) - *real.last_freeze(chance{p})) <= stated);
        CHECK(std::abs(*drawn.first_freeze(chance{p}) - *real.first_freeze(chance{p})) <= stated);
    }
}

TEST_CASE("the usual spreads and correlations of normals are Central Park's, 1991 to 2020") {
    if (reference::is_missing()) { return; }
    weather_model const model =
        fit_weather_model(central_park(), year_selection::between(1991, 2020));
    normals_options const usual;
    auto const close = [](element_course const& element, double coldest, double warmest) {
        // The part of the first harmonic of the spread that goes with that of the mean.
        yearly_course const& mean = element.mean;
        yearly_course const& spread = element.spread;
        double const wave = -(spread.cosine[0] * mean.cosine[0] + spread.sine[0] * mean.sine[0]) /
                            std::hypot(mean.cosine[0], mean.sine[0]);
        CHECK(spread.level + wave == Approx(coldest).margin(0.05));
        CHECK(spread.level - wave == Approx(warmest).margin(0.05));
    };
    close(model.minimum(), usual.minimum_spread_coldest, usual.minimum_spread_warmest);
    close(model.maximum(), usual.maximum_spread_coldest, usual.maximum_spread_warmest);
    CHECK(model.same_day() == Approx(usual.same_day).margin(0.005));
    for (std::size_t i = 0; i < 2; ++i) {
        for (std::size_t j = 0; j < 2; ++j) {
            CHECK(model.next_day()[i][j] == Approx(usual.next_day[i][j]).margin(0.005));
        }
    }
}

TEST_CASE("Central Park's own monthly means, given as normals, come back within half a degree") {
    if (reference::is_missing()) { return; }
    auto const monthly = [](daily_record const& record, int first, int last) {
        std::array<std::array<double, 12>, 2> sums = {};
        std::array<double, 12> counts = {};
        for (int k = 0; k < record.size(); ++k) {
            date::year_month_day const ymd{record.start() + days{k}};
            int const year{ymd.year()};
            auto const at = static_cast<std::size_t>(k);
            double const low = record.tmin()[at];
            double const high = record.tmax()[at];
            if (year < first || year > last || std::isnan(low) || std::isnan(high)) { continue; }
            std::size_t const m = unsigned{ymd.month()} - 1;
            sums[0][m] += low;
            sums[1][m] += high;
            counts[m] += 1.0;
        }
        for (auto& element : sums) {
            for (std::size_t m = 0; m < 12; ++m) { element[m] /= counts[m]; }
        }
        return sums;
    };
    auto const asked = monthly(central_park(), 1991, 2020);
    auto const found =
        monthly(generate(model_from_normals(asked[0], asked[1]), make_day(1801, 1, 1), 73048, 3),
                1801, 2000);
    for (std::size_t m = 0; m < 12; ++m) {
        INFO("month " << m + 1);
        CHECK(found[0][m] == Approx(asked[0][m]).margin(0.5));
        CHECK(found[1][m] == Approx(asked[1][m]).margin(0.5));
    }
}
