"""Cost: plants raised beside plants bought.

What an offer of plants costs once it is landed at the door, whole trays and boxes and freight
included, what one of one's own costs, and from which share of usable plants raising pays.
"""

from epicotyl._core import Landed, OwnCost
from epicotyl._cost import PlantOffer, break_even_usable, cost_of_raising, landed_cost

__all__ = [
    "Landed",
    "OwnCost",
    "PlantOffer",
    "break_even_usable",
    "cost_of_raising",
    "landed_cost",
]
