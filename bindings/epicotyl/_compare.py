"""Season: two calendars side by side."""

from __future__ import annotations

from epicotyl import _check, _core
from epicotyl._calendar import Calendar
from epicotyl._core import CalendarComparison
from epicotyl._result import extends


@extends
class MovedEvent(_core.MovedEvent):
    __slots__ = ()

    @property
    def days(self) -> int | None:
        """Days later, negative when earlier; None where either day is."""
        if self.before is None or self.after is None:
            return None
        return (self.after - self.before).days


def compare(before: Calendar, after: Calendar) -> CalendarComparison:
    """Say what moved between two calendars, and which changed input moved it.

    Every input that differs is tried alone on the first calendar, which costs one `schedule` each.
    Titles are no inputs, and a plan in other units is no other plan.

    Parameters
    ----------
    before, after : Calendar
        Events are met by the names of succession and event.

    Returns
    -------
    CalendarComparison
        ``str(comparison)`` is a line for each event that moved, then for each input.

    Raises
    ------
    TypeError
        When an argument is no Calendar.

    Examples
    --------
    >>> tables = plan.to_dict()
    >>> tables["succession"][0]["target"]["from"] = datetime.date(2027, 3, 26)
    >>> later = epicotyl.schedule(epicotyl.plan(tables), climate)
    >>> found = epicotyl.compare(calendar, later)
    >>> [one.field for one in found.inputs]
    ['succession."lettuce 1".target']
    >>> found.moved[0].days
    7
    """
    _check.instance(before, Calendar, "before")
    _check.instance(after, Calendar, "after")
    return _core.compare(before._held, after._held)
