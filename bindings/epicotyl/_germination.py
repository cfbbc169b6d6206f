"""Germination: how the seeds of a lot spread, and how many can germinate."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any, overload

import numpy as np

from epicotyl import _check, _core
from epicotyl._value import Told, Value


class GerminationCurve(Value[_core.GerminationCurve]):
    """The thermal times of the seeds of a lot, log-logistic.

    The share of those that can germinate that is up after the thermal time θ is
    1 / (1 + (half / θ)^steepness) [chen2021]. Thermal times run by `germination_rate`.

    Parameters
    ----------
    half : float
        Thermal time of the middle seed [K day], more than 0.
    steepness : float
        More than 0. 4 to 12 is usual (from memory), more is more at once; it can be had from two
        counts of a tray, see `steepness_between`.

    Raises
    ------
    InvalidInput
        Unless both are finite and more than 0.
    TypeError
        When an argument is of the wrong kind.

    Examples
    --------
    >>> lettuce = epicotyl.seeds.GerminationCurve(52.9, 6.0)
    >>> lettuce.share_up([0.0, 52.9]).tolist(), round(lettuce.needed_for(0.9), 1)
    ([0.0, 0.5], 76.3)
    """

    __slots__ = ()

    _compares_held = True

    def __init__(self, half: float, steepness: float) -> None:
        self._restore(_check.number(half, "half"), _check.number(steepness, "steepness"))

    half = Told[float]("Thermal time of the middle seed [K day].")
    steepness = Told[float]("How much the seeds come at once; no unit.")

    @overload
    def share_up(self, thermal_time: float) -> float: ...
    @overload
    def share_up(self, thermal_time: _check.Numbers) -> _check.FloatArray: ...
    def share_up(self, thermal_time: float | _check.Numbers) -> float | _check.FloatArray:
        """Share, of the seeds that can germinate, that is up after so much thermal time.

        Parameters
        ----------
        thermal_time : float or array_like of float
            [K day], 0 or more; NaN gives NaN.

        Returns
        -------
        float or numpy.ndarray of float
            0 to 1, in the shape of `thermal_time`.

        Raises
        ------
        InvalidInput
            When one is negative or infinite.

        Examples
        --------
        >>> epicotyl.seeds.GerminationCurve(100.0, 4.0).share_up(100.0)
        0.5
        """
        sums = _check.values(thermal_time, "thermal_time")
        return _check.shaped(self._held.share_up(sums.ravel()), sums)

    @overload
    def needed_for(self, share: float, *, maximum: float | None = None) -> float | None: ...
    @overload
    def needed_for(
        self, share: _check.Numbers, *, maximum: float | None = None
    ) -> _check.FloatArray: ...
    def needed_for(
        self, share: float | _check.Numbers, *, maximum: float | None = None
    ) -> float | _check.FloatArray | None:
        """Thermal time after which a share of the seeds is up.

        Parameters
        ----------
        share : float or array_like of float
            More than 0 and less than 1; of the seeds that can germinate, or of all seeds sown when
            `maximum` is given. NaN gives NaN.
        maximum : float, optional
            Share of all seeds sown that can germinate, 0 to 1.

        Returns
        -------
        float, None or numpy.ndarray of float
            Thermal time [K day]; None, and NaN in arrays, when so many never come up.

        Raises
        ------
        InvalidInput
            When a share is out of range.

        Examples
        --------
        >>> curve = epicotyl.seeds.GerminationCurve(100.0, 4.0)
        >>> curve.needed_for(0.4, maximum=0.8), curve.needed_for(0.9, maximum=0.8)
        (100.0, None)
        """
        shares = _check.values(share, "share")
        most = None if maximum is None else _check.number(maximum, "maximum")
        return _none_for_nan(
            _check.shaped(self._held.needed_for(shares.ravel(), most), shares), shares
        )

    def __str__(self) -> str:
        return f"half after {self.half:g} K day, steepness {self.steepness:g}"

    def __repr__(self) -> str:
        return f"GerminationCurve({self.half!r}, {self.steepness!r})"

    def _parts(self) -> tuple[Any, ...]:
        return (self.half, self.steepness)

    def _restore(self, *parts: Any) -> None:
        half, steepness = parts
        self._held = _core.GerminationCurve(half, steepness)


class MaximumGermination(Value[_core.MaximumGermination]):
    """The share of seeds that can germinate, by temperature: points with straight lines between.

    Parameters
    ----------
    points : iterable of (float, float)
        Temperature [°C] and share (0 to 1) of each published point, the coldest first.

    Raises
    ------
    InvalidInput
        When there is no point, unless temperatures ascend, and for a share out of range.
    TypeError
        When an argument is of the wrong kind.

    Examples
    --------
    Lettuce gives 99 % at 25 °C and 12 % at 30 °C [harrington1954]:

    >>> lettuce = epicotyl.seeds.MaximumGermination([(25.0, 0.99), (30.0, 0.12)])
    >>> round(lettuce.at(27.5), 3), lettuce.at(10.0), lettuce.held(10.0)
    (0.555, None, 0.99)
    """

    __slots__ = ()

    _compares_held = True

    def __init__(self, points: Iterable[tuple[float, float]]) -> None:
        written = [tuple(_check.number(part, "points") for part in point) for point in points]
        if any(len(point) != 2 for point in written):
            raise TypeError("points: pairs of temperature and share are wanted")
        self._restore(written)

    points = Told[list[tuple[float, float]]]("Temperature [°C] and share of each point, ascending.")

    @overload
    def at(self, temperature: float) -> float | None: ...
    @overload
    def at(self, temperature: _check.Numbers) -> _check.FloatArray: ...
    def at(self, temperature: float | _check.Numbers) -> float | _check.FloatArray | None:
        """Share of the seeds that can germinate at a temperature.

        Parameters
        ----------
        temperature : float or array_like of float
            [°C]; NaN gives NaN.

        Returns
        -------
        float, None or numpy.ndarray of float
            0 to 1; None, and NaN in arrays, outside the points, which say nothing there.

        Examples
        --------
        >>> spinach = epicotyl.seeds.MaximumGermination([(10.0, 0.91), (25.0, 0.28)])
        >>> spinach.at([9.0, 10.0, 25.0])
        array([ nan, 0.91, 0.28])
        """
        where = _check.values(temperature, "temperature")
        return _none_for_nan(_check.shaped(self._held.at(where.ravel()), where), where)

    @overload
    def held(self, temperature: float) -> float: ...
    @overload
    def held(self, temperature: _check.Numbers) -> _check.FloatArray: ...
    def held(self, temperature: float | _check.Numbers) -> float | _check.FloatArray:
        """Answer as `at` does, with the first and the last share held beyond the points.

        That is an assumption, not a publication, for whoever needs a number on every day.

        Parameters
        ----------
        temperature : float or array_like of float
            [°C]; NaN gives NaN.

        Returns
        -------
        float or numpy.ndarray of float
            0 to 1.

        Examples
        --------
        >>> epicotyl.seeds.MaximumGermination([(10.0, 0.91), (25.0, 0.28)]).held([0.0, 40.0])
        array([0.91, 0.28])
        """
        where = _check.values(temperature, "temperature")
        return _check.shaped(self._held.held(where.ravel()), where)

    def __hash__(self) -> int:
        return hash(tuple(self.points))

    def __str__(self) -> str:
        return ", ".join(f"{share:g} at {where:g} °C" for where, share in self.points)

    def __repr__(self) -> str:
        return f"MaximumGermination({self.points!r})"

    def _parts(self) -> tuple[Any, ...]:
        return (self.points,)

    def _restore(self, *parts: Any) -> None:
        self._held = _core.MaximumGermination(parts[0])


def steepness_between(less: float, sooner: float, more: float, later: float) -> float:
    """Steepness of the curve that two counts of a tray lie on.

    Parameters
    ----------
    less : float
        Share up at the first count, of the seeds that can germinate; more than 0.
    sooner : float
        Thermal time of the first count [K day], more than 0.
    more : float
        Share up at the second count, more than `less` and less than 1.
    later : float
        Thermal time of the second count [K day], more than `sooner`.

    Returns
    -------
    float
        For `GerminationCurve`.

    Raises
    ------
    InvalidInput
        When shares or thermal times are out of range, or the second count is not the greater.
    TypeError
        When an argument is of the wrong kind.

    Examples
    --------
    >>> round(epicotyl.seeds.steepness_between(0.25, 50.0, 0.75, 72.0), 2)
    6.03
    """
    return _core.steepness_between(
        _check.number(less, "less"),
        _check.number(sooner, "sooner"),
        _check.number(more, "more"),
        _check.number(later, "later"),
    )


def _none_for_nan(
    found: float | _check.FloatArray, asked: _check.FloatArray
) -> float | _check.FloatArray | None:
    """Turn the NaN that answers a single number into None, unless NaN was asked about."""
    return None if asked.ndim == 0 and np.isnan(found) and not np.isnan(asked) else found
