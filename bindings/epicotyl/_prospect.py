"""Season: what becomes of a calendar in every season year."""

from __future__ import annotations

import datetime
from typing import Any, Literal

import numpy as np
import numpy.typing as npt

from epicotyl import _check, _core
from epicotyl._by_succession import BySuccession
from epicotyl._calendar import Calendar
from epicotyl._docs import of_event, of_succession
from epicotyl._plan import Plan, season_dates
from epicotyl._reports import DamageReport, OverheldReport
from epicotyl._value import Told, Value
from epicotyl._weather import Climate


class Prospect(Value[_core.Prospect], BySuccession[_check.DayArray]):
    """What becomes of a calendar in every season year, made by `simulate`.

    ``str(prospect)`` gives a block a succession: a line for every event, with its planned day, the
    early, usual and late one, and the years in which it has come in time; then loss and damage by
    cold, nights to cover or heat, and why it is planned so.
    ``prospect[succession]`` holds the days of every event, and going through it gives the names of
    the successions.

    Examples
    --------
    >>> prospect
    <Prospect 'Marlpit 2027': 8 events in 12 season years>
    >>> prospect["lettuce 1"]["transplant"].size
    12
    """

    __slots__ = ()
    _made_by = "a Prospect is made by simulate(calendar, climate)"

    @property
    def calendar(self) -> Calendar:
        """The calendar."""
        return Calendar._of(self._held.calendar)

    @property
    def climate(self) -> Climate:
        """The climate whose season years were gone through."""
        return Climate._of(self._held.climate)

    origin = Told[str](
        'What sets these years apart from a station\'s: "made from normals"; may be empty.'
    )
    years = Told[list[int]]("The season years, ascending.")
    events = Told[list[tuple[str, str]]](
        "Every event as (succession, event), in plan order: the rows of `days_all`."
    )

    @property
    def days_all(self) -> _check.DayArray:
        """Days on the plan's own dates, datetime64[D], shape (events, years).

        NaT is never: not reached in the season, or lost to cold before the harvest (`lost`).
        """
        return self._held.days_all

    @of_event
    def days(self, succession: str, event: str) -> _check.DayArray:
        """Days of one event, one a season year, on the plan's own dates.

        Returns
        -------
        numpy.ndarray of datetime64[D], shape (years,)
            NaT where the event is not reached, or is one of harvest and the batch is lost.

        Examples
        --------
        >>> prospect.days("lettuce 1", "first_harvest").shape
        (12,)
        """
        return self._held.days(_check.text(succession, "succession"), _check.text(event, "event"))

    def quantile(self, succession: str, event: str, q: float) -> datetime.date | None:
        """Day by which an event comes in a share of the season years, without averaging.

        Parameters
        ----------
        succession : str
            Name or id.
        event : str
            One of its events.
        q : float
            Share of n years, 0 to 1; the k-th smallest day is given, k = max(1, ceil(q n)).

        Returns
        -------
        datetime.date or None
            None when the k-th smallest is never.

        Raises
        ------
        InvalidInput
            For an unknown name, or a share out of range.

        Examples
        --------
        >>> prospect.quantile("lettuce 1", "first_harvest", 0.5)
        datetime.date(2027, 5, 23)
        """
        return self._held.quantile(
            _check.text(succession, "succession"),
            _check.text(event, "event"),
            _check.number(q, "q"),
        )

    def chance_by(self, succession: str, event: str, date: _check.Day) -> float:
        """Share of season years in which an event comes on a day or before.

        Parameters
        ----------
        succession : str
            Name or id.
        event : str
            One of its events.
        date : datetime.date or numpy.datetime64
            The day.

        Returns
        -------
        float
            0 to 1.

        Raises
        ------
        InvalidInput
            For a succession or event that the plan does not have.

        Examples
        --------
        >>> prospect.chance_by("lettuce 1", "first_harvest", datetime.date(2027, 7, 1))
        1.0
        """
        return self._held.chance_by(
            _check.text(succession, "succession"), _check.text(event, "event"), date
        )

    @of_succession
    def lost(self, succession: str) -> _check.DayArray:
        """Night that loses a batch to cold before its harvest, one a season year.

        It is the first night at or below the limit of the stage that stands there, or at or below
        the ``lost_at`` of stage or crop. In a year in which a batch is lost, `days` of its first
        harvest and of all events behind it are NaT, and with them whatever is made of them; its
        place is free from the next day. What waits for it, and the days of the calendar, go by the
        days of a batch that lives.

        Returns
        -------
        numpy.ndarray of datetime64[D], shape (years,)
            On the plan's own dates; NaT where it lives.

        Examples
        --------
        >>> int(np.count_nonzero(~np.isnat(prospect.lost("lettuce 1"))))
        0
        """
        return self._held.lost(_check.text(succession, "succession"))

    def damage(self, succession: str, event: str | None = None) -> DamageReport:
        """Nights at or below the limit of the stage that stands there.

        Parameters
        ----------
        succession : str
            Name or id.
        event : str, optional
            The stage that this event begins. None: all stages.

        Returns
        -------
        DamageReport
            Counted over season years.

        Raises
        ------
        InvalidInput
            For a succession or event that the plan does not have.

        Examples
        --------
        >>> prospect.damage("lettuce 1")
        <DamageReport 0 of 12 years>
        """
        return self._held.damage(*_stage(succession, event))

    def too_hot(self, succession: str, event: str | None = None) -> DamageReport:
        """Days whose maximum is at or above the ``too_hot`` of the stage that stands there.

        Parameters
        ----------
        succession : str
            Name or id.
        event : str, optional
            The stage that this event begins. None: all stages.

        Returns
        -------
        DamageReport
            Counted over season years; its margin is the limit less the highest maximum.

        Raises
        ------
        InvalidInput
            For a succession or event that the plan does not have.

        Examples
        --------
        >>> prospect.too_hot("lettuce 1", "transplant").share
        0.0
        """
        return self._held.too_hot(*_stage(succession, event))

    @of_succession
    def overheld(self, succession: str) -> OverheldReport:
        """Stages held longer than their ``hold``.

        Returns
        -------
        OverheldReport
            Counted over season years.

        Examples
        --------
        >>> prospect.overheld("lettuce 1")
        <OverheldReport 0 of 12 years>
        """
        return self._held.overheld(_check.text(succession, "succession"))

    def nights_to_act(
        self, place: str | None = None, succession: str | None = None
    ) -> npt.NDArray[np.intc]:
        """Nights on which something is to be done against the cold, each season year.

        One night in one place counts once, however many successions it is for. A heater or a cover
        can fail on the night it is needed: `nights_to_act_text` has the cautions with the number.

        Parameters
        ----------
        place : str, optional
            Name or id. None: in all places.
        succession : str, optional
            Name or id. None: for all of them.

        Returns
        -------
        numpy.ndarray of int, shape (years,)
            Nights.

        Raises
        ------
        InvalidInput
            For a place or succession that the plan does not have.

        Examples
        --------
        >>> int(prospect.nights_to_act("bench").max())
        0
        """
        return self._held.nights_to_act(
            None if place is None else _check.text(place, "place"),
            None if succession is None else _check.text(succession, "succession"),
        )

    def nights_to_act_text(self, place: str | None = None, succession: str | None = None) -> str:
        """Nights to cover or heat in the usual year and in 1 year in 10, with the cautions.

        Parameters
        ----------
        place, succession : str, optional
            As for `nights_to_act`.

        Returns
        -------
        str
            A sentence, and a line for each caution: those of heaters, mats, lamps and covers where
            the plan has such, and those of cold.

        Raises
        ------
        InvalidInput
            For a place or succession that the plan does not have.

        Examples
        --------
        >>> print(prospect.nights_to_act_text("bench").splitlines()[0])
        nights to cover or heat in bench: none, in 9 years in 10
        """
        return self._held.nights_to_act_text(
            None if place is None else _check.text(place, "place"),
            None if succession is None else _check.text(succession, "succession"),
        )

    def space(
        self, place: str, kind: Literal["trays", "bed", "area"] = "trays"
    ) -> tuple[_check.DayArray, _check.FloatArray]:
        """How much stands in a place, day by day and year by year; see `occupancy` for more.

        Parameters
        ----------
        place : str
            Name or id; what stands in its parts counts.
        kind : str, optional
            "trays", "bed" [m or ft, as the plan], or "area" [m² or ft²].

        Returns
        -------
        dates : numpy.ndarray of datetime64[D], shape (days,)
            The days of the season, on the plan's own dates.
        filled : numpy.ndarray of float64, shape (years, days)
            Trays, or length or area in the plan's units.

        Raises
        ------
        InvalidInput
            For a place that the plan does not have, and an unknown kind.

        Examples
        --------
        >>> dates, trays = prospect.space("bench")
        >>> trays.shape
        (12, 365)
        """
        _check.text(kind, "kind")
        filled = _core.occupancy_by_year(self._held).space(_check.text(place, "place"), kind)
        return season_dates(self.calendar.plan), filled

    def __repr__(self) -> str:
        return (
            f"<Prospect {self.calendar.plan.title!r}: {len(self.events)} events in "
            f"{len(self.years)} season years>"
        )

    def _planned(self) -> Plan:
        return self.calendar.plan

    def _each(self, succession: str, event: str) -> _check.DayArray:
        return self.days(succession, event)

    def _parts(self) -> tuple[Any, ...]:
        calendar, climate = self.calendar, self.climate
        # Mostly the climate is the calendar's own, and need not be said twice.
        return (calendar, None if climate == calendar.climate else climate)

    def _restore(self, *parts: Any) -> None:
        calendar, climate = parts
        under = calendar.climate if climate is None else climate
        self._held = _core.simulate(calendar._held, under._held, 0)


def simulate(calendar: Calendar, climate: Climate, *, threads: int = 0) -> Prospect:
    """Go through every season year of a climate with the planned days of a calendar.

    Parameters
    ----------
    calendar : Calendar
        Its sowings, the days of decisions aimed at, and its bounds are kept, also under another
        climate than its own.
    climate : Climate
        Season years with the plan's season start, length and latitude.
    threads : int, optional
        0: as many as the machine has. The result does not depend on it.

    Returns
    -------
    Prospect
        The day of every event in every season year.

    Raises
    ------
    InvalidInput
        When plan and climate differ, or threads is negative.
    TypeError
        When an argument is of the wrong kind.

    Examples
    --------
    >>> epicotyl.simulate(calendar, climate, threads=2) == prospect
    True
    """
    _check.instance(calendar, Calendar, "calendar")
    _check.instance(climate, Climate, "climate")
    if _check.whole(threads, "threads") < 0:
        _core.refuse(
            code="threads.negative",
            field="threads",
            value=str(threads),
            bound="0 or more",
            problem=f"{threads} is negative",
            remedy="give 0 for as many as the machine has",
        )
    return Prospect._of(_core.simulate(calendar._held, climate._held, int(threads)))


def _stage(succession: str, event: str | None) -> tuple[str, str | None]:
    return (
        _check.text(succession, "succession"),
        None if event is None else _check.text(event, "event"),
    )
