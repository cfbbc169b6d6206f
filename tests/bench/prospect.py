"""The days of every event in every season year: epicotyl, numpy, plain Python and bare look-ups.

    python tests/bench/prospect.py [--successions 10000] [--repeats 7]
    python tests/bench/prospect.py --growth

Ten thousand made-up successions of six events, a tenth of them linked, through thirty season years
(workload.py), one process and one thread each:

- `simulate`, with all tables still to be made, and with those that `schedule` has made
- a calendar from its pickle, whose days are found when it is first asked for one
- which batches cold loses, found when a prospect is first asked anything
- numpy: the same days by `cumsum` and `searchsorted`, all successions at once
- numba: the strongest script that a user would write (strong_script.py), by tables and by searches,
  without the batches lost; left out where numba is not there
- plain Python: day after day, a hundredth of the successions, times a hundred
- look-ups: in C++, in tables that are there already, links left out: the floor. Needs a compiler

All must agree to the day. `--growth` prints time and memory from 1,000 to a million successions,
of a plan made in code.
"""

from __future__ import annotations

import argparse
import ctypes
import importlib.util
import pickle
import shutil
import statistics
import subprocess
import sys
import tempfile
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

import epicotyl
import workload
from timing import seconds
from workload import BASES, CROPS, DAYS, EVENTS, PLACES, STAGES, YEARS

if TYPE_CHECKING:
    from collections.abc import Callable

NEVER = 32767
LIMIT = 1.0  # °C: a night at or below ends the harvest, and loses what is up before it
UP, HARVEST = EVENTS.index("emerge"), EVENTS.index("first_harvest")
SHARE_IN_PYTHON = 100


class Numbers:
    """What a script of its own would start from: sowings, crops and the outdoor days."""

    def __init__(self, of: workload.Workload, sowing: np.ndarray, climate: epicotyl.Climate):
        self.of = of
        self.sowing = sowing
        self.low, self.high = climate.tmin, climate.tmax  # [year, day]

    def place(self, number: int) -> tuple[np.ndarray, np.ndarray]:
        """Minima and maxima in a place [year, day]."""
        night, day = list(PLACES.values())[number]
        low = self.low + night
        return low, np.maximum(self.high + day, low)

    def pairs(self) -> list[tuple[int, int]]:
        """Places and bases."""
        return [(p, b) for p in range(len(PLACES)) for b in range(len(BASES))]

    def sums(self) -> dict[tuple[int, int], np.ndarray]:
        """Running sums of degree-days of each place and base [year, day]."""
        found = {}
        for p, b in self.pairs():
            low, high = self.place(p)
            rates = np.maximum((low + high) / 2 - BASES[b], 0.0)
            found[p, b] = np.concatenate([np.zeros((YEARS, 1)), np.cumsum(rates, axis=1)], axis=1)
        return found

    def cold(self, place: int, year: int) -> np.ndarray:
        """Nights that end a harvest, or lose it."""
        return np.append(np.flatnonzero(self.place(place)[0][year] <= LIMIT), NEVER)


def ready(total: np.ndarray, start: np.ndarray, amount: np.ndarray) -> np.ndarray:
    """When waits that began on `start` are over."""
    end = np.searchsorted(total, total[start] + amount * (1.0 - 1e-9))
    return np.where(end <= DAYS, np.maximum(end, start), NEVER)


def ended(end: np.ndarray, start: np.ndarray, cold: np.ndarray) -> np.ndarray:
    """The same, or the first cold night after the start."""
    return np.minimum(end, cold[np.searchsorted(cold, start, side="right")])


def with_numpy(what: Numbers) -> np.ndarray:
    """Days [succession, event, year] by searching running sums."""
    of, sums = what.of, what.sums()
    days = np.full((len(of.crop), STAGES + 1, YEARS), NEVER, dtype=np.int16)
    days[:, 0] = what.sowing[:, None]
    of_pair = {
        (j, pair): np.flatnonzero(
            (of.place[of.crop, j] == pair[0]) & (of.base[of.crop, j] == pair[1])
        )
        for j in range(STAGES)
        for pair in sums
    }
    amount = of.amount[of.crop]
    for y in range(YEARS):
        for j in range(STAGES):
            for pair, total in sums.items():
                rows = of_pair[j, pair]
                rows = rows[days[rows, j, y] <= DAYS]
                start = days[rows, j, y]
                end = ready(total[y], start, amount[rows, j])
                if j == STAGES - 1 and len(rows):
                    end = ended(end, start, what.cold(pair[0], y))
                days[rows, j + 1, y] = end
            if EVENTS[j + 1] == "transplant":
                free = days[of.first, EVENTS.index("emerge"), y].astype(int) + of.gap
                free[free > DAYS] = NEVER
                days[of.then, j + 1, y] = np.maximum(days[of.then, j + 1, y], free)
    # Links go by the days as if nothing were lost.
    days[:, HARVEST:][np.broadcast_to(lost(what, days)[:, None], days[:, HARVEST:].shape)] = NEVER
    return days


def lost(what: Numbers, days: np.ndarray) -> np.ndarray:
    """Which batches a cold night loses between emergence and harvest [succession, year]."""
    of = what.of
    found = np.zeros((len(of.crop), YEARS), dtype=bool)
    for y in range(YEARS):
        for p in range(len(PLACES)):
            cold = what.cold(p, y)
            for j in range(UP, HARVEST):
                rows = np.flatnonzero(of.place[of.crop, j] == p)
                night = cold[np.searchsorted(cold, days[rows, j, y])]
                found[rows, y] |= night < np.minimum(days[rows, j + 1, y], DAYS)
    return found


def harvest_is_lost(what: Numbers, days: np.ndarray) -> np.ndarray:
    """What does not come to pass of days as if nothing were lost [succession, event, year]."""
    return lost(what, days)[:, None] & (np.arange(STAGES + 1) >= HARVEST)[:, None]


def with_numba(what: Numbers) -> dict[str, Callable[[], np.ndarray]]:
    """Calls that do the same by numba, by name; none where it is not there."""
    if importlib.util.find_spec("numba") is None:
        return {}
    import strong_script

    return strong_script.ways(what.of, what.sowing, what.low, what.high, LIMIT)


def with_loops(what: Numbers, batches: range) -> np.ndarray:
    """Days [succession, event, year], one day after another."""
    of = what.of
    airs = [tuple(side.tolist() for side in what.place(p)) for p in range(len(PLACES))]
    waits = dict(zip(of.then.tolist(), of.first.tolist(), strict=True))
    found: dict[tuple[int, int], list[int]] = {}

    def follow(i: int, y: int) -> list[int]:
        if (i, y) in found:
            return found[i, y]
        day = int(what.sowing[i])
        days = [day]
        crop = int(of.crop[i])
        is_lost = False
        for j in range(STAGES):
            low, high = (side[y] for side in airs[of.place[crop, j]])
            base, amount = BASES[of.base[crop, j]], of.amount[crop, j] * (1.0 - 1e-9)
            total, start = 0.0, day
            while day < DAYS and total < amount:
                if j == STAGES - 1 and day > start and low[day] <= LIMIT:
                    break
                total += max((low[day] + high[day]) / 2 - base, 0.0)
                day += 1
            cut = j == STAGES - 1 and start < day < DAYS and low[day] <= LIMIT
            if total < amount and not cut:
                day = NEVER
            if EVENTS[j + 1] == "transplant" and i in waits:
                up = follow(waits[i], y)[1]
                day = max(day, up + of.gap if up + of.gap <= DAYS else NEVER)
            if UP <= j < HARVEST and any(night <= LIMIT for night in low[start : min(day, DAYS)]):
                is_lost = True
            days.append(day)
        if is_lost:
            days[HARVEST:] = [NEVER] * (len(days) - HARVEST)
        found[i, y] = days
        return days

    return np.array([[follow(i, y) for y in range(YEARS)] for i in batches]).transpose(0, 2, 1)


def full_tables(what: Numbers) -> np.ndarray:
    """When stages are over [crop, stage, year, day of their start]."""
    of, sums = what.of, what.sums()
    tables = np.empty((CROPS, STAGES, YEARS, DAYS + 1), dtype=np.int16)
    start = np.arange(DAYS + 1)
    for c in range(CROPS):
        for j in range(STAGES):
            place = int(of.place[c, j])
            for y in range(YEARS):
                end = ready(sums[place, int(of.base[c, j])][y], start, of.amount[c, j])
                tables[c, j, y] = ended(end, start, what.cold(place, y)) if j == STAGES - 1 else end
    return tables


def look_ups(what: Numbers, folder: str) -> Callable[[], np.ndarray] | None:
    """A call that looks days up in full tables; None without a compiler."""
    compiler = shutil.which("c++")
    if compiler is None:
        return None
    library = Path(folder) / "bare_look_ups.so"
    source = Path(__file__).with_name("bare_look_ups.cpp")
    subprocess.run(  # noqa: S603 - our own source, the compiler that is there
        [compiler, "-O3", "-shared", "-fPIC", "-o", str(library), str(source)], check=True
    )
    tables = full_tables(what)
    crop, sowing = what.of.crop.astype(np.int32), what.sowing.astype(np.int16)
    days = np.empty((YEARS, len(crop), STAGES + 1), dtype=np.int16)
    call = ctypes.CDLL(str(library)).bare_look_ups
    arrays = [ctypes.c_void_p(array.ctypes.data) for array in (tables, crop, sowing)]

    def run() -> np.ndarray:
        call(*arrays, len(crop), STAGES, YEARS, DAYS, ctypes.c_void_p(days.ctypes.data))
        return days.transpose(1, 2, 0)

    run.keeps = (tables, crop, sowing)
    return run


def days_of(prospect: epicotyl.Prospect) -> np.ndarray:
    """Days [succession, event, year] as offsets."""
    offsets = (prospect.days_all - np.datetime64(workload.START)).astype(float)
    offsets = np.where(np.isnat(prospect.days_all), NEVER, offsets)
    return offsets.astype(np.int16).reshape(-1, STAGES + 1, YEARS)


def median(call: Callable[[], object], repeats: int) -> float:
    """Median milliseconds, after a first call that is not counted."""
    call()
    return 1e3 * statistics.median(seconds(call) for _ in range(repeats))


def compare(count: int, repeats: int) -> None:
    """Agreement, then times and ratios."""
    of = workload.workload(count)
    plan, climate = workload.plan(of), workload.climate()
    calendar = epicotyl.schedule(plan, climate)
    if calendar.unresolved:
        raise SystemExit(f"{calendar.unresolved[0]}")
    sown = [calendar.date(f"batch {i}", "sow") for i in range(count)]
    sowing = (np.array(sown, dtype="M8[D]") - np.datetime64(workload.START)).astype(int)
    # Another climate object of the same days: what was worked out for the first does not serve it.
    what = Numbers(of, sowing, climate)
    days = days_of(epicotyl.simulate(calendar, climate, threads=1))
    np.testing.assert_array_equal(days, with_numpy(what))
    scripts = with_numba(what)
    for days_by_script in scripts.values():
        found = days_by_script()
        struck = np.where(harvest_is_lost(what, found), NEVER, found)
        np.testing.assert_array_equal(days, struck)
    few = range(max(count // SHARE_IN_PYTHON, 1))
    np.testing.assert_array_equal(days[: len(few)], with_loops(what, few))

    stages = count * STAGES * YEARS
    with tempfile.TemporaryDirectory() as folder:
        bare = look_ups(what, folder)
        if bare is not None:
            alone = np.setdiff1d(np.arange(count), of.then)
            as_if_it_lived = bare()
            struck = np.where(harvest_is_lost(what, as_if_it_lived), NEVER, as_if_it_lived)
            np.testing.assert_array_equal(days[alone], struck[alone])
        others = [workload.climate(0.5) for _ in range(repeats + 1)]
        cold = median(lambda: epicotyl.simulate(calendar, others.pop(), threads=1), repeats)
        warm = median(lambda: epicotyl.simulate(calendar, climate, threads=1), repeats)
        fresh_answers = [
            epicotyl.simulate(calendar, climate, threads=1) for _ in range(repeats + 1)
        ]
        losses = median(lambda: fresh_answers.pop().lost("batch 0"), repeats)
        both = median(lambda: epicotyl.simulate(calendar, climate, threads=2), repeats)
        fresh = [workload.climate() for _ in range(repeats + 1)]
        planned = median(lambda: epicotyl.schedule(plan, fresh.pop()), repeats)
        kept = pickle.dumps(calendar)
        unpickled = median(lambda: pickle.loads(kept), repeats)  # noqa: S301 - ours
        asked = median(lambda: pickle.loads(kept).date("batch 0", "sow"), repeats)  # noqa: S301
        numpy_ms = median(lambda: with_numpy(what), min(repeats, 5))
        scripts_ms = {name: median(call, repeats) for name, call in scripts.items()}
        loops = 1e3 * seconds(lambda: with_loops(what, few)) * count / len(few)
        floor = median(bare, repeats) if bare is not None else None

    print(f"{count} successions, {STAGES + 1} events, {YEARS} season years, one thread each:")

    def told(name: str, ms: float, note: str) -> None:
        print(f"{name:34}{ms:10.2f} ms {1e6 * ms / stages:9.2f} ns a stage   {note}")

    told("simulate, tables to be made", cold, "")
    told("simulate, tables made", warm, f"{cold / warm:.1f} times less")
    told("batches lost, when first asked", losses, f"{losses / warm:.2f} of that")
    told("simulate, tables made, 2 threads", both, f"{warm / both:.2f} times faster than 1")
    ratio = f"{planned / cold:.1f} times simulate (wanted: < 2.5)"
    told("schedule, tables to be made", planned, ratio)
    told("unpickle a calendar", unpickled, f"{unpickled / planned:.2f} of schedule (wanted: < 1)")
    told("unpickle it and ask for a day", asked, f"{asked / planned:.2f} of schedule")
    wanted = {"numba, tables": 2, "numba, searches": 4}
    for name, ms in scripts_ms.items():
        told(name, ms, f"{ms / cold:.1f} times simulate (wanted: {wanted[name]})")
    if not scripts_ms:
        print("numba not there: left out")
    told("numpy", numpy_ms, f"{numpy_ms / cold:.1f} times simulate (wanted: 15)")
    told("plain Python", loops, f"{loops / cold:.0f} times simulate (wanted: 1000)")
    if floor is None:
        print("look-ups: no compiler (c++)")
    else:
        told("look-ups in C++", floor, f"simulate is {cold / floor:.1f} times this (wanted: < 4)")


GROWTH = """
import ctypes, gc, sys, time
import epicotyl, workload

def memory(kind):
    # Of this program alone: what getrusage tells begins with that of the one that started it.
    with open("/proc/self/status") as status:
        return next(int(line.split()[1]) for line in status if line.startswith(kind)) / 1024

def held():
    # What is free again goes back to the system first.
    gc.collect()
    ctypes.CDLL(None).malloc_trim(0)
    return memory("VmRSS")

def timed(call):
    begin = time.perf_counter()
    made = call()
    return made, time.perf_counter() - begin

before = held()
climate = workload.climate()
tables = workload.tables(workload.workload(int(sys.argv[1])))
plan, made = timed(lambda: epicotyl.plan(tables))
del tables
of_plan = held() - before
calendar, planned = timed(lambda: epicotyl.schedule(plan, climate))
prospect, alone = timed(lambda: epicotyl.simulate(calendar, climate, threads=1))
used = held() - before

def least(threads):
    def run():
        return epicotyl.simulate(calendar, climate, threads=threads)
    return min(timed(run)[1] for _ in range(5))

gain = least(1) / least(2)
print(made, planned, alone, gain, of_plan, used)
"""


def grow(counts: list[int]) -> None:
    """Time and memory, each count in a process of its own."""
    print(
        "successions     plan in code         schedule         simulate   2 threads   memory: plan"
        "     all   KiB each"
    )
    for count in counts:
        told = subprocess.run(  # noqa: S603 - this very script's text
            [sys.executable, "-c", GROWTH, str(count)],
            cwd=Path(__file__).parent,
            capture_output=True,
            text=True,
            check=True,
        ).stdout
        *times, gain, plan, memory = map(float, told.split())
        each = "".join(f"{1e3 * t:9.1f} ms {1e6 * t / count:4.1f} µs" for t in times)
        print(
            f"{count:11}{each} {gain:9.2f} x {plan:10.1f} MiB {memory:7.1f}"
            f" {1024 * memory / count:10.2f}"
        )


def main() -> None:
    """Compares and prints."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--successions", type=int, default=10_000)
    parser.add_argument("--repeats", type=int, default=7)
    parser.add_argument("--growth", action="store_true")
    options = parser.parse_args()
    if options.growth:
        grow([1_000, 10_000, 100_000, 1_000_000])
    else:
        compare(options.successions, options.repeats)


if __name__ == "__main__":
    main()
