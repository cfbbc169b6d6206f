"""Season: two calendars side by side."""

from __future__ import annotations

import datetime
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

from epicotyl import _check, _core
from epicotyl._calendar import Calendar


@dataclass(frozen=True, slots=True)
class MovedEvent:
    """An event whose planned day differs between two calendars.

    Attributes
    ----------
    succession, event : str
        The event.
    before, after : datetime.date or None
        Its days; None: it has none, or is not in that plan.
    """

    succession: str
    event: str
    before: datetime.date | None
    after: datetime.date | None

    @property
    def days(self) -> int | None:
        """Days later, negative when sooner; None where either day is."""
        if self.before is None or self.after is None:
            return None
        return (self.after - self.before).days


@dataclass(frozen=True, slots=True)
class ChangedInput:
    """An input that differs between two calendars.

    Attributes
    ----------
    field : str
        As in a plan file, with successions by name and stages by the event that begins them, such
        as ``succession."tomato 1".target``; ``season years``; ``reliability``.
    before, after : str
        As in a plan file; empty: it is not there.
    stands_alone : bool
        Whether the first plan can be made with this change alone.
    moves : list of MovedEvent
        What it moves alone, in plan order.
    """

    field: str
    before: str
    after: str
    stands_alone: bool
    moves: list[MovedEvent]


@dataclass(frozen=True, slots=True)
class CalendarComparison:
    """What moved between two calendars, and which changed input moved it.

    Attributes
    ----------
    moved : list of MovedEvent
        In the order of the first plan, then the second.
    inputs : list of ChangedInput
        In the order of the plan file.
    together : list of MovedEvent
        Those of `moved` that no input moves alone.
    """

    moved: list[MovedEvent]
    inputs: list[ChangedInput]
    together: list[MovedEvent]
    _text: str = field(repr=False, compare=False)

    def __str__(self) -> str:
        return self._text


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
    moved, inputs, together, text = _core.compare(before._held, after._held)
    return CalendarComparison(
        _events(moved),
        [ChangedInput(*rest, _events(moves)) for *rest, moves in inputs],
        _events(together),
        text,
    )


def _events(found: Sequence[Any]) -> list[MovedEvent]:
    return [MovedEvent(*one) for one in found]
