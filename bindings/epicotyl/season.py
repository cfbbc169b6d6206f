"""What calendars and prospects say: claims, reasons, obstacles, damage.

`epicotyl.open_season`, `epicotyl.schedule`, `epicotyl.simulate` and `epicotyl.explain` make
calendars, prospects and reasons. Here are the parts of what they give back, and `why_unresolved`,
which proves why a succession has no days and says what would give it some.
"""

from epicotyl._core import (
    LinkCount,
    LinkedGroup,
    Reason,
    SowingClaim,
    TypedCure,
    UnresolvedConflict,
)
from epicotyl._errors import Obstacle
from epicotyl._explain import why_unresolved
from epicotyl._reports import DamageReport, OverheldReport
from epicotyl._season import Season

__all__ = [
    "DamageReport",
    "LinkCount",
    "LinkedGroup",
    "Obstacle",
    "OverheldReport",
    "Reason",
    "Season",
    "SowingClaim",
    "TypedCure",
    "UnresolvedConflict",
    "why_unresolved",
]
