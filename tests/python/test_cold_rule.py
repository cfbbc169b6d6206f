"""A cold rule of the field besides the killing limit: both hold, and the later day counts.

Ten made-up years of mild days with two cold nights each: one of -3 °C on 1 April of the first year,
2 April of the second ... 10 April of the tenth, and one of 5 °C on 1 ... 10 May in the same way.
"""

import datetime

import numpy as np
import pytest

epicotyl = pytest.importorskip("epicotyl")

KILLS = 0.0


def made_climate():
    dates = np.arange("2001-01-01", "2012-01-01", dtype="datetime64[D]")
    low = np.full(dates.size, 12.0)
    for k in range(10):
        low[dates == np.datetime64(f"{2001 + k}-04-01") + k] = -3.0
        low[dates == np.datetime64(f"{2001 + k}-05-01") + k] = 5.0
    record = epicotyl.DailyRecord(dates[0], low, np.full(dates.size, 20.0))
    return epicotyl.Climate(record, latitude=45.0, season_days=365, years=(2001, 2010))


def planned(crop_bound, own_bound=None, **succession):
    crop = {
        "limit_tender": KILLS,
        "limit_hardened": KILLS,
        "stages": [
            {"begins": "sow", "where": "grow", "takes": {"days": 20}},
            {"begins": "transplant", "where": "field", "takes": {"days": 40}},
            {"begins": "first_harvest", "where": "field", "takes": {"days": 20}},
        ],
    }
    if crop_bound is not None:
        crop["not_before"] = {"transplant": crop_bound}
    batch = {
        "name": "basil 1",
        "crop": "basil",
        "plants": 10,
        "target": {"event": "transplant", "from": datetime.date(2027, 3, 20)},
        **succession,
    }
    if own_bound is not None:
        batch["not_before"] = {"transplant": own_bound}
    plan = epicotyl.plan(
        format=1,
        units="metric",
        title="Basil (invented)",
        defaults={"risk": 0.1, "reliability": 0.8},
        site={"latitude": 45.0, "season_start": datetime.date(2027, 1, 1), "season_days": 365},
        places={
            "house": {"for": ["grow"], "day": 20.0, "night": 15.0},
            "beds": {"for": ["field"]},
        },
        crops={"basil": crop},
        succession=[batch, batch | {"name": "basil 2"}],
    )
    calendar = epicotyl.schedule(plan, made_climate())
    days = {calendar.date(name, "transplant") for name in ("basil 1", "basil 2")}
    assert len(days) == 1
    return days.pop(), epicotyl.explain(calendar, "basil 1", "transplant")[0]


def april(day):
    return datetime.date(2027, 4, day)


def may(day):
    return datetime.date(2027, 5, day)


def test_the_killing_limit_alone_allows_frost_in_one_year_of_ten():
    assert planned(None)[0] == april(10)


def test_a_cold_rule_holds_every_batch_of_its_crop_until_so_many_years_have_no_such_night():
    # In 8 years of 10 such a night may still come: those of 3 ... 10 May.
    day, why = planned({"risk": 0.8, "limit": 7.0})
    assert day == may(3)
    assert why.values["limit_c"] == 7.0
    assert why.values["allowed_years"] == 8


def test_a_cold_rule_that_is_over_sooner_leaves_the_bound_against_killing_nights():
    # At or below 1 °C are the frosts alone, 8 of them from 3 April on.
    assert planned({"risk": 0.8, "limit": 1.0})[0] == april(10)


@pytest.mark.parametrize("limit", [KILLS, -2.0])
def test_a_risk_at_the_limit_or_below_is_accepted_in_place_of_the_default(limit):
    assert planned({"risk": 0.8, "limit": limit})[0] == april(3)


def test_a_risk_without_a_limit_of_its_own_is_that_of_the_stage():
    assert planned({"risk": 0.8})[0] == april(3)


def test_a_day_takes_the_place_of_both():
    assert planned({"risk": 0.8, "limit": 7.0}, datetime.date(2027, 3, 25))[0] == datetime.date(
        2027, 3, 25
    )


def test_a_cold_rule_of_a_batch_takes_the_place_of_its_crops():
    # 5 years of 10: those of 6 ... 10 May.
    assert planned({"risk": 0.8, "limit": 7.0}, {"risk": 0.5, "limit": 7.0})[0] == may(6)


def test_with_risk_off_the_cold_rule_stays():
    assert planned({"risk": 0.8, "limit": 7.0}, risk=False)[0] == may(3)
    assert planned(None, risk=False)[0] == datetime.date(2027, 3, 20)
