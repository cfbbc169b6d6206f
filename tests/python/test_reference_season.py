"""The reference reckoning on examples small enough to do by hand.

Every expected number is worked out in the comment beside it, or was printed by someone else. The
comparison of the library with the reference stands in `test_library_against_reference.py`.
"""

import datetime
import math

import pytest

from reference_season import (
    NEVER,
    Clock,
    Place,
    Protection,
    Record,
    Rule,
    Season,
    SeasonYear,
    allowed,
    daily_rates,
    day_length,
    degree_days,
    fill_gaps,
    needed,
    place_air,
    quantile,
    read_csv,
    read_dly,
    read_plan,
    ready_day,
    season_years,
)

NAN = math.nan


def date(month, day, year=2027):
    return datetime.date(year, month, day)


def farm(*successions, stages, days=30, risk=False, **more):
    """A plan with a heated bench, a shed and a bed; one crop, "plant", with these stages."""
    crop = {"stages": list(stages), **more.pop("crop", {})}
    document = {
        "format": 1,
        "units": "metric",
        "site": {"latitude": 50.0, "season_start": date(1, 1), "season_days": days},
        "defaults": {"risk": risk, "reliability": 0.8},
        "places": {
            "bench": {"for": ["germinate"], "day": 20.0, "night": 20.0},
            "shed": {"for": ["harden"], "warmer_night": 2.0},
            "bed": {"for": ["field"]},
        },
        "crops": {"plant": crop},
        "succession": [{"crop": "plant", "plants": 10, **table} for table in successions],
        **more,
    }
    return read_plan(document)


def weather(*years):
    """Season years of (minimum, maximum) lists."""
    return [SeasonYear(2000 + k, list(low), list(high)) for k, (low, high) in enumerate(years)]


def sowing(place="bench", days=3):
    return {"begins": "sow", "where": place, "takes": {"days": days}}


def planting(place="bed", **takes):
    return {"begins": "transplant", "where": place, "takes": takes or {"days": 5}}


# ---- Records and season years ------------------------------------------------------------------


def test_gaps_up_to_the_longest_are_straight_lines_and_edges_stay():
    # 4, _, _, _, 8: steps of (8 - 4) / 4 = 1; the gap before the first value has no left end
    assert fill_gaps([4.0, NAN, NAN, NAN, 8.0], 3) == [4.0, 5.0, 6.0, 7.0, 8.0]
    assert math.isnan(fill_gaps([4.0, NAN, NAN, NAN, 8.0], 2)[1])
    assert math.isnan(fill_gaps([NAN, 4.0], 3)[0])


def test_season_years_are_the_latest_that_fit_less_those_with_long_gaps():
    # Five whole years; 100 days from 1 October do not fit in the last one (92 days are left)
    first, last = date(1, 1, 2001), date(12, 31, 2005)
    count = (last - first).days + 1
    record = Record(first, [1.0] * count, [2.0] * count)
    october = date(10, 1)
    assert [y.year for y in season_years(record, october, 100)] == [2001, 2002, 2003, 2004]
    assert [y.year for y in season_years(record, october, 92)] == [2001, 2002, 2003, 2004, 2005]
    # of the latest two that fit, one has four days without a minimum: the other is left
    gap = (date(11, 5, 2003) - first).days
    record.low[gap : gap + 4] = [NAN] * 4
    assert [y.year for y in season_years(record, october, 100, years=2)] == [2004]
    assert [y.year for y in season_years(record, october, 100, years=2, max_gap=4)] == [2003, 2004]


def test_a_minimum_above_the_maximum_is_a_gap_of_both():
    record = Record(date(1, 1, 2001), [0.0, 9.0, 2.0], [4.0, 5.0, 8.0])
    (year,) = season_years(record, date(1, 1), 3)
    assert year.low == [0.0, 1.0, 2.0]
    assert year.high == [4.0, 6.0, 8.0]


def test_day_k_of_a_leap_year_is_day_k():
    record = Record(date(1, 1, 2004), [float(k) for k in range(366)], [400.0] * 366)
    (year,) = season_years(record, date(1, 1), 366)
    assert year.low[59] == 59.0  # 29 February; on a plan for 2027 day 59 is 1 March


def test_csv_days_left_out_are_gaps(tmp_path):
    path = tmp_path / "weather.csv"
    path.write_text("# invented\ndate,tmin_c,tmax_c\n2001-01-01,-1.5,2\n2001-01-03,,4\n")
    record = read_csv(path)
    assert record.first == date(1, 1, 2001)
    assert record.low[0] == -1.5
    assert math.isnan(record.low[1])
    assert math.isnan(record.low[2])
    assert record.high[2] == 4.0


def test_ghcn_daily_tenths_missing_and_flags(tmp_path):
    # The second day's minimum failed a check and its maximum is missing; on the third the
    # maximum was found between readings (a measurement flag), which is no fault
    blank = "-9999   "
    low = "XX000000001200102TMIN" + "  -17  Z" + "  -28 IZ" + "   -6  Z" + blank * 28
    high = "XX000000001200102TMAX" + "   28  Z" + blank + "   11H Z" + blank * 28
    path = tmp_path / "station.dly"
    path.write_text(low + "\n" + high + "\n")
    record = read_dly(path)
    assert record.first == date(2, 1, 2001)
    assert record.low[0] == -1.7
    assert math.isnan(record.low[1])
    assert record.low[2] == -0.6
    assert record.high[0] == 2.8
    assert math.isnan(record.high[1])
    assert record.high[2] == 1.1
    assert len(record.low) == 3  # the rest of the month has no value


# ---- Air ---------------------------------------------------------------------------------------


def test_heater_lifts_at_most_its_lift_and_vents_never_below_the_outdoor_maximum():
    house = Place("house", ["grow"], warmer_night=2.0, warmer_day=10.0)
    house.heat_to, house.heat_lift, house.vent_above = 5.0, 6.0, 25.0
    # night -1 + 2 = 1, heated to 5; day 8 + 10 = 18
    # night -9 + 2 = -7, lifted by 6 only: -1; day -14 + 10 = -4, heated by min(5, 2): 2
    # night 20 + 2 = 22; day 30 + 10 = 40, vented down to max(25, 30) = 30
    lows, highs, _ = place_air(house, [-1.0, -9.0, 20.0], [8.0, -14.0, 30.0], None)
    assert lows == [5.0, -1.0, 22.0]
    assert highs == [18.0, 2.0, 30.0]
    lows, _, _ = place_air(house, [-1.0, -9.0], [8.0, -14.0], None, heater=False)
    assert lows == [1.0, -7.0]


def test_cover_acts_where_the_minimum_is_at_or_below_and_maximum_is_at_least_minimum():
    frame = Place("frame", ["harden"], cover=5.0, cover_below=2.0)
    lows, highs, acted = place_air(frame, [2.0, 2.1, -4.0], [3.0, 9.0, 0.0], None)
    assert lows == [7.0, 2.1, 1.0]
    assert highs == [7.0, 9.0, 1.0]
    assert acted == [True, False, True]
    lows, _, acted = place_air(frame, [2.0], [3.0], None, cover=False)
    assert (lows, acted) == ([2.0], [True])


def test_cover_without_a_temperature_acts_at_the_limit_of_what_stands_there():
    frame = Place("frame", ["harden"], cover=5.0)
    assert place_air(frame, [0.0, 0.1], [9.0, 9.0], 0.0)[2] == [True, False]
    assert place_air(frame, [0.0, 0.1], [9.0, 9.0], -2.0)[2] == [False, False]
    assert place_air(frame, [-9.0], [9.0], None)[2] == [False]


# ---- Clocks ------------------------------------------------------------------------------------


def test_a_stage_counts_the_day_it_begins_on():
    assert ready_day([1.0] * 20, 7.0, 4) == 11
    assert ready_day([1.0] * 20, 2.5, 4) == 7
    assert ready_day([1.0] * 20, 0.0, 4) == 4
    assert ready_day([1.0] * 20, 16.0, 4) == 20  # the last day of the season
    assert ready_day([1.0] * 20, 17.0, 4) == NEVER
    assert ready_day([0.0, 0.0, 5.0, 0.0, 5.0], 10.0, 0) == 5  # the fifth day completes it


# Zalom et al. 1983, Table 7: lower 55, upper 90, horizontal; minimum, maximum, next minimum
@pytest.mark.parametrize(
    ("low", "high", "following", "triangle", "double_triangle", "sine", "double_sine"),
    [
        (50.0, 82.0, 45.0, 11.39, 10.62, 11.85, 11.31),
        (50.0, 101.0, 48.0, 19.56, 19.19, 18.95, 18.69),
    ],
)
def test_published_degree_days(low, high, following, triangle, double_triangle, sine, double_sine):
    expected = {
        "single_triangle": triangle,
        "double_triangle": double_triangle,
        "single_sine": sine,
        "double_sine": double_sine,
    }
    for method, value in expected.items():
        clock = Clock("heat", base=55.0, upper=90.0, method=method)
        rate = daily_rates(clock, [low, following], [high, high], [])[0]
        assert rate == pytest.approx(value, abs=0.0051)


def test_degree_days_by_averages_and_by_sine():
    # 5 ... 25 above 10: the mean 15 gives 5; (0 + 15) / 2 = 7.5; the sine 6.09
    # (McMaster and Wilhelm 1997 name the two readings of the average)
    assert degree_days(5.0, 25.0, Clock("heat", base=10.0, method="average")) == 5.0
    assert degree_days(5.0, 25.0, Clock("heat", base=10.0, method="average_floored")) == 7.5
    assert degree_days(5.0, 25.0, Clock("heat", base=10.0)) == pytest.approx(6.09, abs=0.005)


def test_germination_rises_to_the_optimum_and_falls_to_the_ceiling():
    clock = Clock("germination", base=5.0, optimum=25.0, ceiling=35.0)
    means = [5.0, 15.0, 25.0, 30.0, 35.0, 40.0]
    # at 30, half way down: 20 * (35 - 30) / (35 - 25) = 10
    assert daily_rates(clock, means, means, []) == [0.0, 10.0, 20.0, 10.0, 0.0, 0.0]


def test_days_between_counts_the_days_whose_mean_lies_within():
    clock = Clock("days_between", low=0.0, high=5.0)
    # means -0.5, 0, 5, 5.5
    assert daily_rates(clock, [-2.0, -2.0, 2.0, 2.0], [1.0, 2.0, 8.0, 9.0], []) == [0, 1, 1, 0]


def test_soil_is_the_mean_of_the_last_ten_days_and_at_first_of_what_there_is():
    clock = Clock("heat", base=0.0, method="average", soil=True)
    means = [10.0, 0.0, 5.0] + [5.0] * 7 + [30.0]
    rates = daily_rates(clock, means, means, [])
    assert rates[0] == 10.0
    assert rates[1] == 5.0
    assert rates[2] == 5.0
    assert rates[10] == pytest.approx(7.0)  # (0 + 8 * 5 + 30) / 10: the tenth day before is out


def test_day_length_is_near_published_monthly_means():
    # US Naval Observatory, Los Angeles, 34 deg 05 min N: monthly means of hours of daylight
    published = [10.182, 10.973, 11.985, 13.046, 13.940, 14.388]
    published += [14.163, 13.404, 12.374, 11.320, 10.401, 9.928]
    for month, hours in enumerate(published, start=1):
        days = [
            day_length(34.0 + 5.0 / 60.0, day)
            for day in (date(1, 1) + datetime.timedelta(k) for k in range(365))
            if day.month == month
        ]
        assert sum(days) / len(days) == pytest.approx(hours, abs=0.06)


def test_gate_and_lamps():
    gate = {"day_length_at_least": 12.0, "otherwise": 0.5}
    stages = [{"begins": "sow", "where": "shelf", "takes": {"days": 4, "gate": gate}}]
    lamps = {"hours": 12.0, "from": date(1, 3), "until": date(1, 4)}
    plan = farm(
        {"target": {"event": "sow", "from": date(1, 1)}},
        stages=stages,
        places={"shelf": {"for": ["grow"], "day": 20.0, "night": 20.0, "lamps": lamps}},
    )
    season = Season(plan, weather(([0.0] * 30, [5.0] * 30)))
    # Short days at 50 N in January run half; the lamps' days 2 and 3 whole. From day 0:
    # 0.5 + 0.5 + 1 + 1 + 0.5 + 0.5 = 4 after six days
    assert season.ready(plan.successions["plant"], 0, 0, 0) == 6
    assert season.ready(plan.successions["plant"], 0, 0, 4) == 12


def test_all_is_the_later_and_any_the_earlier():
    both = [{"days": 3}, {"heat": 20.0, "base": 0.0, "method": "average"}]
    for kind, expected in (("all", 4), ("any", 3)):
        plan = farm(
            {"target": {"event": "sow", "from": date(1, 1)}},
            stages=[{"begins": "sow", "where": "field", "takes": {kind: both}}],
        )
        season = Season(plan, weather(([4.0] * 30, [6.0] * 30)))
        assert season.ready(plan.successions["plant"], 0, 0, 0) == expected


# ---- Counting ----------------------------------------------------------------------------------


def test_needed_and_allowed_years():
    assert needed(0.8, 30) == 24  # 0.8 * 30 is 24.000000000000004 or 24: not 25
    assert needed(0.8, 12) == 10
    assert allowed(0.1, 30) == 3
    assert allowed(0.1, 29) == 2
    assert needed(0.5, 1) == 1


def test_quantile_is_a_day_that_happened_and_never_is_last():
    days = [9, NEVER, 5, 7]
    assert quantile(days, 0.5) == 7
    assert quantile(days, 0.75) == 9
    assert quantile(days, 0.8) == NEVER


# ---- The plan file -----------------------------------------------------------------------------


def test_us_units_are_points_differences_and_sums():
    plan = read_plan(
        {
            "units": "us",
            "year": 2027,
            "site": {"latitude": 40.0, "frost": {"at": 32.0}},
            "places": {
                "shelf": {
                    "for": ["grow"],
                    "warmer_night": 9,
                    "heat_to": 50,
                    "heat_lift": 18,
                    "cold_nights": {"below": 41, "warmer": 9},
                }
            },
            "crops": {
                "plant": {
                    "limit_tender": 32.0,
                    "stages": [
                        {
                            "begins": "sow",
                            "where": "grow",
                            "takes": {"days": 10, "at": 68, "base": 50},
                        }
                    ],
                }
            },
            "succession": [
                {"crop": "plant", "plants": 1, "target": {"event": "sow", "from": date(3, 1)}}
            ],
        }
    )
    shelf = plan.places["shelf"]
    assert (shelf.warmer_night, shelf.heat_to, shelf.heat_lift) == (5.0, 10.0, 10.0)
    assert (shelf.cover_below, shelf.cover) == (5.0, 5.0)
    assert plan.frost_at == 0.0
    assert plan.season_start == date(1, 1)
    clock = plan.successions["plant"].stages[0].clock
    # ten days at 18 F above 50 F: 180 F day = 100 K day above 10 degC
    assert (clock.kind, clock.amount, clock.base) == ("heat", 100.0, 10.0)


def test_stage_keys_weeks_like_and_overrides():
    stages = [
        {"begins": "sow", "where": ["attic", "harden"], "takes": {"weeks": [8, 10]}},
        {"begins": "transplant", "where": "field", "takes": {"weeks": 2}, "hold": 3},
    ]
    plan = farm(
        {"target": {"event": "sow", "from": date(1, 1)}},
        {
            "name": "other",
            "crop": "twin",
            "target": {"event": "sow", "from": date(1, 1)},
            "stage": {"sow": {"takes": {"days": 5}, "where": "bench"}},
        },
        stages=stages,
        crops={
            "plant": {"stages": stages, "limit_tender": 1.0, "risk": 0.3},
            "twin": {"like": "plant", "limit_tender": 2.0},
        },
    )
    one, other = plan.successions["plant"], plan.successions["other"]
    assert (one.stages[0].clock.amount, one.stages[0].hold) == (56.0, 14)
    assert one.stages[0].place.name == "shed"  # no place or job "attic": the next of the list
    assert (one.stages[1].clock.amount, one.stages[1].hold) == (14.0, 3)
    assert (other.stages[0].clock.amount, other.stages[0].hold) == (5.0, None)
    assert other.stages[0].place.name == "bench"
    assert (other.limit_tender, other.risk) == (2.0, 0.3)


def test_limits_by_stage():
    names = ["sow", "harden_off", "transplant", "first_harvest"]
    stages = [{"begins": name, "where": "field", "takes": {"days": 1}} for name in names]
    stages[3]["limit"] = -9.0
    crop = {"limit_tender": 0.0, "limit_hardened": -3.0}
    target = {"target": {"event": "sow", "from": date(1, 1)}}
    plan = farm(target, stages=stages, crop=crop)
    season, succession = Season(plan, []), plan.successions["plant"]
    assert [season.limit(succession, k) for k in range(4)] == [0.0, 0.0, -3.0, -9.0]
    # without harden_off: hardened where the first stage stands in the field
    del stages[1]
    succession = farm(target, stages=stages, crop=crop).successions["plant"]
    assert [season.limit(succession, k) for k in range(2)] == [-3.0, -3.0]
    stages[0]["where"] = "bench"
    succession = farm(target, stages=stages, crop=crop).successions["plant"]
    assert [season.limit(succession, k) for k in range(2)] == [0.0, 0.0]


# ---- Frosts and risks --------------------------------------------------------------------------


def frosty(last_frosts, first_frosts, days=365):
    """Season years at 10 degC with one frost in each half (None: none)."""
    years = []
    for last, first in zip(last_frosts, first_frosts, strict=True):
        low = [5.0] * days
        for day in (last, first):
            if day is not None:
                low[day] = -1.0
        years.append((low, [15.0] * days))
    return weather(*years)


def test_frost_days_are_positions_among_the_years():
    plan = farm({"target": {"event": "sow", "from": date(1, 1)}}, stages=[sowing()], days=365)
    season = Season(plan, frosty([100, 110, 120, 130], [300, 290, 280, 270]))
    # n = 4. Last: (1 - 0.5) * 5 = 2.5, rounded up: the third. First: 2.5, down: the second
    assert season.frost_day(Rule("last_frost")) == 120
    assert season.frost_day(Rule("first_frost")) == 280
    # a chance of 0.2 of a later one: 0.8 * 5 = 4th; of 0.1: 4.5, the fifth of four
    plan.frost_chance = 0.2
    assert season.frost_day(Rule("last_frost")) == 130
    assert season.frost_day(Rule("first_frost")) == 270
    plan.frost_chance = 0.1
    assert season.frost_day(Rule("last_frost")) is None
    assert season.frost_day(Rule("first_frost")) is None


def test_years_without_a_frost_come_before_the_last_and_after_the_first():
    plan = farm({"target": {"event": "sow", "from": date(1, 1)}}, stages=[sowing()], days=365)
    season = Season(plan, frosty([None, None, 120, 130], [None, 290, 280, None]))
    assert season.frost_day(Rule("last_frost")) == 120
    assert season.frost_day(Rule("first_frost")) == 290
    season = Season(plan, frosty([None, None, None, 130], [None, None, None, 270]))
    assert season.frost_day(Rule("last_frost")) is None  # the third is one without
    assert season.frost_day(Rule("first_frost")) is None


def test_risk_day_leaves_the_allowed_years_a_later_night():
    stages = [sowing(place="bed")]
    plan = farm({"target": {"event": "sow", "from": date(1, 1)}}, stages=stages, days=365)
    lasts = [100, 110, 120, 130, 140]
    season = Season(plan, frosty(lasts, [300] * 5))
    crop, half = plan.successions["plant"], season.half_of_rule(True, None)
    assert half == (0, 211)  # 31 July is day 211
    assert season.risk_day(crop, 0, 0.0, 0.0, half, 0) == 141
    assert season.risk_day(crop, 0, 0.0, 0.2, half, 0) == 131  # one year of five may have one
    assert season.risk_day(crop, 0, 0.0, 0.39, half, 0) == 131
    assert season.risk_day(crop, 0, 0.0, 0.4, half, 0) == 121
    assert season.risk_day(crop, 0, 0.0, 0.4, half, 125) == 125
    assert season.risk_day(crop, 0, -5.0, 0.1, half, 0) == 0  # never that cold
    # a night in the half's last thirty days: day 181 can still be one, day 182 not
    season = Season(plan, frosty([180], [300]))
    assert season.risk_day(crop, 0, 0.0, 0.0, half, 0) == 181
    season = Season(plan, frosty([181], [300]))
    assert season.risk_day(crop, 0, 0.0, 0.0, half, 0) is None


def test_halves_of_south_and_after():
    plan = farm({"target": {"event": "sow", "from": date(1, 1)}}, stages=[sowing()], days=730)
    season = Season(plan, [])
    assert season.half_of_rule(False, None) == (212, 364)
    assert season.half_of_rule(True, date(8, 1)) == (365, 577)  # 2028 is a leap year
    plan.latitude = -35.0
    # 1 July 2026 - 31 January 2027 ends 30 days after the start: the next one is meant
    assert season.half_of_rule(True, None) == (181, 395)
    assert season.half_of_rule(False, None) == (31, 180)
    assert season.half_begun_by(plan.day(date(6, 30))) == (-184, 30)
    assert season.half_begun_by(plan.day(date(7, 1))) == (181, 395)


# ---- Bounds ------------------------------------------------------------------------------------


def hardy_farm(**succession):
    """Sown on the bench (3 days), up in the shed (10 days), planted in the bed."""
    stages = [
        sowing(days=3),
        {"begins": "emerge", "where": "shed", "takes": {"days": 10}},
        planting(days=50),
        {"begins": "first_harvest", "where": "field", "takes": {"days": 10}},
    ]
    return farm(
        {"target": {"event": "transplant", "from": date(4, 1)}, **succession},
        stages=stages,
        days=365,
        risk=0.2,
        crop={"limit_tender": 0.0},
    )


def test_default_bound_for_the_colder_place_and_carried_to_the_sowing():
    plan = hardy_farm()
    succession = plan.successions["plant"]
    # Five years, one night of -1 each, on day 100, 110 ... 140; the shed is 2 K warmer: no harm
    season = Season(plan, frosty([100, 110, 120, 130, 140], [300] * 5))
    bounds = season.bounds(succession, 90)
    assert bounds.before == [0, 0, 131, 0, 0]
    assert bounds.protected == {1: Protection(0, (0, 211), 1), 2: Protection(131, (0, 211), 1)}
    # 2.5 K colder nights: the shed has its own last nights, 1 in 5 may have one after day 131.
    # `emerge` waits for nobody: the sowing must be such that it comes before 131 in at most one
    # year; sown on day 128 it comes on 131 in all
    for year in season.years:
        year.low = [low - 2.5 for low in year.low]
    season = Season(plan, season.years)
    assert season.bounds(succession, 90).before == [128, 0, 131, 0, 0]


def test_default_bound_gives_way_to_a_bound_of_ones_own_and_to_an_exact_day():
    season_of = frosty([100, 110, 120, 130, 140], [300] * 5)
    plan = hardy_farm(not_before={"transplant": date(3, 1)})
    assert Season(plan, season_of).bounds(plan.successions["plant"], 90).before[2] == 59
    plan = hardy_farm(target={"event": "transplant", "on": date(4, 1)})
    assert Season(plan, season_of).bounds(plan.successions["plant"], 90).before[2] == 0
    plan = hardy_farm(risk=False)
    assert Season(plan, season_of).bounds(plan.successions["plant"], 90).before[2] == 0


def test_planted_out_behind_the_spring_there_is_no_default_bound():
    # asked for 1 October: the half of the same year ended on 31 July
    plan = hardy_farm(target={"event": "transplant", "from": date(10, 1)})
    season = Season(plan, frosty([100] * 5, [280] * 5))
    assert season.bounds(plan.successions["plant"], 273).before[2] == 0


def test_moves_wait_until_a_place_opens():
    plan = hardy_farm(risk=False)
    plan.places["bed"].open_from = date(4, 11)
    season = Season(plan, frosty([100], [300]))
    assert season.bounds(plan.successions["plant"], 90).before == [0, 0, 100, 0, 0]


# ---- Chains, targets, sowings ------------------------------------------------------------------


def two_years():
    """One year at 10 degC and one at 5 degC, 30 days."""
    return weather(([10.0] * 30, [10.0] * 30), ([5.0] * 30, [5.0] * 30))


def heat_farm(**succession):
    """50 K day above 0 in the bed, then planted again for 5 days."""
    first = {"begins": "sow", "where": "field", "takes": {"heat": 50.0, "base": 0.0}}
    return farm({"crop": "plant", **succession}, stages=[first, planting(days=5)])


def test_decision_target_waits_and_the_sowing_is_the_latest_good_one():
    # 5 days in the warm year, 10 in the cool one; the target day is 20. At 0.8 both years
    # (ceil(1.6) = 2) must be good: sown on day 10. At 0.5 one year is enough: day 15
    for reliability, sown, cool in ((0.8, 10, 20), (0.5, 15, 25)):
        plan = heat_farm(
            target={"event": "transplant", "from": date(1, 21)}, reliability=reliability
        )
        season = Season(plan, two_years())
        found, aims, bounds = season.reckon()
        assert (found["plant"], aims["plant"]) == (sown, 20)
        days = season.simulate(found, aims, bounds)["plant"]
        assert days == [[sown, sown], [20, cool], [25, cool + 5]]
        claim = season.claim("plant", found, aims, bounds, {"plant": days})
        assert claim.good == (2 if reliability == 0.8 else 1)
        succession = plan.successions["plant"]
        assert season.good_years(succession, sown + 1, 20, bounds["plant"]) < claim.needed


def test_target_moves_to_the_day_that_can_be_reached():
    plan = heat_farm(target={"event": "transplant", "from": date(1, 4)})
    season = Season(plan, two_years())
    sown, aims, _ = season.reckon()
    assert (sown["plant"], aims["plant"]) == (0, 10)
    plan = heat_farm(target={"event": "transplant", "on": date(1, 4)})
    assert Season(plan, two_years()).reckon()[0] == {}  # exact, and no year makes it


def test_outcome_targets_by_and_on():
    stages = [
        {"begins": "sow", "where": "field", "takes": {"heat": 50.0, "base": 0.0}},
        {"begins": "first_harvest", "where": "field", "takes": {"days": 5}},
    ]
    for rule, sown in (("by", 10), ("on", 15)):  # in both years, in half of them
        plan = farm({"target": {"event": "first_harvest", rule: date(1, 21)}}, stages=stages)
        season = Season(plan, two_years())
        found, aims, bounds = season.reckon()
        assert found["plant"] == sown
        days = season.simulate(found, aims, bounds)["plant"]
        assert days[1] == [sown + 5, sown + 10]  # an outcome waits for nothing


def test_not_before_not_after_and_not_before_of_the_sowing():
    plan = heat_farm(
        target={"event": "transplant", "from": date(1, 21)},
        not_before={"transplant": date(1, 25)},
    )
    sown, aims, _ = Season(plan, two_years()).reckon()
    assert (sown["plant"], aims["plant"]) == (14, 24)
    plan = heat_farm(
        target={"event": "transplant", "from": date(1, 21)}, not_after={"sow": date(1, 8)}
    )
    sown, aims, _ = Season(plan, two_years()).reckon()
    assert (sown["plant"], aims["plant"]) == (7, 20)
    plan = heat_farm(
        target={"event": "transplant", "on": date(1, 21)}, not_before={"sow": date(1, 12)}
    )
    assert Season(plan, two_years()).reckon()[0] == {}


def test_in_harvest_is_the_latest_day_with_the_most_good_years():
    stages = [
        sowing(days=3),
        {"begins": "first_harvest", "where": "field", "takes": {"days": 6}},
    ]
    window = {"from": date(1, 14), "until": date(1, 16), "chance": 0.5}
    plan = farm(
        {"target": {"event": "first_harvest", "in_harvest": window}},
        stages=stages,
        crop={"limit_tender": -5.0},
    )
    # harvest from day s + 3 to s + 9: begun by day 13 and not over on day 15: s in 7 ... 10
    warm = ([5.0] * 30, [9.0] * 30)
    assert Season(plan, weather(warm)).reckon()[0] == {"plant": 10}
    # a night of -5 on day 15 ends every harvest begun before it; the other year decides alone
    cold = ([5.0] * 15 + [-5.0] + [5.0] * 14, [9.0] * 30)
    assert Season(plan, weather(warm, cold)).reckon()[0] == {"plant": 10}
    assert Season(plan, weather(cold)).reckon()[0] == {}


def test_early_is_the_first_sowing_that_is_allowed_and_of_a_harvest_with_the_most_years():
    plan = heat_farm(target={"event": "transplant", "from": date(1, 21)}, prefer="early")
    assert Season(plan, two_years()).reckon()[:2] == ({"plant": 0}, {"plant": 20})
    plan = heat_farm(
        target={"event": "transplant", "from": date(1, 21)},
        prefer="early",
        not_before={"sow": date(1, 8)},
    )
    assert Season(plan, two_years()).reckon()[0] == {"plant": 7}
    stages = [
        sowing(days=3),
        {"begins": "first_harvest", "where": "field", "takes": {"days": 6}},
    ]
    # as above: sown on days 7 ... 10 it is in harvest on the wanted days
    window = {"from": date(1, 14), "until": date(1, 16), "chance": 0.5}
    aim = {"event": "first_harvest", "in_harvest": window}
    plan = farm({"target": aim, "prefer": "early"}, stages=stages)
    assert Season(plan, weather(([5.0] * 30, [9.0] * 30))).reckon()[0] == {"plant": 7}
    # a day aimed at is aimed at
    plan = farm(
        {"target": {"event": "first_harvest", "on": date(1, 21)}, "prefer": "early"}, stages=stages
    )
    assert Season(plan, weather(([5.0] * 30, [9.0] * 30))).reckon()[0] == {"plant": 17}


def test_early_without_a_word_is_a_spring_harvest_that_heat_stops_of_what_stays_where_it_is_sown():
    def is_early(rule, *, place="bed", too_hot=25.0, **more):
        stages = [
            sowing(place, days=3),
            {"begins": "first_harvest", "where": "bed", "takes": {"days": 6}},
        ]
        if too_hot is not None:
            stages[1]["too_hot"] = too_hot
        target = {"event": "first_harvest", **rule}
        return farm({"target": target, **more}, stages=stages).successions["plant"].early

    assert is_early({"by": date(7, 31)})
    assert not is_early({"by": date(8, 1)})
    assert not is_early({"by": date(7, 1)}, place="bench")
    assert not is_early({"by": date(7, 1)}, too_hot=None)
    assert not is_early({"by": date(7, 1)}, prefer="late")
    assert is_early({"by": date(8, 1)}, too_hot=None, prefer="early")


def test_never_ready_is_never_and_clears_nothing():
    plan = heat_farm(target={"event": "sow", "from": date(1, 23)})
    season = Season(plan, two_years())
    sown, aims, bounds = season.reckon()
    days = season.simulate(sown, aims, bounds)["plant"]
    assert days == [[22, 22], [27, NEVER], [NEVER, NEVER]]  # 27 + 5 is past day 30
    assert season.planned_days("plant", sown, aims, {"plant": days}) == [22, NEVER, NEVER]


def test_the_first_night_after_a_harvest_began_ends_it():
    stages = [
        sowing(days=3),
        {"begins": "first_harvest", "where": "field", "takes": {"days": 9}},
    ]
    plan = farm(
        {"target": {"event": "first_harvest", "by": date(1, 11)}},
        stages=stages,
        crop={"limit_tender": 0.0},
    )
    low = [5.0] * 30
    low[10] = low[14] = 0.0  # the night it begins hurts, the fourth after it ends it
    season = Season(plan, weather((low, [9.0] * 30)))
    sown, aims, bounds = season.reckon()
    days = season.simulate(sown, aims, bounds)
    assert days["plant"] == [[7], [10], [14]]
    damage = season.damage("plant", days)
    assert (damage.nights, damage.damaged, damage.margin) == ([[10]], 1, [0.0])


def test_a_harvest_is_over_with_its_clock_a_frost_a_hot_day_or_the_season():
    stages = [
        sowing(days=3),
        {"begins": "first_harvest", "where": "field", "takes": {"days": 9}, "too_hot": 30.0},
    ]
    plan = farm(
        {"target": {"event": "sow", "on": date(1, 8)}}, stages=stages, crop={"limit_tender": 0.0}
    )
    mild, warm = [5.0] * 30, [20.0] * 30
    cold, hot = list(mild), list(warm)
    cold[14] = 0.0
    hot[10] = hot[12] = 30.0  # the day it begins is picked, whatever its heat
    season = Season(plan, weather((mild, warm), (cold, warm), (cold, hot), (mild, warm)))
    days = {"plant": [[7, 7, 7, 22], [10, 10, 10, 25], [19, 14, 14, NEVER]]}

    def harvests(*, heat_stops):
        return [season.harvest("plant", days, year, heat_stops=heat_stops) for year in range(4)]

    with_heat = [(10, 19, "clock"), (10, 14, "frost"), (10, 12, "heat"), (25, 30, "season")]
    assert harvests(heat_stops=True) == with_heat
    assert harvests(heat_stops=False)[2] == (10, 14, "frost")
    days["plant"][1][3] = NEVER
    assert harvests(heat_stops=True)[3] is None


# ---- Links -------------------------------------------------------------------------------------


def test_link_floors_wait_and_both_claims_are_kept():
    stages = [{"begins": "sow", "where": "field", "takes": {"heat": 50.0, "base": 0.0}}]
    stages.append(planting(days=2))
    plan = farm(
        {"name": "first", "target": {"event": "transplant", "from": date(1, 16)}},
        {"name": "then", "target": {"event": "transplant", "from": date(1, 1)}},
        stages=stages,
        days=60,
        link=[
            {
                "first": {"succession": "first", "event": "transplant"},
                "then": {"succession": "then", "event": "sow"},
                "after": {"days": 4},
            }
        ],
    )
    years = weather(([10.0] * 60, [10.0] * 60), ([5.0] * 60, [5.0] * 60))
    season = Season(plan, years)
    sown, aims, bounds = season.reckon()
    # `first` could be raised to day 5 (both years on day 15); `then` may begin on 15 + 4 = 19 in
    # both, and is planted 5 or 10 days after: day 29 in the worst
    assert (sown, aims) == ({"first": 5, "then": 19}, {"first": 15, "then": 29})
    days = season.simulate(sown, aims, bounds)
    assert days["then"] == [[19, 19], [29, 29], [31, 31]]
    later = season.simulate({**sown, "then": 20}, aims, bounds)
    assert season.claim("then", {**sown, "then": 20}, aims, bounds, later).good == 1


def test_never_does_not_pass_through_a_link():
    stages = [
        {"begins": "sow", "where": "field", "takes": {"heat": 150.0, "base": 0.0}},
        planting(days=1),
    ]
    plan = farm(
        {"name": "first", "target": {"event": "sow", "from": date(1, 4)}},
        {"name": "then", "crop": "quick", "target": {"event": "sow", "from": date(1, 20)}},
        stages=stages,
        crops={"plant": {"stages": stages}, "quick": {"stages": [sowing(days=1)]}},
        link=[
            {
                "first": {"succession": "first", "event": "transplant"},
                "then": {"succession": "then", "event": "sow"},
                "after": {"days": 1},
            }
        ],
    )
    season = Season(plan, two_years())
    bounds = {n: season.bounds(s, 0) for n, s in plan.successions.items()}
    days = season.simulate({"first": 3, "then": 20}, {"first": 3, "then": 20}, bounds)
    assert days["first"] == [[3, 3], [18, NEVER], [19, NEVER]]
    assert days["then"] == [[20, NEVER], [21, NEVER]]
    claim = season.claim("then", {"then": 20}, {"then": 20}, bounds, days)
    assert (claim.good, claim.links_kept, claim.holds) == (1, 1, False)


def test_waves_wait_for_all_or_for_any_and_follows_waits_for_the_place():
    stages = [sowing(days=2), planting(days=10)]
    plan = farm(
        {"name": "a", "wave": "cool", "target": {"event": "sow", "from": date(1, 3)}},
        {"name": "b", "wave": "cool", "target": {"event": "sow", "from": date(1, 6)}},
        {"name": "c", "target": {"event": "sow", "from": date(1, 1)}},
        {
            "name": "d",
            "target": {"event": "transplant", "from": date(1, 1)},
            "follows": "a",
            "gap": 3,
        },
        stages=stages,
        link=[
            {
                "first": {"wave": "cool", "event": "transplant", "of": "all"},
                "then": {"succession": "c", "event": "sow"},
                "after": {"days": 1},
            }
        ],
    )
    season = Season(plan, weather(([5.0] * 30, [9.0] * 30)))
    sown, aims, bounds = season.reckon()
    days = season.simulate(sown, aims, bounds)
    assert days["a"] == [[2], [4], [14]]
    assert days["b"] == [[5], [7], [17]]
    assert days["c"][0] == [8]  # a day after the later of the two
    # d moves into the bed that a leaves on day 14, three days after, and is sown two days before
    assert days["d"] == [[15], [17], [27]]
    plan.links[0].of_all = False
    assert season.floors("c", 0, days)[0] == 5


# ---- Repeats -----------------------------------------------------------------------------------


def test_repeats_are_spaced_by_the_planned_first_harvest():
    stages = [
        {"begins": "sow", "where": "field", "takes": {"heat": 50.0, "base": 0.0}},
        {"begins": "first_harvest", "where": "field", "takes": {"days": 2}},
    ]
    plan = farm(
        {
            "name": "zinnia",
            "target": {"event": "first_harvest", "by": date(1, 12)},
            "repeat": {"times": 3, "harvest_every": 7},
        },
        stages=stages,
        days=40,
    )
    years = weather(([10.0] * 40, [10.0] * 40), ([5.0] * 40, [5.0] * 40))
    season = Season(plan, years)
    sown, aims, _ = season.reckon()
    # the first is sown on day 1 (both years by day 11) and begins on 6 or 11; its planned day is
    # the first of the two, 6. The others aim at 13 and 20 in half the years: the warm one
    assert sown == {"zinnia 1": 1, "zinnia 2": 8, "zinnia 3": 15}
    assert aims == {"zinnia 1": 11, "zinnia 2": 13, "zinnia 3": 20}


# ---- Damage, holding, nights to act ------------------------------------------------------------


def test_damage_counts_from_emergence_while_a_stage_lasts_and_to_the_seasons_end():
    stages = [
        {"begins": "sow", "where": "field", "takes": {"days": 4}},
        {"begins": "emerge", "where": "field", "takes": {"days": 4}, "too_hot": 30.0},
        {"begins": "transplant", "where": "field", "takes": {"days": 90}},
    ]
    plan = farm(
        {"target": {"event": "sow", "from": date(1, 3)}},
        stages=stages,
        crop={"limit_hardened": -1.0, "lost_at": False},
    )
    low, high = [5.0] * 30, [9.0] * 30
    low[3] = -9.0  # as seed: not counted
    low[8] = -1.0  # in the stage that emerge begins on day 6
    low[10] = -1.5  # the first night of the next
    low[29] = -2.0  # the last night of the season, still standing
    high[9] = 30.0
    season = Season(plan, weather((low, high), ([5.0] * 30, [9.0] * 30)))
    sown, aims, bounds = season.reckon()
    days = season.simulate(sown, aims, bounds)
    assert days["plant"] == [[2, 2], [6, 6], [10, 10], [NEVER, NEVER]]
    assert season.damage("plant", days, "sow").nights == [[], []]
    assert season.damage("plant", days, "emerge").nights == [[8], []]
    whole = season.damage("plant", days)
    assert whole.nights == [[8, 10, 29], []]
    assert (whole.years, whole.damaged, whole.first) == (2, 1, [8, NEVER])
    assert whole.margin == [-1.0, 6.0]
    assert season.damage("plant", days, hot=True).nights == [[9], []]


def test_a_batch_is_lost_by_the_first_night_that_hurts_it_before_its_harvest():
    stages = [
        {"begins": "sow", "where": "field", "takes": {"days": 4}},
        {"begins": "emerge", "where": "field", "takes": {"days": 6}, "hold": 0, "too_hot": 30.0},
        {"begins": "first_harvest", "where": "field", "takes": {"days": 8}},
    ]
    low, high = [5.0] * 30, [9.0] * 30
    low[3] = -9.0  # as seed: of no account
    high[9] = 30.0
    frost, hard = list(low), list(low)
    frost[7], hard[7], hard[11] = -1.0, -4.0, -1.0
    at_harvest = list(low)
    at_harvest[12], at_harvest[14] = -1.0, -1.0  # hurt on its first day, over two days later
    years = weather((low, high), (frost, high), (hard, high), (at_harvest, high))

    def season_of(**lost):
        plan = farm(
            {"target": {"event": "sow", "on": date(1, 3)}},
            stages=stages,
            crop={"limit_hardened": -1.0, **lost},
        )
        season = Season(plan, years)
        days = season.simulate(*season.reckon())
        assert days["plant"][1:] == [[6] * 4, [12] * 4, [20, 20, 20, 14]]
        return season, days

    season, days = season_of()
    assert season.losses("plant", days) == [NEVER, 7, 7, NEVER]
    assert season.lived("plant", days)[1:] == [
        [6] * 4,
        [12, NEVER, NEVER, 12],
        [20, NEVER, NEVER, 14],
    ]
    assert season.damage("plant", days).nights == [[], [7], [7], [12]]
    assert season.damage("plant", days, hot=True).nights == [[9], [], [], [9]]
    assert [len(season.standing("plant", days, 1, y)) for y in range(4)] == [6, 2, 2, 6]
    assert [season.harvest("plant", days, y, heat_stops=True) for y in range(4)] == [
        (12, 20, "clock"),
        None,
        None,
        (12, 14, "frost"),
    ]
    season, days = season_of(lost_at=-3.0)
    assert season.losses("plant", days) == [NEVER, NEVER, 7, NEVER]
    assert season.damage("plant", days).nights == [[], [7], [7], [12]]
    season, days = season_of(lost_at=False)
    assert season.losses("plant", days) == [NEVER] * 4
    assert season.damage("plant", days).nights == [[], [7], [7, 11], [12]]


def test_damage_with_heater_or_cover_off_is_on_the_same_days():
    plan = farm(
        {"target": {"event": "sow", "from": date(1, 3)}},
        stages=[sowing(place="house", days=5)],
        crop={"limit_tender": 0.0},
        places={
            "house": {
                "for": ["grow"],
                "heat_to": 3.0,
                "heat_lift": 4.0,
                "cold_nights": {"below": 1.0, "warmer": 3.0},
            }
        },
    )
    low = [5.0] * 30
    low[3] = -1.0  # heated to 3: no cover needed; without the heater covered: 2
    low[5] = -6.0  # heated by 4 to -2, covered: 1; without either below zero
    season = Season(plan, weather((low, [9.0] * 30)))
    days = {"plant": [[2], [7]]}
    assert season.damage("plant", days).nights == [[]]
    assert season.damage("plant", days, heater=False).nights == [[5]]  # -6 + 3
    assert season.damage("plant", days, cover=False).nights == [[5]]  # -6 + 4
    assert season.nights_to_act("plant", days, 0, 0) == {5}


def test_overheld_is_done_less_ready_beyond_the_hold():
    stages = [{**sowing(days=3), "hold": 2}, planting(days=5)]
    for day, held in ((5, 0), (6, 1), (9, 4)):
        plan = farm(
            {
                "target": {"event": "sow", "from": date(1, 1)},
                "not_before": {"transplant": date(1, day + 1)},
            },
            stages=stages,
        )
        season = Season(plan, weather(([5.0] * 30, [9.0] * 30)))
        sown, aims, bounds = season.reckon()
        days = season.simulate(sown, aims, bounds)
        assert days["plant"][1] == [day]  # ready on day 3
        assert season.held_over("plant", days, "sow") == [held]
        assert season.held_over("plant", days, "transplant") == [0]
