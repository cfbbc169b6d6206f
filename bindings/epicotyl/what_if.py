"""What if: plans and climates beside each other.

`epicotyl.sweep` plans every choice of every `epicotyl.Change` and `epicotyl.compare` sets two
calendars side by side. Here are the tables that they give back.
"""

from epicotyl._compare import MovedEvent
from epicotyl._core import CalendarComparison, ChangedInput, SweptSuccession
from epicotyl._swept import Sweep, SweepRow

__all__ = [
    "CalendarComparison",
    "ChangedInput",
    "MovedEvent",
    "Sweep",
    "SweepRow",
    "SweptSuccession",
]
