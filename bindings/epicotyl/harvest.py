"""Harvest: when there is something to pick, how much, and in which weeks.

`epicotyl.stagger` spaces harvests evenly, `epicotyl.coverage` says which weeks are supplied. Here
are their results, the spans of a batch's harvest, what it yields over its weeks, and the fewest
sowings for the days that matter.
"""

from epicotyl._core import (
    CoverageGap,
    CoverageWeek,
    EqualGapSowing,
    HarvestGap,
    HarvestWeek,
    LastSowing,
    StaggeredSowing,
)
from epicotyl._coverage import HarvestCoverage
from epicotyl._fewest import CoveringSowings, fewest_sowings
from epicotyl._harvest import HarvestSpans, harvest_spans
from epicotyl._stagger import Staggered
from epicotyl._yield import HarvestYield, YieldShape
from epicotyl._yield_by_week import YieldByWeek, expected_yield

__all__ = [
    "CoverageGap",
    "CoverageWeek",
    "CoveringSowings",
    "EqualGapSowing",
    "HarvestCoverage",
    "HarvestGap",
    "HarvestSpans",
    "HarvestWeek",
    "HarvestYield",
    "LastSowing",
    "Staggered",
    "StaggeredSowing",
    "YieldByWeek",
    "YieldShape",
    "expected_yield",
    "fewest_sowings",
    "harvest_spans",
]
