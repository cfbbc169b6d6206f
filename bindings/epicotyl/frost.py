"""Frost dates, and how far they can be trusted.

`epicotyl.FreezeRisk` answers for one threshold. Here are its answers, each with the count of years
that it rests on, the table of many thresholds and chances, and the band of chances that a count of
years leaves open.
"""

from epicotyl._core import FreezeYear, FrostFreeSpan
from epicotyl._freeze_answer import (
    CountedChance,
    FreezeAnswer,
    FreezeSample,
    chance_band,
)
from epicotyl._freeze_table import FreezeTable, FreezeTableRow

__all__ = [
    "CountedChance",
    "FreezeAnswer",
    "FreezeSample",
    "FreezeTable",
    "FreezeTableRow",
    "FreezeYear",
    "FrostFreeSpan",
    "chance_band",
]
