// Waves kept up as their members move one by one: the same days as a look at all of them gives.
#include "catch.hpp"

#include <random>
#include <string>
#include <vector>

#include <epicotyl/plan/plan_file.hpp>

#include "../../src/season/days/kept_rows.hpp"
#include "../../src/season/days/moving_waves.hpp"

namespace ep = epicotyl;
using ep::detail::at;

namespace {

constexpr int members = 5;
constexpr int years = 4;

/// One batch waits for all of a wave, another for the first of it. Invented.
ep::detail::season_model small_farm() {
    std::string text = R"(format = 1
units = "metric"
defaults = { risk = false }
site = { latitude = 50.0, season_start = 2027-01-01, season_days = 300 }
places = { house = { for = ["grow"] }, beds = { for = ["field"] } }
[crops.leek]
stages = [
  { begins = "sow", where = "grow", takes = { days = 10 } },
  { begins = "transplant", where = "field", takes = { days = 50 } },
]
[[link]]
first = { wave = "early", event = "clear" }
then = { succession = "after all", event = "sow" }
[[link]]
first = { wave = "early", event = "transplant", of = "first" }
then = { succession = "after the first", event = "sow" }
)";
    auto const add = [&](std::string const& name, std::string const& wave) {
        text += "[[succession]]\ncrop = \"leek\"\nplants = 1\nname = \"" + name + "\"\n" + wave +
                "target = { event = \"clear\", by = 2027-10-01 }\n";
    };
    for (int i = 0; i < members; ++i) { add(std::to_string(i), "wave = \"early\"\n"); }
    add("after all", "");
    add("after the first", "");
    ep::daily_record const record{ep::make_day(2001, 1, 1), std::vector(years * 366, 5.0),
                                  std::vector(years * 366, 15.0)};
    return {
        ep::parse_plan(text),
        ep::climate{
            record, ep::latitude{50.0}, {.season_start = date::January / 1, .season_days = 300}}};
}

}  // namespace

TEST_CASE("a wave that is followed member by member is together when a look at all says so") {
    ep::detail::season_model const model = small_farm();
    std::vector<ep::detail::succession_days> const known(members + 2);
    ep::detail::path_walker const walker{model, known};
    ep::detail::days_table days = ep::detail::make_days_table(model);
    ep::detail::days_table looked = ep::detail::make_days_table(model);
    for (int i = 0; i < members + 2; ++i) {
        days.give_rows(i);
        looked.give_rows(i);
    }
    ep::detail::moving_waves waves{model, walker, days};
    REQUIRE(model.waves == 2);
    REQUIRE(model.years >= 2);

    std::mt19937 random{7};
    // Few days, so that members often tie; now and then one does not come at all.
    auto const some_day = [&] {
        int const drawn = static_cast<int>(random() % 9);
        return static_cast<std::int16_t>(drawn == 8 ? ep::never : drawn);
    };
    auto const move = [&](int member) {
        for (std::int16_t& day : days.all_days(member)) { day = some_day(); }
    };
    auto const is_as_looked = [&] {
        for (int i = 0; i < members; ++i) {
            std::ranges::copy(days.all_days(i), looked.all_days(i).begin());
        }
        for (ep::detail::awaited const& wave : model.awaited_all) {
            walker.gather(looked, wave, 0, model.years);
        }
        return looked.gathered == days.gathered;
    };
    for (int i = 0; i < members; ++i) { move(i); }
    for (ep::detail::awaited const& wave : model.awaited_all) { waves.gather(wave); }
    REQUIRE(is_as_looked());

    for (int round = 0; round < 2000; ++round) {
        int const member = static_cast<int>(random() % members);
        std::vector<std::int16_t> const before = days.gathered;
        std::vector<std::int16_t> const days_before(days.all().begin(), days.all().end());
        ep::detail::kept_rows kept{days, waves};
        kept.keep(member);
        move(member);
        bool has_moved = false;
        for (ep::detail::awaited_in const& in : model.awaits_of[at(member)]) {
            ep::detail::awaited const& wave = model.awaited_all[at(in.which)];
            kept.keep(wave);
            has_moved |= waves.follow(wave, member, in.event);
        }
        REQUIRE(is_as_looked());
        REQUIRE(has_moved == (days.gathered != before));
        if (round % 3 == 0) {
            kept.restore();
            REQUIRE(days.gathered == before);
            REQUIRE(std::ranges::equal(days.all(), days_before));
        }
    }
}
