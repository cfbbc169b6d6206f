"""What the tests of the package share.

Two small plans: the one of the package's documentation, and one in a made-up climate in which every
day can be reckoned by hand. Tests of the compiled package ask for these fixtures; without the
package they are skipped, and say so.
"""

import datetime
import doctest
import os
from pathlib import Path
from types import SimpleNamespace

import numpy as np
import pytest

# What hypothesis keeps belongs to the build.
os.environ.setdefault(
    "HYPOTHESIS_STORAGE_DIRECTORY",
    str(Path(__file__).resolve().parents[2] / "build" / ".hypothesis"),
)


@pytest.fixture(scope="session")
def documented():
    """Names that the example of the package's own documentation leaves behind."""
    epicotyl = pytest.importorskip("epicotyl")
    names = {}
    test = doctest.DocTestParser().get_doctest(epicotyl.__doc__, names, "epicotyl", None, 0)
    doctest.DocTestRunner().run(test, out=lambda _: None, clear_globs=False)
    return SimpleNamespace(**test.globs)


@pytest.fixture(scope="session")
def farm(documented, tmp_path_factory):
    """A folder with the documented plan and its weather as files."""
    folder = tmp_path_factory.mktemp("farm")
    (folder / "marlpit.toml").write_text(documented.plan.to_toml(), encoding="utf-8")
    record = documented.record
    days = zip(record.dates.astype(str), record.tmin.tolist(), record.tmax.tolist(), strict=True)
    lines = ["date,tmin_c,tmax_c", *(f"{day},{low!r},{high!r}" for day, low, high in days)]
    (folder / "marlpit.csv").write_text("\n".join(lines) + "\n", encoding="utf-8")
    # One month of a GHCN-Daily file: -1.5 and 4.0 °C on each of its 31 days.
    months = (f"USC00000001202701{name}" + f"{tenths:5}   " * 31 for name, tenths in MONTH)
    (folder / "station.dly").write_text("\n".join(months) + "\n", encoding="ascii")
    return folder


MONTH = (("TMIN", -15), ("TMAX", 40))


@pytest.fixture
def in_farm(farm, monkeypatch):
    """The working folder is the farm's."""
    monkeypatch.chdir(farm)
    return farm


@pytest.fixture(scope="session")
def tables():
    """A plan in tables. On the bench 20 days; in the beds 60 K day above 4 °C, then 7 days."""
    return {
        "format": 1,
        "units": "metric",
        "title": "Quoin Close 2027",
        "site": {
            "latitude": 51.9,
            "season_start": datetime.date(2027, 1, 1),
            "season_days": 365,
        },
        "places": {
            "bench": {"for": ["germinate", "grow"], "day": 20.0, "night": 20.0},
            "beds": {"for": ["field"]},
            "tunnel": {"for": ["field"], "cold_nights": {"below": 0.0, "warmer": 2.0}},
        },
        "crops": {
            "chard": {
                "limit_tender": -2.0,
                "stages": [
                    {"begins": "sow", "where": "bench", "takes": {"days": 20}},
                    {
                        "begins": "transplant",
                        "where": "beds",
                        "takes": {"heat": 60.0, "base": 4.0, "method": "average"},
                    },
                    {"begins": "first_harvest", "where": "beds", "takes": {"days": 7}},
                ],
            }
        },
        "succession": [
            {
                "name": "chard 1",
                "crop": "chard",
                "plants": 40,
                "target": {"event": "transplant", "on": datetime.date(2027, 4, 1)},
            },
            {
                "name": "chard 2",
                "crop": "chard",
                "plants": 40,
                "target": {"event": "first_harvest", "by": datetime.date(2027, 6, 10)},
                "stage": {
                    "transplant": {"where": "tunnel"},
                    "first_harvest": {"where": "tunnel"},
                },
            },
            {
                "name": "chard 3",
                "crop": "chard",
                "plants": 40,
                "target": {"event": "transplant", "on": datetime.date(2027, 4, 1)},
                "stage": {
                    "transplant": {"where": "tunnel"},
                    "first_harvest": {"where": "tunnel"},
                },
            },
        ],
    }


@pytest.fixture(scope="session")
def known(tables):
    """The plan of `tables`, and what follows from it in a climate without surprises.

    Ten years, every day from 5 to 15 °C: 6 K day a day above 4 °C, and 10 days in the beds. Two
    years differ. 2005 has 11 to 21 °C throughout: 12 K day a day, 5 days. In 2003 the night of
    5 April has -3 °C: 2 K day that day, 9 · 6 + 2 = 56 after 10 days, and so 11 days; in the tunnel
    that night is raised to -1 °C, 3 K day, 57, and 11 days as well.
    """
    epicotyl = pytest.importorskip("epicotyl")
    dates = np.arange("2001-01-01", "2011-01-01", dtype="datetime64[D]")
    warm = 6.0 * (dates.astype("datetime64[Y]") == np.datetime64("2005"))
    low = np.where(dates == np.datetime64("2003-04-05"), -3.0, 5.0 + warm)
    record = epicotyl.DailyRecord(dates[0], low, 15.0 + warm, name="Quoin")
    climate = epicotyl.Climate(record, latitude=51.9, season_days=365)
    plan = epicotyl.plan(tables)
    calendar = epicotyl.schedule(plan, climate)
    prospect = epicotyl.simulate(calendar, climate)
    return SimpleNamespace(
        record=record, climate=climate, plan=plan, calendar=calendar, prospect=prospect
    )
