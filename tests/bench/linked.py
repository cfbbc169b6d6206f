"""How time grows with links: one chain of successions, and two waves.

In the chain every succession waits for the one before it; of the waves every succession of the
second waits for all of the first. Printed are milliseconds, and microseconds a succession: where
these stay, time grows with the plan and no faster. Measured are a schedule, the planting windows
of one season year, and the reasons of the last succession's sowing.
"""

from __future__ import annotations

import argparse
import datetime
import time
from typing import Any

import numpy as np

import epicotyl

START = datetime.date(2027, 1, 1)
SEASON_DAYS = 1400
YEARS = 10


def farm(successions: list[dict[str, Any]], links: list[dict[str, Any]]) -> dict[str, Any]:
    """Tables of a plan of leeks; invented, like all of it."""
    stages = [
        {"begins": "sow", "where": "grow", "takes": {"heat": 600.0, "base": 0.0}},
        {"begins": "transplant", "where": "field", "takes": {"heat": 900.0, "base": 0.0}},
    ]
    leek = {"crop": "leek", "plants": 9}
    return {
        "format": 1,
        "units": "metric",
        "site": {"latitude": 45.0, "season_start": START, "season_days": SEASON_DAYS},
        "defaults": {"risk": False, "reliability": 0.8},
        "places": {"house": {"for": ["grow"]}, "beds": {"for": ["field"]}},
        "crops": {"leek": {"stages": stages}},
        "succession": [{**leek, **one} for one in successions],
        "link": links,
    }


def cleared_by(days: int) -> dict[str, Any]:
    """A target so many days after the season's start."""
    return {"event": "clear", "by": START + datetime.timedelta(days=days)}


def chain(count: int) -> dict[str, Any]:
    """Each waits for the sowing before it; some are wanted sooner than the one before."""
    successions = [
        {"name": f"leek {i}", "target": cleared_by(400 + 900 * i // count + 37 * i % 41)}
        for i in range(count)
    ]
    links = [
        {
            "first": {"succession": f"leek {i}", "event": "sow"},
            "then": {"succession": f"leek {i + 1}", "event": "sow"},
        }
        for i in range(count - 1)
    ]
    return farm(successions, links)


def waves(count: int) -> dict[str, Any]:
    """Two waves, together so many."""
    successions = [
        {
            "name": f"{wave} leek {i}",
            "wave": wave,
            "target": cleared_by(days + i % 50),
        }
        for wave, days in (("early", 500), ("late", 1100))
        for i in range(count // 2)
    ]
    link = {"first": {"wave": "early", "event": "clear"}, "then": {"wave": "late", "event": "sow"}}
    return farm(successions, [link])


def weather() -> epicotyl.Climate:
    """Season years of a warm and a cold half, from a fixed seed."""
    days = np.arange(365 * (YEARS + 5))
    random = np.random.default_rng(20270101)
    mean = 11.0 - 9.0 * np.cos(2.0 * np.pi * days / 365.25) + random.normal(0.0, 2.0, days.size)
    record = epicotyl.DailyRecord(datetime.date(2001, 1, 1), mean - 4.0, mean + 4.0)
    return epicotyl.Climate(record, latitude=45.0, season_days=SEASON_DAYS, years=YEARS)


def main() -> None:
    """Measure and print."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--chain", type=int, nargs="*", default=[200, 1000, 5000])
    parser.add_argument("--waves", type=int, nargs="*", default=[200, 600, 2000, 10000])
    asked = parser.parse_args()

    climate = weather()
    for name, make, sizes in (("chain", chain, asked.chain), ("waves", waves, asked.waves)):
        for count in sizes:
            plan = epicotyl.plan(make(count))
            began = time.perf_counter()
            calendar = epicotyl.schedule(plan, climate)
            print_time(name, count, began)
            if calendar.unresolved:
                raise SystemExit(f"{name} of {count}: {calendar.unresolved[0]}")
            began = time.perf_counter()
            windows = epicotyl.planting_windows(plan, climate, int(climate.years[0]))
            print_time(f"{name}, windows", count, began)
            if not windows.feasible:
                raise SystemExit(f"{name} of {count}: {windows.conflicts[0]}")
            began = time.perf_counter()
            epicotyl.explain(calendar, calendar.events[-1][0], "sow")
            print_time(f"{name}, reasons", count, began)


def print_time(what: str, count: int, began: float) -> None:
    """Print what has passed since then, and how much of it is one succession's."""
    spent = time.perf_counter() - began
    each = 1e6 * spent / count
    print(f"{what} of {count:5}: {1000.0 * spent:9.1f} ms, {each:8.1f} µs a succession")


if __name__ == "__main__":
    main()
