"""Hardy plants set out weeks before the last frost, in a tunnel of double film.

Common practice, no source: such a tunnel is 5 °F (2.78 K) warmer at night, a hardened lisianthus is
safe above 28 °F (-2.2 °C) and so goes out six to seven weeks before the usual last frost. What that
costs on a real record is counted here, night by night, from the station's numbers alone.
"""

import datetime
import os
from pathlib import Path

import pytest

epicotyl = pytest.importorskip("epicotyl")
import numpy as np  # noqa: E402 - the package says what is missing

WARMER = 5.0 / 1.8
LIMIT = -2.2


@pytest.fixture(scope="module")
def park():
    where = os.environ.get("EPICOTYL_REFERENCE_DATA")
    if not where:
        pytest.skip("EPICOTYL_REFERENCE_DATA is not set")
    return epicotyl.read_ghcn_daily(Path(where) / "USW00094728_TMAX_TMIN_1869-2020.dly.gz")


def tunnel_plan(weeks, cover=2.0, limit=LIMIT):
    stages = [
        {"begins": "plant", "where": "tunnel", "takes": {"days": 100}, "limit": limit},
        {"begins": "first_harvest", "where": "tunnel", "takes": {"days": 30}, "limit": limit},
    ]
    return epicotyl.plan(
        format=1,
        units="metric",
        site={
            "latitude": 40.78,
            "season_start": datetime.date(2027, 1, 1),
            "season_days": 365,
            "frost": {"at": 0.0, "chance": 0.5},
        },
        places={
            "tunnel": {
                "for": ["field"],
                "warmer_night": WARMER,
                "warmer_day": 5.0,
                "cold_nights": {"below": 0.0, "warmer": cover},
            }
        },
        # Who covers them counts on plants that are hurt and live.
        crops={"lisianthus": {"stages": stages, "lost_at": False}},
        succession=[
            {
                "name": "lisianthus",
                "crop": "lisianthus",
                "plants": 375,
                "risk": False,
                "target": {"event": "plant", "weeks_before_last_frost": weeks},
            }
        ],
    )


# A light cover on cold nights gives 1 to 3 K, a heavy one with film about 5 K (9 °F): trade pages.
@pytest.mark.parametrize("cover", [2.0, 5.0])
@pytest.mark.parametrize("weeks", [6, 7])
def test_what_planting_weeks_before_the_last_frost_costs(park, weeks, cover):
    climate = epicotyl.Climate(park, latitude=40.78, season_days=365, years=(1991, 2018))
    plan = tunnel_plan(weeks, cover)
    calendar = epicotyl.schedule(plan, climate)
    planted = calendar.date("lisianthus", "plant")
    prospect = epicotyl.simulate(calendar, climate)
    damage = prospect.damage("lisianthus")
    acted = np.sort(prospect.nights_to_act(succession="lisianthus"))

    # The usual last frost, by its place among the years: (1 - 0.5)(n + 1), rounded up.
    nights, last = [], []
    for year in climate.years:
        first = int((np.datetime64(f"{year}-01-01") - park.dates[0]).astype(int))
        low = park.tmin[first : first + 365]
        nights.append(low)
        last.append(max(d for d in range(212) if low[d] <= 0.0))
    n = len(last)
    usual = sorted(last)[-(-(n + 1) // 2) - 1]
    start = usual - 7 * weeks
    assert planted == datetime.date(2027, 1, 1) + datetime.timedelta(days=start)

    stood = [low[start : start + 130] + WARMER for low in nights]
    to_act = np.sort([int(np.sum(low <= 0.0)) for low in stood])
    covered = [np.where(low <= 0.0, low + cover, low) for low in stood]
    hurt = sum(bool(np.any(low <= LIMIT)) for low in covered)
    bare = sum(bool(np.any(low <= LIMIT)) for low in stood)
    assert acted.tolist() == to_act.tolist()
    assert damage.damaged == hurt
    assert damage.damaged_cover_off == bare
    assert damage.years == n == 28
    print(
        f"\n{weeks} weeks before the usual last frost, covered by {cover} K: planted {planted}; "
        f"nights to act {to_act[13]} in the usual year, {to_act[25]} in 1 year of 10; "
        f"damage at {LIMIT} °C in {hurt} of {n} years, in {bare} uncovered"
    )
    # Nobody should take the week count for safety.
    assert hurt >= 3
    assert to_act[13] >= 5


def test_in_such_a_tunnel_28_fahrenheit_is_23_outside():
    assert pytest.approx(2.78, abs=0.005) == WARMER
    assert abs((28.0 - 32.0) / 1.8 - LIMIT) < 0.03
    dates = np.arange("2000-01-01", "2013-01-01", dtype="datetime64[D]")
    for outside, hurt in ((-4.99, 0), (-5.0, 12)):
        low = np.full(dates.size, 3.0)
        # A night in early April of every year, after planting and before the last frost.
        for year in range(2000, 2013):
            low[int((np.datetime64(f"{year}-04-05") - dates[0]).astype(int))] = outside
        record = epicotyl.DailyRecord(dates[0], low, low + 8.0)
        climate = epicotyl.Climate(record, latitude=40.78, season_days=365)
        plan = tunnel_plan(6, limit=(28.0 - 32.0) / 1.8)
        places = plan.to_dict()
        places["places"]["tunnel"].pop("cold_nights")
        plan = epicotyl.plan(places)
        prospect = epicotyl.simulate(epicotyl.schedule(plan, climate), climate)
        damage = prospect.damage("lisianthus")
        assert damage.damaged == (damage.years if hurt else 0)
