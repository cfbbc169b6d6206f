"""Seeds, trays and mix: how much of each a plan takes.

`epicotyl.seeds_needed` makes so many plants likely enough. Here is what it builds on (how the seeds
of a lot spread in time, how many can germinate at a temperature), what is bought (packets, seeds a
gram), and what a whole plan adds up to: seeds a lot, trays a container, litres of mix.
"""

from epicotyl._core import StageQuantity, SuccessionQuantity, TrayLine
from epicotyl._germination import GerminationCurve, MaximumGermination, steepness_between
from epicotyl._quantities import (
    PlanQuantities,
    SeedLot,
    SeedOrderLine,
    alive_counts,
    cube_litres,
    frustum_litres,
    quantities,
)
from epicotyl._rate import germinated_by_day
from epicotyl._seed_packets import (
    BoughtSeed,
    SeedPacket,
    buy_seed,
    grams_of,
    seeds_in,
    seeds_per_gram_of_ounce,
)
from epicotyl._seeds import GerminationSpread, cells_needed, chance_of_plants

__all__ = [
    "BoughtSeed",
    "GerminationCurve",
    "GerminationSpread",
    "MaximumGermination",
    "PlanQuantities",
    "SeedLot",
    "SeedOrderLine",
    "SeedPacket",
    "StageQuantity",
    "SuccessionQuantity",
    "TrayLine",
    "alive_counts",
    "buy_seed",
    "cells_needed",
    "chance_of_plants",
    "cube_litres",
    "frustum_litres",
    "germinated_by_day",
    "grams_of",
    "quantities",
    "seeds_in",
    "seeds_per_gram_of_ounce",
    "steepness_between",
]
