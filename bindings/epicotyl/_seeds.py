"""Crop: how many seeds make so many plants likely enough."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, TypeAlias, overload

import numpy as np
import numpy.typing as npt

from epicotyl import _check, _core
from epicotyl._value import Told, Value

Wholes: TypeAlias = npt.NDArray[np.integer[Any]] | Sequence[int]


class GerminationSpread(Value[_core.GerminationSpread]):
    """What is known of the share of a lot that comes up: a beta distribution.

    A share on the packet is one thing, the lot in hand another. The less is known of the share, the
    more seeds are needed.

    Parameters
    ----------
    a, b : float
        0.01 to 1e8. A seed that came up in a test adds 1 to `a`, one that did not 1 to `b`.

    Raises
    ------
    InvalidInput
        When one is out of range.
    TypeError
        When an argument is of the wrong kind.

    Examples
    --------
    >>> tested = epicotyl.seeds.GerminationSpread.from_test(40, 50)
    >>> tested.a, tested.b, round(tested.mean, 3)
    (41.0, 11.0, 0.788)
    >>> epicotyl.seeds_needed(100, germination=tested)
    148
    """

    __slots__ = ()

    _compares_held = True

    def __init__(self, a: float, b: float) -> None:
        self._restore(_check.number(a, "a"), _check.number(b, "b"))

    @classmethod
    def from_test(cls, up: int, sown: int) -> GerminationSpread:
        """Make it of a test; before the test every share was held equally likely.

        Parameters
        ----------
        up, sown : int
            Seeds that came up, 0 to `sown`, and seeds that were tried, 1 or more.

        Returns
        -------
        GerminationSpread
            Beta(up + 1, sown - up + 1).

        Raises
        ------
        InvalidInput
            When one is out of range.

        Examples
        --------
        >>> epicotyl.seeds.GerminationSpread.from_test(9, 10)
        GerminationSpread(10.0, 2.0)
        """
        return cls._of(_core.spread_from_test(_whole(up, "up"), _whole(sown, "sown")))

    @classmethod
    def from_mean(cls, mean: float, concentration: float) -> GerminationSpread:
        """Make it of a mean, known as well as by trying so many seeds.

        Parameters
        ----------
        mean : float
            More than 0, less than 1.
        concentration : float
            ``a + b``, more than 0.

        Returns
        -------
        GerminationSpread
            Beta(mean · concentration, (1 - mean) · concentration).

        Raises
        ------
        InvalidInput
            When one is out of range.

        Examples
        --------
        >>> epicotyl.seeds.GerminationSpread.from_mean(0.75, 40.0)
        GerminationSpread(30.0, 10.0)
        """
        mean = _check.number(mean, "mean")
        concentration = _check.number(concentration, "concentration")
        return cls._of(_core.spread_from_mean(mean, concentration))

    a = Told[float]("First parameter of the distribution.")
    b = Told[float]("Second parameter of the distribution.")
    mean = Told[float]("Mean share that comes up, ``a / (a + b)``.")
    concentration = Told[float]("``a + b``: how well the share is known, in seeds tried.")

    def __repr__(self) -> str:
        return f"GerminationSpread({self.a!r}, {self.b!r})"

    def __str__(self) -> str:
        return repr(self)

    def _parts(self) -> tuple[float, float]:
        return self.a, self.b

    def _restore(self, a: float, b: float) -> None:
        self._held = _core.GerminationSpread(a, b)


def _whole(value: object, name: str) -> int:
    found = _check.integer(value, name)
    if not -(2**63) <= found < 2**63:
        _refuse_large(found, name)
    return found


def _refuse_large(found: int, name: str) -> None:
    _core.refuse(
        code="number.too_large",
        field=name,
        value=str(found),
        bound="64 bits",
        problem=f"{found} is beyond all counts",
        remedy="give a smaller number",
    )


def _wholes(given: object, name: str) -> npt.NDArray[np.int64]:
    """Whole numbers as an array of int64."""
    found = np.asarray(given)
    if found.dtype.kind == "O" and all(type(one) is int for one in found.flat):
        _refuse_large(max(found.flat, key=abs), name)
    if found.dtype.kind not in "iu" and found.size:
        raise TypeError(f"{name}: whole numbers are wanted, not {found.dtype}")
    if found.dtype == np.uint64 and found.size and int(found.max()) >= 2**63:
        _refuse_large(int(found.max()), name)
    return found.astype(np.int64)


def _rows(*arrays: npt.NDArray[Any]) -> tuple[tuple[int, ...], list[npt.NDArray[Any]]]:
    """Shape and rows of arrays that are broadcast together."""
    spread = np.broadcast_arrays(*arrays)
    return spread[0].shape, [np.ascontiguousarray(one).ravel() for one in spread]


def _counts(found: npt.NDArray[np.int64], shape: tuple[int, ...]) -> int | npt.NDArray[np.int64]:
    return found.reshape(shape) if shape else int(found[0])


Shares: TypeAlias = float | _check.Numbers


@overload
def seeds_needed(
    plants: int,
    *,
    germination: float | GerminationSpread,
    usable: float = 1.0,
    confidence: float = 0.95,
) -> int: ...
@overload
def seeds_needed(
    plants: int | Wholes,
    *,
    germination: Shares | GerminationSpread,
    usable: Shares = 1.0,
    confidence: Shares = 0.95,
) -> int | npt.NDArray[np.int64]: ...
def seeds_needed(
    plants: int | Wholes,
    *,
    germination: Shares | GerminationSpread,
    usable: Shares = 1.0,
    confidence: Shares = 0.95,
) -> int | npt.NDArray[np.int64]:
    """Tell the fewest seeds that give at least so many plants with the wanted confidence.

    The smallest n with P(Binomial(n, germination · usable) >= plants) >= confidence; where the
    germination is itself uncertain, the seeds that come up are beta-binomial. Seeds count one by
    one: what takes many at once, such as a cold night or a mouse, is not in it.

    Parameters
    ----------
    plants : int or array_like of int
        Usable plants wanted, 0 to 100,000,000; to 100,000 with a `GerminationSpread`.
    germination : float, array_like of float or GerminationSpread
        Share of the seeds that comes up, more than 0 to 1, or what is known of it.
    usable : float or array_like of float, optional
        Share of the seedlings that is good enough to plant, more than 0 to 1.
    confidence : float or array_like of float, optional
        More than 0, less than 1: 0.95 is enough in 95 sowings of 100.

    Returns
    -------
    int or numpy.ndarray of int64
        Seeds; arrays are broadcast together.

    Raises
    ------
    InvalidInput
        When a value is out of range, or a share that may well be near 0 would need more than
        1,000,000,000 seeds.
    TypeError
        When an argument is of the wrong kind.

    Examples
    --------
    >>> epicotyl.seeds_needed(100, germination=0.8)
    135
    >>> epicotyl.seeds_needed([100, 250], germination=0.8).tolist()
    [135, 327]
    """
    count = _wholes(plants, "plants")
    good, sure = _check.values(usable, "usable"), _check.values(confidence, "confidence")
    if isinstance(germination, GerminationSpread):
        shape, (count, good, sure) = _rows(count, good, sure)
        return _counts(_core.seeds_of_spread(count, germination._held, good, sure), shape)
    up = _check.values(germination, "germination")
    shape, (count, up, good, sure) = _rows(count, up, good, sure)
    return _counts(_core.seeds_of_shares(count, up, good, sure), shape)


@overload
def cells_needed(
    plants: int,
    *,
    seeds_a_cell: int,
    germination: float,
    usable: float = 1.0,
    confidence: float = 0.95,
) -> int: ...
@overload
def cells_needed(
    plants: int | Wholes,
    *,
    seeds_a_cell: int,
    germination: Shares,
    usable: Shares = 1.0,
    confidence: Shares = 0.95,
) -> int | npt.NDArray[np.int64]: ...
def cells_needed(
    plants: int | Wholes,
    *,
    seeds_a_cell: int,
    germination: Shares,
    usable: Shares = 1.0,
    confidence: Shares = 0.95,
) -> int | npt.NDArray[np.int64]:
    """Tell the fewest cells, each sown with several seeds, that give so many plants.

    A cell counts when at least one seed comes up, with 1 - (1 - germination)^seeds_a_cell, and its
    one seedling after thinning is usable.

    Parameters
    ----------
    plants : int or array_like of int
        Usable plants wanted, 0 to 100,000,000.
    seeds_a_cell : int
        1 to 1000.
    germination, usable, confidence : float or array_like of float
        As for `seeds_needed`.

    Returns
    -------
    int or numpy.ndarray of int64
        Cells; seeds are `seeds_a_cell` times as many.

    Raises
    ------
    InvalidInput
        When a value is out of range.
    TypeError
        When an argument is of the wrong kind.

    Examples
    --------
    >>> epicotyl.seeds.cells_needed(100, seeds_a_cell=1, germination=0.8)
    135
    >>> epicotyl.seeds.cells_needed(100, seeds_a_cell=2, germination=0.8)
    108
    """
    each = _check.whole(seeds_a_cell, "seeds_a_cell")
    up = _check.values(germination, "germination")
    good, sure = _check.values(usable, "usable"), _check.values(confidence, "confidence")
    shape, (count, up, good, sure) = _rows(_wholes(plants, "plants"), up, good, sure)
    return _counts(_core.cells_needed(count, each, up, good, sure), shape)


@overload
def chance_of_plants(
    plants: int, seeds: int, *, germination: float | GerminationSpread, usable: float = 1.0
) -> float: ...
@overload
def chance_of_plants(
    plants: int | Wholes,
    seeds: int | Wholes,
    *,
    germination: Shares | GerminationSpread,
    usable: Shares = 1.0,
) -> float | _check.FloatArray: ...
def chance_of_plants(
    plants: int | Wholes,
    seeds: int | Wholes,
    *,
    germination: Shares | GerminationSpread,
    usable: Shares = 1.0,
) -> float | _check.FloatArray:
    """Chance that so many seeds give at least so many usable plants.

    Parameters
    ----------
    plants, seeds : int or array_like of int
        0 or more.
    germination : float, array_like of float or GerminationSpread
        Share of the seeds that comes up, 0 to 1, or what is known of it.
    usable : float or array_like of float, optional
        Share of the seedlings that is good enough to plant, 0 to 1.

    Returns
    -------
    float or numpy.ndarray of float
        0 to 1; arrays are broadcast together.

    Raises
    ------
    InvalidInput
        When a value is out of range.
    TypeError
        When an argument is of the wrong kind.

    Examples
    --------
    >>> round(epicotyl.seeds.chance_of_plants(100, 125, germination=0.8), 3)
    0.553
    """
    count, sown = _wholes(plants, "plants"), _wholes(seeds, "seeds")
    good = _check.values(usable, "usable")
    if isinstance(germination, GerminationSpread):
        shape, (count, sown, good) = _rows(count, sown, good)
        found = _core.chances_of_spread(count, sown, germination._held, good)
    else:
        up = _check.values(germination, "germination")
        shape, (count, sown, up, good) = _rows(count, sown, up, good)
        found = _core.chances_of_shares(count, sown, up, good)
    return found.reshape(shape) if shape else float(found[0])
