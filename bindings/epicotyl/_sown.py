"""Season: sowings, how they are picked, and how they become successions."""

from __future__ import annotations

import datetime
from dataclasses import dataclass
from typing import Any

import numpy as np

from epicotyl import _check
from epicotyl._plan import Plan
from epicotyl._plan import plan as _plan_of


@dataclass(frozen=True, slots=True)
class StaggeredSowing:
    """One sowing, and when it is picked.

    Attributes
    ----------
    name : str
        Of its succession.
    wanted : datetime.date
        First harvest asked for.
    sowing : datetime.date
        Planned.
    usual : datetime.date
        First harvest of the middle season year, on `wanted` or sooner.
    early, late : datetime.date or None
        First harvest of 1 year in 10, of 9 years in 10; None: not within the season. These and
        `usual` are days of a batch that lives.
    in_time : int
        Season years in which it lives and is picked before the limits of `Staggered.last_useful`.
    lost : int
        Season years in which cold loses it before it is picked.
    """

    name: str
    wanted: datetime.date
    sowing: datetime.date
    usual: datetime.date
    early: datetime.date | None
    late: datetime.date | None
    in_time: int
    lost: int = 0


@dataclass(frozen=True, slots=True)
class LastSowing:
    """The latest sowing that is still worth it.

    Attributes
    ----------
    sowing : datetime.date or None
        None: no sowing is in time in enough years.
    good : int
        Season years in which it lives and is in time; where there is none, those of the best.
    needed, years : int
        Season years that the reliability asks for, of so many.
    good_one_day_later : int
        Season years in which a sowing a day later would be in time.
    limit : str
        What fails first beyond it: ``"frost"``, ``"day_length"``, ``"not_after"``, ``"season"`` or
        ``"lost"``, cold that loses the plants before they are picked.
    sentence : str
        In words. `str` gives it.
    """

    sowing: datetime.date | None
    good: int
    needed: int
    years: int
    good_one_day_later: int
    limit: str
    sentence: str

    def __str__(self) -> str:
        return self.sentence


@dataclass(frozen=True, slots=True)
class HarvestWeek:
    """One week of the span, Monday to Sunday, cut to it.

    Attributes
    ----------
    start, until : datetime.date
        Its first and its last day.
    years : int
        Season years in which something is in harvest on one of its days.
    covered : bool
        These are enough.
    """

    start: datetime.date
    until: datetime.date
    years: int
    covered: bool


@dataclass(frozen=True, slots=True)
class HarvestGap:
    """A run of days with too few season years in which anything is in harvest.

    Attributes
    ----------
    start, until : datetime.date
        Its first and its last day.
    fewest : int
        Season years with something in harvest, on its worst day.
    """

    start: datetime.date
    until: datetime.date
    fewest: int


@dataclass(frozen=True, slots=True)
class EqualGapSowing:
    """A sowing of a series with equal gaps.

    Attributes
    ----------
    sowing : datetime.date
        The day.
    usual : datetime.date or None
        First harvest of the middle season year; None: not within the season.
    """

    sowing: datetime.date
    usual: datetime.date | None


def one_day(value: _check.Day, name: str) -> datetime.date:
    found = _check.days(value, name)
    if found.ndim or np.isnat(found):
        raise TypeError(f"{name}: one day is wanted, not {value!r}")
    day: datetime.date = found.item()
    return day


def table_of(sown: tuple[str, str, str, datetime.date], plants: float) -> dict[str, Any]:
    name, crop, event, day = sown
    return {
        "name": name,
        "crop": crop,
        "plants": plants,
        "target": {"event": event, "on": day},
    }


def with_successions(plan: Plan, more: list[dict[str, Any]]) -> Plan:
    _check.instance(plan, Plan, "plan")
    tables = plan.to_dict()
    return _plan_of(tables | {"succession": [*tables.get("succession", []), *more]})
