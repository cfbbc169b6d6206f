// Random plans that are sound but for being absurd.
#ifndef EPICOTYL_TESTS_PLAN_MAKER_HPP
#define EPICOTYL_TESTS_PLAN_MAKER_HPP

#include <algorithm>
#include <array>
#include <cmath>
#include <iterator>
#include <random>
#include <string>
#include <utility>
#include <vector>

#include <epicotyl/plan/plan.hpp>

namespace epicotyl::tests {

/// Makes plans that are sound but for being absurd.
class plan_maker {
public:
    explicit plan_maker(unsigned seed) : random_{seed} {}

    plan_parts make() {
        plan_parts parts{
            .units = coin() ? unit_system::us : unit_system::metric,
            .title = text(),
            .window = season{make_day(upto(3000) + 1, 1, 1) + days{upto(364)}, 400 + upto(1100)},
            .where = latitude{real(-90.0, 90.0)}};
        parts_ = &parts;
        if (coin()) { parts.weather = text(); }
        if (!parts.weather.empty() && coin()) { parts.station = text(); }
        parts.whole_fahrenheit = !parts.weather.empty() && coin();
        if (coin()) { parts.normals = normals(); }
        if (coin()) { parts.years = years(); }
        if (coin()) { parts.max_gap = upto(31); }
        parts.frost = {degrees(), share()};
        parts.reliability = reliability{real(0.5, 1.0)};
        parts.risk = risk();
        parts.events = {"graft", "top \"dress\""};
        // Where a place may have an area, all containers have one.
        has_areas_ = coin();
        for (int i = 0; i < 6; ++i) { parts.places.push_back(make_place(i)); }
        parts.containers = {container{name("pot", 0), 1 + upto(300), {}},
                            container{name("pot", 1), 1 + upto(300), real(0.01, 40.0)}};
        for (container& one : parts.containers) {
            if (has_areas_) { one.area = real(0.001, 2.0); }
        }
        for (int i = 0; i < 3; ++i) { parts.crops.push_back(make_crop(i)); }
        for (int i = 0; i < 6; ++i) { parts.successions.push_back(make_succession(i)); }
        for (int i = 0; i < 3; ++i) { parts.links.push_back(make_link(i)); }
        return parts;
    }

private:
    bool coin() { return upto(1) == 1; }
    int upto(int most) { return std::uniform_int_distribution<int>{0, most}(random_); }
    /// As often a number of a person as one of full length.
    double real(double low, double high) {
        double const value = std::uniform_real_distribution<double>{low, high}(random_);
        double const short_one = std::round(value * 10.0) / 10.0;
        return coin() && short_one > low && short_one < high ? short_one : value;
    }
    std::string text() {
        static std::string const letters[] = {"a", "Z", "9", "_", "-", " ", ".",  "\"", "\\",
                                              "[", "]", "#", "=", "'", "ä", "杏", "\n", "\t"};
        std::string made;
        for (int i = upto(6); i > 0; --i) { made += letters[upto(std::size(letters) - 1)]; }
        return made;
    }
    /// A name that is new by its number.
    std::string name(char const* thing, int number) { return thing + std::to_string(number); }
    std::string odd_name(char const* thing, int number) {
        return text() + thing + std::to_string(number);
    }

    day some_day() { return parts_->window.start() + days{upto(parts_->window.length())}; }
    temperature degrees() { return temperature::from_celsius(real(-40.0, 50.0)); }
    temperature_span span(double low) { return temperature_span::from_kelvin(real(low, 30.0)); }
    thermal_time heat() { return thermal_time::from_kelvin_days(real(0.0, 3000.0)); }
    chance share() { return chance{real(0.0, 1.0)}; }
    risk_setting risk() { return coin() ? risk_setting::off() : risk_setting::at(share()); }
    year_selection years() {
        if (coin()) { return year_selection::latest(1 + upto(60)); }
        int const first = 1900 + upto(60);
        return coin() ? year_selection::all() : year_selection::between(first, first + upto(60));
    }
    /// A level year, but for what a smooth year still follows.
    monthly_normals normals() {
        monthly_normals made{.years = 1 + upto(999), .seed = upto(largest_normal_seed)};
        double const level = real(-50.0, 40.0);
        for (std::size_t m = 0; m < 12; ++m) {
            made.low[m] = temperature::from_celsius(level + real(0.0, 2.0));
            made.high[m] = temperature::from_celsius(level + real(2.0, 4.0));
        }
        return made;
    }
    std::pair<day, day> some_days() {
        day const a = some_day();
        day const b = some_day();
        return {std::min(a, b), std::max(a, b)};
    }

    place make_place(int number) {
        // The first five serve the jobs, so that no stage is without a place.
        place made{.name = odd_name("place", number), .jobs = {static_cast<job>(number % 5)}};
        if (coin() && made.jobs[0] != job::store) { made.jobs.push_back(job::store); }
        if (coin()) { made.id = odd_name("place id", number); }
        air& of = made.air;
        if (upto(3) == 0) {
            of.steady = steady_air{degrees(), degrees()};
        } else {
            if (coin()) { of.warmer_night = span(-5.0); }
            if (coin()) { of.warmer_day = span(-5.0); }
            if (coin()) { of.heat_to = degrees(); }
            if (coin() && of.heat_to) { of.heat_lift = span(0.1); }
            if (coin()) { of.vent_above = degrees(); }
            if (coin()) { of.nights = cold_nights{{}, span(0.1)}; }
            if (coin() && of.nights) { of.nights->below = degrees(); }
        }
        if (coin()) { made.trays = coin() ? upto(50) : real(0.0, 50.0); }
        if (coin()) { made.bed = real(0.0, 500.0); }
        if (has_areas_ && coin()) { made.area = real(0.01, 200.0); }
        if (coin()) {
            auto const [from, until] = some_days();
            made.open = open_days{from, until};
        }
        if (number > 0 && coin()) { made.part_of = parts_->places[0].name; }
        if (coin()) {
            auto const [from, until] = some_days();
            made.lamps = lamps{real(0.1, 24.0), from, until, {}};
            if (coin()) { made.lamps->trays = 1 + upto(9); }
        }
        return made;
    }

    epicotyl::clock make_clock(int depth) {
        epicotyl::clock made = ungated(depth);
        // A group hands its gate to its members, which may have one.
        if (coin() && !std::holds_alternative<clock_group>(made.what())) {
            return made.gated({real(0.0, 24.0), coin(), real(0.0, 1.0)});
        }
        return made;
    }
    epicotyl::clock ungated(int depth) {
        double const base = real(-5.0, 10.0);
        auto const warmer = [&](double by) {
            return temperature::from_celsius(base + by);
        };
        switch (upto(depth > 0 ? 4 : 3)) {
            case 0:
                return epicotyl::clock::days(coin() ? upto(200) : real(0.0, 200.0));
            case 1: {
                heat_wait wait{.amount = heat(), .base = warmer(0.0), .upper = {}};
                if (coin()) { wait.upper = warmer(real(1.0, 30.0)); }
                wait.method = static_cast<degree_day_method>(upto(5));
                if (wait.method != degree_day_method::average_floored) {
                    wait.cutoff = static_cast<degree_day_cutoff>(upto(2));
                }
                wait.soil = coin();
                return epicotyl::clock::heat(wait);
            }
            case 2:
                return epicotyl::clock::days_between(
                    {real(0.0, 100.0), warmer(0.0), warmer(real(1.0, 9.0)), coin()});
            case 3:
                return epicotyl::clock::germination({heat(), warmer(0.0), warmer(real(5.0, 20.0)),
                                                     warmer(real(21.0, 35.0)), coin()});
            default:
                break;
        }
        std::vector<epicotyl::clock> members;
        for (int i = upto(2); i >= 0; --i) { members.push_back(make_clock(depth - 1)); }
        return coin() ? epicotyl::clock::all_of(std::move(members))
                      : epicotyl::clock::any_of(std::move(members));
    }

    std::vector<std::string> where() {
        std::vector<std::string> words;
        for (int i = upto(2); i >= 0; --i) {
            words.push_back(coin() ? std::string{job_names[static_cast<std::size_t>(upto(4))]}
                                   : parts_->places[static_cast<std::size_t>(upto(5))].name);
        }
        return words;
    }

    stage make_stage(std::string begins) {
        stage made{.begins = std::move(begins), .where = where(), .takes = make_clock(2)};
        if (coin()) {
            made.container = name("pot", upto(1));
        } else if (coin()) {
            made.spacing = spacing{1 + upto(5), real(0.5, 90.0)};
        }
        if (coin()) { made.survives = real(0.1, 1.0); }
        if (coin()) { made.hold = coin() ? upto(30) : real(0.0, 30.0); }
        if (coin()) { made.limit = temperature::from_celsius(real(-20.0, 10.0)); }
        if (coin()) { made.too_hot = temperature::from_celsius(real(11.0, 50.0)); }
        return made;
    }

    crop make_crop(int number) {
        crop made{.name = odd_name("crop", number)};
        if (coin()) { made.id = odd_name("crop id", number); }
        for (char const* const begins : {"sow", "emerge", "graft", "transplant", "first_harvest"}) {
            made.stages.push_back(make_stage(begins));
        }
        if (coin()) { made.stages[2].who = coin() ? performer::plant : performer::grower; }
        temperature const one = degrees();
        temperature const other = degrees();
        made.limit_tender = std::max(one, other);
        made.limit_hardened = std::min(one, other);
        if (coin()) { made.risk = risk(); }
        if (coin()) { made.not_before = {{"transplant", not_before()}}; }
        if (coin()) { made.not_after = {{"clear", not_after()}, {"sow", not_after()}}; }
        if (coin()) { made.caution = text(); }
        if (number == 1) { made.prefer = preference::early; }
        return made;
    }

    rule frost() {
        frost_rule made{static_cast<frost_edge>(upto(2)), upto(100), {}};
        if (coin()) { made.after = some_day(); }
        return made;
    }
    rule risk_of() {
        risk_rule made{.share = share()};
        if (coin()) { made.limit = degrees(); }
        if (coin()) { made.after = some_day(); }
        return made;
    }
    rule not_before() {
        switch (upto(2)) {
            case 0:
                return from_rule{some_day()};
            case 1:
                return frost();
            default:
                return risk_of();
        }
    }
    rule not_after() { return coin() ? frost() : rule{by_rule{some_day()}}; }

    target aim() {
        switch (upto(6)) {
            case 0:
                return {"sow", on_rule{some_day()}};
            case 1:
                return {"transplant", from_rule{some_day()}};
            case 2:
                return {"transplant", risk_of()};
            case 3:
                return {"sow", frost()};
            case 4:
                return {"clear", by_rule{some_day()}};
            case 5:
                return {"first_harvest", on_rule{some_day()}};
            default:
                break;
        }
        auto const [from, until] = some_days();
        return {"first_harvest", in_harvest_rule{from, until, share()}};
    }

    succession make_succession(int number) {
        crop const& grown = parts_->crops[static_cast<std::size_t>(number % 3)];
        succession made{.name = odd_name("batch", number),
                        .crop = grown.id.empty() || coin() ? grown.name : grown.id,
                        .amount = {amount::measure::plants, 1.0 + upto(1000000)},
                        .target = aim()};
        if (coin()) { made.id = odd_name("batch id", number); }
        if (coin() && !grown.stages[0].container.empty()) {
            made.amount = {amount::measure::trays, coin() ? 1.0 + upto(20) : real(0.1, 20.0)};
        }
        bool const spaced = std::any_of(grown.stages.begin(), grown.stages.end(),
                                        [](stage const& one) { return one.spacing.has_value(); });
        if (coin() && spaced) { made.amount = {amount::measure::bed, real(0.1, 300.0)}; }
        if (coin()) { made.not_before = {{"transplant", not_before()}}; }
        if (coin()) { made.not_after = {{"transplant", not_after()}}; }
        if (coin()) { made.reliability = reliability{real(0.5, 1.0)}; }
        if (coin()) { made.risk = risk(); }
        made.wave = "wave " + std::to_string(number % 2);
        if (coin()) { made.repeat = repeat{2 + upto(3), 1 + upto(20)}; }
        if (coin()) { made.changes = {make_change("transplant")}; }
        if (coin()) {
            made.changes.push_back(stage_change{.begins = "graft", .hold = real(0.0, 9.0)});
        }
        if (number >= 4) { made.prefer = static_cast<preference>(number % 2); }
        return made;
    }

    stage_change make_change(std::string begins) {
        stage const other = make_stage(begins);
        stage_change made{.begins = std::move(begins)};
        if (coin()) { made.who = performer::grower; }
        if (coin()) { made.where = other.where; }
        if (coin()) { made.takes = other.takes; }
        if (coin()) { made.survives = other.survives; }
        made.hold = other.hold;
        // Above any limit of cold and below any of heat that a stage may have.
        if (coin()) { made.too_hot = temperature::from_celsius(real(51.0, 60.0)); }
        return made;
    }

    link_end wave(int number, char const* event) {
        return {.wave = "wave " + std::to_string(number), .event = event};
    }

    epicotyl::link make_link(int number) {
        epicotyl::link made{.first = wave(number % 2, "transplant"),
                            .then = wave(1 - number % 2, "sow")};
        if (coin()) { made.first.of = link_end::which::first; }
        if (coin()) {
            made.after = make_clock(1);
            made.place = parts_->places[static_cast<std::size_t>(upto(5))].name;
        }
        if (coin()) { made.within = coin() ? 400.0 : real(300.0, 400.0); }
        return made;
    }

    std::mt19937 random_;
    bool has_areas_ = false;
    plan_parts* parts_ = nullptr;
};

}  // namespace epicotyl::tests

#endif
