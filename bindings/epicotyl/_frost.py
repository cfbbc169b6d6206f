"""Frost: the freeze dates of every year, and the day for a chance."""

from __future__ import annotations

import datetime
from typing import Any, Literal, NamedTuple, TypeAlias

from epicotyl import _check, _core
from epicotyl._value import Value
from epicotyl._weather import DailyRecord

Estimator: TypeAlias = Literal["fitted", "empirical"]


class FreezeYear(NamedTuple):
    """The freeze dates of the two halves that begin in one year."""

    year: int
    """The year."""
    last: datetime.date | None
    """Last freeze of the cold-to-warm half; None when there was none."""
    first: datetime.date | None
    """First freeze of the warm-to-cold half; None when there was none."""
    last_known: bool
    """False when the cold-to-warm half is not used: it reaches out of the record, or has a gap."""
    first_known: bool
    """False when the warm-to-cold half is not used."""


class FreezeRisk(Value[_core.FreezeRisk]):
    """The chance of a freeze, and the day for a chance.

    A night freezes when its minimum is at or below the threshold. The year is parted into a
    cold-to-warm half (1 January – 31 July in the north, 1 July – 31 January in the south), of which
    the last freeze counts, and the rest, of which the first does. The latest 30 years are asked.

    The direction is in the name: a small ``chance_later`` gives a late, safe day in spring, a small
    ``chance_earlier`` an early, safe day in autumn. Beware the official sense, in which a "90 %"
    spring date is an early one.

    Parameters
    ----------
    record : DailyRecord
        The station.
    threshold : float
        A night at or below it is a freeze [°C].
    estimator : {"fitted", "empirical"}, optional
        "fitted": a normal distribution of the dates, mixed with the share of years that had one.
        "empirical": the dates themselves in order, the i-th of n at i / (n + 1).
    latitude : float, optional
        Degrees north; below 0 the halves are those of the south.

    Raises
    ------
    InvalidInput
        When a value is out of range or no half year can be used.
    TypeError
        When an argument is of the wrong kind.

    References
    ----------
    Thom and Shaw 1958, Climatological analysis of freeze data; Weibull 1939 (both from memory).

    Examples
    --------
    >>> risk = epicotyl.FreezeRisk(record, 0.0, estimator="empirical", latitude=51.9)
    >>> risk.last_freeze(0.5, year=2027)
    datetime.date(2027, 3, 6)
    """

    __slots__ = ("_given",)

    _given: tuple[DailyRecord, float, str, float]

    def __init__(
        self,
        record: DailyRecord,
        threshold: float,
        *,
        estimator: Estimator = "fitted",
        latitude: float = 45.0,
    ) -> None:
        if not isinstance(record, DailyRecord):
            raise TypeError(f"record: a DailyRecord is wanted, not {type(record).__name__}")
        self._restore(
            record,
            _check.number(threshold, "threshold"),
            _check.text(estimator, "estimator"),
            _check.number(latitude, "latitude"),
        )

    def last_freeze(self, chance_later: float, *, year: int | None = None) -> datetime.date | None:
        """Day on or after which a freeze of the cold-to-warm half comes with a chance.

        Parameters
        ----------
        chance_later : float
            Share of years, 0 to 1; 0.1 is "1 year in 10".
        year : int, optional
            Year in which the half begins. None: the latest year of `dates`. In leap years a day
            after February bears a date one earlier.

        Returns
        -------
        datetime.date or None
            None when there is no such day: the chance is not reached, or the record is too short
            to tell.

        Raises
        ------
        InvalidInput
            When the chance is out of range, or no cold-to-warm half can be used.

        Examples
        --------
        >>> risk.last_freeze(0.9, year=2027) < risk.last_freeze(0.1, year=2027)
        True
        """
        return self._held.last_freeze(_check.number(chance_later, "chance_later"), self._year(year))

    def first_freeze(
        self, chance_earlier: float, *, year: int | None = None
    ) -> datetime.date | None:
        """Day on or before which a freeze of the warm-to-cold half comes with a chance.

        Parameters
        ----------
        chance_earlier : float
            Share of years, 0 to 1; 0.1 is "1 year in 10".
        year : int, optional
            Year in which the half begins. None: the latest year of `dates`.

        Returns
        -------
        datetime.date or None
            None when there is no such day.

        Raises
        ------
        InvalidInput
            When the chance is out of range, or no warm-to-cold half can be used.

        Examples
        --------
        >>> risk.first_freeze(0.1, year=2027) < risk.first_freeze(0.9, year=2027)
        True
        """
        return self._held.first_freeze(
            _check.number(chance_earlier, "chance_earlier"), self._year(year)
        )

    def frost_free_days(self, chance_longer: float) -> float | None:
        """Days strictly between the two freezes that are reached or exceeded with a chance.

        Parameters
        ----------
        chance_longer : float
            Share of years, 0 to 1.

        Returns
        -------
        float or None
            Days; None when there is no such number.

        Raises
        ------
        InvalidInput
            When the chance is out of range, or no pair of halves can be used.

        Examples
        --------
        >>> risk.frost_free_days(0.5)
        277.0
        """
        return self._held.frost_free_days(_check.number(chance_longer, "chance_longer"))

    def chance_later(self, date: _check.Day) -> float:
        """Chance of a freeze on a day of the cold-to-warm half, or after it in that half.

        Parameters
        ----------
        date : datetime.date or numpy.datetime64
            A day of any year.

        Returns
        -------
        float
            Share of years, 0 to 1.

        Raises
        ------
        InvalidInput
            For a day outside every cold-to-warm half.

        Examples
        --------
        >>> risk.chance_later(datetime.date(2027, 6, 1))
        0.0
        """
        return self._held.chance_later(date)

    def chance_earlier(self, date: _check.Day) -> float:
        """Chance of a freeze on a day of the warm-to-cold half, or before it in that half.

        Parameters
        ----------
        date : datetime.date or numpy.datetime64
            A day of any year.

        Returns
        -------
        float
            Share of years, 0 to 1.

        Raises
        ------
        InvalidInput
            For a day outside every warm-to-cold half.

        Examples
        --------
        >>> risk.chance_earlier(datetime.date(2027, 9, 1))
        0.0
        """
        return self._held.chance_earlier(date)

    @property
    def dates(self) -> list[FreezeYear]:
        """The freeze dates of every year asked for, ascending."""
        return [FreezeYear(*one) for one in self._held.dates]

    @property
    def left_out(self) -> list[str]:
        """Halves that are not used, each with its reason in words."""
        return self._held.left_out

    @property
    def warnings(self) -> list[str]:
        """What a reader should know: few years, a curve fitted to few dates."""
        return self._held.warnings

    @property
    def record(self) -> DailyRecord:
        """The record."""
        return self._given[0]

    @property
    def threshold(self) -> float:
        """A night at or below it is a freeze [°C]."""
        return self._given[1]

    @property
    def estimator(self) -> str:
        """How chances are reckoned: "fitted" or "empirical"."""
        return self._given[2]

    @property
    def latitude(self) -> float:
        """Degrees north."""
        return self._given[3]

    def _year(self, year: int | None) -> int:
        if year is None:
            return self._held.dates[-1][0]
        if not 1 <= _check.whole(year, "year") <= 9998:
            _core.refuse(
                code="year.out_of_range",
                field="year",
                value=str(year),
                bound="1 to 9998",
                problem=f"{year} is out of range",
                remedy="give the year in which the half begins",
            )
        return int(year)

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, FreezeRisk):
            return NotImplemented
        return self._given == other._given

    def __hash__(self) -> int:
        return hash(self._given)

    def __repr__(self) -> str:
        return f"<FreezeRisk {self}>"

    def _parts(self) -> tuple[Any, ...]:
        return self._given

    def _restore(self, *parts: Any) -> None:
        record, threshold, estimator, latitude = parts
        self._given = (record, threshold, estimator, latitude)
        self._held = _core.FreezeRisk(record._held, threshold, estimator, latitude)
