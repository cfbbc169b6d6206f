"""Season: planting windows of one season year."""

from __future__ import annotations

import datetime
from typing import Any, TypeAlias

from epicotyl import _check, _core
from epicotyl._by_succession import BySuccession
from epicotyl._calendar import Calendar, schedule
from epicotyl._core import Cure, SeasonConflict, TightestChain
from epicotyl._docs import of_event, of_succession
from epicotyl._errors import Obstacle
from epicotyl._plan import Plan
from epicotyl._value import Told, Value
from epicotyl._weather import Climate

#: First and last day on which an event can fall.
Window: TypeAlias = tuple[datetime.date | None, datetime.date | None]


class PlantingWindows(Value[_core.PlantingWindows], BySuccession[Window]):
    """The earliest and the latest day of every event in one season year.

    Made by `planting_windows`. The year's weather is known: windows say what was tight and what
    pushed what. They are no plan. All solutions lie between the earliest and the latest, but not
    every choice between them is one. ``str(windows)`` lists them all, ``windows[succession]`` has
    the first and last day of every event, and going through them gives the names of the
    successions.

    Examples
    --------
    >>> windows = epicotyl.planting_windows(plan, climate, climate.years[0])
    >>> earliest, latest = windows["lettuce 1"]["sow"]
    >>> earliest == windows.earliest("lettuce 1", "sow") <= latest
    True
    """

    __slots__ = ()
    _made_by = "PlantingWindows are made by planting_windows(plan, climate, year)"

    year = Told[int]("The season year, named by the year in which it begins.")

    @property
    def calendar(self) -> Calendar:
        """The calendar whose targets are kept."""
        return Calendar._of(self._held.calendar)

    feasible = Told[bool]("Whether every requirement of every succession can be met in this year.")

    @of_succession
    def is_feasible(self, succession: str) -> bool:
        """Tell whether one succession, with all that it is linked with, can have its way.

        Returns
        -------
        bool
            False where a conflict names its group, or a rule of it gives no day.

        Examples
        --------
        >>> windows.is_feasible("lettuce 1")
        True
        """
        return self._held.is_feasible(_check.text(succession, "succession"))

    @of_event
    def earliest(self, succession: str, event: str) -> datetime.date | None:
        """First day on which an event can fall.

        Returns
        -------
        datetime.date or None
            None where the succession is not feasible or the season does not reach the event.

        Examples
        --------
        >>> windows.earliest("lettuce 1", "sow")
        datetime.date(2027, 1, 1)
        """
        return self._held.earliest(*event_of(succession, event))

    @of_event
    def latest(self, succession: str, event: str) -> datetime.date | None:
        """Last day on which an event can fall.

        Returns
        -------
        datetime.date or None
            None as in `earliest`, and where nothing bounds the event.

        Examples
        --------
        >>> windows.latest("lettuce 1", "transplant")
        datetime.date(2027, 3, 19)
        """
        return self._held.latest(*event_of(succession, event))

    @of_event
    def slack(self, succession: str, event: str) -> int | None:
        """Days between earliest and latest.

        Returns
        -------
        int or None
            How far the event may slip if all before and after it gives way; None where there is
            no earliest or no latest day.

        Examples
        --------
        >>> windows.slack("lettuce 1", "transplant")
        0
        """
        return self._held.slack(*event_of(succession, event))

    @of_event
    def free_slack(self, succession: str, event: str) -> int | None:
        """Days a decision may slip with every other decision on its own earliest day.

        Returns
        -------
        int or None
            At most `slack`; 0 for outcomes, which nobody moves; None where `slack` is.

        Examples
        --------
        >>> windows.free_slack("lettuce 1", "sow") <= windows.slack("lettuce 1", "sow")
        True
        """
        return self._held.free_slack(*event_of(succession, event))

    def tightest_chains(self, *, most: int = 1000) -> list[TightestChain]:
        """List what leaves the decisions of the farm their room, ties and all.

        Parameters
        ----------
        most : int, optional
            Where links run side by side ties multiply; the list ends with so many.

        Returns
        -------
        list of TightestChain
            First those that cross links, then those within one succession; of each the least
            slack first, then the least free slack. A decision that its own bounds fix has no choice
            and makes no chain, nor do the plants' own events that follow from it.

        Raises
        ------
        InvalidInput
            When most is below 1.
        TypeError
            When most is no whole number.

        Examples
        --------
        >>> chains = windows.tightest_chains()
        >>> chains[0].slack <= chains[-1].slack
        True
        """
        return self._held.tightest_chains(_check.whole(most, "most"))

    @of_event
    def chain_of(self, succession: str, event: str) -> TightestChain:
        """Tell what holds an event: what keeps it from being earlier, and from being later.

        Returns
        -------
        TightestChain
            The tightest through it; of ties the shortest. Empty where `slack` is None.

        Examples
        --------
        >>> [link.event for link in windows.chain_of("lettuce 1", "transplant").events]
        ['transplant']
        """
        return self._held.chain_of(*event_of(succession, event))

    conflicts = Told[list[SeasonConflict]](
        "Why the year is impossible: one conflict for each linked group that has one."
    )

    @property
    def conflict(self) -> SeasonConflict | None:
        """The first of `conflicts`; None when there is none."""
        found = self.conflicts
        return found[0] if found else None

    left_out = Told[list[Obstacle]](
        "Successions without windows because a rule of theirs gives no day at all."
    )

    def cures(self, conflict: SeasonConflict) -> list[Cure]:
        """Find the requirements that, each alone, would cure a conflict by giving way.

        Parameters
        ----------
        conflict : SeasonConflict
            One of `conflicts`.

        Returns
        -------
        list of Cure
            With the smallest number of days for each, fewest first.

        Raises
        ------
        InvalidInput
            For a conflict of other windows.

        Examples
        --------
        >>> [windows.cures(one) for one in windows.conflicts]
        []
        """
        _check.instance(conflict, SeasonConflict, "conflict")
        known = self.conflicts
        if conflict not in known:
            _core.refuse(
                code="windows.foreign_conflict",
                field="conflict",
                value=conflict.sentence,
                bound="",
                problem="these windows have no such conflict",
                remedy="give one of those that conflicts lists",
            )
        return self._held.cures(known.index(conflict))

    def to_dot(self) -> str:
        """Write the network as DOT text: events with their windows; tightest chains bold.

        Returns
        -------
        str
            For any program that draws graphs in the DOT language.

        Examples
        --------
        >>> windows.to_dot().startswith("digraph")
        True
        """
        return self._held.to_dot()

    def __repr__(self) -> str:
        count = len(self.conflicts) + len(self.left_out)
        state = "feasible" if self.feasible else f"{count} in conflict"
        return f"<PlantingWindows {self.calendar.plan.title!r}: season year {self.year}, {state}>"

    def _planned(self) -> Plan:
        return self.calendar.plan

    def _each(self, succession: str, event: str) -> Window:
        return self.earliest(succession, event), self.latest(succession, event)

    def _parts(self) -> tuple[Any, ...]:
        return (self.calendar, self.year)

    def _restore(self, *parts: Any) -> None:
        calendar, year = parts
        self._held = _core.planting_windows(calendar._held, year)


def planting_windows(
    plan: Plan, climate: Climate, year: int, *, reliability: float | None = None
) -> PlantingWindows:
    """Find the earliest and the latest day of every event in one season year.

    Parameters
    ----------
    plan : Plan
        The plan.
    climate : Climate
        Season years with the plan's season start, length and latitude.
    year : int
        One of ``climate.years``.
    reliability : float, optional
        Of the calendar whose target days are kept, as in `schedule`.

    Returns
    -------
    PlantingWindows
        The windows, or why there are none.

    Raises
    ------
    InvalidInput
        For a year that the climate does not have; what `schedule` refuses.
    TypeError
        When an argument is of the wrong kind.

    Examples
    --------
    >>> epicotyl.planting_windows(plan, climate, climate.years[0]).feasible
    True
    """
    return windows_of(schedule(plan, climate, reliability=reliability), year)


def windows_of(calendar: Calendar, year: int) -> PlantingWindows:
    """The windows of one season year around the target days of a calendar."""
    return PlantingWindows._of(_core.planting_windows(calendar._held, _check.whole(year, "year")))


def event_of(succession: str, event: str) -> tuple[str, str]:
    """Both names, checked."""
    return (_check.text(succession, "succession"), _check.text(event, "event"))
