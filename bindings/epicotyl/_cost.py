"""Space: what plants cost, bought in or raised."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from epicotyl import _check, _core
from epicotyl._core import Landed, OwnCost
from epicotyl._seeds import _whole


@dataclass(frozen=True, slots=True)
class PlantOffer:
    """Young plants as they are sold; given to `landed_cost`.

    Attributes
    ----------
    plants_a_tray : int
        1 or more.
    breaks : sequence of tuple of int and float
        The price of every tray when at least so many are bought, the first from 1 tray on, rising.
    trays_a_box : int
        1 or more.
    freight_a_box, freight : float
        For each box, and once for the whole delivery.
    survives : float
        Share of the plants bought that lives to be used, more than 0 to 1.
    currency : str
        Printed beside prices; nothing is converted.
    """

    plants_a_tray: int
    breaks: Sequence[tuple[int, float]]
    trays_a_box: int = 1
    freight_a_box: float = 0.0
    freight: float = 0.0
    survives: float = 1.0
    currency: str = ""


def landed_cost(plants: int, offer: PlantOffer) -> Landed:
    """Work out what so many living plants cost, landed, in whole trays and whole boxes.

    Where a price break makes more trays cheaper than fewer, more are bought.

    Parameters
    ----------
    plants : int
        Plants that are to live, 0 or more.
    offer : PlantOffer
        How they are sold.

    Returns
    -------
    Landed
        ``str(landed)`` is a table of it.

    Raises
    ------
    InvalidInput
        When a value is out of range, or breaks do not rise from 1 tray on.
    TypeError
        When an argument is of the wrong kind.

    Examples
    --------
    >>> offer = epicotyl.cost.PlantOffer(
    ...     84, [(1, 31.5), (9, 27.0)], trays_a_box=4, freight_a_box=18.5
    ... )
    >>> landed = epicotyl.cost.landed_cost(200, offer)
    >>> landed.trays, landed.boxes, landed.total
    (3, 1, 113.0)
    """
    _check.instance(offer, PlantOffer, "offer")
    breaks = [
        (_whole(trays, "breaks.from_trays"), _check.number(price, "breaks.price"))
        for trays, price in offer.breaks
    ]
    return _core.landed_cost(
        _whole(plants, "plants"),
        _whole(offer.plants_a_tray, "plants_a_tray"),
        _whole(offer.trays_a_box, "trays_a_box"),
        breaks,
        _check.number(offer.freight_a_box, "freight_a_box"),
        _check.number(offer.freight, "freight"),
        _check.number(offer.survives, "survives"),
        _check.text(offer.currency, "currency"),
    )


def cost_of_raising(
    plants: int,
    *,
    usable: float,
    seed: float = 0.0,
    medium: float = 0.0,
    heat: float = 0.0,
    labour_hours: float = 0.0,
    wage: float = 0.0,
    containers: Sequence[tuple[float, float, float]] = (),
    other: float = 0.0,
    currency: str = "",
) -> OwnCost:
    """Work out what raised plants cost, all of them and each that is usable.

    Parameters
    ----------
    plants : int
        Plants raised, 1 or more.
    usable : float
        Share of them that is good enough to use, more than 0 to 1.
    seed, medium, heat, other : float, optional
        What is spent on them.
    labour_hours, wage : float, optional
        Hours of work, and what an hour costs.
    containers : sequence of tuple of three floats, optional
        How many of a container, the price of one, and the seasons that one lasts.
    currency : str, optional
        Printed beside prices; nothing is converted.

    Returns
    -------
    OwnCost
        ``str(cost)`` is a table of it.

    Raises
    ------
    InvalidInput
        When a value is out of range.
    TypeError
        When an argument is of the wrong kind.

    Examples
    --------
    >>> cost = epicotyl.cost.cost_of_raising(
    ...     160, usable=0.75, seed=12.0, labour_hours=4.0, wage=16.0, containers=[(5, 4.0, 20)]
    ... )
    >>> cost.total, round(cost.per_usable_plant, 3)
    (77.0, 0.642)
    """
    lives = [
        (
            _check.number(count, "containers.count"),
            _check.number(price, "containers.price"),
            _check.number(seasons, "containers.seasons"),
        )
        for count, price, seasons in containers
    ]
    return _core.cost_of_raising(
        _whole(plants, "plants"),
        _check.number(usable, "usable"),
        _check.number(seed, "seed"),
        _check.number(medium, "medium"),
        _check.number(heat, "heat"),
        _check.number(labour_hours, "labour_hours"),
        _check.number(wage, "wage"),
        lives,
        _check.number(other, "other"),
        _check.text(currency, "currency"),
    )


def break_even_usable(total: float, plants: int, price: float) -> float | None:
    """Share of raised plants that must be usable for them to cost no more than bought ones.

    Parameters
    ----------
    total : float
        What raising costs, 0 or more.
    plants : int
        Plants raised, 1 or more.
    price : float
        Of one bought plant, landed; more than 0.

    Returns
    -------
    float or None
        ``total / (plants · price)``; None where not even all of them being usable is enough.

    Raises
    ------
    InvalidInput
        When a value is out of range.

    Examples
    --------
    >>> epicotyl.cost.break_even_usable(135.0, 160, 0.9)
    0.9375
    """
    return _core.break_even_usable(
        _check.number(total, "total"), _whole(plants, "plants"), _check.number(price, "price")
    )
