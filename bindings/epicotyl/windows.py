"""Planting windows: how much room each event has, and the proof where there is none.

`epicotyl.planting_windows` finds the earliest and the latest day of every event in one season year;
`window_years` does so in all. Where no days meet every requirement there is a conflict, a walk from
a bound to a bound that breaks, with what would cure it.
"""

from epicotyl._core import (
    ChainEvent,
    ChainInYears,
    ConflictStep,
    Cure,
    Requirement,
    SeasonConflict,
    TightestChain,
    WindowFailure,
)
from epicotyl._window_years import WindowYears, window_years
from epicotyl._windows import PlantingWindows

__all__ = [
    "ChainEvent",
    "ChainInYears",
    "ConflictStep",
    "Cure",
    "PlantingWindows",
    "Requirement",
    "SeasonConflict",
    "TightestChain",
    "WindowFailure",
    "WindowYears",
    "window_years",
]
