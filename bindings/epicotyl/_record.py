"""Records of stations, and their readers."""

from __future__ import annotations

import datetime
from typing import Any

import numpy as np

from epicotyl import _check, _core
from epicotyl._units import Units, celsius, is_us, of_celsius
from epicotyl._value import Told, Value

# What any thermometer of a station has shown, with some room [°C].
_COLDEST, _HOTTEST = -95.0, 65.0


def _measured(given: _check.FloatArray, name: str, units: Units) -> _check.FloatArray:
    """Values of a record in °C; refuses what no thermometer has shown."""
    found = celsius(given, units)
    odd = np.flatnonzero(np.isfinite(found) & ((found < _COLDEST) | (found > _HOTTEST)))
    if odd.size:
        at = int(odd[0])
        unit = "°F" if is_us(units) else "°C"
        in_fahrenheit = (given[at] - 32.0) / 1.8
        is_other = not is_us(units) and _COLDEST <= in_fahrenheit <= _HOTTEST
        lowest, highest = of_celsius(_COLDEST, units), of_celsius(_HOTTEST, units)
        _core.refuse(
            code="weather.not_measured",
            field=f"{name}[{at}]",
            value=f"{given[at]:g}",
            bound=f"{lowest:g} to {highest:g}",
            unit=unit,
            problem=f"{given[at]:g} {unit} is no air temperature",
            remedy=f'is it in °F? Then give units="us": {given[at]:g} °F are {in_fahrenheit:.1f} °C'
            if is_other
            else "leave out what is no measurement, as NaN",
        )
    return found


class DailyRecord(Value[_core.DailyRecord]):
    """One station's daily minimum and maximum, without holes in the calendar.

    It holds degrees Celsius, in which its arrays are, whatever they were given in.

    Parameters
    ----------
    start : datetime.date or numpy.datetime64
        First day.
    tmin : array_like of float, shape (days,)
        Lowest temperature of each day [°C, or °F by `units`]; NaN is a gap.
    tmax : array_like of float, shape (days,)
        Highest temperature of each day [°C, or °F by `units`]; NaN is a gap.
    name : str, optional
        The station, for messages and tables.
    origin : str, optional
        How the values were made, such as "made from normals"; empty when they were measured.
    units : {"metric", "us"}, optional
        Of the values given: °C, or °F, which are turned into °C.

    Raises
    ------
    InvalidInput
        When the two differ in length, hold no day, an infinity, or what no thermometer of a station
        has shown (-95 to 65 °C).
    TypeError
        When an argument is of the wrong kind.

    Examples
    --------
    >>> record = epicotyl.DailyRecord(datetime.date(2027, 1, 1), [-1.5, float("nan")], [4.0, 3.5])
    >>> record.end, len(record), record.gaps
    (datetime.date(2027, 1, 3), 2, 1)
    """

    __slots__ = ()

    _pickle_version = 2  # adds the origin
    _compares_held = True

    def __init__(
        self,
        start: _check.Day,
        tmin: _check.Numbers,
        tmax: _check.Numbers,
        name: str = "",
        *,
        origin: str = "",
        units: Units = "metric",
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
        low, high = _measured(low, "tmin", units), _measured(high, "tmax", units)
        self._held = _core.DailyRecord(
            start, low, high, _check.text(name, "name"), _check.text(origin, "origin")
        )

    start = Told[datetime.date]("First day.")
    end = Told[datetime.date]("The day after the last.")

    @property
    def dates(self) -> _check.DayArray:
        """Every day, datetime64[D]."""
        return np.datetime64(self.start, "D") + np.arange(len(self))

    tmin = Told[_check.FloatArray]("Lowest temperature of each day [°C], read-only; NaN is a gap.")
    tmax = Told[_check.FloatArray]("Highest temperature of each day [°C], read-only; NaN is a gap.")
    name = Told[str]("The station; may be empty.")
    origin = Told[str]("How the values were made; empty when they were measured.")
    gaps = Told[int]("Runs of days on which either value is missing.")

    def __len__(self) -> int:
        return self._held.size

    def __hash__(self) -> int:
        return hash((self.start, len(self), self.name))

    def __repr__(self) -> str:
        return f"<DailyRecord {self}>"

    def _parts(self) -> tuple[Any, ...]:
        # Plain bytes, so that a pickle does not depend on the release of numpy.
        low, high = (values.astype("<f8").tobytes() for values in (self.tmin, self.tmax))
        return (self.start, low, high, self.name, self.origin)

    def _restore(self, *parts: Any) -> None:
        start, low, high, name, origin = (*parts, "")[:5]
        tmin, tmax = (np.frombuffer(values, "<f8").astype(np.float64) for values in (low, high))
        self._held = _core.DailyRecord(start, tmin, tmax, name, origin)


def need_record(value: object, name: str) -> None:
    """Refuse what is no record."""
    if not isinstance(value, DailyRecord):
        raise TypeError(f"{name}: a DailyRecord is wanted, not {type(value).__name__}")


def read_ghcn_daily(
    path: _check.Path, *, station: str | None = None, whole_fahrenheit: bool = False
) -> DailyRecord:
    """Read a GHCN-Daily file: a station file (".dly"), or the same by year (".csv").

    Parameters
    ----------
    path : str or path
        The file, also compressed by gzip. Which form it has is seen from its first line. TMIN and
        TMAX are read, in tenths of a degree Celsius; -9999 and values with a quality flag are gaps.
    station : str, optional
        The station to read, such as "USW00094728"; lines of others are passed over. None: the only
        one of the file.
    whole_fahrenheit : bool, optional
        Take values back to the whole °F that they were written in. A station read in whole °F was
        rounded to tenths of a °C: 28 °F is -2.2 in the file and lies above a threshold of 28 °F
        (-2.22 °C). What comes from no whole °F stays as filed and is counted in `origin`.

    Returns
    -------
    DailyRecord
        From the first to the last day with a value, named by its station.

    Raises
    ------
    InvalidInput
        With file and line: no such file, no value of TMIN or TMAX, a line of another layout, a
        number that is no air temperature (-95 to 65 °C), a month or day that comes twice, several
        stations of which none is named, a station that is not there, a gzip file that is damaged,
        `whole_fahrenheit` where more than half of the values come from no whole °F.
    TypeError
        When an argument is of the wrong kind.

    Notes
    -----
    Source: GHCN-Daily readme.txt, version 3.26, section III; [menne2012].

    Examples
    --------
    >>> epicotyl.read_ghcn_daily("station.dly")
    <DailyRecord USC00000001, 1 Jan 2027 – 31 Jan 2027, no gaps>
    """
    found = _core.read_ghcn_daily(
        _check.path(path, "path"),
        "" if station is None else _check.text(station, "station"),
        _check.flag(whole_fahrenheit, "whole_fahrenheit"),
    )
    return DailyRecord._of(found)


def read_daily_csv(
    path: _check.Path,
    *,
    date: str = "date",
    tmin: str = "tmin",
    tmax: str = "tmax",
    units: Units | None = None,
    name: str = "",
) -> DailyRecord:
    """Read a table of days: a header line, then one line a day, in order.

    Parameters
    ----------
    path : str or path
        The file, also compressed by gzip. Empty cells, NA and NaN are gaps, and so are days without
        a line.
    date : str, optional
        Column of the ISO date.
    tmin, tmax : str, optional
        Columns of the lowest and the highest temperature. "tmin" is also found as "tmin_c" or
        "tmin_f", and the ending then says its unit.
    units : {"metric", "us"}, optional
        Whether both are in °C or in °F. It is never guessed: either it is given here, or the
        columns' endings say it. The record holds °C.
    name : str, optional
        Of the record; when empty, what a comment before the header says, ``# station: Marlpit``,
        or else the file's without its ending.

    Returns
    -------
    DailyRecord
        From the first to the last day with a value.

    Raises
    ------
    InvalidInput
        With file and line: a column that is not there, units not stated or stated in two ways, a
        date that is not ISO or goes back, a number that cannot be read or is no air temperature, a
        month hotter than any place has, a gzip file that is damaged.
    TypeError
        When an argument is of the wrong kind.

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
        None if units is None else ("fahrenheit" if is_us(units) else "celsius"),
        _check.text(name, "name"),
    )
    return DailyRecord._of(found)
