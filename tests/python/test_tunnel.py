"""Single values of common practice about shelters, each by itself; none has a source.

A shelter of double film is 5 °F warmer at night: 2.78 K. Hardened cool-season plants stand 28 °F:
-2.2 °C. Plants that are sheltered go out six to seven weeks before the usual last frost. What weeks
before it cost is counted night by night, from a station's numbers alone, for a crop and a shelter
that are invented.
"""

import datetime
import os
from pathlib import Path

import pytest

epicotyl = pytest.importorskip("epicotyl")
import numpy as np  # noqa: E402 - the package says what is missing

START = datetime.date(2027, 1, 1)


@pytest.fixture(scope="module")
def park():
    where = os.environ.get("EPICOTYL_REFERENCE_DATA")
    if not where:
        pytest.skip("EPICOTYL_REFERENCE_DATA is not set")
    return epicotyl.read_ghcn_daily(Path(where) / "USW00094728_TMAX_TMIN_1869-2020.dly.gz")


def sheltered(shelter, limit, target, units="metric"):
    """A bed of spinach in a shelter, of which a cold night is told and loses nothing."""
    stages = [
        {"begins": "plant", "where": "shelter", "takes": {"days": 90}, "limit": limit},
        {"begins": "first_harvest", "where": "shelter", "takes": {"days": 25}, "limit": limit},
    ]
    return epicotyl.plan(
        format=1,
        units=units,
        site={
            "latitude": 40.78,
            "season_start": START,
            "season_days": 365,
            "frost": {"at": 0.0 if units == "metric" else 32.0, "chance": 0.5},
        },
        places={"shelter": {"for": ["field"], **shelter}},
        crops={"spinach": {"stages": stages, "lost_at": False}},
        succession=[
            {
                "name": "spinach",
                "crop": "spinach",
                "plants": 140,
                "risk": False,
                "target": {"event": "plant", **target},
            }
        ],
    )


def years_hurt(plan, night):
    """Of thirteen years with a night of so many °C on 5 April, those that hurt the plants."""
    dates = np.arange("2000-01-01", "2013-01-01", dtype="datetime64[D]")
    low = np.full(dates.size, 3.0)
    for year in range(2000, 2013):
        low[dates == np.datetime64(f"{year}-04-05")] = night
    record = epicotyl.DailyRecord(dates[0], low, low + 8.0)
    climate = epicotyl.Climate(record, latitude=40.78, season_days=365)
    damage = epicotyl.simulate(epicotyl.schedule(plan, climate), climate).damage("spinach")
    return damage.damaged, damage.years


MARCH = {"on": datetime.date(2027, 3, 1)}


@pytest.mark.parametrize(("night", "share"), [(-2.77, 0), (-2.78, 1)])
def test_five_degrees_fahrenheit_warmer_at_night_are_2_78_kelvin(night, share):
    film = {"warmer_night": 5.0, "warmer_day": 9.0}
    hurt, years = years_hurt(sheltered(film, 32.0, MARCH, "us"), night)
    assert hurt == share * years


@pytest.mark.parametrize(("night", "share"), [(-2.2, 0), (-2.23, 1)])
def test_a_limit_of_28_fahrenheit_is_minus_2_2_celsius(night, share):
    hurt, years = years_hurt(sheltered({}, 28.0, MARCH, "us"), night)
    assert hurt == share * years


def usual_last_frost(climate, record):
    """By its place among the years: (1 - 0.5)(n + 1), rounded up; days from 1 January."""
    last = [max(d for d in range(212) if low[d] <= 0.0) for low in lows_of(climate, record)]
    return sorted(last)[-(-(len(last) + 1) // 2) - 1]


def lows_of(climate, record):
    """The lows of each season year, from the station's numbers."""
    found = []
    for year in climate.years:
        first = int((np.datetime64(f"{year}-01-01") - record.dates[0]).astype(int))
        found.append(record.tmin[first : first + 365])
    return found


@pytest.mark.parametrize(("weeks", "days"), [(6, 42), (7, 49)])
def test_weeks_before_the_last_frost_are_counted_from_the_usual_one(park, weeks, days):
    climate = epicotyl.Climate(park, latitude=40.78, season_days=365, years=(1991, 2018))
    calendar = epicotyl.schedule(sheltered({}, -2.2, {"weeks_before_last_frost": weeks}), climate)
    planted = (calendar.date("spinach", "plant") - START).days
    assert planted == usual_last_frost(climate, park) - days


# A light cover on cold nights gives 1 to 3 K: trade pages. A heavier one of 4 K is invented.
@pytest.mark.parametrize("cover", [1.5, 4.0])
def test_nights_to_act_and_damage_are_those_of_the_record(park, cover):
    warmer, limit, below = 1.9, -3.0, 0.5
    shelter = {
        "warmer_night": warmer,
        "warmer_day": 6.0,
        "cold_nights": {"below": below, "warmer": cover},
    }
    climate = epicotyl.Climate(park, latitude=40.78, season_days=365, years=(1991, 2018))
    plan = sheltered(shelter, limit, {"weeks_before_last_frost": 5})
    calendar = epicotyl.schedule(plan, climate)
    prospect = epicotyl.simulate(calendar, climate)
    damage = prospect.damage("spinach")

    start = usual_last_frost(climate, park) - 35
    assert calendar.date("spinach", "plant") == START + datetime.timedelta(days=start)
    stood = [low[start : start + 115] + warmer for low in lows_of(climate, park)]
    to_act = [int(np.sum(low <= below + 1e-6)) for low in stood]
    covered = [np.where(low <= below + 1e-6, low + cover, low) for low in stood]
    assert np.sort(prospect.nights_to_act(succession="spinach")).tolist() == sorted(to_act)
    assert damage.damaged == sum(bool(np.any(low <= limit + 1e-6)) for low in covered)
    assert damage.damaged_cover_off == sum(bool(np.any(low <= limit + 1e-6)) for low in stood)
    assert damage.years == 28
    # Nobody should take the week count for safety.
    assert sorted(to_act)[13] >= 3
    assert damage.damaged_cover_off >= 3
