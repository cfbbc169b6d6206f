"""Space: heat losses of a place, and the cold that its heater can stand against."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal, TypeAlias, overload

import numpy as np

from epicotyl import _check, _core
from epicotyl._core import ColdExtreme
from epicotyl._record import DailyRecord

StructureTuple: TypeAlias = tuple[list[tuple[str, float, float]], float, float, float]


@dataclass(frozen=True, slots=True)
class Surface:
    """One surface of a `Structure`.

    Attributes
    ----------
    name : str
        Of your choice.
    area : float
        [m²].
    u : float
        Heat that goes through a square metre for each kelvin [W/(m² K)]; `u_of` has some.
    """

    name: str
    area: float
    u: float


@dataclass(frozen=True, slots=True)
class Structure:
    """What a heated place is made of.

    Attributes
    ----------
    surfaces : sequence of Surface
        What heat goes through.
    volume : float
        Of its air [m³].
    air_changes : float
        How often the air is changed in an hour. New glass 0.75 to 1.5, double film 0.5 to 1, old
        and well kept 1 to 2, old and poor 2 to 4 (from memory).
    allowance : float
        Share added to the surfaces for leaks, where air changes are not known; 0.15 for example.
    """

    surfaces: Sequence[Surface]
    volume: float = 0.0
    air_changes: float = 0.0
    allowance: float = 0.0


def written(structure: Structure) -> StructureTuple:
    """Parts of a structure, for the library."""
    _check.instance(structure, Structure, "structure")
    surfaces = []
    for one in structure.surfaces:
        _check.instance(one, Surface, "surfaces")
        area, u = _check.number(one.area, "surfaces.area"), _check.number(one.u, "surfaces.u")
        surfaces.append((_check.text(one.name, "surfaces.name"), area, u))
    return (
        surfaces,
        _check.number(structure.volume, "volume"),
        _check.number(structure.air_changes, "air_changes"),
        _check.number(structure.allowance, "allowance"),
    )


def u_of(
    glazing: Literal["single_glass", "double_polyethylene", "twin_wall_8mm", "triple_wall"],
) -> float:
    """U value of a glazing, as others quote a standard that was not seen [asae2003].

    Parameters
    ----------
    glazing : {"single_glass", "double_polyethylene", "twin_wall_8mm", "triple_wall"}
        1.13, 0.70, 0.58 and 0.38 Btu/(h ft² °F).

    Returns
    -------
    float
        [W/(m² K)].

    Raises
    ------
    InvalidInput
        For another word.

    Examples
    --------
    >>> round(epicotyl.heat.u_of("double_polyethylene"), 2)
    3.97
    """
    return _core.u_of(_check.text(glazing, "glazing"))


def loss_per_kelvin(structure: Structure) -> float:
    """Heat that a place loses for each kelvin that it is warmer than outdoors.

    Surfaces lose area times U, with the allowance for leaks, and the air 0.33 Wh a cubic metre and
    kelvin [worley2009]. Wind, wet film and a clear sky make it more.

    Parameters
    ----------
    structure : Structure
        The place.

    Returns
    -------
    float
        [W/K].

    Raises
    ------
    InvalidInput
        For a part out of range, and where nothing is lost at all.
    TypeError
        When an argument is of the wrong kind.

    Examples
    --------
    >>> film = epicotyl.heat.Surface("film", 20.0, 5.0)
    >>> tent = epicotyl.heat.Structure([film], volume=100.0, air_changes=1.0)
    >>> epicotyl.heat.loss_per_kelvin(tent)
    133.0
    """
    return _core.loss_per_kelvin(written(structure))


@overload
def heat_loss(structure: Structure, inside: float, outside: float) -> float: ...
@overload
def heat_loss(
    structure: Structure, inside: float | _check.Numbers, outside: float | _check.Numbers
) -> float | _check.FloatArray: ...
def heat_loss(
    structure: Structure, inside: float | _check.Numbers, outside: float | _check.Numbers
) -> float | _check.FloatArray:
    """Output of the heater that holds a place, in steady state.

    See `heat_cautions`: a heater that is just large enough on paper is too small.

    Parameters
    ----------
    structure : Structure
        The place.
    inside, outside : float or array_like of float
        Temperatures [°C]; NaN gives NaN.

    Returns
    -------
    float or numpy.ndarray of float
        [W]; 0 where outdoors is warmer. Arrays are broadcast together.

    Raises
    ------
    InvalidInput
        As `loss_per_kelvin`.
    TypeError
        When an argument is of the wrong kind.

    Examples
    --------
    >>> house = epicotyl.heat.Structure([epicotyl.heat.Surface("film", 25.0, 4.0)])
    >>> epicotyl.heat.heat_loss(house, 5.0, -12.0)
    1700.0
    >>> epicotyl.heat.heat_loss(house, 5.0, [-12.0, 0.0, 8.0]).tolist()
    [1700.0, 500.0, 0.0]
    """
    warm, cold = _check.values(inside, "inside"), _check.values(outside, "outside")
    lost = loss_per_kelvin(structure) * np.maximum(0.0, warm - cold)
    return lost if np.ndim(lost) else float(lost)


def coldest_outdoors(structure: Structure, inside: float, watts: float) -> float:
    """Coldest outdoor night in which a heater holds a place.

    See `heat_cautions`.

    Parameters
    ----------
    structure : Structure
        The place.
    inside : float
        Temperature to be held [°C].
    watts : float
        Output of the heater [W], 0 or more.

    Returns
    -------
    float
        Outdoor temperature [°C].

    Raises
    ------
    InvalidInput
        For watts out of range, and as `loss_per_kelvin`.
    TypeError
        When an argument is of the wrong kind.

    Examples
    --------
    >>> house = epicotyl.heat.Structure([epicotyl.heat.Surface("film", 25.0, 4.0)])
    >>> epicotyl.heat.coldest_outdoors(house, 5.0, 1700.0)
    -12.0
    """
    return _check.number(inside, "inside") - lift_of(structure, watts)


def lift_of(structure: Structure, watts: float) -> float:
    """How much a heater warms a place above what it would be without, in steady state.

    It is the ``heat_lift`` of a place in a plan.

    Parameters
    ----------
    structure : Structure
        The place.
    watts : float
        Output of the heater [W], 0 or more.

    Returns
    -------
    float
        [K].

    Raises
    ------
    InvalidInput
        For watts out of range, and as `loss_per_kelvin`.
    TypeError
        When an argument is of the wrong kind.

    Examples
    --------
    >>> house = epicotyl.heat.Structure([epicotyl.heat.Surface("film", 25.0, 4.0)])
    >>> epicotyl.heat.lift_of(house, 1700.0)
    17.0
    """
    return _core.lift_of(written(structure), _check.number(watts, "watts"))


def heat_cautions() -> list[str]:
    """Tell the usual cautions with heaters, covers and electricity.

    They are printed with every result about heat. Local codes and licensed electricians come before
    anything that this library prints.

    Returns
    -------
    list of str
        One sentence each.

    Examples
    --------
    >>> epicotyl.heat.heat_cautions()[1]
    'Keep it clear of film, fabric and dry medium; no extension leads.'
    """
    return _core.heat_cautions()


def coldest_night(
    record: DailyRecord,
    *,
    latitude: float,
    in_years: float,
    years: int = 30,
    max_missing: int = 10,
    level: float = 0.95,
) -> ColdExtreme:
    """Find the coldest night in so many years, with the interval that few winters leave it.

    Of n winters, sorted by their lowest minimum, it is the one in place floor((n + 1) / in_years);
    the interval has two sorted minima as its ends, whatever the distribution [david2003].

    Parameters
    ----------
    record : DailyRecord
        A station's days.
    latitude : float
        [degrees north]; winters begin on 1 July north of the equator and on 1 January south of it.
    in_years : float
        1 or more; 10: the minimum that a year falls to with a chance of 1 in 10.
    years : int, optional
        The latest winters that count; 0: all.
    max_missing : int, optional
        A winter counts when no more minima are missing, 0 to 366.
    level : float, optional
        Confidence of the interval, 0.5 to 0.9999.

    Returns
    -------
    ColdExtreme
        Its `night` is None where the record is too short.

    Raises
    ------
    InvalidInput
        When a value is out of range, or no winter counts.
    TypeError
        When an argument is of the wrong kind.

    Examples
    --------
    >>> cold = epicotyl.heat.coldest_night(record, latitude=51.9, in_years=4)
    >>> round(cold.night, 1), cold.low, round(cold.high, 1)
    (-4.0, None, -2.4)
    """
    _check.instance(record, DailyRecord, "record")
    return _core.coldest_night(
        record._held,
        _check.number(latitude, "latitude"),
        _check.number(in_years, "in_years"),
        _check.whole(years, "years"),
        _check.whole(max_missing, "max_missing"),
        _check.number(level, "level"),
    )
