"""Space: the bill of a set point, and what another one does."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from epicotyl import _check, _core
from epicotyl._core import HeatCurve, HeaterMatch
from epicotyl._heat import Structure, written
from epicotyl._plan import Plan
from epicotyl._result import extends
from epicotyl._weather import Climate


@extends
class SeasonHeat(_core.SeasonHeat):
    __slots__ = ()

    @property
    def usual(self) -> tuple[float, float]:
        """Heat [kWh] and cost of the usual year, the middle one."""
        at = np.argsort(self.kwh, kind="stable")[max(1, math.ceil(0.5 * self.kwh.size - 1e-9)) - 1]
        return float(self.kwh[at]), float(self.cost[at])


def match_heater(
    plan: Plan, place: str, structure: Structure, *, watts: float | None = None
) -> HeaterMatch:
    """Hold a plan's heater against a structure and its watts: the three are one thing.

    Parameters
    ----------
    plan : Plan
        With the place.
    place : str
        Name or id of a place with ``heat_to``.
    structure : Structure
        What the place is made of.
    watts : float, optional
        Output of the heater [W].

    Returns
    -------
    HeaterMatch
        What the plan's ``heat_lift`` takes there, and whether the watts are that.

    Raises
    ------
    InvalidInput
        For an unknown place, one without ``heat_to``, watts out of range, and as `loss_per_kelvin`.
    TypeError
        When an argument is of the wrong kind.

    Examples
    --------
    >>> house = epicotyl.heat.Structure([epicotyl.heat.Surface("film", 25.0, 4.0)])
    >>> heated = plan.with_place("beds", heat_to=4.0, heat_lift=9.0)
    >>> here = epicotyl.heat.match_heater(heated, "beds", house, watts=600.0)
    >>> here.needs, here.holds, here.agrees
    (900.0, 6.0, False)
    >>> print(here.sentence.partition(";")[0])
    note: the plan counts on a lift of 9.0 °C, which takes 900 W here
    """
    _check.instance(plan, Plan, "plan")
    return _core.match_heater(
        plan._held,
        _check.text(place, "place"),
        written(structure),
        None if watts is None else _check.number(watts, "watts"),
    )


def _price(per_kwh: float, efficiency: float, currency: str) -> tuple[float, float, str]:
    return (
        _check.number(per_kwh, "per_kwh"),
        _check.number(efficiency, "efficiency"),
        _check.text(currency, "currency"),
    )


def heat_of_season(
    structure: Structure,
    plan: Plan,
    climate: Climate,
    place: str,
    start: _check.Day,
    until: _check.Day,
    *,
    heat_to: float | None = None,
    watts: float | None = None,
    per_kwh: float = 0.0,
    efficiency: float = 1.0,
    currency: str = "",
) -> SeasonHeat:
    """Work out the heat of a season's set point, in every season year.

    Between minimum and maximum a day follows a sine, as in degree-days [baskerville1969]. The place
    without its heater has its own air, outdoors plus ``warmer_night`` and ``warmer_day``; the
    heater lifts it to the set point, as far as ``heat_lift`` reaches, against the loss in steady
    state. No heat is stored, and covers laid on cold nights save nothing here.

    The plan's ``heat_lift`` takes a heater of so many watts in this structure: ``str`` says how
    many, and where `watts` are not those, that plan and heater contradict each other and what to do
    about it. All is counted with the plan's lift; `Plan.with_heater` gives the plan that of a
    heater.

    Parameters
    ----------
    structure : Structure
        What the place is made of.
    plan : Plan
        With the place.
    climate : Climate
        Season years with the plan's season start, length and latitude.
    place : str
        Name or id of a place that is heated.
    start, until : datetime.date or numpy.datetime64
        First and last day that is heated, days of the plan's season.
    heat_to : float, optional
        Set point [°C or °F, as the plan]; None: the place's. One that is unusual in the plan's
        units and usual in the others is refused.
    watts : float, optional
        Output of the heater [W], to be held against the plan's ``heat_lift``.
    per_kwh : float, optional
        Price of what is bought, 0 or more.
    efficiency : float, optional
        Share of it that warms the place, more than 0; a heat pump: above 1.
    currency : str, optional
        Printed beside prices.

    Returns
    -------
    SeasonHeat
        Heat and bill of every season year; ``str`` has the cautions.

    Raises
    ------
    InvalidInput
        For an unknown place, one without ``heat_to`` or with held temperatures, days outside the
        season and values out of range.
    TypeError
        When an argument is of the wrong kind.

    Examples
    --------
    >>> house = epicotyl.heat.Structure([epicotyl.heat.Surface("film", 25.0, 4.0)])
    >>> heat = epicotyl.heat.heat_of_season(
    ...     house, plan, climate, "beds", datetime.date(2027, 1, 1), datetime.date(2027, 3, 31),
    ...     heat_to=5.0, per_kwh=0.3,
    ... )
    >>> [round(value) for value in heat.usual]
    [410, 123]
    """
    for value, kind, name in ((plan, Plan, "plan"), (climate, Climate, "climate")):
        _check.instance(value, kind, name)
    return _core.heat_of_season(
        written(structure),
        plan._held,
        climate._held,
        _check.text(place, "place"),
        start,
        until,
        None if heat_to is None else _check.number(heat_to, "heat_to"),
        _price(per_kwh, efficiency, currency),
        None if watts is None else _check.number(watts, "watts"),
    )


def heat_curve(
    plan: Plan,
    climate: Climate,
    place: str,
    structure: Structure,
    set_points: Sequence[float] | _check.FloatArray,
    start: _check.Day,
    until: _check.Day,
    *,
    watts: float | None = None,
    per_kwh: float = 0.0,
    efficiency: float = 1.0,
    currency: str = "",
) -> HeatCurve:
    """Tell what other set points of a place do to ready days, damage and the bill together.

    Every set point is asked two questions: sown on the days that the plan as it stands has planned,
    when is each succession ready, whatever frost then says? And planned anew, when must it be sown,
    and in how many years is it damaged by cold, with the heater working and with it off?

    ``str`` is a table, with what the plan's ``heat_lift`` takes in this structure, whether `watts`
    are that, and the cautions.

    Parameters
    ----------
    plan : Plan
        With the place.
    climate : Climate
        Season years with the plan's season start, length and latitude.
    place : str
        Name or id of a place with an air of its own.
    structure : Structure
        What the place is made of.
    set_points : sequence of float
        Temperatures [°C or °F, as the plan], at least one.
    start, until : datetime.date or numpy.datetime64
        First and last day that is heated, for the bill.
    watts, per_kwh, efficiency, currency : float, float, float, str
        As for `heat_of_season`.

    Returns
    -------
    HeatCurve
        One point for each set point.

    Raises
    ------
    InvalidInput
        For an unknown place, no set point, and what `heat_of_season` and `schedule` refuse.
    TypeError
        When an argument is of the wrong kind.

    Examples
    --------
    >>> house = epicotyl.heat.Structure([epicotyl.heat.Surface("film", 25.0, 4.0)])
    >>> curve = epicotyl.heat.heat_curve(
    ...     plan, climate, "beds", house, [2.0, 5.0],
    ...     datetime.date(2027, 1, 1), datetime.date(2027, 3, 31),
    ... )
    >>> [round(point.heat.usual[0]) for point in curve.points]
    [139, 410]
    """
    for value, kind, name in ((plan, Plan, "plan"), (climate, Climate, "climate")):
        _check.instance(value, kind, name)
    return _core.heat_curve(
        plan._held,
        climate._held,
        _check.text(place, "place"),
        written(structure),
        _check.values(set_points, "set_points").ravel().tolist(),
        start,
        until,
        _price(per_kwh, efficiency, currency),
        None if watts is None else _check.number(watts, "watts"),
    )
