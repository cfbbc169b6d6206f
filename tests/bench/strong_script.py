"""The days of workload.py by the strongest script that a user would write: numba.

Running sums of degree-days, and then either of two ways from stage to stage, all season years of a
succession side by side:

- `by_tables`: when a stage is over is worked out once for all successions of a crop, by two
  pointers that walk up the sums together, and only for the days on which it can begin in that year
- `by_search`: each succession searches the sums by halving

Batches that cold loses are left out, as `simulate` leaves them until they are asked for.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numba
import numpy as np

import workload
from workload import BASES, CROPS, DAYS, EVENTS, PLACES, STAGES, YEARS

if TYPE_CHECKING:
    from collections.abc import Callable

NEVER = 32767
NEARLY = 1.0 - 1e-9  # of an amount, against rounding
TRANSPLANT, EMERGE = EVENTS.index("transplant"), EVENTS.index("emerge")


@numba.njit
def sums_and_cold(low, high, warmer, bases, limit):
    """Sums [place, base, year, day], and the next night that ends a harvest [place, year, day]."""
    places = len(warmer)
    sums = np.zeros((places, len(bases), YEARS, DAYS + 1))
    cold = np.full((places, YEARS, DAYS + 2), NEVER, np.int16)
    for p in range(places):
        for y in range(YEARS):
            for b in range(len(bases)):
                total = 0.0
                for d in range(DAYS):
                    night = low[y, d] + warmer[p, 0]
                    day = max(high[y, d] + warmer[p, 1], night)
                    total += max((night + day) / 2 - bases[b], 0.0)
                    sums[p, b, y, d + 1] = total
            for d in range(DAYS - 1, -1, -1):
                is_cold = low[y, d] + warmer[p, 0] <= limit
                cold[p, y, d] = d if is_cold else cold[p, y, d + 1]
    return sums, cold


@numba.njit
def wait_for_links(days, first, then, gap):
    """Puts off what is planted out until the seedlings that it waits for are up."""
    for k in range(len(first)):
        for y in range(YEARS):
            free = days[first[k], EMERGE, y] + gap
            if free > DAYS:
                free = NEVER
            days[then[k], TRANSPLANT, y] = max(days[then[k], TRANSPLANT, y], free)


@numba.njit
def by_tables(sums, cold, place, base, amount, order, begins, sowing, first, then, gap):
    """Days [succession, event, year]; `order` goes crop by crop, each from `begins` on."""
    days = np.empty((len(sowing), STAGES + 1, YEARS), np.int16)
    for i in range(len(sowing)):
        days[i, 0] = sowing[i]
    table = np.empty((DAYS + 1) * YEARS, np.int16)
    earliest, latest = np.empty(YEARS, np.int64), np.empty(YEARS, np.int64)
    for j in range(STAGES):
        for c in range(CROPS):
            total, nights = sums[place[c, j], base[c, j]], cold[place[c, j]]
            wanted = amount[c, j] * NEARLY
            earliest[:], latest[:] = NEVER, -1
            for i in order[begins[c] : begins[c + 1]]:
                for y in range(YEARS):
                    day = days[i, j, y]
                    if day <= DAYS:
                        earliest[y] = min(earliest[y], day)
                        latest[y] = max(latest[y], day)
            begin = earliest.min()
            for y in range(YEARS):
                of_year = total[y]
                end = earliest[y]
                for start in range(earliest[y], latest[y] + 1):
                    while end <= DAYS and of_year[end] - of_year[start] < wanted:
                        end += 1
                    over = end if end <= DAYS else NEVER
                    if j == STAGES - 1:
                        over = min(over, nights[y, start + 1])
                    table[(start - begin) * YEARS + y] = over
            for i in order[begins[c] : begins[c + 1]]:
                for y in range(YEARS):
                    day = days[i, j, y]
                    days[i, j + 1, y] = table[(day - begin) * YEARS + y] if day <= DAYS else NEVER
        if j + 1 == TRANSPLANT:
            wait_for_links(days, first, then, gap)
    return days


@numba.njit
def by_search(sums, cold, place, base, amount, order, begins, sowing, first, then, gap):
    """The same, each looked for by itself."""
    days = np.empty((len(sowing), STAGES + 1, YEARS), np.int16)
    for i in range(len(sowing)):
        days[i, 0] = sowing[i]
    for j in range(STAGES):
        for c in range(CROPS):
            total, nights = sums[place[c, j], base[c, j]], cold[place[c, j]]
            wanted = amount[c, j] * NEARLY
            for i in order[begins[c] : begins[c + 1]]:
                for y in range(YEARS):
                    start = days[i, j, y]
                    if start > DAYS:
                        days[i, j + 1, y] = NEVER
                        continue
                    of_year = total[y]
                    low, high = start, DAYS + 1
                    while low < high:
                        middle = (low + high) // 2
                        if of_year[middle] - of_year[start] >= wanted:
                            high = middle
                        else:
                            low = middle + 1
                    over = low if low <= DAYS else NEVER
                    if j == STAGES - 1:
                        over = min(over, nights[y, start + 1])
                    days[i, j + 1, y] = over
        if j + 1 == TRANSPLANT:
            wait_for_links(days, first, then, gap)
    return days


def ways(
    of: workload.Workload, sowing: np.ndarray, low: np.ndarray, high: np.ndarray, limit: float
) -> dict[str, Callable[[], np.ndarray]]:
    """Calls that give the days [succession, event, year] from the air outdoors, by their names."""
    warmer, bases = np.array(list(PLACES.values())), np.array(BASES)
    order = np.argsort(of.crop, kind="stable")
    begins = np.searchsorted(of.crop[order], np.arange(CROPS + 1))

    def by(way: Callable[..., np.ndarray]) -> Callable[[], np.ndarray]:
        def days() -> np.ndarray:
            sums, cold = sums_and_cold(low, high, warmer, bases, limit)
            links = of.first, of.then, of.gap
            return way(sums, cold, of.place, of.base, of.amount, order, begins, sowing, *links)

        return days

    return {"numba, tables": by(by_tables), "numba, searches": by(by_search)}
