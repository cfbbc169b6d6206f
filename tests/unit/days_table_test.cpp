// Rows of days: those that a succession has, those that it shares, and those of what never comes.
#include "catch.hpp"

#include <string>
#include <vector>

#include <epicotyl/plan/plan_file.hpp>

#include "../../src/season/days/days_table.hpp"

namespace {

namespace ep = epicotyl;

/// Four batches of two events through a few season years.
ep::detail::season_model four_batches() {
    std::string text = R"(format = 1
units = "metric"
site = { latitude = 50, season_start = 2027-01-01, season_days = 300 }
places = { beds = { for = ["field"] } }
[crops.pea]
stages = [{ begins = "sow", where = "field", takes = { days = 90 } }]
)";
    for (char const* const name : {"a", "b", "c", "d"}) {
        text += "[[succession]]\ncrop = \"pea\"\nplants = 1\nname = \"" + std::string{name} +
                "\"\ntarget = { event = \"clear\", by = 2027-08-01 }\n";
    }
    ep::daily_record const record{ep::make_day(2001, 1, 1), std::vector(4 * 366, 5.0),
                                  std::vector(4 * 366, 15.0)};
    return {ep::parse_plan(text), ep::climate{record, ep::latitude{50.0}, {.season_days = 300}}};
}

void fill(ep::detail::days_table& table, int succession, std::int16_t with) {
    for (std::int16_t& day : table.all_days(succession)) { day = with; }
}

}  // namespace

TEST_CASE("a succession without rows never comes, and one that shares rows has their days") {
    ep::detail::season_model const model = four_batches();
    ep::detail::days_table days = ep::detail::make_days_table(model);
    int const last_year = model.years - 1;
    CHECK(days.at(0, 1, 0) == ep::never);
    days.give_rows(1);
    days.give_rows(2);
    fill(days, 1, 7);
    fill(days, 2, 8);
    days.share_rows(1, 3);
    CHECK(days.at(3, 1, last_year) == 7);
    CHECK(days.at(0, 1, last_year) == ep::never);
    days.give_rows(1);  // it has some
    CHECK(days.at(1, 0, 0) == 7);
    CHECK(days.row_days(2, 1).back() == 8);
    days.forget(3);
    CHECK(days.at(3, 0, 0) == ep::never);
    CHECK(days.at(1, 0, 0) == 7);
}

TEST_CASE("a table with the rows of another shares what that shares, and counts in plan order") {
    ep::detail::season_model const model = four_batches();
    ep::detail::days_table days = ep::detail::make_days_table(model);
    days.give_rows(2);
    days.share_rows(2, 0);
    ep::detail::days_table like = ep::detail::make_unset_days_table(days, 9);
    fill(like, 2, 5);
    CHECK(like.at(0, 1, 8) == 5);
    CHECK(like.at(1, 1, 8) == ep::never);
    for (int i = 0; i < 4; ++i) { CHECK(like.row(i, 1) == 2 * i + 1); }
}
