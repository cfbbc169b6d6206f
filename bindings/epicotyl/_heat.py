"""Space: heat losses of a place, and the cold that its heater can stand against."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal, Self, TypeAlias, overload

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


class HeatFigure(float):
    """A number of a heated place: a float, of which ``str`` is a sentence with its cautions.

    It is added, compared and formatted (``f"{figure:.1f}"``) as the number that it is; what
    is made of it is a plain float. ``print(figure)`` says the number with its unit, and below it
    what belongs beside it.

    Attributes
    ----------
    text : str
        The number in a sentence, with its unit; no caution.
    cautions : list of str
        What belongs beside it, a sentence each.

    Examples
    --------
    >>> house = epicotyl.heat.Structure([epicotyl.heat.Surface("film", 25.0, 4.0)])
    >>> figure = epicotyl.heat.coldest_outdoors(house, 5.0, 400.0)
    >>> figure + 2.0, figure.text
    (3.0, '400 W hold 5.0 °C inside down to 1.0 °C outdoors')
    >>> figure.cautions[0]
    'Use a heater rated for damp places, on an outlet with an RCD or GFCI (residual current).'
    """

    __slots__ = ("_said",)

    _said: str

    def __new__(cls, value: float, said: str) -> Self:
        """A number and what it says; the library makes them."""
        made = super().__new__(cls, value)
        made._said = said
        return made

    @property
    def text(self) -> str:
        """The number in a sentence, with its unit; no caution."""
        return self._said.partition("\n")[0]

    @property
    def cautions(self) -> list[str]:
        """What belongs beside it, a sentence each."""
        return [line.removeprefix("caution: ") for line in self._said.splitlines()[1:]]

    def __str__(self) -> str:
        return self._said.rstrip("\n")

    def __reduce__(self) -> tuple[type, tuple[float, str]]:
        return type(self), (float(self), self._said)


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


def loss_per_kelvin(structure: Structure) -> HeatFigure:
    """Heat that a place loses for each kelvin that it is warmer than outdoors.

    Surfaces lose area times U, with the allowance for leaks, and the air 0.33 Wh a cubic metre and
    kelvin [worley2009]. Wind, wet film and a clear sky make it more.

    Parameters
    ----------
    structure : Structure
        The place.

    Returns
    -------
    HeatFigure
        [W/K]; ``str`` has the cautions.

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
    parts = written(structure)
    return HeatFigure(_core.loss_per_kelvin(parts), _core.loss_text(parts))


@overload
def heat_loss(structure: Structure, inside: float, outside: float) -> HeatFigure: ...
@overload
def heat_loss(
    structure: Structure, inside: float | _check.Numbers, outside: float | _check.Numbers
) -> HeatFigure | _check.FloatArray: ...
def heat_loss(
    structure: Structure, inside: float | _check.Numbers, outside: float | _check.Numbers
) -> HeatFigure | _check.FloatArray:
    """Output of the heater that holds a place, in steady state.

    A heater that is just large enough on paper is too small: see the cautions, which ``str`` of a
    single number prints; an array has none, and they belong beside it.

    Parameters
    ----------
    structure : Structure
        The place.
    inside, outside : float or array_like of float
        Temperatures [°C]; NaN gives NaN.

    Returns
    -------
    HeatFigure or numpy.ndarray of float
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
    if np.ndim(lost):
        return lost
    if not np.isfinite(lost):
        return HeatFigure(float(lost), "not known: a temperature is missing")
    said = _core.heat_loss_text(written(structure), float(warm), float(cold))
    return HeatFigure(float(lost), said)


def coldest_outdoors(structure: Structure, inside: float, watts: float) -> HeatFigure:
    """Coldest outdoor night in which a heater holds a place.

    ``print`` of it has the cautions.

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
    HeatFigure
        Outdoor temperature [°C]; ``str`` has the cautions.

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
    parts, held = written(structure), _check.number(inside, "inside")
    heater = _check.number(watts, "watts")
    return HeatFigure(
        held - _core.lift_of(parts, heater), _core.coldest_outdoors_text(parts, held, heater)
    )


def lift_of(structure: Structure, watts: float) -> HeatFigure:
    """How much a heater warms a place above what it would be without, in steady state.

    It is the ``heat_lift`` of a place in a metric plan; `Plan.with_heater` sets it.

    Parameters
    ----------
    structure : Structure
        The place.
    watts : float
        Output of the heater [W], 0 or more.

    Returns
    -------
    HeatFigure
        [K]; ``str`` has the cautions.

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
    parts, heater = written(structure), _check.number(watts, "watts")
    return HeatFigure(_core.lift_of(parts, heater), _core.lift_text(parts, heater))


def watts_for(structure: Structure, lift: float) -> HeatFigure:
    """Heater that warms a place so far above what it would be without, in steady state.

    Parameters
    ----------
    structure : Structure
        The place.
    lift : float
        How much warmer [K], 0 or more; the ``heat_lift`` of a metric plan.

    Returns
    -------
    HeatFigure
        Output of the heater [W]; ``str`` has the cautions.

    Raises
    ------
    InvalidInput
        For a lift below 0, and as `loss_per_kelvin`.
    TypeError
        When an argument is of the wrong kind.

    Examples
    --------
    >>> house = epicotyl.heat.Structure([epicotyl.heat.Surface("film", 25.0, 4.0)])
    >>> epicotyl.heat.watts_for(house, 17.0)
    1700.0
    """
    parts, warmer = written(structure), _check.number(lift, "lift")
    return HeatFigure(_core.watts_for(parts, warmer), _core.watts_text(parts, warmer))


def heat_cautions(function: str = "heat_curve", *, units: str = "metric") -> list[str]:
    """Tell the cautions that belong beside the numbers of a function, as its text prints them.

    They are common practice; local codes and licensed electricians come before anything that this
    library prints.

    Parameters
    ----------
    function : str, optional
        Whose numbers: "loss_per_kelvin", "heat_loss", "coldest_outdoors", "lift_of", "watts_for",
        "heat_of_season", "heat_curve", "coldest_night", "fit_air", "guess_night_gain",
        "nights_to_act", "prospect", "freeze_answer" or "freeze_table".
    units : {"metric", "us"}, optional
        Of the text.

    Returns
    -------
    list of str
        One sentence each.

    Raises
    ------
    InvalidInput
        For a function that has no cautions, and for other units.

    Examples
    --------
    >>> epicotyl.heat.heat_cautions()[1]
    'A heater needs a circuit of its own, rated for it: 3 kW is 25 A at 120 V, 13 A at 230 V.'
    """
    return _core.cautions(_check.text(function, "function"), _check.text(units, "units"))


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
        Its `night` is None where the record is too short; ``str`` has the cautions.

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
