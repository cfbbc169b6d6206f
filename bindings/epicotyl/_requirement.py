"""Season: requirements, and what is said when they cannot all be met."""

from __future__ import annotations

import datetime
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True, slots=True)
class Requirement:
    """One line of a plan as the season sees it.

    Attributes
    ----------
    kind : str
        ``"season_start"``, ``"not_before"``, ``"not_after"``, ``"target"``, ``"stage"``,
        ``"hold"``, ``"link"`` or ``"within"``; in `why_unresolved` also ``"planned"`` (a day that
        `schedule` keeps, because enough years allow no sooner one) and ``"season_end"``.
    succession, event : str
        Whose event it bounds.
    from_succession, from_event : str
        What it counts from; empty for a bound.
    is_upper : bool
        It says "no later than"; else "no sooner than".
    sentence : str
        In words, in the units of the plan. `str` gives it.
    field : str
        Where the plan says it, such as ``"succession[3].not_before.transplant"``.
    line : int
        Line of the plan's file; 0 where there is none.
    """

    kind: str
    succession: str
    event: str
    from_succession: str
    from_event: str
    is_upper: bool
    sentence: str
    field: str
    line: int

    def __str__(self) -> str:
        return self.sentence


@dataclass(frozen=True, slots=True)
class ConflictStep:
    """Because of a requirement, an event comes no sooner (or no later) than a day.

    Attributes
    ----------
    because : Requirement
        The requirement.
    succession, event : str
        The event.
    no_sooner : bool
        Else no later.
    when : datetime.date or None
        The day; None: beyond the season.
    turns : int
        More than one where a cycle of steps is gone through several times, each gaining a little;
        `when` is then the day after the last.
    """

    because: Requirement
    succession: str
    event: str
    no_sooner: bool
    when: datetime.date | None
    turns: int


@dataclass(frozen=True, slots=True)
class SeasonConflict:
    """Requirements that cannot all be met, as a proof; none of them can be left out.

    Attributes
    ----------
    successions : tuple of str
        Those that it names.
    steps : tuple of ConflictStep
        From a bound, step by step.
    broken : Requirement
        The bound that the last step breaks.
    allowed : datetime.date or None
        The day that it allows.
    sentence : str
        All of it in words. `str` gives it.
    """

    successions: tuple[str, ...]
    steps: tuple[ConflictStep, ...]
    broken: Requirement
    allowed: datetime.date | None
    sentence: str

    def __str__(self) -> str:
        return self.sentence


@dataclass(frozen=True, slots=True)
class Cure:
    """A requirement that, giving way by some days, cures a conflict.

    Attributes
    ----------
    what : Requirement
        The requirement.
    days : int
        The fewest days that do.
    sentence : str
        In words. `str` gives it.
    """

    what: Requirement
    days: int
    sentence: str

    def __str__(self) -> str:
        return self.sentence


@dataclass(frozen=True, slots=True)
class ChainEvent:
    """An event on a tightest chain.

    Attributes
    ----------
    succession, event : str
        The event.
    earliest : datetime.date
        Its first day.
    latest : datetime.date or None
        Its last day; None: nothing keeps it within the season.
    tie : Requirement
        What holds it against the event before it, or the bound that the chain begins with.
    """

    succession: str
    event: str
    earliest: datetime.date
    latest: datetime.date | None
    tie: Requirement


@dataclass(frozen=True, slots=True)
class TightestChain:
    """What leaves a decision its room, from what keeps it from its left to what from its right.

    Attributes
    ----------
    events : tuple of ChainEvent
        In order; empty when there is no chain. A chain that turns, as where plants may wait a
        little for the day of their target, meets the events behind the turn twice.
    end : Requirement
        What keeps the last from being later.
    slack : int
        Days by which all its decisions may slip together before something breaks.
    free_slack : int
        So many of them [days] without moving any other decision.
    middle : int
        Place in `events` of the decision that has so little slack.
    crosses_links : bool
        Whether it goes through more than one succession.
    """

    events: tuple[ChainEvent, ...]
    end: Requirement
    slack: int
    free_slack: int
    middle: int
    crosses_links: bool


@dataclass(frozen=True, slots=True)
class ChainInYears:
    """A tightest chain, and the season years in which it leaves a decision its room.

    Attributes
    ----------
    chain : TightestChain
        As it is in the first of these years.
    years : list of int
        Season years in which it is tight, ascending.
    slacks : list of int
        Its slack in each of them [days].
    usual_slack : int
        As much or less in half of them [days].
    """

    chain: TightestChain
    years: list[int]
    slacks: list[int]
    usual_slack: int


@dataclass(frozen=True, slots=True)
class WindowFailure:
    """A requirement that season years fail at.

    Attributes
    ----------
    broken : Requirement
        The bound that the conflict of each of them ends with.
    years : list of int
        The season years, ascending.
    """

    broken: Requirement
    years: list[int]


def requirement_of(found: Sequence[Any]) -> Requirement:
    """A requirement from the parts that the library gives."""
    return Requirement(*found)


def conflict_of(found: Sequence[Any]) -> SeasonConflict:
    """A conflict from the parts that the library gives."""
    successions, steps, broken, allowed, sentence = found
    return SeasonConflict(
        tuple(successions),
        tuple(ConflictStep(requirement_of(because), *rest) for because, *rest in steps),
        requirement_of(broken),
        allowed,
        sentence,
    )


def cure_of(found: Sequence[Any]) -> Cure:
    """A cure from the parts that the library gives."""
    what, days, sentence = found
    return Cure(requirement_of(what), days, sentence)


def chain_of(found: Sequence[Any]) -> TightestChain:
    """A chain from the parts that the library gives."""
    events, end, *rest = found
    return TightestChain(
        tuple(ChainEvent(*one, requirement_of(tie)) for *one, tie in events),
        requirement_of(end),
        *rest,
    )
