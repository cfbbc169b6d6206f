"""Clocks: degree-days and day length of whole arrays."""

from __future__ import annotations

import datetime
from typing import Literal, TypeAlias, overload

import numpy as np

from epicotyl import _check, _core

Method: TypeAlias = Literal[
    "average",
    "average_floored",
    "single_triangle",
    "double_triangle",
    "single_sine",
    "double_sine",
]
Cutoff: TypeAlias = Literal["horizontal", "intermediate", "vertical"]
DayLengthModel: TypeAlias = Literal["cbm", "fao56"]


@overload
def degree_days(
    tmin: float,
    tmax: float,
    *,
    base: float,
    upper: float | None = None,
    method: Method = "single_sine",
    cutoff: Cutoff = "horizontal",
) -> float: ...
@overload
def degree_days(
    tmin: _check.Numbers,
    tmax: _check.Numbers,
    *,
    base: float,
    upper: float | None = None,
    method: Method = "single_sine",
    cutoff: Cutoff = "horizontal",
) -> _check.FloatArray: ...
def degree_days(
    tmin: float | _check.Numbers,
    tmax: float | _check.Numbers,
    *,
    base: float,
    upper: float | None = None,
    method: Method = "single_sine",
    cutoff: Cutoff = "horizontal",
) -> float | _check.FloatArray:
    """Degree-days of each day, from its minimum and maximum.

    A base or an amount is valid only with the method it was published with: the same plant has
    different sums under different methods.

    Parameters
    ----------
    tmin, tmax : float or array_like of float, shape (..., days)
        Lowest and highest temperature of each day, of one shape; days along the last axis. Any
        unit, as long as `base` and `upper` have it too. NaN gives NaN.
    base : float
        Temperature below which nothing develops.
    upper : float, optional
        Temperature above which the cutoff acts, more than `base`. None: there is none.
    method : str, optional
        How the temperature ran between the two: "average", "average_floored",
        "single_triangle", "double_triangle", "single_sine" or "double_sine". The doubles fall to
        the next day's minimum, the last day to its own.
    cutoff : str, optional
        What happens above `upper`: "horizontal", "intermediate" or "vertical".

    Returns
    -------
    float or numpy.ndarray of float
        Degree-days [degree day], in the shape of `tmin`.

    Raises
    ------
    InvalidInput
        When shapes differ, a minimum is above its maximum, `upper` is not above `base`, a word is
        not known, or "average_floored" has another cutoff than "horizontal".
    TypeError
        When an argument is of the wrong kind.

    References
    ----------
    Keys of the library's REFERENCES.md: [zalom1983]; the sine [baskerville1969].

    Examples
    --------
    >>> epicotyl.degree_days([5.0, 12.0], [25.0, 30.0], base=10.0).round(2)
    array([ 6.09, 11.  ])
    >>> epicotyl.degree_days(50.0, 86.0, base=50.0, method="average")
    18.0
    """
    low = _check.values(tmin, "tmin")
    high = _check.values(tmax, "tmax")
    if low.shape != high.shape:
        _core.refuse(
            code="degree_days.lengths",
            field="tmin, tmax",
            value=f"{low.shape} and {high.shape}",
            problem=f"minimum has the shape {low.shape}, maximum {high.shape}",
            remedy="give one minimum and one maximum for every day",
        )
    found = _core.degree_days(
        low.ravel(),
        high.ravel(),
        low.shape[-1] if low.ndim else 1,
        _check.number(base, "base"),
        None if upper is None else _check.number(upper, "upper"),
        _check.text(method, "method"),
        _check.text(cutoff, "cutoff"),
    )
    return _check.shaped(found, low)


@overload
def day_length(
    latitude: float,
    dates: _check.Day,
    *,
    model: DayLengthModel = "cbm",
    sun_angle: float = 0.8333,
) -> float: ...
@overload
def day_length(
    latitude: float,
    dates: _check.Days,
    *,
    model: DayLengthModel = "cbm",
    sun_angle: float = 0.8333,
) -> _check.FloatArray: ...
def day_length(
    latitude: float,
    dates: _check.Day | _check.Days,
    *,
    model: DayLengthModel = "cbm",
    sun_angle: float = 0.8333,
) -> float | _check.FloatArray:
    """Hours from sunrise to sunset.

    Parameters
    ----------
    latitude : float
        Degrees north, -90 to 90.
    dates : datetime.date, numpy.datetime64 or array_like of either
        The days; datetime64 has the unit D. NaT gives NaN.
    model : {"cbm", "fao56"}, optional
        Upper limb with refraction, or the sun's centre, 0.1 to 0.2 h shorter.
    sun_angle : float, optional
        Angle of the sun's centre below the horizon at sunrise [degrees], -20 to 20; used by "cbm"
        only. 0.8333 is sunrise as usually defined.

    Returns
    -------
    float or numpy.ndarray of float
        Day length [h], 0 to 24, in the shape of `dates`.

    Raises
    ------
    InvalidInput
        When latitude or sun angle is out of range, or the model is not known.
    TypeError
        When an argument is of the wrong kind; a date with a time of day is.

    References
    ----------
    Keys of the library's REFERENCES.md: "cbm" [forsythe1995], "fao56" [allen1998].

    Examples
    --------
    >>> round(epicotyl.day_length(51.9, datetime.date(2027, 6, 21)), 1)
    16.7
    >>> dates = np.arange("2027-03-01", "2027-03-04", dtype="datetime64[D]")
    >>> epicotyl.day_length(51.9, dates).round(2)
    array([10.83, 10.89, 10.96])
    """
    when = _check.days(dates, "dates")
    found = _core.day_length(
        _check.number(latitude, "latitude"),
        when.ravel().view(np.int64),
        _check.text(model, "model"),
        _check.number(sun_angle, "sun_angle"),
    )
    one = isinstance(dates, datetime.date | np.datetime64)
    return float(found[0]) if one else found.reshape(when.shape)


@overload
def iso_weeks(dates: _check.Day) -> tuple[int, int]: ...
@overload
def iso_weeks(dates: _check.Days) -> tuple[_check.WholeArray, _check.WholeArray]: ...
def iso_weeks(
    dates: _check.Day | _check.Days,
) -> tuple[int, int] | tuple[_check.WholeArray, _check.WholeArray]:
    """Weeks as growers count them: ISO 8601, from Monday, week 1 with the year's first Thursday.

    Parameters
    ----------
    dates : datetime.date, numpy.datetime64 or array_like of either
        The days; datetime64 has the unit D. NaT gives 0 and 0.

    Returns
    -------
    years, weeks : int or numpy.ndarray of int64
        The year to which the week belongs, and its number, 1 to 53; in the shape of `dates`.

    Raises
    ------
    TypeError
        When an argument is of the wrong kind; a date with a time of day is.

    References
    ----------
    Key of the library's REFERENCES.md: [iso2019].

    Examples
    --------
    >>> epicotyl.clock.iso_weeks(datetime.date(2027, 1, 3))
    (2026, 53)
    """
    when = _check.days(dates, "dates")
    found = _core.iso_weeks(when.ravel().view(np.int64))
    if isinstance(dates, datetime.date | np.datetime64):
        return int(found[0, 0]), int(found[0, 1])
    return found[:, 0].reshape(when.shape), found[:, 1].reshape(when.shape)


def first_day_with(
    latitude: float,
    hours: float,
    *,
    start: _check.Day,
    until: _check.Day,
    model: DayLengthModel = "cbm",
    sun_angle: float = 0.8333,
) -> datetime.date | None:
    """First day of a run with at least so many hours from sunrise to sunset.

    Parameters
    ----------
    latitude : float
        Degrees north, -90 to 90.
    hours : float
        Day length [h], 0 to 24.
    start, until : datetime.date or numpy.datetime64
        First and last day of the run, both included.
    model, sun_angle : optional
        As in `day_length`.

    Returns
    -------
    datetime.date or None
        None when no day of the run is that long; in the polar summer the first of the run.

    Raises
    ------
    InvalidInput
        When a number is out of range, the model is not known, or `until` comes before `start`.
    TypeError
        When an argument is of the wrong kind.

    Examples
    --------
    >>> epicotyl.clock.first_day_with(
    ...     40.0, 10.0, start=datetime.date(2027, 1, 1), until=datetime.date(2027, 6, 30)
    ... )
    datetime.date(2027, 1, 29)
    """
    return _day_with(latitude, hours, start, until, model, sun_angle, first=True)


def last_day_with(
    latitude: float,
    hours: float,
    *,
    start: _check.Day,
    until: _check.Day,
    model: DayLengthModel = "cbm",
    sun_angle: float = 0.8333,
) -> datetime.date | None:
    """Last day of a run with at least so many hours from sunrise to sunset.

    Parameters
    ----------
    latitude, hours, start, until, model, sun_angle :
        As in `first_day_with`.

    Returns
    -------
    datetime.date or None
        None when no day of the run is that long; in the polar summer the last of the run.

    Raises
    ------
    InvalidInput, TypeError
        As in `first_day_with`.

    Examples
    --------
    >>> epicotyl.clock.last_day_with(
    ...     40.0, 10.0, start=datetime.date(2027, 7, 1), until=datetime.date(2027, 12, 31)
    ... )
    datetime.date(2027, 11, 15)
    """
    return _day_with(latitude, hours, start, until, model, sun_angle, first=False)


def _day_with(
    latitude: float,
    hours: float,
    start: _check.Day,
    until: _check.Day,
    model: str,
    sun_angle: float,
    *,
    first: bool,
) -> datetime.date | None:
    return _core.day_with(
        _check.number(latitude, "latitude"),
        _check.number(hours, "hours"),
        start,
        until,
        _check.text(model, "model"),
        _check.number(sun_angle, "sun_angle"),
        first,
    )
