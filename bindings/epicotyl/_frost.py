"""Frost: the day for a chance, and the chance of a day."""

from __future__ import annotations

import datetime

from epicotyl import _asked, _check
from epicotyl._freeze_answer import CountedChance, FreezeAnswer
from epicotyl._freeze_dates import Comparison, Estimator, FreezeDates, Halves, options_of
from epicotyl._record import DailyRecord, need_record
from epicotyl._units import Units, celsius


class FreezeRisk(FreezeDates):
    """The chance of a freeze, and the day for a chance.

    A night freezes when its minimum is at or below the threshold. The year is parted into a
    cold-to-warm half, of which the last freeze counts, and the rest, the warm-to-cold half, of
    which the first does. Each half belongs to the year in which it begins.

    The direction is in the name: a small ``chance_later`` gives a late, safe day in spring, a small
    ``chance_earlier`` an early, safe day in autumn. Beware the official sense, in which a "90 %"
    spring date is an early one. Chances are shares of years, 0 to 1: 0.1 is "1 year in 10".

    Dates and chances are those of a station's shelter in past years: under a clear sky leaves are 1
    to 3 °C colder, and a garden may be colder than its station. ``str`` of an answer
    (`last_freeze_answer` and the like) and the sheet of a `FreezeTable` print these cautions.

    Every question raises `InvalidInput` for a chance or a year out of range. All but the answers
    (`last_freeze_answer` and the like) also raise it when no half of the kind asked for was used.

    Parameters
    ----------
    record : DailyRecord
        The station.
    threshold : float
        A night at or below it is a freeze [°C, or °F by `units`].
    estimator : {"fitted", "empirical"}, optional
        "fitted": a normal distribution of the dates, mixed with the share of years that had one
        [thom1958]. "empirical": the dates themselves in order, the i-th of n at i / (n + 1)
        [weibull1939].
    latitude : float, optional
        Degrees north. The cold-to-warm half is 1 January – 31 July at 0 and above, 1 July –
        31 January below.
    halves : (month-day, month-day), optional
        First and last day of the cold-to-warm half, instead of those of the latitude; each is
        (month, day), "MM-DD", or a date of which month and day count.
    comparison : {"at_or_below", "below"}, optional
        When a minimum counts as a freeze.
    max_gap : int, optional
        Longest gap that is filled on a straight line [days], 0 to 31. A half with a longer one is
        not used: its freeze could lie in it.
    years : int, (int, int) or "all", optional
        Which years are asked: the latest so many of which both halves lie within the record, those
        between two (both included), or every year of which at least one half does.
    units : {"metric", "us"}, optional
        Of the threshold given: °C, or °F. What comes out is in °C.

    Raises
    ------
    InvalidInput
        When a value is out of range or no half year can be used.
    TypeError
        When an argument is of the wrong kind.

    Examples
    --------
    >>> risk = epicotyl.FreezeRisk(record, 0.0, estimator="empirical", latitude=51.9)
    >>> risk.last_freeze(0.5, year=2027)
    datetime.date(2027, 3, 6)
    """

    __slots__ = ()

    def __init__(
        self,
        record: DailyRecord,
        threshold: float,
        *,
        estimator: Estimator = "fitted",
        latitude: float = 45.0,
        halves: Halves | None = None,
        comparison: Comparison = "at_or_below",
        max_gap: int = 3,
        years: _asked.Years = 30,
        units: Units = "metric",
    ) -> None:
        need_record(record, "record")
        self._restore(
            record,
            celsius(_check.number(threshold, "threshold"), units),
            _check.text(estimator, "estimator"),
            _check.number(latitude, "latitude"),
            *options_of(latitude, halves, comparison, max_gap, years),
        )

    def last_freeze(self, chance_later: float, *, year: int | None = None) -> datetime.date | None:
        """Day on or after which a freeze of the cold-to-warm half comes with a chance.

        Parameters
        ----------
        chance_later : float
            Share of years, 0 to 1.
        year : int, optional
            Year in which the half begins. None: the latest year of `dates`. In leap years a day
            after February bears a date one earlier.

        Returns
        -------
        datetime.date or None
            None when there is no such day; `last_freeze_answer` says why.

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
            Share of years, 0 to 1.
        year : int, optional
            Year in which the half begins. None: the latest year of `dates`.

        Returns
        -------
        datetime.date or None
            None when there is no such day; `first_freeze_answer` says why.

        Examples
        --------
        >>> risk.first_freeze(0.1, year=2027) < risk.first_freeze(0.9, year=2027)
        True
        """
        chance = _check.number(chance_earlier, "chance_earlier")
        return self._held.first_freeze(chance, self._year(year))

    def frost_free_days(self, chance_longer: float) -> float | None:
        """Days strictly between the two freezes that are reached or exceeded with a chance.

        Parameters
        ----------
        chance_longer : float
            Share of years, 0 to 1.

        Returns
        -------
        float or None
            Length of the frost-free season [days]; None when there is no such number.

        Examples
        --------
        >>> risk.frost_free_days(0.5)
        277.0
        """
        return self._held.frost_free_days(_check.number(chance_longer, "chance_longer"))

    def last_freeze_answer(self, chance_later: float, *, year: int | None = None) -> FreezeAnswer:
        """Answer as `last_freeze` does, or say which none it is.

        Parameters
        ----------
        chance_later : float
            Share of years, 0 to 1.
        year : int, optional
            As in `last_freeze`.

        Returns
        -------
        FreezeAnswer
            A day, "none", "all year" or "–".

        Examples
        --------
        >>> risk.last_freeze_answer(0.5, year=2027).text, risk.last_freeze_answer(0.01).text
        ('6 Mar', '–')
        """
        chance = _check.number(chance_later, "chance_later")
        return self._held.last_freeze_answer(chance, self._year(year))

    def first_freeze_answer(
        self, chance_earlier: float, *, year: int | None = None
    ) -> FreezeAnswer:
        """Answer as `first_freeze` does, or say which none it is.

        Parameters
        ----------
        chance_earlier : float
            Share of years, 0 to 1.
        year : int, optional
            As in `first_freeze`.

        Returns
        -------
        FreezeAnswer
            A day, "none", "all year" or "–".

        Examples
        --------
        >>> risk.first_freeze_answer(0.01).state
        'beyond_record'
        """
        chance = _check.number(chance_earlier, "chance_earlier")
        return self._held.first_freeze_answer(chance, self._year(year))

    def frost_free_answer(self, chance_longer: float) -> FreezeAnswer:
        """Answer as `frost_free_days` does, or say which none it is.

        Parameters
        ----------
        chance_longer : float
            Share of years, 0 to 1.

        Returns
        -------
        FreezeAnswer
            A number of days; "no_frost": so many years lack one of the two freezes;
            "frost_all_year": less than half a day.

        Examples
        --------
        >>> print(risk.frost_free_answer(0.5))  # doctest: +ELLIPSIS
        277 days
        caution: Under a clear sky leaves are 1 to 3 °C colder than a station's shelter, 1.2 m up...
        """
        chance = _check.number(chance_longer, "chance_longer")
        return self._held.frost_free_answer(chance)

    def chance_later(self, date: _check.Day) -> float:
        """Chance of a freeze on a day of the cold-to-warm half, or after it in that half.

        Parameters
        ----------
        date : datetime.date or numpy.datetime64
            A day of any year; one outside every cold-to-warm half is `InvalidInput`.

        Returns
        -------
        float
            Share of years, 0 to 1.

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
            A day of any year; one outside every warm-to-cold half is `InvalidInput`.

        Returns
        -------
        float
            Share of years, 0 to 1.

        Examples
        --------
        >>> risk.chance_earlier(datetime.date(2027, 9, 1))
        0.0
        """
        return self._held.chance_earlier(date)

    def counted_later(self, date: _check.Day, *, level: float = 0.95) -> CountedChance:
        """Count the years whose last freeze came on a day or later, whatever the estimator.

        Parameters
        ----------
        date : datetime.date or numpy.datetime64
            As in `chance_later`.
        level : float, optional
            Confidence of the band, 0.5 to 0.9999, see `chance_band`.

        Returns
        -------
        CountedChance
            The count with the band of its share.

        Examples
        --------
        >>> print(risk.counted_later(datetime.date(2027, 3, 6)))
        6 of 12 years: 50 %, 21 to 79 % (95 % band)
        """
        return self._held.counted_later(date, _check.number(level, "level"))

    def counted_earlier(self, date: _check.Day, *, level: float = 0.95) -> CountedChance:
        """Count the years whose first freeze came on a day or earlier, whatever the estimator.

        Parameters
        ----------
        date : datetime.date or numpy.datetime64
            As in `chance_earlier`.
        level : float, optional
            Confidence of the band, 0.5 to 0.9999, see `chance_band`.

        Returns
        -------
        CountedChance
            The count with the band of its share.

        Examples
        --------
        >>> risk.counted_earlier(datetime.date(2027, 9, 1)).share
        0.0
        """
        return self._held.counted_earlier(date, _check.number(level, "level"))
