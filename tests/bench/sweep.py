"""A sweep of the invented farm: how long a thousand cells take, with a bar where you wait.

A thousand combinations of ten reliabilities, ten shifts of one target, and ten climates, each
planned and gone through as `schedule` and `simulate` do.
"""

from __future__ import annotations

import argparse
import time
from pathlib import Path

import epicotyl
from epicotyl import Change

FARM = Path(__file__).resolve().parents[2] / "examples" / "quillet_hollow" / "farm.toml"


def moved(days: int) -> Change:
    """The target of one succession so many days later."""
    return Change.plan(f"{days:+} days", lambda plan: plan.with_target_moved("tomato 1", days=days))


def main() -> None:
    """Run it."""
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--steps", type=int, default=10, help="changes on each of three axes")
    options.add_argument("--threads", type=int, default=0)
    asked = options.parse_args()

    farm = epicotyl.open_season(FARM)
    steps = range(asked.steps)
    axes = {
        "reliability": [Change.reliability(0.5 + k / 20) for k in steps],
        "target": [moved(2 * k) for k in steps],
        "weather": [Change.warmer(0.25 * k) for k in steps],
    }
    begun = time.perf_counter()
    found = epicotyl.sweep(farm.plan, farm.climate, axes, threads=asked.threads)
    spent = time.perf_counter() - begun
    assert found.complete  # noqa: S101
    years = len(farm.climate)
    print(
        f"{found.cells} cells of {len(farm.plan.successions)} successions in {years} season years: "
        f"{spent:.1f} s, {1000 * spent / found.cells:.1f} ms a cell"
    )


if __name__ == "__main__":
    main()
