"""Explain: the chain of reasons behind a day, behind a window, and behind no days at all."""

from __future__ import annotations

from epicotyl import _check, _core
from epicotyl._calendar import Calendar
from epicotyl._core import Reason, UnresolvedConflict
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
        return _core.explain_windows(calendar._held, name, word)
    _check.instance(calendar, Calendar, "calendar")
    return _core.explain(calendar._held, name, word)


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
    return _core.why_unresolved(calendar._held, _check.text(succession, "succession"))
