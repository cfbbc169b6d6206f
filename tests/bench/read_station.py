"""A hundred years of a GHCN-Daily station against pandas' read_fwf doing the same, in one run.

    python tests/bench/read_station.py [--years 100] [--repeats 7]

The same means: read the fixed-width file, drop values that are missing or failed a quality check,
and give days with their minimum and maximum. Both must give the same days and values. The file is
Central Park's latest years from the folder that EPICOTYL_REFERENCE_DATA names, unpacked; without it
a station is invented. Printed are median seconds, taken by turns, and their ratio.
"""

from __future__ import annotations

import argparse
import os
import tempfile
from pathlib import Path
from typing import Any

import numpy as np
import pandas as pd

import epicotyl
from timing import medians

STATION = "USW00094728_TMAX_TMIN_1869-2020.dly.gz"
LAST_YEAR = 2019


def invented(years: int) -> str:
    """Months of a made-up station, with values missing and values that failed."""
    random = np.random.default_rng(20270305)
    lines = []
    for month in np.arange(f"{LAST_YEAR + 1 - years}-01", f"{LAST_YEAR + 1}-01", dtype="M8[M]"):
        length = int(((month + 1).astype("M8[D]") - month.astype("M8[D]")).astype(int))
        for element, least in (("TMAX", 50), ("TMIN", -50)):
            values = random.integers(least, least + 90, 31)
            values[random.random(31) < 0.01] = -9999
            values[length:] = -9999
            failed = random.random(31) < 0.005
            cells = [
                f"{v:5} {'I' if bad and v != -9999 else ' '}Z"
                for v, bad in zip(values, failed, strict=True)
            ]
            lines.append(f"XX000000001{str(month).replace('-', '')}{element}{''.join(cells)}")
    return "\n".join(lines) + "\n"


def station_text(years: int) -> str:
    """The lines of the latest years."""
    folder = os.environ.get("EPICOTYL_REFERENCE_DATA")
    if not folder:
        return invented(years)
    import gzip

    with gzip.open(Path(folder) / STATION, "rt", encoding="ascii") as file:
        wanted = range(LAST_YEAR + 1 - years, LAST_YEAR + 1)
        return "".join(line for line in file if int(line[11:15]) in wanted)


def with_pandas(path: Path) -> tuple[Any, Any, Any]:
    """Days, minima and maxima, sorted, where either has a value."""
    starts = range(21, 269, 8)
    wide = pd.read_fwf(
        path,
        colspecs=[
            (11, 15),
            (15, 17),
            (17, 21),
            *((at, at + 5) for at in starts),
            *((at + 6, at + 7) for at in starts),
        ],
        names=[
            "year",
            "month",
            "element",
            *(f"value {k}" for k in range(1, 32)),
            *(f"flag {k}" for k in range(1, 32)),
        ],
        header=None,
        dtype={f"flag {k}": str for k in range(1, 32)},
    )
    wide = wide[wide["element"].isin(["TMIN", "TMAX"])]
    values = wide.filter(like="value").to_numpy(dtype=float)
    passed = wide.filter(like="flag").isna().to_numpy()
    known = (values != -9999) & passed
    row, column = np.nonzero(known)
    months = (wide["year"].to_numpy() - 1970) * 12 + wide["month"].to_numpy() - 1
    long = pd.DataFrame(
        {
            "day": months.astype("M8[M]").astype("M8[D]")[row] + column,
            "element": wide["element"].to_numpy()[row],
            "celsius": values[row, column] / 10.0,
        }
    )
    # A day of an element comes once: there is nothing for pivot_table to average.
    table = long.pivot(index="day", columns="element", values="celsius").asfreq("D")  # noqa: PD010
    return table.index.to_numpy(), table["TMIN"].to_numpy(), table["TMAX"].to_numpy()


def with_epicotyl(path: Path) -> tuple[Any, Any, Any]:
    """The same."""
    record = epicotyl.read_ghcn_daily(path)
    return record.dates, record.tmin, record.tmax


def main() -> None:
    """Compares and prints."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--years", type=int, default=100)
    parser.add_argument("--repeats", type=int, default=7)
    options = parser.parse_args()

    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "station.dly"
        path.write_text(station_text(options.years), encoding="ascii")
        ours, theirs = with_epicotyl(path), with_pandas(path)
        np.testing.assert_array_equal(ours[0], theirs[0].astype("M8[D]"))
        np.testing.assert_array_equal(ours[1], theirs[1])
        np.testing.assert_array_equal(ours[2], theirs[2])
        mine, other = medians(
            lambda: with_epicotyl(path), lambda: with_pandas(path), options.repeats
        )
    print(
        f"{options.years} years, {len(ours[0])} days, median of {options.repeats}:"
        f" epicotyl {1e3 * mine:.1f} ms / pandas.read_fwf {1e3 * other:.1f} ms"
        f"   ratio {mine / other:.3f}"
    )


if __name__ == "__main__":
    main()
