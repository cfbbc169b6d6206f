"""Space: what a plan needs - seed, sown cells, trays and medium."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, Literal

from epicotyl import _check, _core
from epicotyl._core import SuccessionQuantity, TrayLine
from epicotyl._plan import Plan
from epicotyl._seed_packets import BoughtSeed, SeedPacket
from epicotyl._seeds import GerminationSpread, _whole


@dataclass(frozen=True, slots=True)
class SeedLot:
    """What is known of the seed of one crop; given to `quantities`.

    Attributes
    ----------
    crop : str
        Name or id of the crop.
    germination : float, GerminationSpread or None
        Share that comes up, by the label or by a test of the lot. None: what the plan says
        survives until the plants are up.
    seeds_a_cell : int
        Sown in each cell, which is thinned to one seedling.
    seeds_per_gram : float or None
        Where it is known, the order says the weight.
    packets : sequence of SeedPacket
        Where they are known, the order says what to buy.
    choice : {"cheapest", "fewest"}
        As for `buy_seed`.
    """

    crop: str
    germination: float | GerminationSpread | None = None
    seeds_a_cell: int = 1
    seeds_per_gram: float | None = None
    packets: Sequence[SeedPacket] = ()
    choice: Literal["cheapest", "fewest"] = "cheapest"


@dataclass(frozen=True, slots=True)
class SeedOrderLine:
    """Seed to order of one crop.

    Attributes
    ----------
    crop : str
        Its name.
    begins : str
        What is done with it: ``"sow"``, ``"plant"``.
    seeds : int
        Seeds, or pieces of what is planted.
    grams : float or None
        Their weight [g], where it is known.
    bought : BoughtSeed or None
        The packets, where they are known.
    starts_as : str
        What `seeds` counts, one of it: ``"seed"``, ``"tuber"``; as the crop's ``starts_as`` says.
    germination : float
        Share of all of them that comes up.
    germination_from : {"plan", "lot", "test"}
        Whose figure that is.
    standard : float or None
        The crop's ``germination_standard``, where `seeds_at_standard` is told.
    seeds_at_standard : int or None
        Seeds that would be enough of a lot that is no better than that; None where the crop has no
        standard, or a lot's own figure is known.
    """

    crop: str
    begins: str
    seeds: int
    grams: float | None
    bought: BoughtSeed | None
    starts_as: str = "seed"
    germination: float = 1.0
    germination_from: str = "plan"
    standard: float | None = None
    seeds_at_standard: int | None = None


@dataclass(frozen=True, slots=True)
class PlanQuantities:
    """What a plan needs, told by `quantities`; ``str(found)`` is a sheet of it.

    Attributes
    ----------
    successions : list of SuccessionQuantity
        In plan order.
    seed_order : list of SeedOrderLine
        In the order in which crops are first grown.
    trays : list of TrayLine
        In the order of the plan's containers.
    medium : float
        To order in all [litres or quarts, as the plan], as far as known.
    notes : list of str
        What is not known.
    """

    successions: list[SuccessionQuantity]
    seed_order: list[SeedOrderLine]
    trays: list[TrayLine]
    medium: float
    notes: list[str]
    _text: str = field(repr=False, compare=False)

    def __str__(self) -> str:
        return self._text


def _written(lot: SeedLot) -> tuple[Any, ...]:
    _check.instance(lot, SeedLot, "lots")
    share = lot.germination
    tested = share._held if isinstance(share, GerminationSpread) else None
    known = None if share is None or tested else _check.number(share, "germination")
    weight = lot.seeds_per_gram
    packets = []
    for one in lot.packets:
        _check.instance(one, SeedPacket, "packets")
        price = _check.number(one.price, "packets.price")
        packets.append((one.name, _whole(one.seeds, "packets.seeds"), price))
    return (
        _check.text(lot.crop, "lots.crop"),
        known,
        tested,
        _check.whole(lot.seeds_a_cell, "seeds_a_cell"),
        None if weight is None else _check.number(weight, "seeds_per_gram"),
        packets,
        _check.text(lot.choice, "choice"),
    )


def quantities(
    plan: Plan,
    *,
    confidence: float = 0.95,
    compaction: float = 0.2,
    compactions: Mapping[str, float] | None = None,
    lots: Sequence[SeedLot] = (),
) -> PlanQuantities:
    """Tell the seed, the sown cells, the trays and the medium that a plan needs.

    Seeds are the fewest that give the plants of a succession with the wanted confidence, by what
    is expected to come up: a lot's own figure where it is given, else the plan's. Where the crop
    has a ``germination_standard``, the lowest that seed may be sold with, the order says beside it
    what a lot of no more than that would take. What starts from tubers or plugs is called so.

    A stage fills the trays of the plants alive in it, the one that is sown at least those of the
    cells sown. The list of trays adds up the most that each succession stands in: what is needed
    if none is used twice. Medium is for trays into which plants come that did not stand in them
    before.

    Parameters
    ----------
    plan : Plan
        The plan; its calendar is not needed.
    confidence : float, optional
        That the seed of a succession is enough, more than 0, less than 1.
    compaction : float, optional
        Medium is ordered for 1 + `compaction` times what the cells hold, 0 to 5. The default is
        from memory; for pressed blocks growers say 1.5 to 2 (common practice, no source).
    compactions : mapping of str to float, optional
        The same for single containers.
    lots : sequence of SeedLot, optional
        What is known of the seed of single crops.

    Returns
    -------
    PlanQuantities
        In the units of the plan, as its sheet.

    Raises
    ------
    InvalidInput
        For values out of range, and crops and containers that the plan does not have.
    TypeError
        When an argument is of the wrong kind.

    Examples
    --------
    >>> lot = epicotyl.seeds.SeedLot("lettuce", germination=0.8)
    >>> found = epicotyl.seeds.quantities(plan, lots=[lot])
    >>> one = found.successions[0]
    >>> one.plants, one.at, one.seeds, one.starts_as, one.germination_from
    (100, 'transplant', 135, 'seed', 'lot')
    """
    _check.instance(plan, Plan, "plan")
    written = [_written(one) for one in lots]
    own = [
        (_check.text(name, "compactions"), _check.number(value, f"compactions.{name}"))
        for name, value in (compactions or {}).items()
    ]
    successions, order, trays, medium, notes, text = _core.quantities(
        plan._held,
        _check.number(confidence, "confidence"),
        _check.number(compaction, "compaction"),
        own,
        written,
    )
    return PlanQuantities(
        successions,
        [
            SeedOrderLine(
                crop,
                begins,
                seeds,
                grams,
                _bought(crop, bought, lots, plan),
                kind,
                share,
                by,
                low,
                n,
            )
            for crop, begins, seeds, grams, bought, kind, share, by, low, n in order
        ],
        trays,
        medium,
        notes,
        text,
    )


def _bought(
    crop: str, found: tuple[Any, ...] | None, lots: Sequence[SeedLot], plan: Plan
) -> BoughtSeed | None:
    if found is None:
        return None
    numbers, *rest = found
    known = {crop, plan.to_dict().get("crops", {}).get(crop, {}).get("id", crop)}
    packets = next(lot.packets for lot in lots if lot.crop in known and lot.packets)
    kinds = [(each, kind) for each, kind in zip(numbers, packets, strict=True) if each]
    return BoughtSeed(kinds, *rest)


def alive_counts(plan: Plan, succession: str) -> _check.FloatArray:
    """Plants (seeds, before they are up) alive when each event of a succession comes.

    The amount of the succession gives one of them; stages before it divide by what survives them,
    stages after it multiply.

    Parameters
    ----------
    plan : Plan
        The plan.
    succession : str
        Name or id.

    Returns
    -------
    numpy.ndarray of float
        One for each of ``plan.events(succession)``; not rounded.

    Raises
    ------
    InvalidInput
        For a name that the plan does not have.
    TypeError
        When an argument is of the wrong kind.

    Examples
    --------
    >>> dict(zip(plan.events("lettuce 1"), epicotyl.seeds.alive_counts(plan, "lettuce 1").tolist()))
    {'sow': 100.0, 'transplant': 100.0, 'first_harvest': 100.0, 'clear': 100.0}
    """
    _check.instance(plan, Plan, "plan")
    return _core.alive_counts(plan._held, _check.text(succession, "succession"))


def cube_litres(side: float) -> float:
    """Volume of a cube, such as a pressed block.

    Parameters
    ----------
    side : float
        Length of its sides [cm], more than 0 to 1000.

    Returns
    -------
    float
        Volume [litres].

    Raises
    ------
    InvalidInput
        When it is out of range.

    Examples
    --------
    >>> epicotyl.seeds.cube_litres(5.0)
    0.125
    """
    return _core.cube_litres(_check.number(side, "side"))


def frustum_litres(top: float, bottom: float, depth: float) -> float:
    """Volume of a square cell that narrows towards its bottom.

    Parameters
    ----------
    top, bottom : float
        Sides of the squares on top and at the bottom [cm], more than 0 to 1000.
    depth : float
        [cm], more than 0 to 1000.

    Returns
    -------
    float
        Volume [litres].

    Raises
    ------
    InvalidInput
        When one is out of range.

    Examples
    --------
    >>> round(epicotyl.seeds.frustum_litres(3.8, 2.5, 4.5), 4)
    0.0453
    """
    return _core.frustum_litres(
        _check.number(top, "top"), _check.number(bottom, "bottom"), _check.number(depth, "depth")
    )
