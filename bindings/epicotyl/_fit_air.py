"""Space: how much warmer a place is - measured, or guessed from its layers."""

from __future__ import annotations

from collections.abc import Sequence

from epicotyl import _check, _core
from epicotyl._core import AirFit, GuessedGain


def fit_air(inside: _check.Numbers, outside: _check.Numbers) -> AirFit:
    """Measure how much warmer a place is, from minima (or maxima) logged inside and outside.

    The mean gain is what degree-days want. The median moves little by a night with the door left
    open; where the two differ by more than their errors, look for such nights. Standard errors
    suppose that nights do not depend on one another: log for weeks, not days.

    Parameters
    ----------
    inside, outside : array_like of float
        One value a night, in the same order, both in °C or both in °F; NaN where there is none.

    Returns
    -------
    AirFit
        Its `gain` is the ``warmer_night`` of a place in a plan (``warmer_day``, for maxima), in K
        where °C were given and in °F where °F were.

    Raises
    ------
    InvalidInput
        For different numbers of nights, infinite values, and where no night has both.
    TypeError
        When an argument is of the wrong kind.

    Examples
    --------
    >>> fit = epicotyl.heat.fit_air([-2.0, 3.0, np.nan, 5.0], [-4.0, 0.0, 1.0, 1.0])
    >>> fit.nights, fit.gain, round(fit.error, 2)
    (3, 3.0, 0.58)
    """
    within, without = _check.values(inside, "inside"), _check.values(outside, "outside")
    return _core.fit_air(within.ravel(), without.ravel())


def guess_night_gain(layers: Sequence[str]) -> GuessedGain:
    """Guess how much warmer a place is at night, from the layers over it.

    An estimate with a wide range, for still and clear nights, until something is logged; wind takes
    most of it away. In kelvin, low, usual and high:

    - ``single_film`` 0, 1, 3: from memory
    - ``double_film`` 1, 2.78, 4: 5 °F is common practice, no source; the range is from memory
    - ``inner_cover`` 2, 2.5, 3: one more cover inside, from memory
    - ``light_fabric`` 1, 2, 3: trade pages, within the bounds 1 to 5 of [snyder2005]
    - ``heavy_fabric`` 3, 3.9, 5: trade pages, weak; the same bounds

    Parameters
    ----------
    layers : sequence of str
        The layers, in any order.

    Returns
    -------
    GuessedGain
        What they are said to give together.

    Raises
    ------
    InvalidInput
        For a layer that is not known.
    TypeError
        When an argument is of the wrong kind.

    Examples
    --------
    >>> gain = epicotyl.heat.guess_night_gain(["double_film"])
    >>> gain.low, round(gain.usual, 2), gain.high
    (1.0, 2.78, 4.0)
    """
    if isinstance(layers, str):
        raise TypeError("layers: a sequence of str is wanted, not one str")
    return _core.guess_night_gain([_check.text(one, "layers") for one in layers])
