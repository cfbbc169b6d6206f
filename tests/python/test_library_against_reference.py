"""The library against the reference reckoning: every day, count and claim the same.

Two people read the same design and wrote it down twice, once with tables and searches (the
library) and once with loops over days (`reference_season.py`, which imports nothing of it). Here
both plan the demo farm on its invented weather and, where EPICOTYL_REFERENCE_DATA names the
folder of the station files, on two long records; and many small random farms.
"""

import datetime
import gzip
import os
import tomllib
from pathlib import Path

import numpy as np
import pytest

from random_farms import random_farm
from reckoned_twice import COMPARISONS, Pair, differences, reckoned_twice
from reference_season import (
    Clock,
    Record,
    daily_rates,
    day_length,
    read_plan,
    read_weather,
    season_years,
)

epicotyl = pytest.importorskip("epicotyl")

FARM = Path(__file__).resolve().parents[2] / "examples" / "quillet_hollow" / "farm.toml"
STATIONS = {
    "central park": ("USW00094728*.dly.gz", 40.78),
    "dubois": ("USC00102707*.dly.gz", 44.24),
}
FARMS = int(os.environ.get("EPICOTYL_RANDOM_FARMS", "150"))


# ---- The demo farm -----------------------------------------------------------------------------


@pytest.fixture(scope="module", params=["quillet hollow", *STATIONS])
def demo(request, tmp_path_factory):
    if request.param == "quillet hollow":
        opened = epicotyl.open_season(FARM)
        plan = read_plan(FARM)
        record = read_weather(FARM.parent / plan.weather)
    else:
        folder = os.environ.get("EPICOTYL_REFERENCE_DATA")
        if not folder:
            pytest.skip("EPICOTYL_REFERENCE_DATA is not set")
        pattern, latitude = STATIONS[request.param]
        (packed,) = Path(folder).glob(pattern)
        path = tmp_path_factory.mktemp("station") / "station.dly"
        path.write_bytes(gzip.decompress(packed.read_bytes()))
        opened = epicotyl.open_season(FARM, weather=path, latitude=latitude)
        document = tomllib.loads(FARM.read_text(encoding="utf-8"))
        document["site"]["latitude"] = latitude
        plan = read_plan(document)
        record = read_weather(packed)
    years = season_years(record, plan.season_start, plan.season_days)
    assert [year.year for year in years] == opened.climate.years
    assert np.array_equal([year.low for year in years], opened.climate.tmin)
    assert np.array_equal([year.high for year in years], opened.climate.tmax)
    return Pair(opened.calendar, opened.prospect, plan, years)


@pytest.mark.parametrize("compare", COMPARISONS, ids=lambda compare: compare.__name__)
def test_demo_farm_has_no(demo, compare):
    assert compare(demo) == []


def test_demo_farm_is_mostly_resolved(demo):
    """So that the comparisons above compare something."""
    assert len(demo.resolved) >= 15


# ---- Random farms ------------------------------------------------------------------------------


@pytest.mark.parametrize("seed", range(FARMS))
def test_random_farm_is_reckoned_alike(seed):
    farm = random_farm(seed)
    assert differences(reckoned_twice(farm.document, farm.record, farm.years)) == {}


def test_random_farms_are_what_they_are_meant_to_be():
    """Every kind of thing comes up somewhere among them."""
    documents = [random_farm(seed).document for seed in range(FARMS)]
    text = repr(documents)
    for word in (
        "'us'",
        "'metric'",
        "germination",
        "days_between",
        "soil",
        "gate",
        "'all'",
        "'any'",
        "lamps",
        "open",
        "heat_lift",
        "in_harvest",
        "risk",
        "_last_frost",
        "_first_frost",
        "not_before",
        "not_after",
        "follows",
        "wave",
        "within",
        "repeat",
        "like",
        "last_harvest",
        "hold",
        "too_hot",
        "average_floored",
        "double_sine",
        "vertical",
    ):
        assert word in text
    assert any(document["site"]["latitude"] < 0.0 for document in documents)
    assert any(document["site"]["season_start"].year == 2028 for document in documents)


# ---- Cases that once differed --------------------------------------------------------------------


def one_crop(stages, *successions, places=None, days=366, **crop):
    """A plan of one crop in a house at 15 to 20 degC and in outdoor beds."""
    house = {"for": ["grow"], "day": 20.0, "night": 15.0}
    return {
        "format": 1,
        "units": "metric",
        "title": "One crop",
        "site": {
            "latitude": 50.0,
            "season_start": datetime.date(2027, 1, 1),
            "season_days": days,
        },
        "places": {"house": house, "beds": {"for": ["field"]}, **(places or {})},
        "crops": {"plant": {"stages": stages, **crop}},
        "succession": [
            {"name": f"batch {k}", "crop": "plant", "plants": 10, **table}
            for k, table in enumerate(successions, start=1)
        ],
    }


def weather(minimum, years=6, days=366):
    """A record from 2001 on; `minimum` gives each day's [degC], the maximum is 8 K above it."""
    first = datetime.date(2001, 1, 1)
    low = [minimum(first + datetime.timedelta(k)) for k in range(366 * (years - 1) + days)]
    return Record(first, low, [value + 8.0 for value in low])


def test_nothing_is_spaced_from_a_harvest_that_never_comes():
    # a season of 366 days, a crop of 300 days sown in May
    document = one_crop(
        [
            {"begins": "sow", "where": "beds", "takes": {"days": 300}},
            {"begins": "first_harvest", "where": "beds", "takes": {"days": 10}},
        ],
        {
            "target": {"event": "sow", "from": datetime.date(2027, 5, 1)},
            "repeat": {"times": 2, "harvest_every": 7},
        },
        risk=False,
    )
    pair = reckoned_twice(document, weather(lambda _: 5.0), 6)
    assert pair.calendar.date("batch 1 1", "first_harvest") is None
    assert [obstacle.succession for obstacle in pair.calendar.unresolved] == ["batch 1 2"]
    assert differences(pair) == {}


def test_repeats_are_spaced_from_the_day_that_the_calendar_prints():
    # Warm years plant out after 11 days, two cool ones of five not before June: the plan prints
    # June for planting out (8 years in 10), and nothing before it for the harvest
    stages = [
        {"begins": "sow", "where": "beds", "takes": {"heat": 110.0, "base": 0.0}},
        {"begins": "transplant", "where": "beds", "takes": {"days": 20}},
        {"begins": "first_harvest", "where": "beds", "takes": {"days": 10}},
    ]
    document = one_crop(
        stages,
        {
            "target": {"event": "first_harvest", "on": datetime.date(2027, 4, 1)},
            "repeat": {"times": 2, "harvest_every": 7},
        },
        risk=False,
    )

    def minimum(day):
        cool = day.year in (2001, 2002) and day.month < 6
        return -10.0 if cool else 6.0

    pair = reckoned_twice(document, weather(minimum, years=5), 5)
    printed = pair.calendar.date("batch 1 1", "first_harvest")
    assert printed == pair.calendar.date("batch 1 1", "transplant")
    assert differences(pair) == {}


def test_a_stage_that_stays_where_it_was_moves_into_no_colder_place():
    # The cover of the bed goes by the limit of what stands there, so the air differs by stage; a
    # pinch moves nothing, and waits for no bound
    document = one_crop(
        [
            {"begins": "transplant", "where": "beds", "takes": {"days": 10}, "limit": 0.0},
            {"begins": "pinch", "where": "beds", "takes": {"days": 20}, "limit": -5.0},
        ],
        {
            "target": {"event": "transplant", "from": datetime.date(2027, 3, 1)},
            "not_before": {"transplant": datetime.date(2027, 3, 1)},
        },
        places={"beds": {"for": ["field"], "cold_nights": {"warmer": 2.0}}},
    )

    def minimum(day):
        if (day.month, day.day) != (5, 10):
            return 5.0
        return -7.5 if day.year == 2003 else -4.9

    pair = reckoned_twice(document, weather(minimum), 6)
    assert pair.calendar.date("batch 1", "pinch") == datetime.date(2027, 3, 11)
    assert differences(pair) == {}


def test_another_takes_brings_its_own_hold():
    # "weeks = [4, 5]" means a hold of a week; "days = 20" instead of it means none
    document = one_crop(
        [
            {"begins": "sow", "where": "house", "takes": {"weeks": [4, 5]}},
            {"begins": "transplant", "where": "beds", "takes": {"days": 30}},
        ],
        {
            "target": {"event": "sow", "on": datetime.date(2027, 3, 1)},
            "not_before": {"transplant": datetime.date(2027, 5, 1)},
            "stage": {"sow": {"takes": {"days": 20}}},
        },
        risk=False,
    )
    pair = reckoned_twice(document, weather(lambda _: 5.0), 6)
    assert pair.prospect.overheld("batch 1").overheld == 0
    assert differences(pair) == {}


# ---- Parts -------------------------------------------------------------------------------------


def test_degree_days_and_day_lengths_are_alike():
    draw = np.random.default_rng(1927)
    low = np.round(draw.normal(8.0, 9.0, 400), 1)
    high = low + np.round(np.abs(draw.normal(8.0, 5.0, 400)), 1)
    for method in ("average", "average_floored", "single_triangle", "double_triangle"):
        for cutoff in ("horizontal", "intermediate", "vertical"):
            if method == "average_floored" and cutoff != "horizontal":
                continue
            clock = Clock("heat", base=5.0, upper=20.0, method=method, cutoff=cutoff)
            mine = daily_rates(clock, list(low), list(high), [])
            theirs = epicotyl.degree_days(
                low, high, base=5.0, upper=20.0, method=method, cutoff=cutoff
            )
            assert np.allclose(mine, theirs, rtol=0.0, atol=1e-9)
    dates = [datetime.date(2027, 1, 1) + datetime.timedelta(k) for k in range(365)]
    for latitude in (-70.0, -35.0, 0.0, 51.9, 67.0):
        mine = [day_length(latitude, date) for date in dates]
        theirs = epicotyl.day_length(latitude, np.array(dates, dtype="datetime64[D]"))
        assert np.allclose(mine, theirs, rtol=0.0, atol=1e-9)
