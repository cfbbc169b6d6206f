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

The examples of all other entries go on from here. Days in and out are `datetime.date` and arrays of
`datetime64[D]`, without a time of day; "never" is None, NaT in arrays. Temperatures are in °C
unless a plan says otherwise.
"""

from __future__ import annotations

from epicotyl._errors import Error, InvalidInput, Obstacle, Unresolved

try:
    from epicotyl import _core
except ImportError as missing:
    raise ImportError(
        "the extension module epicotyl._core could not be loaded, so the package is not built for "
        f"this Python ({missing}). Install the package (pip install .), and do not import it from "
        "the folder of its sources."
    ) from missing

from epicotyl._adjust import (
    MissingRun,
    RecordQuality,
    SplicedElement,
    SplicedRecord,
    SpliceReport,
    morning_reader,
    quality,
    splice,
    with_elevation_difference,
)
from epicotyl._calendar import Calendar, schedule
from epicotyl._change import Change
from epicotyl._clock import day_length, degree_days, first_day_with, iso_weeks, last_day_with
from epicotyl._compare import CalendarComparison, ChangedInput, MovedEvent, compare
from epicotyl._cost import (
    Landed,
    OwnCost,
    PlantOffer,
    break_even_usable,
    cost_of_raising,
    landed_cost,
)
from epicotyl._course import ElementCourse, YearlyCourse, phase_of
from epicotyl._coverage import CoverageGap, CoverageWeek, HarvestCoverage, coverage
from epicotyl._explain import UnresolvedConflict, explain, why_unresolved
from epicotyl._fewest import CoveringSowings, fewest_sowings
from epicotyl._fit import FitMove, FitWeights, NotPlaced, SpaceFit, fit_to_space
from epicotyl._fit_air import AirFit, GuessedGain, fit_air, guess_night_gain
from epicotyl._freeze_answer import (
    CountedChance,
    FreezeAnswer,
    FreezeSample,
    FreezeYear,
    FrostFreeSpan,
    chance_band,
)
from epicotyl._freeze_table import FreezeTable, FreezeTableRow
from epicotyl._frost import FreezeRisk
from epicotyl._generator import WeatherModel, fit_weather_model, generate, model_from_normals
from epicotyl._germination import GerminationCurve, MaximumGermination, steepness_between
from epicotyl._harvest import HarvestSpans, harvest_spans
from epicotyl._heat import (
    ColdExtreme,
    Structure,
    Surface,
    coldest_night,
    coldest_outdoors,
    heat_cautions,
    heat_loss,
    lift_of,
    loss_per_kelvin,
    u_of,
)
from epicotyl._heat_season import (
    HeatCurve,
    HeatedBatch,
    HeatPoint,
    SeasonHeat,
    heat_curve,
    heat_of_season,
)
from epicotyl._json import from_json, to_json
from epicotyl._plan import Plan, expand, plan, read_plan
from epicotyl._prospect import DamageReport, OverheldReport, Prospect, simulate
from epicotyl._quantities import (
    PlanQuantities,
    SeedLot,
    SeedOrderLine,
    StageQuantity,
    SuccessionQuantity,
    TrayLine,
    alive_counts,
    cube_litres,
    frustum_litres,
    quantities,
)
from epicotyl._rate import germinated_by_day, germination_rate
from epicotyl._reason import LinkCount, LinkedGroup, Reason, SowingClaim, TypedCure
from epicotyl._record import DailyRecord, read_daily_csv, read_ghcn_daily
from epicotyl._requirement import (
    ChainEvent,
    ChainInYears,
    ConflictStep,
    Cure,
    Requirement,
    SeasonConflict,
    TightestChain,
    WindowFailure,
)
from epicotyl._season import Season, climate_from_normals, open_season
from epicotyl._seed_packets import (
    BoughtSeed,
    SeedPacket,
    buy_seed,
    grams_of,
    seeds_in,
    seeds_per_gram_of_ounce,
)
from epicotyl._seeds import GerminationSpread, cells_needed, chance_of_plants, seeds_needed
from epicotyl._sown import (
    EqualGapSowing,
    HarvestGap,
    HarvestWeek,
    LastSowing,
    StaggeredSowing,
)
from epicotyl._space import Occupancy, Overflow, Standing, occupancy
from epicotyl._stagger import Staggered, stagger
from epicotyl._sweep import Sweep, SweepRow, SweptSuccession, sweep
from epicotyl._weather import Climate, FilledDays, LeftOutYear
from epicotyl._windows import PlantingWindows, WindowYears, planting_windows, window_years
from epicotyl._yield import HarvestYield, YieldByWeek, YieldShape, expected_yield

__version__: str = _core.version

__all__ = [
    "AirFit",
    "BoughtSeed",
    "Calendar",
    "CalendarComparison",
    "ChainEvent",
    "ChainInYears",
    "Change",
    "ChangedInput",
    "Climate",
    "ColdExtreme",
    "ConflictStep",
    "CountedChance",
    "CoverageGap",
    "CoverageWeek",
    "CoveringSowings",
    "Cure",
    "DailyRecord",
    "DamageReport",
    "ElementCourse",
    "EqualGapSowing",
    "Error",
    "FilledDays",
    "FitMove",
    "FitWeights",
    "FreezeAnswer",
    "FreezeRisk",
    "FreezeSample",
    "FreezeTable",
    "FreezeTableRow",
    "FreezeYear",
    "FrostFreeSpan",
    "GerminationCurve",
    "GerminationSpread",
    "GuessedGain",
    "HarvestCoverage",
    "HarvestGap",
    "HarvestSpans",
    "HarvestWeek",
    "HarvestYield",
    "HeatCurve",
    "HeatPoint",
    "HeatedBatch",
    "InvalidInput",
    "Landed",
    "LastSowing",
    "LeftOutYear",
    "LinkCount",
    "LinkedGroup",
    "MaximumGermination",
    "MissingRun",
    "MovedEvent",
    "NotPlaced",
    "Obstacle",
    "Occupancy",
    "Overflow",
    "OverheldReport",
    "OwnCost",
    "Plan",
    "PlanQuantities",
    "PlantOffer",
    "PlantingWindows",
    "Prospect",
    "Reason",
    "RecordQuality",
    "Requirement",
    "Season",
    "SeasonConflict",
    "SeasonHeat",
    "SeedLot",
    "SeedOrderLine",
    "SeedPacket",
    "SowingClaim",
    "SpaceFit",
    "SpliceReport",
    "SplicedElement",
    "SplicedRecord",
    "StageQuantity",
    "Staggered",
    "StaggeredSowing",
    "Standing",
    "Structure",
    "SuccessionQuantity",
    "Surface",
    "Sweep",
    "SweepRow",
    "SweptSuccession",
    "TightestChain",
    "TrayLine",
    "TypedCure",
    "Unresolved",
    "UnresolvedConflict",
    "WeatherModel",
    "WindowFailure",
    "WindowYears",
    "YearlyCourse",
    "YieldByWeek",
    "YieldShape",
    "__version__",
    "alive_counts",
    "break_even_usable",
    "buy_seed",
    "cells_needed",
    "chance_band",
    "chance_of_plants",
    "climate_from_normals",
    "coldest_night",
    "coldest_outdoors",
    "compare",
    "cost_of_raising",
    "coverage",
    "cube_litres",
    "day_length",
    "degree_days",
    "expand",
    "expected_yield",
    "explain",
    "fewest_sowings",
    "first_day_with",
    "fit_air",
    "fit_to_space",
    "fit_weather_model",
    "from_json",
    "frustum_litres",
    "generate",
    "germinated_by_day",
    "germination_rate",
    "grams_of",
    "guess_night_gain",
    "harvest_spans",
    "heat_cautions",
    "heat_curve",
    "heat_loss",
    "heat_of_season",
    "iso_weeks",
    "landed_cost",
    "last_day_with",
    "lift_of",
    "loss_per_kelvin",
    "model_from_normals",
    "morning_reader",
    "occupancy",
    "open_season",
    "phase_of",
    "plan",
    "planting_windows",
    "quality",
    "quantities",
    "read_daily_csv",
    "read_ghcn_daily",
    "read_plan",
    "schedule",
    "seeds_in",
    "seeds_needed",
    "seeds_per_gram_of_ounce",
    "simulate",
    "splice",
    "stagger",
    "steepness_between",
    "sweep",
    "to_json",
    "u_of",
    "why_unresolved",
    "window_years",
    "with_elevation_difference",
]

# Messages, pickles and help name things by where users find them.
for _name in __all__:
    if _name != "__version__":
        globals()[_name].__module__ = __name__
del _name


def __dir__() -> list[str]:
    return __all__
