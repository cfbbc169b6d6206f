"""When to sow, move and plant out, how sure that is, and why.

A plan (places, crops, dated batches) meets the season years of a station's record. The answer is a
calendar of planned days, a prospect of what becomes of them year by year, and a reason for each
day.

>>> import datetime
>>> import numpy as np
>>> import epicotyl

A record, here of twelve invented years, and the season years cut from it:

>>> dates = np.arange("2012-01-01", "2024-01-01", dtype="datetime64[D]")
>>> mean = 10.0 - 9.0 * np.cos(2.0 * np.pi * (np.arange(dates.size) - 20) / 365.25)
>>> mean += dates.astype("datetime64[Y]").astype(int) % 4
>>> record = epicotyl.DailyRecord(dates[0], mean - 5.0, mean + 5.0, name="Marlpit")
>>> climate = epicotyl.Climate(record, latitude=51.9, season_days=365)

A plan, here from tables; `read_plan` takes the same as a TOML file:

>>> plan = epicotyl.plan(
...     format=1,
...     units="metric",
...     title="Marlpit 2027",
...     site={
...         "latitude": 51.9,
...         "season_start": datetime.date(2027, 1, 1),
...         "season_days": 365,
...         "weather": "marlpit.csv",
...     },
...     places={
...         "bench": {"for": ["germinate", "grow"], "day": 18.0, "night": 14.0},
...         "beds": {"for": ["field"]},
...     },
...     crops={
...         "lettuce": {
...             "limit_tender": 0.0,
...             "limit_hardened": -3.0,
...             "stages": [
...                 {"begins": "sow", "where": "bench", "takes": {"days": 28}},
...                 {"begins": "transplant", "where": "beds", "takes": {"heat": 500, "base": 4}},
...                 {"begins": "first_harvest", "where": "beds", "takes": {"days": 10}},
...             ],
...         }
...     },
...     succession=[
...         {
...             "name": "lettuce 1",
...             "crop": "lettuce",
...             "plants": 100,
...             "target": {"event": "transplant", "from": datetime.date(2027, 3, 14)},
...         },
...         {
...             "name": "lettuce 2",
...             "crop": "lettuce",
...             "plants": 100,
...             "target": {"event": "first_harvest", "by": datetime.date(2027, 7, 1)},
...         },
...     ],
... )

The days, what becomes of them, and why:

>>> calendar = epicotyl.schedule(plan, climate)
>>> prospect = epicotyl.simulate(calendar, climate)
>>> calendar.date("lettuce 2", "sow")
datetime.date(2027, 4, 24)
>>> prospect.chance_by("lettuce 2", "first_harvest", datetime.date(2027, 7, 1)) >= 0.8
True
>>> print(epicotyl.explain(calendar, "lettuce 2", "sow")[0])
sow 24 Apr: first harvest by 1 Jul in 12 of 12 years; sown a day later, in 9, and 10 are wanted

These are the verbs of every season. What serves one part of the work stands in a module of that
name, such as `epicotyl.heat` and `epicotyl.harvest`; all of them are there after ``import
epicotyl``.

The examples of all other entries go on from here. Days in and out are `datetime.date` and arrays of
`datetime64[D]`, without a time of day; "never" is None, NaT in arrays. Temperatures are in °C
unless a plan says otherwise.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

try:
    from epicotyl import _core
except ImportError as missing:
    raise ImportError(
        "the extension module epicotyl._core could not be loaded, so the package is not built for "
        f"this Python ({missing}). Install the package (pip install .), and do not import it from "
        "the folder of its sources."
    ) from missing

from epicotyl import (
    clock,
    cost,
    files,
    frost,
    harvest,
    heat,
    season,
    seeds,
    space,
    weather,
    what_if,
    windows,
)
from epicotyl._calendar import Calendar, schedule
from epicotyl._change import Change
from epicotyl._clock import day_length, degree_days
from epicotyl._compare import compare
from epicotyl._coverage import coverage
from epicotyl._errors import Error, InvalidInput, Unresolved
from epicotyl._explain import explain
from epicotyl._fit import fit_to_space
from epicotyl._frost import FreezeRisk
from epicotyl._plan import Plan, plan, read_plan
from epicotyl._prospect import Prospect, simulate
from epicotyl._record import DailyRecord, read_daily_csv, read_ghcn_daily
from epicotyl._season import open_season
from epicotyl._seeds import seeds_needed
from epicotyl._space import occupancy
from epicotyl._stagger import stagger
from epicotyl._sweep import sweep
from epicotyl._weather import Climate
from epicotyl._windows import planting_windows

__version__: str = _core.version

__all__ = [
    "Calendar",
    "Change",
    "Climate",
    "DailyRecord",
    "Error",
    "FreezeRisk",
    "InvalidInput",
    "Plan",
    "Prospect",
    "Unresolved",
    "__version__",
    "compare",
    "coverage",
    "day_length",
    "degree_days",
    "explain",
    "fit_to_space",
    "occupancy",
    "open_season",
    "plan",
    "planting_windows",
    "read_daily_csv",
    "read_ghcn_daily",
    "read_plan",
    "schedule",
    "seeds_needed",
    "simulate",
    "stagger",
    "sweep",
]

_FLOORS = (
    clock,
    cost,
    files,
    frost,
    harvest,
    heat,
    seeds,
    season,
    space,
    weather,
    what_if,
    windows,
)

# Messages, pickles and help name things by where users find them.
for _name in __all__:
    if _name != "__version__":
        globals()[_name].__module__ = __name__
for _floor in _FLOORS:
    for _name in _floor.__all__:
        getattr(_floor, _name).__module__ = _floor.__name__
del _floor, _name


if not TYPE_CHECKING:  # for which there is no other name than those above

    def __getattr__(name: str) -> object:
        for floor in _FLOORS:
            if name in floor.__all__:
                found = getattr(floor, name)
                # Older pickles name every value by the package alone, and must be read.
                if isinstance(found, type):
                    return found
                raise AttributeError(
                    f"module {__name__!r} has no attribute {name!r}; it is {floor.__name__}.{name}"
                )
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")


def __dir__() -> list[str]:
    return [*__all__, *(floor.__name__.rpartition(".")[2] for floor in _FLOORS)]
