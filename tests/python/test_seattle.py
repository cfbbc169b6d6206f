"""The whole chain on open weather that comes with a package: Seattle, 2012 to 2015.

Daily maxima and minima of the National Oceanic and Atmospheric Administration, as the package
`vega_datasets` carries them (seattle-weather.csv). Its dates are written 2012/01/01, which is not
ISO and is refused; the test writes them as they are wanted.
"""

import csv
import datetime
import importlib.util
from pathlib import Path
from types import SimpleNamespace

import numpy as np
import pytest

epicotyl = pytest.importorskip("epicotyl")

LATITUDE = 47.6


def packaged():
    """The packaged table, found without running the package."""
    package = importlib.util.find_spec("vega_datasets")
    if package is None:
        pytest.skip("vega_datasets is not installed")
    return Path(package.origin).parent / "_data" / "seattle-weather.csv"


@pytest.fixture(scope="module")
def seattle(tmp_path_factory):
    """The rows as Python reads them, and the record of the same file with ISO dates."""
    with packaged().open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    path = tmp_path_factory.mktemp("seattle") / "seattle.csv"
    lines = [f"{row['date'].replace('/', '-')},{row['temp_min']},{row['temp_max']}" for row in rows]
    path.write_text("\n".join(["day,low,high", *lines]) + "\n", encoding="utf-8")
    record = epicotyl.read_daily_csv(path, date="day", tmin="low", tmax="high", units="metric")
    return SimpleNamespace(rows=rows, record=record, path=path)


@pytest.fixture(scope="module")
def season(seattle):
    """Lettuce and beans, through every step."""
    plan = epicotyl.plan(
        {
            "format": 1,
            "units": "metric",
            "title": "Alder Bench 2027",
            "site": {
                "latitude": LATITUDE,
                "season_start": datetime.date(2027, 1, 1),
                "season_days": 365,
                "frost": {"at": 0.0, "chance": 0.5},
            },
            "places": {
                "bench": {"for": ["germinate"], "day": 20.0, "night": 18.0},
                "beds": {"for": ["field"]},
            },
            "crops": {
                "lettuce": {
                    "limit_tender": -2.0,
                    "stages": [
                        {"begins": "sow", "where": "bench", "takes": {"days": 28}},
                        {
                            "begins": "transplant",
                            "where": "beds",
                            "takes": {"heat": 350.0, "base": 4.0},
                        },
                        {"begins": "first_harvest", "where": "beds", "takes": {"days": 10}},
                    ],
                },
                "bean": {
                    "limit_tender": 0.0,
                    "stages": [
                        {
                            "begins": "sow",
                            "where": "beds",
                            "takes": {"heat": 620.0, "base": 8.0, "upper": 30.0},
                        },
                        {"begins": "first_harvest", "where": "beds", "takes": {"days": 30}},
                    ],
                },
            },
            "succession": [
                {
                    "name": "lettuce 1",
                    "crop": "lettuce",
                    "plants": 100,
                    "target": {"event": "transplant", "on": datetime.date(2027, 4, 1)},
                },
                {
                    "name": "bean 1",
                    "crop": "bean",
                    "plants": 200,
                    "target": {"event": "first_harvest", "by": datetime.date(2027, 8, 20)},
                },
            ],
        }
    )
    climate = epicotyl.Climate(
        seattle.record, latitude=LATITUDE, season_start="01-01", season_days=365, years="all"
    )
    calendar = epicotyl.schedule(plan, climate)
    prospect = epicotyl.simulate(calendar, climate)
    return SimpleNamespace(climate=climate, calendar=calendar, prospect=prospect)


def test_dates_as_packaged_are_refused_with_the_line():
    with pytest.raises(epicotyl.InvalidInput, match="2012/01/01") as raised:
        epicotyl.read_daily_csv(
            packaged(), date="date", tmin="temp_min", tmax="temp_max", units="metric"
        )
    assert raised.value.line == 2


def test_the_record_is_the_file(seattle):
    record = seattle.record
    assert len(seattle.rows) == 1461
    assert (record.start, record.end) == (datetime.date(2012, 1, 1), datetime.date(2016, 1, 1))
    assert record.gaps == 0
    assert record.tmin.tolist() == [float(row["temp_min"]) for row in seattle.rows]
    assert record.tmax.tolist() == [float(row["temp_max"]) for row in seattle.rows]


def test_freeze_dates_are_those_of_the_file(seattle):
    risk = epicotyl.FreezeRisk(seattle.record, 0.0, estimator="empirical", latitude=LATITUDE)
    days = [
        (datetime.date.fromisoformat(row["date"].replace("/", "-")), float(row["temp_min"]))
        for row in seattle.rows
    ]
    frosts = [day for day, low in days if low <= 0.0]
    spring = {
        year: max((day for day in frosts if day.year == year and day.month <= 7), default=None)
        for year in range(2012, 2016)
    }
    autumn = {
        year: min((day for day in frosts if day.year == year and day.month >= 8), default=None)
        for year in range(2012, 2016)
    }
    assert {one.year: one.last for one in risk.dates} == spring
    assert {one.year: one.first for one in risk.dates} == autumn


def test_four_years_are_used_and_said_to_be_few(season):
    assert season.climate.years == [2012, 2013, 2014, 2015]
    assert any("year" in line for line in season.climate.warnings)


def test_planned_days_keep_their_promises(season):
    calendar = season.calendar
    assert calendar.unresolved == []
    sow = calendar.date("lettuce 1", "sow")
    assert sow == datetime.date(2027, 3, 4)
    assert calendar.date("lettuce 1", "transplant") == datetime.date(2027, 4, 1)
    by = np.datetime64("2027-08-20")
    harvests = season.prospect.days("bean 1", "first_harvest")
    # 0.8 of four years, rounded up, are all four.
    assert (harvests <= by).all()


def test_harvests_are_those_of_a_sum_by_hand(seattle, season):
    """Heat of every year, added up day by day in numpy from the planned day on."""
    record, calendar = seattle.record, season.calendar
    dates = record.dates
    for name, event, rule, amount in (
        ("lettuce 1", "transplant", {"base": 4.0}, 350.0),
        ("bean 1", "sow", {"base": 8.0, "upper": 30.0}, 620.0),
    ):
        begun = calendar.date(name, event)
        offset = (begun - datetime.date(2027, 1, 1)).days
        expected = []
        for year in range(2012, 2016):
            first = int(np.searchsorted(dates, np.datetime64(f"{year}-01-01")))
            run = slice(first, first + 365)
            heat = epicotyl.degree_days(record.tmin[run], record.tmax[run], **rule)
            total = np.cumsum(heat[offset:])
            expected.append(offset + int(np.argmax(total >= amount * (1 - 1e-9))) + 1)
        found = season.prospect.days(name, "first_harvest") - np.datetime64("2027-01-01")
        assert found.astype(int).tolist() == expected


def test_the_bean_is_sown_as_late_as_all_years_allow(seattle, season):
    """One day later a year comes after 20 August."""
    record = seattle.record
    offset = (season.calendar.date("bean 1", "sow") - datetime.date(2027, 1, 1)).days + 1
    wanted = (datetime.date(2027, 8, 20) - datetime.date(2027, 1, 1)).days
    late = []
    for year in range(2012, 2016):
        first = int(np.searchsorted(record.dates, np.datetime64(f"{year}-01-01")))
        run = slice(first + offset, first + wanted)
        heat = epicotyl.degree_days(record.tmin[run], record.tmax[run], base=8.0, upper=30.0)
        late.append(heat.sum() < 620.0 * (1 - 1e-9))
    assert any(late)
