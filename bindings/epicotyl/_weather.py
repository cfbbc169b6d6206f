"""Weather: records, their readers, and climates."""

from __future__ import annotations

import datetime
import re
from collections.abc import Sequence
from typing import Any, Literal, NamedTuple, NoReturn, TypeAlias

import numpy as np

from epicotyl import _check, _core
from epicotyl._value import Value

Years: TypeAlias = int | tuple[int, int] | Literal["all"]
MonthDay: TypeAlias = tuple[int, int] | str | datetime.date


class LeftOutYear(NamedTuple):
    """A season year that was asked for and cannot be used."""

    year: int
    """The year in which it begins."""
    element: str
    """What is missing: ``"minimum"``, ``"maximum"`` or ``"minimum and maximum"``."""
    first: datetime.date
    """First day without a value."""
    length: int
    """Days without a value."""
    sentence: str
    """All of this in words."""

    def __str__(self) -> str:
        return self.sentence


class FilledDays(NamedTuple):
    """Days of the season years that had no value of their own."""

    minimum: int
    """Days whose minimum was filled."""
    maximum: int
    """Days whose maximum was filled."""
    inverted: int
    """Those of them whose minimum stood above the maximum."""


class DailyRecord(Value[_core.DailyRecord]):
    """One station's daily minimum and maximum, in degrees Celsius, without holes in the calendar.

    Parameters
    ----------
    start : datetime.date or numpy.datetime64
        First day.
    tmin : array_like of float, shape (days,)
        Lowest temperature of each day [°C]; NaN is a gap.
    tmax : array_like of float, shape (days,)
        Highest temperature of each day [°C]; NaN is a gap.
    name : str, optional
        The station, for messages and tables.

    Raises
    ------
    InvalidInput
        When the two differ in length, hold no day, or hold an infinity.
    TypeError
        When an argument is of the wrong kind.

    Examples
    --------
    >>> record = epicotyl.DailyRecord(datetime.date(2027, 1, 1), [-1.5, float("nan")], [4.0, 3.5])
    >>> record.end, len(record), record.gaps
    (datetime.date(2027, 1, 3), 2, 1)
    """

    __slots__ = ()

    def __init__(
        self,
        start: _check.Day,
        tmin: _check.Numbers,
        tmax: _check.Numbers,
        name: str = "",
    ) -> None:
        low = _check.values(tmin, "tmin")
        high = _check.values(tmax, "tmax")
        if low.ndim != 1 or high.ndim != 1:
            _core.refuse(
                code="weather.shape",
                field="tmin, tmax",
                value=f"{low.shape}, {high.shape}",
                bound="one dimension",
                problem=f"shapes {low.shape} and {high.shape} are no runs of days",
                remedy="give one minimum and one maximum for every day",
            )
        self._held = _core.DailyRecord(start, low, high, _check.text(name, "name"))

    @property
    def start(self) -> datetime.date:
        """First day."""
        return self._held.start

    @property
    def end(self) -> datetime.date:
        """The day after the last."""
        return self._held.end

    @property
    def dates(self) -> _check.DayArray:
        """Every day, datetime64[D]."""
        return np.datetime64(self.start, "D") + np.arange(len(self))

    @property
    def tmin(self) -> _check.FloatArray:
        """Lowest temperature of each day [°C], read-only; NaN is a gap."""
        return self._held.tmin

    @property
    def tmax(self) -> _check.FloatArray:
        """Highest temperature of each day [°C], read-only; NaN is a gap."""
        return self._held.tmax

    @property
    def name(self) -> str:
        """The station; may be empty."""
        return self._held.name

    @property
    def gaps(self) -> int:
        """Runs of days on which either value is missing."""
        return self._held.gaps

    def __len__(self) -> int:
        return self._held.size

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, DailyRecord):
            return NotImplemented
        return self._held == other._held

    def __hash__(self) -> int:
        return hash((self.start, len(self), self.name))

    def __repr__(self) -> str:
        return f"<DailyRecord {self}>"

    def _parts(self) -> tuple[Any, ...]:
        # Plain bytes, so that a pickle does not depend on the release of numpy.
        low, high = (values.astype("<f8").tobytes() for values in (self.tmin, self.tmax))
        return (self.start, low, high, self.name)

    def _restore(self, *parts: Any) -> None:
        start, low, high, name = parts
        tmin, tmax = (np.frombuffer(values, "<f8").astype(np.float64) for values in (low, high))
        self._held = _core.DailyRecord(start, tmin, tmax, name)


def read_ghcn_daily(path: _check.Path) -> DailyRecord:
    """Read a GHCN-Daily station file (".dly", unpacked).

    Parameters
    ----------
    path : str or path
        The file. TMIN and TMAX are read, in tenths of a degree Celsius; -9999 and values with a
        quality flag are gaps.

    Returns
    -------
    DailyRecord
        From the first to the last day with a value, named by its station.

    Raises
    ------
    InvalidInput
        With file and line: no such file, no value of TMIN or TMAX, a line of another layout, a
        number that is no air temperature (-95 to 65 °C), a month that comes twice, a second
        station.

    Notes
    -----
    Source: GHCN-Daily readme.txt, version 3.26, section III; Menne et al. 2012,
    doi:10.1175/JTECH-D-11-00103.1. A station read in whole °F was rounded to tenths of a °C: 28 °F
    is -2.2 in the file and lies above a threshold of 28 °F (-2.22 °C).

    Examples
    --------
    >>> epicotyl.read_ghcn_daily("station.dly")
    <DailyRecord USC00000001, 1 Jan 2027 – 31 Jan 2027, no gaps>
    """
    return DailyRecord._of(_core.read_ghcn_daily(_check.path(path, "path")))


def read_daily_csv(
    path: _check.Path,
    *,
    date: str = "date",
    tmin: str = "tmin",
    tmax: str = "tmax",
    unit: Literal["celsius", "fahrenheit"] | None = None,
) -> DailyRecord:
    """Read a table of days: a header line, then one line a day, in order.

    Parameters
    ----------
    path : str or path
        The file. Empty cells, NA and NaN are gaps, and so are days without a line.
    date : str, optional
        Column of the ISO date.
    tmin, tmax : str, optional
        Columns of the lowest and the highest temperature. "tmin" is also found as "tmin_c" or
        "tmin_f", and the ending then says its unit.
    unit : {"celsius", "fahrenheit"}, optional
        Unit of both. It is never guessed: either it is given here, or the columns' endings say it.

    Returns
    -------
    DailyRecord
        From the first to the last day with a value, named by the file.

    Raises
    ------
    InvalidInput
        With file and line: a column that is not there, a unit not stated or stated in two ways, a
        date that is not ISO or goes back, a number that cannot be read or is no air temperature.

    Examples
    --------
    >>> epicotyl.read_daily_csv("marlpit.csv").start
    datetime.date(2012, 1, 1)
    """
    found = _core.read_daily_csv(
        _check.path(path, "path"),
        _check.text(date, "date"),
        _check.text(tmin, "tmin"),
        _check.text(tmax, "tmax"),
        None if unit is None else _check.text(unit, "unit"),
    )
    return DailyRecord._of(found)


class Climate(Value[_core.Climate]):
    """Season years: runs of days that begin on the same month and day, cut from a record.

    Day k of a plan meets day k of each season year, and "1 year in 10" means one in ten of them.

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

    def __init__(
        self,
        record: DailyRecord,
        *,
        latitude: float,
        season_start: MonthDay | None = None,
        season_days: int = 550,
        max_gap: int = 3,
        years: Years = 30,
    ) -> None:
        if not isinstance(record, DailyRecord):
            raise TypeError(f"record: a DailyRecord is wanted, not {type(record).__name__}")
        self._held = _core.Climate(
            record._held,
            _check.number(latitude, "latitude"),
            None if season_start is None else _month_day(season_start),
            _check.whole(season_days, "season_days"),
            _check.whole(max_gap, "max_gap"),
            _years(years),
        )

    @property
    def years(self) -> list[int]:
        """The season years, ascending, each named by the year in which it begins."""
        return self._held.years

    @property
    def left_out(self) -> list[LeftOutYear]:
        """Years asked for that cannot be used, ascending, with the reason."""
        return [LeftOutYear(*one) for one in self._held.left_out]

    @property
    def tmin(self) -> _check.FloatArray:
        """Lowest temperatures [°C], shape (years, season_days), read-only, none missing."""
        return self._held.tmin

    @property
    def tmax(self) -> _check.FloatArray:
        """Highest temperatures [°C], shape (years, season_days), read-only, none missing."""
        return self._held.tmax

    @property
    def record(self) -> DailyRecord:
        """The record as it was given, gaps and all."""
        return DailyRecord._of(self._held.record)

    @property
    def latitude(self) -> float:
        """Of the place [degrees north]."""
        return self._held.latitude

    @property
    def season_start(self) -> tuple[int, int]:
        """Month and day on which every season year begins."""
        return self._held.season_start

    @property
    def season_days(self) -> int:
        """Days of a season year."""
        return self._held.season_days

    @property
    def max_gap(self) -> int:
        """Longest gap that was filled [days]."""
        return self._held.max_gap

    @property
    def filled(self) -> FilledDays:
        """How many days were filled; a day of two season years counts once."""
        return FilledDays(*self._held.filled)

    @property
    def warnings(self) -> list[str]:
        """What a reader of the results should know: few season years, inverted values."""
        return self._held.warnings

    @property
    def year_note(self) -> str:
        """One line for every sheet: how many season years, which, and which are left out."""
        return self._held.year_note

    def __len__(self) -> int:
        return len(self.years)

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, Climate):
            return NotImplemented
        return self._held == other._held

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
        )

    def _restore(self, *parts: Any) -> None:
        record, *options = parts
        self._held = _core.Climate(record._held, *options)


def _month_day(written: MonthDay) -> tuple[int, int]:
    """Month and day of a season start, however it is written."""
    if _check.is_date(written):
        return written.month, written.day
    if isinstance(written, str):
        found = re.fullmatch(r"(\d\d)-(\d\d)", written, re.ASCII)
        if found is None:
            _refuse_month_day(written, f'"{written}" is not a month and day')
        month, day = int(found[1]), int(found[2])
    elif isinstance(written, tuple) and len(written) == 2:
        month, day = (_check.whole(part, "season_start") for part in written)
    else:
        raise TypeError(
            f'season_start: (month, day), "MM-DD" or a datetime.date is wanted, not {written!r}'
        )
    if not (1 <= month <= 12 and 1 <= day <= 31):
        _refuse_month_day(written, f"{written!r} is not a month and day of the calendar")
    return month, day


def _refuse_month_day(written: object, problem: str) -> NoReturn:
    _core.refuse(
        code="month_day.not_in_calendar",
        field="season_start",
        value=str(written),
        problem=problem,
        remedy='give month and day, such as (3, 1) or "03-01"',
    )


def _years(written: int | str | Sequence[int]) -> int | str | tuple[int, int]:
    if isinstance(written, str):
        return written
    if isinstance(written, Sequence):
        if len(written) != 2:
            raise TypeError(f"years: a first and a last year are wanted, not {written!r}")
        return _check.whole(written[0], "years"), _check.whole(written[1], "years")
    return _check.whole(written, "years")
