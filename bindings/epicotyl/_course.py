"""Courses: quantities over the year as sums of waves."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Self, TypeAlias, cast, overload

import numpy as np

from epicotyl import _check, _core

Waves: TypeAlias = tuple[float, float, float]
Course: TypeAlias = tuple[float, Sequence[float], Sequence[float]]


@dataclass(frozen=True, slots=True)
class YearlyCourse:
    """A quantity over the year: a level, and waves that come 1, 2 and 3 times a year.

    Parameters
    ----------
    level : float
        Mean over the year.
    cosine, sine : (float, float, float), optional
        Of 1, 2 and 3 waves a year.

    Raises
    ------
    TypeError
        When an argument is of the wrong kind.

    Examples
    --------
    >>> course = epicotyl.weather.YearlyCourse(10.0, cosine=(-9.0, 0.0, 0.0))
    >>> course.at([0.0, np.pi])
    array([ 1., 19.])
    """

    level: float
    cosine: Waves = (0.0, 0.0, 0.0)
    sine: Waves = (0.0, 0.0, 0.0)

    def __post_init__(self) -> None:
        object.__setattr__(self, "level", _check.number(self.level, "level"))
        for name in ("cosine", "sine"):
            waves = tuple(_check.number(one, name) for one in getattr(self, name))
            if len(waves) != 3:
                raise TypeError(f"{name}: three numbers are wanted, not {len(waves)}")
            object.__setattr__(self, name, waves)

    @overload
    def at(self, phase: float) -> float: ...
    @overload
    def at(self, phase: _check.Numbers) -> _check.FloatArray: ...
    def at(self, phase: float | _check.Numbers) -> float | _check.FloatArray:
        """Value at a phase of the year.

        Parameters
        ----------
        phase : float or array_like of float
            Angle of the day in its year [rad], see `phase_of`.

        Returns
        -------
        float or numpy.ndarray of float
            In the unit of the level, in the shape of `phase`.

        Examples
        --------
        >>> epicotyl.weather.YearlyCourse(10.0, sine=(2.0, 0.0, 0.0)).at(0.0)
        10.0
        """
        phases = _check.values(phase, "phase")
        found = _core.yearly_course(self._parts(), phases.ravel())
        return _check.shaped(found, phases)

    def _parts(self) -> Course:
        return (self.level, self.cosine, self.sine)


@dataclass(frozen=True, slots=True)
class ElementCourse:
    """Mean and spread of the minimum, or of the maximum, over the year.

    Parameters
    ----------
    mean : YearlyCourse
        [°C].
    spread : YearlyCourse
        Standard deviation of the days around the mean [K].

    Raises
    ------
    TypeError
        When an argument is of the wrong kind.

    Examples
    --------
    >>> mean, spread = epicotyl.weather.YearlyCourse(5.0), epicotyl.weather.YearlyCourse(3.0)
    >>> epicotyl.weather.ElementCourse(mean, spread).mean.level
    5.0
    """

    mean: YearlyCourse
    spread: YearlyCourse

    def __post_init__(self) -> None:
        for name in ("mean", "spread"):
            if not isinstance(getattr(self, name), YearlyCourse):
                raise TypeError(f"{name}: a YearlyCourse is wanted, not {getattr(self, name)!r}")

    def _parts(self) -> tuple[Course, Course]:
        return (self.mean._parts(), self.spread._parts())

    @classmethod
    def _from(cls, parts: tuple[Course, Course]) -> Self:
        mean, spread = (
            YearlyCourse(level, cast("Waves", tuple(cosine)), cast("Waves", tuple(sine)))
            for level, cosine, sine in parts
        )
        return cls(mean, spread)


@overload
def phase_of(dates: _check.Day) -> float: ...
@overload
def phase_of(dates: _check.Days) -> _check.FloatArray: ...
def phase_of(dates: _check.Day | _check.Days) -> float | _check.FloatArray:
    """Angle of a day in its year: 0 on 1 January, just short of 2π on 31 December.

    Parameters
    ----------
    dates : datetime.date, numpy.datetime64 or array_like of either
        The days; datetime64 has the unit D. NaT gives NaN.

    Returns
    -------
    float or numpy.ndarray of float
        [rad], in the shape of `dates`.

    Raises
    ------
    TypeError
        When it is of the wrong kind; a date with a time of day is.

    Examples
    --------
    >>> epicotyl.weather.phase_of(datetime.date(2027, 1, 1))
    0.0
    """
    when = _check.days(dates, "dates")
    found = _core.phase_of(when.ravel().view(np.int64))
    return _check.shaped(found, when)
