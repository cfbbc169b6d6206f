"""Space: what stands where, what does not fit, and which moves would help.

`epicotyl.occupancy` counts trays and beds day by day, `epicotyl.fit_to_space` moves sowings until
they fit. Here are the things that these two give back.
"""

from epicotyl._core import FitMove, NotPlaced, Standing
from epicotyl._fit import FitWeights, SpaceFit
from epicotyl._space import Occupancy, Overflow

__all__ = [
    "FitMove",
    "FitWeights",
    "NotPlaced",
    "Occupancy",
    "Overflow",
    "SpaceFit",
    "Standing",
]
