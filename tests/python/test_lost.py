"""What cold has killed is not picked: the dahlias of the demo farm on the record of Dubois, Idaho.

At 1,660 m its summers have frosts. The second batch, planted out on 11 July, freezes before it
flowers in 21 of 27 years; a batch reckoned as if it lived would flower by 31 October in 24 of them,
or in March of the year after.
"""

import datetime
import gzip
import os
from pathlib import Path

import numpy as np
import pytest

epicotyl = pytest.importorskip("epicotyl")

FARM = Path(__file__).resolve().parents[2] / "examples" / "quillet_hollow" / "farm.toml"
LATE = datetime.date(2027, 10, 31)


@pytest.fixture(scope="module")
def dubois(tmp_path_factory):
    folder = os.environ.get("EPICOTYL_REFERENCE_DATA")
    if not folder:
        pytest.skip("EPICOTYL_REFERENCE_DATA is not set")
    (packed,) = Path(folder).glob("USC00102707*.dly.gz")
    path = tmp_path_factory.mktemp("station") / "station.dly"
    path.write_bytes(gzip.decompress(packed.read_bytes()))
    return epicotyl.open_season(FARM, weather=path, latitude=44.24)


def frozen(season, name):
    """Nights at or below 0 °C outdoors from the pinch to the first harvest, as if it lived."""
    hurt = season.plan.with_crop("dahlia", lost_at=False)
    alive = epicotyl.simulate(epicotyl.schedule(hurt, season.climate), season.climate)
    start = np.datetime64(season.plan.season_start, "D")
    since = (alive.days(name, "transplant") - start).astype(int)
    until = (alive.days(name, "first_harvest") - start).astype(int)
    lows = season.climate.tmin
    in_time = alive.chance_by(name, "first_harvest", LATE) * len(lows)
    nights = [
        np.flatnonzero(low[a:b] <= 1e-6) for low, a, b in zip(lows, since, until, strict=True)
    ]
    return [len(of_year) > 0 for of_year in nights], round(in_time)


def test_a_dahlia_that_has_frozen_does_not_flower(dubois):
    dead, in_time = frozen(dubois, "dahlia 2")
    assert (sum(dead), in_time, len(dead)) == (21, 24, 27)
    prospect = dubois.prospect
    assert (~np.isnat(prospect.lost("dahlia 2"))).tolist() == dead
    assert prospect.chance_by("dahlia 2", "first_harvest", LATE) == 6 / 27
    assert prospect.quantile("dahlia 2", "first_harvest", 0.2) == datetime.date(2027, 10, 2)
    assert prospect.quantile("dahlia 2", "first_harvest", 0.5) is None
    spans = epicotyl.harvest.harvest_spans(prospect, "dahlia 2")
    assert [end is None for end in spans.ended_by] == dead
    stems = epicotyl.harvest.HarvestYield(epicotyl.harvest.YieldShape.box(14), 5.0)
    totals = epicotyl.harvest.expected_yield(prospect, "dahlia 2", stems).totals
    assert (totals == 0.0).tolist() == dead


def test_no_week_of_the_next_spring_is_covered_by_dahlias_that_have_frozen(dubois):
    found = epicotyl.coverage(dubois.prospect, crop="dahlia")
    assert found.weeks[-1].until < datetime.date(2027, 10, 18)


def test_the_sheets_say_how_often_it_is_lost(dubois):
    prospect = str(dubois.prospect)
    said = "\n  lost to cold in 21 of 27 years; harvest days are those of the other years\n"
    assert said in prospect
    picked = prospect[: prospect.index(said)].splitlines()[-2]
    assert picked.split() == ["first", "harvest", "17", "Sep", "26", "Sep", "2", "Oct"]
    assert "usually; lost to cold in 21 of 27 years\n" in str(dubois.calendar)


def test_staggered_dahlias_are_counted_where_they_live(dubois):
    first, last = datetime.date(2027, 8, 1), datetime.date(2027, 9, 30)
    found = epicotyl.stagger(dubois.plan, dubois.climate, "dahlia", first, last, every=14)
    assert [(one.lost, one.in_time) for one in found.sowings] == [(8, 19), (15, 11)]
    prospect = epicotyl.simulate(
        epicotyl.schedule(found.added_to(dubois.plan), dubois.climate), dubois.climate
    )
    for one in found.sowings:
        assert np.count_nonzero(~np.isnat(prospect.lost(one.name))) == one.lost
    for week in found.weeks:
        days = np.arange(week.start, week.until + datetime.timedelta(days=1), dtype="datetime64[D]")
        cut = np.zeros(len(prospect.years), dtype=bool)
        for one in found.sowings:
            picked = prospect.days(one.name, "first_harvest")[:, None]
            cleared = prospect.days(one.name, "clear")[:, None]
            cut |= ((picked <= days) & (np.isnat(cleared) | (days < cleared))).any(axis=1)
        assert week.years == cut.sum()
    assert "lost to cold" in str(found)


def cold_spring(tables, wanted):
    """Chard in the beds through a night of -3 °C on 5 April of every second year."""
    batch = tables["succession"][0] | {"target": wanted, "risk": False}
    plan = epicotyl.plan(tables | {"succession": [batch], "defaults": {"risk": False}})
    dates = np.arange("2001-01-01", "2011-01-01", dtype="datetime64[D]")
    is_cold = np.zeros(dates.size, dtype=bool)
    for year in range(2001, 2011, 2):
        is_cold |= dates == np.datetime64(f"{year}-04-05")
    record = epicotyl.DailyRecord(dates[0], np.where(is_cold, -3.0, 5.0), np.full(dates.size, 15.0))
    return plan, epicotyl.Climate(record, latitude=51.9, season_days=365)


def test_in_harvest_counts_living_years_and_sows_behind_the_cold_night(tables):
    # Planted out 20 days after sowing and picked 10 days later, 11 with the cold night, for a week.
    # In harvest on 13 April: planted from 28 March (27 where it is cold) to 3 April, before that
    # night. None but those of the mild years live.
    def wanted(share):
        window = {"from": datetime.date(2027, 4, 13), "until": datetime.date(2027, 4, 13)}
        return {"event": "first_harvest", "in_harvest": window | {"chance": share}}

    plan, climate = cold_spring(tables, wanted(0.5))
    calendar = epicotyl.schedule(plan, climate)
    assert calendar.claim("chard 1").good == 5
    assert calendar.date("chard 1", "sow") == datetime.date(2027, 3, 14)
    plan, climate = cold_spring(tables, wanted(0.6))
    (obstacle,) = epicotyl.schedule(plan, climate).unresolved
    assert "in only 5 of 10 years; 6 are wanted" in obstacle.sentence
    found = epicotyl.harvest.fewest_sowings(
        plan, climate, "chard", datetime.date(2027, 4, 13), chance=0.6
    )
    assert (found.good, found.needed, len(found.sowings)) == (5, 6, 0)


def test_the_last_useful_sowing_is_one_that_lives(tables):
    # Until 27 March whatever is planted out is picked before the cold night; from 6 April on it
    # stands behind it. The latest sowing of all lives, though earlier ones do not.
    plan, climate = cold_spring(tables, {"event": "sow", "on": datetime.date(2027, 3, 1)})
    found = epicotyl.stagger(
        plan,
        climate,
        "chard",
        datetime.date(2027, 4, 10),
        datetime.date(2027, 4, 24),
        every=7,
        reliability=0.9,
    )
    # Picked on 10 April: planted on 31 March. On 17 April: on 7 April, after it.
    assert [(one.wanted.day, one.lost, one.in_time) for one in found.sowings] == [
        (10, 5, 5),
        (17, 0, 10),
        (24, 0, 10),
    ]
    assert found.last_useful.sowing == datetime.date(2028, 1, 1) - datetime.timedelta(days=30)
