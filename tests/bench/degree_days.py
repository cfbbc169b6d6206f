"""Degree-days of a million days against the same formula in vectorised numpy.

    python tests/bench/degree_days.py [--days 1000000] [--repeats 15]

For every method and cutoff: median seconds of `epicotyl.degree_days` and of numpy, taken by turns
in this run, and their ratio, below 1 where the library is faster. Both must give the same sums.
"""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING, Any

import numpy as np

import epicotyl
from timing import medians

if TYPE_CHECKING:
    from collections.abc import Callable

BASE, UPPER = 8.0, 24.0
METHODS = (
    "average",
    "average_floored",
    "single_triangle",
    "double_triangle",
    "single_sine",
    "double_sine",
)
CUTOFFS = ("horizontal", "intermediate", "vertical")


def average(low: Any, high: Any, threshold: float, share: bool) -> tuple[Any, Any]:
    """Mean excess of a day's mean over a threshold, and whether it is above."""
    over = (low + high) / 2.0 - threshold
    return np.maximum(over, 0.0), over > 0.0 if share else None


def triangle(low: Any, high: Any, threshold: float, share: bool) -> tuple[Any, Any]:
    """The same of straight lines between the two, and the share of the day above."""
    over = high - threshold
    # Cut to the day, the crossing serves days wholly above and wholly below, too.
    part = np.clip(over / (high - low), 0.0, 1.0)
    return part * (over - part * (high - low) / 2.0), part if share else None


def sine(low: Any, high: Any, threshold: float, share: bool) -> tuple[Any, Any]:
    """The same of a sine wave between the two."""
    mean, half = (low + high) / 2.0, (high - low) / 2.0
    theta = np.arcsin(np.clip((threshold - mean) / half, -1.0, 1.0))
    above = np.pi / 2.0 - theta
    area = ((mean - threshold) * above + half * np.cos(theta)) / np.pi
    return area, above / np.pi if share else None


def half_cycle(excess: Callable[..., tuple[Any, Any]], low: Any, high: Any, cutoff: str) -> Any:
    """Area above the base, less what the cutoff takes away."""
    over_base, _ = excess(low, high, BASE, share=False)
    over_upper, share = excess(low, high, UPPER, share=cutoff == "vertical")
    if cutoff == "horizontal":
        return over_base - over_upper
    if cutoff == "intermediate":
        return np.maximum(over_base - 2.0 * over_upper, 0.0)
    return np.maximum(over_base - over_upper - share * (UPPER - BASE), 0.0)


def with_numpy(low: Any, high: Any, method: str, cutoff: str) -> Any:
    """Degree-days of whole arrays, last day's next minimum its own."""
    if method == "average_floored":
        low, high = np.clip(low, BASE, UPPER), np.clip(high, BASE, UPPER)
        return half_cycle(average, low, high, cutoff)
    excess = {"average": average, "triangle": triangle, "sine": sine}[method.split("_")[-1]]
    first = half_cycle(excess, low, high, cutoff)
    if not method.startswith("double"):
        return first
    after = np.append(low[1:], low[-1])
    return (first + half_cycle(excess, after, high, cutoff)) / 2.0


def days_at_random(count: int) -> tuple[Any, Any]:
    """A walk through the year: every case is met, and no next minimum passes the maximum."""
    random = np.random.default_rng(20270304)
    yearly = 9.0 + 11.0 * np.sin(np.arange(count) * (2.0 * np.pi / 365.25))
    low = yearly + random.uniform(-4.0, 4.0, count)
    return low, yearly + random.uniform(5.0, 15.0, count)


def main() -> None:
    """Compares and prints."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--days", type=int, default=1_000_000)
    parser.add_argument("--repeats", type=int, default=15)
    options = parser.parse_args()

    low, high = days_at_random(options.days)
    print(f"{options.days} days, median of {options.repeats}: epicotyl / numpy")
    for method in METHODS:
        for cutoff in CUTOFFS:
            if method == "average_floored" and cutoff != "horizontal":
                continue

            def ours(method: str = method, cutoff: str = cutoff) -> Any:
                return epicotyl.degree_days(
                    low, high, base=BASE, upper=UPPER, method=method, cutoff=cutoff
                )

            def theirs(method: str = method, cutoff: str = cutoff) -> Any:
                return with_numpy(low, high, method, cutoff)

            np.testing.assert_allclose(ours(), theirs(), atol=1e-9, rtol=0)
            mine, other = medians(ours, theirs, options.repeats)
            print(
                f"{method:16} {cutoff:12} {1e9 * mine / options.days:6.1f} ns a day /"
                f" {1e9 * other / options.days:6.1f}   ratio {mine / other:.2f}"
            )


if __name__ == "__main__":
    main()
