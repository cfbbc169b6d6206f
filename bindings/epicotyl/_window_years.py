"""Season: planting windows of every season year."""

from __future__ import annotations

from typing import Any

from epicotyl import _check, _core
from epicotyl._calendar import Calendar
from epicotyl._core import ChainInYears, WindowFailure
from epicotyl._docs import of_event, of_succession
from epicotyl._value import Told, Value
from epicotyl._windows import event_of


class WindowYears(Value[_core.WindowYears]):
    """Planting windows of every season year, made by `window_years`.

    A slack is always that of one and the same year. ``str(room)`` lists how much room every event
    has in the wanted share of years, and what impossible years fail at.

    Examples
    --------
    >>> room = epicotyl.windows.window_years(calendar)
    >>> room
    <WindowYears 'Marlpit 2027': 12 season years>
    """

    __slots__ = ()
    _made_by = "WindowYears are made by window_years(calendar)"

    @property
    def calendar(self) -> Calendar:
        """The calendar whose targets are kept."""
        return Calendar._of(self._held.calendar)

    years = Told[list[int]]("The season years, ascending.")

    @of_succession
    def feasible_years(self, succession: str) -> int:
        """Count the season years in which a succession, with its links, is feasible.

        Returns
        -------
        int
            0 to the number of years.

        Examples
        --------
        >>> room.feasible_years("lettuce 1")
        12
        """
        return self._held.feasible_years(_check.text(succession, "succession"))

    @of_event
    def earliest(self, succession: str, event: str) -> _check.DayArray:
        """Earliest day of an event in each season year.

        Returns
        -------
        numpy.ndarray of datetime64[D], shape (years,)
            NaT as None in `PlantingWindows.earliest`.

        Examples
        --------
        >>> room.earliest("lettuce 1", "sow").shape
        (12,)
        """
        return self._held.earliest(*event_of(succession, event))

    @of_event
    def latest(self, succession: str, event: str) -> _check.DayArray:
        """Latest day of an event in each season year.

        Returns
        -------
        numpy.ndarray of datetime64[D], shape (years,)
            NaT as None in `PlantingWindows.latest`.

        Examples
        --------
        >>> bool((room.latest("lettuce 1", "sow") >= room.earliest("lettuce 1", "sow")).all())
        True
        """
        return self._held.latest(*event_of(succession, event))

    @of_event
    def slack(self, succession: str, event: str) -> _check.FloatArray:
        """Slack of an event in each season year.

        Returns
        -------
        numpy.ndarray of float, shape (years,)
            Days; NaN where there is none.

        Examples
        --------
        >>> float(np.nanmin(room.slack("lettuce 1", "transplant")))
        0.0
        """
        return self._held.slack(*event_of(succession, event))

    def slack_in(self, succession: str, event: str, share: float) -> int | None:
        """Most days that an event may slip in a share of all season years.

        Parameters
        ----------
        succession : str
            Name or id.
        event : str
            One of its events.
        share : float
            0.5 to 1. Impossible years count as years without room.

        Returns
        -------
        int or None
            None when fewer years have a slack at all.

        Raises
        ------
        InvalidInput
            For an unknown name, or a share out of range.

        Examples
        --------
        >>> room.slack_in("lettuce 1", "transplant", 0.8)
        0
        """
        return self._held.slack_in(*event_of(succession, event), _check.number(share, "share"))

    failures = Told[list[WindowFailure]]("What impossible years fail at, most years first.")

    def tightest_chains(self, *, most: int = 1000) -> list[ChainInYears]:
        """List what leaves the decisions of the farm their room, and in which season years.

        Parameters
        ----------
        most : int, optional
            So many chains of each season year are looked at.

        Returns
        -------
        list of ChainInYears
            First those that cross links, then those within one succession; of each first what is
            tight in half of all season years or more, the least usual slack first, then the rest,
            most years first.

        Raises
        ------
        InvalidInput
            When most is below 1.
        TypeError
            When most is no whole number.

        Examples
        --------
        >>> first = room.tightest_chains()[0]
        >>> len(first.years) == len(first.slacks)
        True
        """
        return self._held.tightest_chains(_check.whole(most, "most"))

    def __repr__(self) -> str:
        return f"<WindowYears {self.calendar.plan.title!r}: {len(self.years)} season years>"

    def _parts(self) -> tuple[Any, ...]:
        return (self.calendar,)

    def _restore(self, *parts: Any) -> None:
        (calendar,) = parts
        self._held = _core.window_years(calendar._held, 0)


def window_years(calendar: Calendar, *, threads: int = 0) -> WindowYears:
    """Find the planting windows of every season year of a calendar's climate.

    Parameters
    ----------
    calendar : Calendar
        Its target days are kept.
    threads : int, optional
        0: as many as the machine has. The result does not depend on it.

    Returns
    -------
    WindowYears
        Slack and feasibility, year by year.

    Raises
    ------
    InvalidInput
        When threads is negative.
    TypeError
        When an argument is of the wrong kind.

    Examples
    --------
    >>> alone = epicotyl.windows.window_years(calendar, threads=1)
    >>> alone == epicotyl.windows.window_years(calendar)
    True
    """
    _check.instance(calendar, Calendar, "calendar")
    return WindowYears._of(_core.window_years(calendar._held, _check.whole(threads, "threads")))
