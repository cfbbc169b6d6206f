"""Space: what stands where on every day, and what is too much."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Literal, TypeAlias

from epicotyl import _check, _core
from epicotyl._calendar import Calendar
from epicotyl._core import Standing
from epicotyl._plan import season_dates
from epicotyl._prospect import Prospect
from epicotyl._result import extends
from epicotyl._value import Told, Value

if TYPE_CHECKING:
    from matplotlib.axes import Axes

RoomKind: TypeAlias = Literal["trays", "bed", "area"]

_WORDS = {"trays": "trays", "bed": "(bed)", "area": "(area)"}


@extends
class Overflow(_core.Overflow):
    __slots__ = ()

    def __repr__(self) -> str:
        return f"<Overflow {self.place!r}: {self.most:g} of {self.room:g} {_WORDS[self.kind]}>"


class Occupancy(Value[_core.Occupancy]):
    """What stands where, on every day, made by `occupancy`.

    A stage stands in its place from the day its event comes until the day of the next, the latter
    not counted. It takes whole trays and, where the plan says the area of one, an area; in a bed it
    takes a length. Lengths and areas are in the units of the plan: metres and square metres, or
    feet and square feet. ``str(occupancy)`` says how full each place is at most, and what is too
    much.

    Examples
    --------
    >>> filled
    <Occupancy 'Marlpit 2027': 2 places in 12 season years>
    >>> filled.overflows
    []
    """

    __slots__ = ("_source",)

    _source: Calendar | Prospect

    _made_by = "an Occupancy is made by occupancy(calendar or prospect)"

    @property
    def source(self) -> Calendar | Prospect:
        """The calendar or the prospect."""
        return self._source

    years = Told[list[int]]("The season years, ascending; empty for planned days.")

    @property
    def _units(self) -> str:
        return _calendar_of(self._source).plan.units

    @property
    def dates(self) -> _check.DayArray:
        """The days of the season, datetime64[D]."""
        return season_dates(_calendar_of(self._source).plan)

    def space(
        self, place: str, kind: RoomKind = "trays"
    ) -> tuple[_check.DayArray, _check.FloatArray]:
        """How much stands in a place, day by day.

        Parameters
        ----------
        place : str
            Name or id; what stands in its parts counts.
        kind : str, optional
            "trays", "bed" [m or ft, as the plan], or "area" [m² or ft²].

        Returns
        -------
        dates : numpy.ndarray of datetime64[D], shape (days,)
            The days of the season.
        filled : numpy.ndarray of float64, shape (years, days)
            Trays, or length or area in the plan's units; shape (days,) for planned days.

        Raises
        ------
        InvalidInput
            For a place that the plan does not have, and an unknown kind.

        Examples
        --------
        >>> dates, trays = filled.space("bench")
        >>> trays.shape
        (12, 365)
        """
        _check.text(kind, "kind")
        return self.dates, self._held.space(_check.text(place, "place"), kind)

    def quantile(
        self, place: str, q: float, kind: RoomKind = "trays"
    ) -> tuple[_check.DayArray, _check.FloatArray]:
        """How much stands in a place on each day in a share of the season years, at most.

        Parameters
        ----------
        place : str
            Name or id; what stands in its parts counts.
        q : float
            Share of n years, 0 to 1; of each day the k-th smallest, k = max(1, ceil(q n)).
        kind : str, optional
            "trays", "bed" [m or ft, as the plan], or "area" [m² or ft²].

        Returns
        -------
        dates : numpy.ndarray of datetime64[D], shape (days,)
            The days of the season.
        filled : numpy.ndarray of float64, shape (days,)
            Trays, or length or area in the plan's units.

        Raises
        ------
        InvalidInput
            For an unknown place or kind, and a share out of range.

        Examples
        --------
        >>> dates, length = filled.quantile("beds", 0.9, kind="bed")
        >>> float(length.max())
        0.0
        """
        _check.text(kind, "kind")
        return self.dates, self._held.quantile(
            _check.text(place, "place"), kind, _check.number(q, "q")
        )

    def room(self, place: str, kind: RoomKind = "trays") -> float | None:
        """Room that a place has.

        Parameters
        ----------
        place : str
            Name or id.
        kind : str, optional
            "trays", "bed" [m or ft, as the plan], or "area" [m² or ft²].

        Returns
        -------
        float or None
            Trays, or length or area in the plan's units; None: not counted.

        Raises
        ------
        InvalidInput
            For an unknown place or kind.

        Examples
        --------
        >>> print(filled.room("bench"))
        None
        """
        return self._held.room(_check.text(place, "place"), _check.text(kind, "kind"))

    def there(
        self, place: str, date: _check.Day, *, kind: RoomKind = "trays", year: int | None = None
    ) -> list[Standing]:
        """What stands in a place on a day, in the order in which it came.

        Parameters
        ----------
        place : str
            Name or id; what stands in its parts counts.
        date : datetime.date or numpy.datetime64
            A day of the season, on the plan's own dates.
        kind : str, optional
            "trays", "bed" [m or ft, as the plan], or "area" [m² or ft²].
        year : int, optional
            The season year; None for planned days.

        Returns
        -------
        list of Standing
            On equal days in plan order.

        Raises
        ------
        InvalidInput
            For an unknown place or kind, a day outside the season, and a year that there is not.

        Examples
        --------
        >>> filled.there("bench", datetime.date(2027, 3, 1), year=2012)
        []
        """
        return self._held.there(
            _check.text(place, "place"),
            _check.text(kind, "kind"),
            date,
            None if year is None else _check.whole(year, "year"),
        )

    overflows = Told[list[Overflow]](
        "All that is too much, by place in plan order; empty where all fits."
    )

    def plot(self, place: str, kind: RoomKind = "trays", *, ax: Axes | None = None) -> Axes:
        """Draw how full a place is, day by day, against the room it has; needs matplotlib.

        Of a prospect: the usual year (median of each day), a band from the 1st to the 9th tenth of
        the years, and the fullest year of each day as a thin line. Where more stands than fits,
        the excess of the fullest is shaded and hatched.

        Parameters
        ----------
        place : str
            Name or id; what stands in its parts counts.
        kind : str, optional
            "trays", "bed" [m or ft, as the plan], or "area" [m² or ft²].
        ax : matplotlib.axes.Axes, optional
            Where to draw; None: the current axes.

        Returns
        -------
        matplotlib.axes.Axes
            With units on both axes.

        Raises
        ------
        InvalidInput
            For an unknown place or kind.
        ImportError
            When matplotlib is missing.

        Examples
        --------
        >>> import matplotlib
        >>> matplotlib.use("agg")
        >>> filled.plot("bench").get_ylabel()
        'trays'
        """
        from epicotyl._space_plot import draw

        return draw(self, _check.text(place, "place"), kind, ax)

    def __repr__(self) -> str:
        planned = _calendar_of(self._source).plan
        places = len(planned.places)
        days = f"in {len(self.years)} season years" if self.years else "by planned days"
        return f"<Occupancy {planned.title!r}: {places} place{'' if places == 1 else 's'} {days}>"

    def _parts(self) -> tuple[Any, ...]:
        return (self._source,)

    def _restore(self, *parts: Any) -> None:
        (self._source,) = parts
        if isinstance(self._source, Calendar):
            self._held = _core.occupancy_planned(self._source._held)
        else:
            self._held = _core.occupancy_by_year(self._source._held)


def _calendar_of(source: Calendar | Prospect) -> Calendar:
    return source if isinstance(source, Calendar) else source.calendar


def occupancy(of: Calendar | Prospect) -> Occupancy:
    """Find what stands where on every day.

    Parameters
    ----------
    of : Calendar or Prospect
        A calendar gives its planned days, a prospect the days of every season year.

    Returns
    -------
    Occupancy
        Trays, length of bed and area by place and day, and what is too much.

    Raises
    ------
    TypeError
        For anything else.

    Examples
    --------
    >>> epicotyl.occupancy(calendar)
    <Occupancy 'Marlpit 2027': 2 places by planned days>
    """
    if not isinstance(of, Calendar | Prospect):
        raise TypeError(f"of: a Calendar or a Prospect is wanted, not {type(of).__name__}")
    made = Occupancy.__new__(Occupancy)
    made._restore(of)
    return made
