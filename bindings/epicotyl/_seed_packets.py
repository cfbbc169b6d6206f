"""Crop: seeds by weight and by the packet."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from epicotyl import _check, _core
from epicotyl._seeds import _whole


@dataclass(frozen=True, slots=True)
class SeedPacket:
    """A packet as it is sold.

    Attributes
    ----------
    name : str
        Of your choice.
    seeds : int
        1 to 1,000,000,000. For a packet by weight, see `seeds_in`.
    price : float
        0 to 1,000,000, in a currency of your own.
    """

    name: str
    seeds: int
    price: float


@dataclass(frozen=True, slots=True)
class BoughtSeed:
    """Packets to buy, chosen by `buy_seed`.

    Attributes
    ----------
    packets : list of tuple of int and SeedPacket
        How many of each kind that is bought, in the order given.
    count : int
        Packets in all.
    seeds : int
        Seeds in them.
    price : float
        Of all of them.
    """

    packets: list[tuple[int, SeedPacket]]
    count: int
    seeds: int
    price: float

    def __str__(self) -> str:
        return ", ".join(f"{count} {kind.name}" for count, kind in self.packets) or "none"


def buy_seed(
    seeds: int,
    packets: Sequence[SeedPacket],
    *,
    choice: Literal["cheapest", "fewest"] = "cheapest",
) -> BoughtSeed:
    """Choose the packets that hold at least so many seeds.

    Of equally cheap ones the fewest are taken, of equally few the cheapest, then those that leave
    the fewest seeds over. The choice is exact. Prices are told apart to a millionth.

    Parameters
    ----------
    seeds : int
        Seeds wanted, 0 to 1,000,000,000.
    packets : sequence of SeedPacket
        The kinds that are sold, at least one.
    choice : {"cheapest", "fewest"}, optional
        What is to be small: the price, or the number of packets.

    Returns
    -------
    BoughtSeed
        What to buy; ``str(bought)`` is "1 large, 2 small".

    Raises
    ------
    InvalidInput
        When a value is out of range, or the sizes share no common measure, so that too many
        combinations would have to be weighed.
    TypeError
        When an argument is of the wrong kind.

    Examples
    --------
    >>> small = epicotyl.seeds.SeedPacket("small", 100, 2.5)
    >>> large = epicotyl.seeds.SeedPacket("large", 500, 9.0)
    >>> bought = epicotyl.seeds.buy_seed(117, [small, large])
    >>> str(bought), bought.price
    ('2 small', 5.0)
    >>> str(epicotyl.seeds.buy_seed(117, [small, large], choice="fewest"))
    '1 large'
    """
    kinds = []
    for one in packets:
        _check.instance(one, SeedPacket, "packets")
        kinds.append(
            (
                _check.text(one.name, "packets.name"),
                _whole(one.seeds, "packets.seeds"),
                _check.number(one.price, "packets.price"),
            )
        )
    word = _check.text(choice, "choice")
    numbers, count, held, price = _core.buy_seed(_whole(seeds, "seeds"), kinds, word)
    bought = [(each, kind) for each, kind in zip(numbers, packets, strict=True) if each]
    return BoughtSeed(bought, count, held, price)


def seeds_per_gram_of_ounce(seeds_per_ounce: float) -> float:
    """Seeds a gram, of a seed that is sold by seeds an ounce (28.349523125 g).

    Parameters
    ----------
    seeds_per_ounce : float
        More than 0.

    Returns
    -------
    float
        Seeds a gram.

    Raises
    ------
    InvalidInput
        When it is out of range.

    Examples
    --------
    >>> round(epicotyl.seeds.seeds_per_gram_of_ounce(4000.0), 1)
    141.1
    """
    return _core.seeds_per_gram_of_ounce(_check.number(seeds_per_ounce, "seeds_per_ounce"))


def seeds_in(grams: float, *, seeds_per_gram: float) -> int:
    """Whole seeds in a weight, rounded down.

    Parameters
    ----------
    grams : float
        Weight of the seed [g], 0 or more.
    seeds_per_gram : float
        More than 0.

    Returns
    -------
    int
        Seeds.

    Raises
    ------
    InvalidInput
        When a value is out of range.

    Examples
    --------
    >>> epicotyl.seeds.seeds_in(2.0, seeds_per_gram=141.1)
    282
    """
    weight = _check.number(grams, "grams")
    return _core.seeds_in(weight, _check.number(seeds_per_gram, "seeds_per_gram"))


def grams_of(seeds: int, *, seeds_per_gram: float) -> float:
    """Weight of a number of seeds.

    Parameters
    ----------
    seeds : int
        0 to 1,000,000,000.
    seeds_per_gram : float
        More than 0.

    Returns
    -------
    float
        Weight [g].

    Raises
    ------
    InvalidInput
        When a value is out of range.

    Examples
    --------
    >>> epicotyl.seeds.grams_of(300, seeds_per_gram=150.0)
    2.0
    """
    count = _whole(seeds, "seeds")
    return _core.grams_of(count, _check.number(seeds_per_gram, "seeds_per_gram"))
