"""Pickles that were written once, a file a value and version, and must be read for good.

`PYTHONPATH=... python tests/python/test_old_pickles.py` writes those that are missing, after a
value's version has gone up; a file that is there is never written again.
"""

import gzip
import pickle
import sys
from datetime import date
from pathlib import Path
from types import SimpleNamespace

import numpy as np
import pytest

epicotyl = pytest.importorskip("epicotyl")

FOLDER = Path(__file__).parent / "pickles" / "values"


def example_record():
    """Three years in which it is warmer by the day of the year, and a gap."""
    days = np.arange("2001-01-01", "2004-02-01", dtype="datetime64[D]")
    low = (days - days.astype("datetime64[Y]")).astype(int) % 100 / 8.0 - 2.0
    low[40:42] = np.nan
    return epicotyl.DailyRecord(days[0], low, low + 10.0, "Marlpit", origin="invented")


def example_plan():
    return epicotyl.plan(
        format=1,
        units="metric",
        title="Pickled",
        site={"latitude": 51.9, "season_start": date(2027, 1, 1), "season_days": 365},
        places={"bench": {"for": ["grow"], "day": 18.0, "night": 14.0}, "beds": {"for": ["field"]}},
        crops={
            "lettuce": {
                "limit_tender": -1.0,
                "stages": [
                    {"begins": "sow", "where": "bench", "takes": {"days": 28}},
                    {"begins": "transplant", "where": "beds", "takes": {"heat": 200, "base": 4}},
                    {"begins": "first_harvest", "where": "beds", "takes": {"days": 10}},
                ],
            }
        },
        succession=[
            {
                "crop": "lettuce",
                "plants": 80,
                "target": {"event": "transplant", "on": date(2027, 4, 1)},
            }
        ],
    )


def examples():
    """Every value that is pickled, by the name of its file."""
    record, plan = example_record(), example_plan()
    climate = epicotyl.Climate(record, latitude=51.9, season_days=365, years="all")
    so_far = epicotyl.DailyRecord(date(2027, 1, 1), [1.0, 2.0], [5.0, 6.0])
    forecast = epicotyl.DailyRecord(date(2027, 1, 3), [3.0], [7.0])
    changed = climate.shifted(1.5).only([2001, 2002]).given(so_far, forecast)
    calendar = epicotyl.schedule(plan, climate, reliability=0.6)
    shape = epicotyl.harvest.YieldShape.weibull(2.0, 9.5)
    return {
        "record": record,
        "plan": plan,
        "climate": changed,
        "calendar": calendar,
        "prospect": epicotyl.simulate(calendar, climate.shifted(0.5)),
        "risk": epicotyl.FreezeRisk(record, 0.0, estimator="empirical", latitude=51.9, years="all"),
        "yield_shape": shape,
        "harvest_yield": epicotyl.harvest.HarvestYield(
            shape, 3.0, unit="heads", base=4.0, upper=30.0
        ),
        "germination_curve": epicotyl.seeds.GerminationCurve(52.9, 6.0),
        "maximum_germination": epicotyl.seeds.MaximumGermination([(25.0, 0.99), (30.0, 0.12)]),
    }


def name_of(name, value):
    return f"{name}_version_{type(value)._pickle_version}.pickle.gz"


@pytest.fixture(scope="module")
def today():
    return SimpleNamespace(values=examples())


@pytest.mark.parametrize("path", sorted(FOLDER.glob("*.gz")), ids=lambda path: path.name)
def test_pickle_of_any_version_is_read_as_the_value_of_today(path, today):
    value = today.values[path.name.split("_version_")[0]]
    read = pickle.loads(gzip.decompress(path.read_bytes()))
    assert type(read) is type(value)
    assert read == value
    assert str(read) == str(value)
    if isinstance(read, epicotyl.Calendar):
        assert [read.date(*event) for event in read.events] == [
            value.date(*event) for event in value.events
        ]
        assert read.claims == value.claims
    if isinstance(read, epicotyl.Prospect):
        np.testing.assert_array_equal(read.days_all, value.days_all)


def test_values_are_read_from_pickles_that_name_the_package_as_their_home():
    shape = epicotyl.harvest.YieldShape.weibull(2.0, 9.5)
    written = pickle.dumps(shape, 0)
    assert b"epicotyl.harvest" in written
    assert pickle.loads(written.replace(b"epicotyl.harvest", b"epicotyl")) == shape


def test_there_is_a_pickle_of_every_value_in_its_present_version(today):
    wanted = {name_of(name, value) for name, value in today.values.items()}
    assert wanted <= {path.name for path in FOLDER.iterdir()}


if __name__ == "__main__":
    FOLDER.mkdir(parents=True, exist_ok=True)
    for name, value in examples().items():
        path = FOLDER / name_of(name, value)
        if not path.exists():
            path.write_bytes(gzip.compress(pickle.dumps(value, 2), mtime=0))
            sys.stdout.write(f"{path.name}\n")
