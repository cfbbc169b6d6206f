"""What it costs to include a header, beside <fmt/format.h> in the same run.

Prints, for each header: seconds of CPU that the compiler takes to read a source of this one line
(the median of several), lines after the preprocessor, and how many times <fmt/format.h> that is.
Nothing is asserted about times: `tests/python/test_includes.py` holds what brings them down, which
header includes what.

    python3 tests/bench/headers.py [--repeats 5] [--compiler c++] [--all]
"""

from __future__ import annotations

import argparse
import resource
import statistics
import subprocess
from pathlib import Path

INCLUDE = Path(__file__).resolve().parents[2] / "include"
BESIDE = "fmt/format.h"
ASKED = [
    "epicotyl/epicotyl.hpp",
    "epicotyl/season/days/schedule.hpp",
    "epicotyl/plan/plan.hpp",
    "epicotyl/weather/climate.hpp",
    "epicotyl/frost/freeze_risk.hpp",
    "epicotyl/clock/clock.hpp",
    "epicotyl/network/monotone_network.hpp",
    "epicotyl/days.hpp",
    "epicotyl/fmt.hpp",
]


def compile_line(compiler: str, header: str, *options: str) -> subprocess.CompletedProcess[str]:
    """Let the compiler read a source of one line."""
    return subprocess.run(  # noqa: S603
        [compiler, "-std=c++20", "-x", "c++", "-I", str(INCLUDE), *options, "-"],
        input=f"#include <{header}>\n",
        capture_output=True,
        text=True,
        check=True,
    )


def seconds(compiler: str, header: str) -> float:
    """CPU of the compiler for one line [s]."""
    before = resource.getrusage(resource.RUSAGE_CHILDREN)
    compile_line(compiler, header, "-fsyntax-only")
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return after.ru_utime - before.ru_utime


def lines(compiler: str, header: str) -> int:
    """Count what is left of it after the preprocessor."""
    return compile_line(compiler, header, "-E", "-P").stdout.count("\n")


def main() -> None:
    """Print the table."""
    words = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    words.add_argument("--repeats", type=int, default=5)
    words.add_argument("--compiler", default="c++")
    words.add_argument("--all", action="store_true", help="every header, and not only the asked")
    given = words.parse_args()
    headers = [BESIDE, *ASKED]
    if given.all:
        every = sorted(INCLUDE.rglob("*.hpp"))
        headers = [BESIDE, *(path.relative_to(INCLUDE).as_posix() for path in every)]
        headers.remove("epicotyl/impl/src.hpp")
    # By turns, so that what else the machine does meets all alike.
    taken: dict[str, list[float]] = {header: [] for header in headers}
    for _ in range(given.repeats):
        for header in headers:
            taken[header].append(seconds(given.compiler, header))
    beside = statistics.median(taken[BESIDE])
    print(f"{'header':44}{'CPU, s':>8}{'lines':>9}{'times fmt':>11}")
    for header in headers:
        middle = statistics.median(taken[header])
        count = lines(given.compiler, header)
        print(f"{header:44}{middle:8.2f}{count:9,}{middle / beside:11.1f}")


if __name__ == "__main__":
    main()
