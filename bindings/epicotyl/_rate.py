"""Rates: germination by the day, from mean temperatures."""

from __future__ import annotations

from typing import overload

import numpy as np

from epicotyl import _check, _core
from epicotyl._germination import GerminationCurve, MaximumGermination


@overload
def germination_rate(means: float, *, base: float, optimum: float, ceiling: float) -> float: ...
@overload
def germination_rate(
    means: _check.Numbers, *, base: float, optimum: float, ceiling: float
) -> _check.FloatArray: ...
def germination_rate(
    means: float | _check.Numbers, *, base: float, optimum: float, ceiling: float
) -> float | _check.FloatArray:
    """Thermal time of a day, by cardinal temperatures [garciahuidobro1982].

    Parameters
    ----------
    means : float or array_like of float
        Mean temperature of each day [°C]; NaN gives NaN.
    base, optimum, ceiling : float
        Where germination begins, where it is fastest and where it ends [°C], ascending.

    Returns
    -------
    float or numpy.ndarray of float
        [K day]: 0 at the base, `optimum` - `base` at the optimum, 0 at the ceiling, straight lines
        between; in the shape of `means`.

    Raises
    ------
    InvalidInput
        When the three do not ascend.
    TypeError
        When an argument is of the wrong kind.

    Examples
    --------
    >>> epicotyl.clock.germination_rate([4.0, 22.0, 27.0], base=4.0, optimum=22.0, ceiling=32.0)
    array([ 0., 18.,  9.])
    """
    given = _check.values(means, "means")
    cardinal = _cardinal(base, optimum, ceiling)
    return _check.shaped(_core.germination_rate(given.ravel(), cardinal), given)


def germinated_by_day(
    means: _check.Numbers,
    *,
    base: float,
    optimum: float,
    ceiling: float,
    curve: GerminationCurve,
    maximum: MaximumGermination,
) -> _check.FloatArray:
    """Share of all seeds sown that is up at the end of each day.

    A seed meets the maximum of the day on which its own thermal time comes. What is up stays up,
    and a seed whose day was too hot is lost (a simplification of this library).

    Parameters
    ----------
    means : array_like of float, shape (..., days)
        Mean temperature of each day [°C], the sowing on the first; days along the last axis.
    base, optimum, ceiling : float
        Cardinal temperatures [°C], see `germination_rate`.
    curve : GerminationCurve
        How the seeds spread.
    maximum : MaximumGermination
        How many can germinate; held beyond its points.

    Returns
    -------
    numpy.ndarray of float
        0 to 1, never falling, in the shape of `means`.

    Raises
    ------
    InvalidInput
        When the three temperatures do not ascend, or a mean is not finite.
    TypeError
        When an argument is of the wrong kind.

    Examples
    --------
    >>> epicotyl.seeds.germinated_by_day(
    ...     [14.0, 14.0, 14.0],
    ...     base=4.0,
    ...     optimum=22.0,
    ...     ceiling=32.0,
    ...     curve=epicotyl.seeds.GerminationCurve(20.0, 4.0),
    ...     maximum=epicotyl.seeds.MaximumGermination([(20.0, 0.8)]),
    ... ).round(3)
    array([0.047, 0.4  , 0.668])
    """
    if not isinstance(curve, GerminationCurve):
        raise TypeError(f"curve: a GerminationCurve is wanted, not {type(curve).__name__}")
    if not isinstance(maximum, MaximumGermination):
        raise TypeError(f"maximum: a MaximumGermination is wanted, not {type(maximum).__name__}")
    given = _check.values(means, "means")
    if given.ndim == 0:
        raise TypeError("means: an array of days is wanted, not a number")
    unknown = np.argwhere(~np.isfinite(given))
    if unknown.size:
        where = ", ".join(str(index) for index in unknown[0])
        _core.refuse(
            code="germination.mean",
            field=f"means[{where}]",
            value=str(given[tuple(unknown[0])]),
            unit="°C",
            problem="a mean temperature is missing, and the days after it cannot be told",
            remedy="fill the gap, or give the days before it",
        )
    found = _core.germinated_by_day(
        given.ravel(),
        given.shape[-1],
        _cardinal(base, optimum, ceiling),
        curve._held,
        maximum._held,
    )
    return found.reshape(given.shape)


def _cardinal(base: float, optimum: float, ceiling: float) -> tuple[float, float, float]:
    return (
        _check.number(base, "base"),
        _check.number(optimum, "optimum"),
        _check.number(ceiling, "ceiling"),
    )
