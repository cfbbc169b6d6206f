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


@dataclass(frozen=True, slots=True)
class TypedCure:
    """What would give a succession its days, as it is typed into the plan.

    Attributes
    ----------
    code : str
        What is typed: ``"target"`` (its day, ``when``; a rule without a date becomes ``from``),
        ``"target_sooner"`` (the same, sooner than it was asked: the latest such day),
        ``"not_before"`` or ``"not_after"`` (a bound on ``event``), ``"reliability"``, ``"risk"``
        and ``"target_risk"`` (a share, ``number``), ``"no_risk"`` (``risk = false``),
        ``"season_days"`` (``number`` days), ``"season_start"`` (``when``, with ``number`` days of
        season). Not typed by a number: ``"requirement"`` (one that gives way by ``number`` days,
        see `why_unresolved`), ``"first"`` (the succession that is to be helped first),
        ``"advice"``.
    succession : str
        Name of the succession as it is written; that of its crop where it has none.
    event : str
        Of a bound, else empty.
    when : datetime.date or None
        The day.
    number : float
        A share, or days.
    is_or_later : bool
        Every later day of the season does as well.
    sentence : str
        The cure in words. `str` gives it.
    """

    code: str
    succession: str
    event: str
    when: datetime.date | None
    number: float
    is_or_later: bool
    sentence: str

    def __str__(self) -> str:
        return self.sentence
