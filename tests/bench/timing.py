"""Two ways of doing one thing, timed by turns in one run."""

from __future__ import annotations

import statistics
import time
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Callable


def seconds(call: Callable[[], Any]) -> float:
    """How long one call took [s]."""
    start = time.perf_counter()
    call()
    return time.perf_counter() - start


def medians(
    ours: Callable[[], Any], theirs: Callable[[], Any], repeats: int
) -> tuple[float, float]:
    """Median seconds of both, taken by turns: what else the machine does meets both alike.

    Each is called once before, so that nobody pays for what is done once.
    """
    ours()
    theirs()
    pairs = [(seconds(ours), seconds(theirs)) for _ in range(repeats)]
    return statistics.median(a for a, _ in pairs), statistics.median(b for _, b in pairs)
