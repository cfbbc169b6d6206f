"""Explain: the chain of reasons behind a day, behind a window, and behind no days at all."""

from __future__ import annotations

from dataclasses import dataclass, field

from epicotyl import _check, _core
from epicotyl._calendar import Calendar
from epicotyl._reason import Reason
from epicotyl._requirement import (
    Cure,
    SeasonConflict,
    WindowFailure,
    conflict_of,
    cure_of,
    requirement_of,
)
from epicotyl._windows import PlantingWindows


def explain(calendar: Calendar | PlantingWindows, succession: str, event: str) -> list[Reason]:
    """Say why an event is planned for its day, or why its window is what it is.

    Parameters
    ----------
    calendar : Calendar or PlantingWindows
        A calendar, whose planned day is explained, or the windows of one season year, whose
        earliest and latest day are.
    succession : str
        Name or id.
    event : str
        One of its events.

    Returns
    -------
    list of Reason
        Of a calendar: the first binds the day asked about; those that follow lead back from it; or
        why there is no day. Of windows: ``"window"`` with both days and the room between them, then
        ``"window.earliest.KIND"`` back to the bound that keeps it from being earlier and
        ``"window.latest.KIND"`` on to the one that keeps it from being later, KIND as in
        `Requirement`; of an event that the season does not reach ``"window.not_in_season"``; where
        there is no window the steps of the conflict (``"conflict.KIND"``, ``"conflict.broken"``).
        Values of windows name ``field`` and ``line`` of the plan.

    Raises
    ------
    InvalidInput
        For a succession or event that the plan does not have.

    Examples
    --------
    >>> epicotyl.explain(calendar, "lettuce 1", "sow")[0].code
    'sow.latest'
    >>> epicotyl.explain(windows, "lettuce 2", "first_harvest")[-1].code
    'window.latest.target'
    """
    name = _check.text(succession, "succession")
    word = _check.text(event, "event")
    if isinstance(calendar, PlantingWindows):
        found = _core.explain_windows(calendar._held, name, word)
    else:
        _check.instance(calendar, Calendar, "calendar")
        found = _core.explain(calendar._held, name, word)
    return [Reason(*one) for one in found]


@dataclass(frozen=True, slots=True)
class UnresolvedConflict:
    """Why too few season years of a succession are good, and what would help.

    Attributes
    ----------
    succession : str
        Whose requirements they are: the succession asked about, or the one without days that it
        waits for.
    years, needed, possible : int
        Season years; how many of them must be good; how many can be.
    failures : tuple of WindowFailure
        What the others fail at, most years first.
    year : int
        The season year that is told.
    proof : SeasonConflict
        Of that year; it names nothing that can be left out.
    cures : tuple of Cure
        Each alone gives the succession its days when it is typed; fewest days first.
    sentence : str
        All of it in words. `str` gives it.
    """

    succession: str
    years: int
    needed: int
    possible: int
    failures: tuple[WindowFailure, ...] = field(hash=False)
    year: int
    proof: SeasonConflict
    cures: tuple[Cure, ...]
    sentence: str

    def __str__(self) -> str:
        return self.sentence


def why_unresolved(calendar: Calendar, succession: str) -> UnresolvedConflict | None:
    """Say why a succession of a calendar has no days, as a proof, and what would cure it.

    Requirements are those that `schedule` counts; a ``hold`` and a ``within``, which it reports and
    does not enforce, are not among them. It is found when it is asked for, which takes as long as
    some schedules do.

    Parameters
    ----------
    calendar : Calendar
        The calendar.
    succession : str
        Name or id.

    Returns
    -------
    UnresolvedConflict or None
        None where the succession has days; where no requirements conflict, because a rule gives no
        day, links go in a circle or the target lies after the season (`Calendar.unresolved` says
        so); and where each year by itself could be met but no one sowing day in enough of them.

    Raises
    ------
    InvalidInput
        For a succession that the plan does not have.

    Examples
    --------
    >>> hasty = plan.with_not_after("lettuce 1", transplant=datetime.date(2027, 1, 15))
    >>> why = epicotyl.season.why_unresolved(epicotyl.schedule(hasty, climate), "lettuce 1")
    >>> why.possible, why.needed
    (0, 10)
    >>> print(why.cures[0])
    allow transplant of "lettuce 1" 63 days later
    """
    _check.instance(calendar, Calendar, "calendar")
    found = _core.why_unresolved(calendar._held, _check.text(succession, "succession"))
    if found is None:
        return None
    name, years, needed, possible, failures, year, proof, cures, sentence = found
    return UnresolvedConflict(
        name,
        years,
        needed,
        possible,
        tuple(WindowFailure(requirement_of(one), of) for one, of in failures),
        year,
        conflict_of(proof),
        tuple(cure_of(one) for one in cures),
        sentence,
    )
