"""Season: the reasons behind days, and what they claim."""

from __future__ import annotations

import datetime
from dataclasses import dataclass, field
from typing import TypeAlias

ReasonValue: TypeAlias = int | float | datetime.date | str


@dataclass(frozen=True, slots=True)
class Reason:
    """Why a day is that day: one link of the chain that `explain` gives.

    Attributes
    ----------
    succession, event : str
        Whose day it is about, and which of its events.
    code : str
        Stable code, such as ``"bound.risk"``.
    values : dict
        Named numbers, days and names; temperatures in °C.
    sentence : str
        The reason in words, in the units of the plan. `str` gives it.
    """

    succession: str
    event: str
    code: str
    values: dict[str, ReasonValue] = field(hash=False)
    sentence: str

    def __str__(self) -> str:
        return self.sentence


@dataclass(frozen=True, slots=True)
class SowingClaim:
    """What a planned sowing claims, counted on the season years of the record.

    Attributes
    ----------
    years : int
        Season years.
    needed : int
        Years that the reliability asks for.
    good : int
        Years in which the target and its bounds are met.
    link_days_kept : int
        Years whose links allow the planned sowing.
    good_one_day_later : int
        The count that breaks when the sowing is a day later; the succession's own where none does.
    broken : str
        The succession whose count breaks; empty when none does.
    broken_claim : str
        ``"target"``, ``"links"`` or ``"harvest"`` (years in harvest that another would lose);
        empty where none does.
    """

    years: int
    needed: int
    good: int
    link_days_kept: int
    good_one_day_later: int
    broken: str
    broken_claim: str


@dataclass(frozen=True, slots=True)
class LinkedGroup:
    """Successions that wait for one another, and how often all of them are good together.

    Attributes
    ----------
    successions : list of str
        Their names.
    good : int
        Season years in which every one is good.
    years : int
        Season years.
    """

    successions: list[str] = field(hash=False)
    good: int
    years: int


@dataclass(frozen=True, slots=True)
class LinkCount:
    """A link with a longest wait, and how often it is kept.

    Attributes
    ----------
    first, then : str
        The two ends, such as ``"peas 1: clear"``.
    within : float
        Longest wait [days].
    kept : int
        Season years in which it is kept.
    years : int
        Season years.
    """

    first: str
    then: str
    within: float
    kept: int
    years: int
