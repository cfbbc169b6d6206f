"""Climates: season years cut from a record, and what is made of them."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np

from epicotyl import _asked, _check, _core
from epicotyl._core import FilledDays, LeftOutYear
from epicotyl._record import DailyRecord, need_record
from epicotyl._units import Units
from epicotyl._value import Told, Value


class Climate(Value[_core.Climate]):
    """Season years: runs of days that begin on the same month and day, cut from a record.

    Day k of a plan meets day k of each season year, and "1 year in 10" means one in ten of them.
    Like its record it holds °C, whatever the units of a plan.

    Parameters
    ----------
    record : DailyRecord
        The station.
    latitude : float
        Of the place [degrees north], -90 to 90.
    season_start : (int, int), str or datetime.date, optional
        First day of every season year: (month, day), "MM-DD", or a date of which month and day
        count. By default 1 January at latitude >= 0, 1 July below.
    season_days : int, optional
        Days of a season year, 1 to 1500.
    max_gap : int, optional
        Longest gap that is filled on a straight line [days], 0 to 31. A longer one leaves the year
        out.
    years : int, (int, int) or "all", optional
        Which years are asked for: the latest so many, those between two (both included), or all.

    Raises
    ------
    InvalidInput
        When an option is out of range, when the season starts on 29 February, and when no season
        year can be used.
    TypeError
        When an argument is of the wrong kind.

    Examples
    --------
    >>> climate = epicotyl.Climate(record, latitude=51.9, season_start="01-01", years=(2013, 2022))
    >>> climate.year_note
    '10 season years, 2013 – 2022; none left out'
    """

    __slots__ = ()

    _pickle_version = 2
    _compares_held = True

    def __init__(
        self,
        record: DailyRecord,
        *,
        latitude: float,
        season_start: _asked.MonthDay | None = None,
        season_days: int = 550,
        max_gap: int = 3,
        years: _asked.Years = 30,
    ) -> None:
        need_record(record, "record")
        self._held = _core.Climate(
            record._held,
            _check.number(latitude, "latitude"),
            None if season_start is None else _asked.month_day(season_start, "season_start"),
            _check.whole(season_days, "season_days"),
            _check.whole(max_gap, "max_gap"),
            _asked.years(years),
        )

    years = Told[list[int]](
        "The season years, ascending, each named by the year in which it begins."
    )
    left_out = Told[list[LeftOutYear]](
        "Years asked for that cannot be used, ascending, with the reason."
    )
    tmin = Told[_check.FloatArray](
        "Lowest temperatures [°C], shape (years, season_days), read-only, none missing."
    )
    tmax = Told[_check.FloatArray](
        "Highest temperatures [°C], shape (years, season_days), read-only, none missing."
    )

    @property
    def record(self) -> DailyRecord:
        """The record, gaps and all; of a shifted climate the shifted one."""
        return DailyRecord._of(self._held.record)

    is_chosen = Told[bool]("True when `only` chose among the season years of another climate.")

    @property
    def observed(self) -> DailyRecord | None:
        """The season so far as it was `given`; None when it was not."""
        return None if self._held.observed is None else DailyRecord._of(self._held.observed)

    @property
    def forecast(self) -> DailyRecord | None:
        """The forecast `given` with it; None when there was none."""
        return None if self._held.forecast is None else DailyRecord._of(self._held.forecast)

    origin = Told[str](
        'In what these are not simply a station\'s years, such as "made from normals".'
    )
    latitude = Told[float]("Of the place [degrees north].")
    season_start = Told[tuple[int, int]]("Month and day on which every season year begins.")
    season_days = Told[int]("Days of a season year.")
    max_gap = Told[int]("Longest gap that was filled [days].")
    filled = Told[FilledDays]("How many days were filled; a day of two season years counts once.")
    warnings = Told[list[str]](
        "What a reader of the results should know: few season years, inverted values."
    )
    year_note = Told[str](
        "One line for every sheet: how many season years, which, which are left out, `origin`."
    )

    def shifted(self, by: float | _check.Numbers, *, units: Units = "metric") -> Climate:
        """Make the same climate with every day warmer, or colder.

        The record is shifted and then cut as before, so gaps and years are the same. Days that were
        `given` have happened and stay as they are.

        Parameters
        ----------
        by : float or array_like of float, shape (12,)
            Difference [K, or °F by `units`], below 0 for colder; or one for the days of each month,
            January first.
        units : {"metric", "us"}, optional
            Of the differences, and of `origin`, which tells them. A climate knows no plan.

        Returns
        -------
        Climate
            Its `origin` says by how much.

        Examples
        --------
        >>> climate.shifted(2.0).origin
        'shifted by +2 K'
        """
        spans = _check.values(by, "by")
        if spans.shape not in {(), (12,)}:
            _core.refuse(
                code="climate.shift",
                field="by",
                value=str(spans.shape),
                bound="one number, or twelve",
                problem=f"a shift of the shape {spans.shape} fits no year",
                remedy="give one difference for all days, or one for each month, January first",
            )
        return Climate._of(
            self._held.shifted(np.broadcast_to(spans, 12).tolist(), _check.text(units, "units"))
        )

    def only(self, years: Sequence[int]) -> Climate:
        """Make the climate of some of its season years.

        Parameters
        ----------
        years : sequence of int
            Among `Climate.years`, each once, in any order.

        Returns
        -------
        Climate
            Years left out for their gaps stay listed.

        Raises
        ------
        InvalidInput
            When no year is named, one is named twice, or one is not among them.

        Examples
        --------
        >>> climate.only([2022, 2015]).years
        [2015, 2022]
        """
        return Climate._of(self._held.only([_check.whole(year, "years") for year in years]))

    def given(self, observed: DailyRecord, forecast: DailyRecord | None = None) -> Climate:
        """Make the climate of a season that has begun.

        The first days of every season year become those observed, then those of the forecast, and
        each year goes on with its own weather. What was given before is given up.

        Parameters
        ----------
        observed : DailyRecord
            This season, from its first day (month and day of `season_start`) on.
        forecast : DailyRecord, optional
            The days that follow, beginning on the day after the last one observed.

        Returns
        -------
        Climate
            Season years that no longer agree on the days they share.

        Raises
        ------
        InvalidInput
            When either begins on another day, when both are longer than a season year, and when a
            gap of more than `max_gap` days, or one at the end, cannot be filled.

        Examples
        --------
        >>> so_far = epicotyl.DailyRecord(datetime.date(2027, 1, 1), [-3.0, -4.0], [1.0, 2.0])
        >>> climate.given(so_far).tmin[:, 1].tolist() == [-4.0] * len(climate)
        True
        """
        need_record(observed, "observed")
        if forecast is not None:
            need_record(forecast, "forecast")
        return Climate._of(
            self._held.given(observed._held, None if forecast is None else forecast._held)
        )

    def __len__(self) -> int:
        return len(self.years)

    def __hash__(self) -> int:
        return hash((tuple(self.years), self.season_start, self.season_days, self.latitude))

    def __repr__(self) -> str:
        return f"<Climate {self}>"

    def _parts(self) -> tuple[Any, ...]:
        return (
            self.record,
            self.latitude,
            self.season_start,
            self.season_days,
            self.max_gap,
            self._held.asked_years,
            # Version 2: what was made of it.
            self.years if self.is_chosen else None,
            self.observed,
            self.forecast,
        )

    def _restore(self, *parts: Any) -> None:
        record, *options = parts[:6]
        held = _core.Climate(record._held, *options)
        chosen, observed, forecast = (*parts[6:], None, None, None)[:3]
        if chosen is not None:
            held = held.only(chosen)
        if observed is not None:
            held = held.given(observed._held, None if forecast is None else forecast._held)
        self._held = held
