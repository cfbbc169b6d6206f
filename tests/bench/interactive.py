"""A change to the demo farm's plan and what becomes of it: quick enough to turn a knob by.

    python tests/bench/interactive.py [--repeats 50]

One round: another day for one batch, the season planned, thirty season years gone through, and
early, usual and late days of every event. Printed are median milliseconds of each step and of the
round; under 5 ms an answer seems to follow the hand, and that is what is wanted.
"""

from __future__ import annotations

import argparse
import datetime
import statistics
import time
from pathlib import Path
from typing import TYPE_CHECKING, Any

import epicotyl

if TYPE_CHECKING:
    from collections.abc import Callable

FARM = Path(__file__).resolve().parents[2] / "examples" / "quillet_hollow" / "farm.toml"
WANTED = 5.0  # ms
BATCH, FIRST_DAY = "tomato 1", datetime.date(2027, 5, 20)
LEVELS = (0.1, 0.5, 0.9)


class Clocked:
    """Seconds of each step, by name, one a round."""

    def __init__(self) -> None:
        self.seconds: dict[str, list[float]] = {}

    def __call__(self, step: str, call: Callable[[], Any]) -> Any:
        """Do a step; what it gives."""
        start = time.perf_counter()
        result = call()
        self.seconds.setdefault(step, []).append(time.perf_counter() - start)
        return result


def early_usual_late(prospect: epicotyl.Prospect) -> list[datetime.date | None]:
    """Days of all events at three levels."""
    return [prospect.quantile(*event, level) for event in prospect.events for level in LEVELS]


def main() -> None:
    """Measure and print."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--repeats", type=int, default=50)
    options = parser.parse_args()

    farm = epicotyl.open_season(FARM)
    clocked = Clocked()
    for number in range(options.repeats + 1):
        day = FIRST_DAY + datetime.timedelta(days=number % 20)
        if number == 1:
            clocked.seconds.clear()  # nobody pays for what is done once
        start = time.perf_counter()
        plan = clocked("edit", lambda day=day: farm.plan.with_target(BATCH, from_=day))
        calendar = clocked("schedule", lambda plan=plan: epicotyl.schedule(plan, farm.climate))
        prospect = clocked(
            "simulate", lambda calendar=calendar: epicotyl.simulate(calendar, farm.climate)
        )
        days = clocked("quantiles", lambda prospect=prospect: early_usual_late(prospect))
        clocked.seconds.setdefault("round", []).append(time.perf_counter() - start)
        # An answer to another question would be no round.
        if calendar.date(BATCH, "transplant") != day or len(days) != 3 * len(prospect.events):
            raise SystemExit(f"planted out on {calendar.date(BATCH, 'transplant')}, not on {day}")

    successions, years = len(farm.plan.successions), len(farm.climate.years)
    print(f"{successions} successions, {years} season years, median of {options.repeats} rounds:")
    for step, seconds in clocked.seconds.items():
        note = f"   (wanted: under {WANTED:.0f} ms)" if step == "round" else ""
        print(f"{step:10}{1000.0 * statistics.median(seconds):8.2f} ms{note}")


if __name__ == "__main__":
    main()
