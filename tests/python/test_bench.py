"""The comparisons of tests/bench run, agree with what they compare with, and print their ratios.

Short runs on a machine that does other things: no time is held to anything, and a ratio only where
it has room to spare.
"""

import importlib.util
import re
import subprocess
import sys
from pathlib import Path

import numpy as np
import pytest

pytest.importorskip("epicotyl")

BENCH = Path(__file__).resolve().parents[1] / "bench"


def printed_by(script, *options):
    told = subprocess.run(
        [sys.executable, str(BENCH / script), *options],
        capture_output=True,
        text=True,
        check=False,
    )
    assert told.returncode == 0, told.stdout + told.stderr
    print(told.stdout)
    return told.stdout


def ratios_of(script, *options):
    """The ratios that a script prints."""
    told = printed_by(script, *options)
    return [float(ratio) for ratio in re.findall(r"ratio ([\d.]+)$", told, re.M)]


def test_a_hundred_years_are_read_in_half_of_the_time_of_read_fwf():
    pytest.importorskip("pandas")
    (ratio,) = ratios_of("read_station.py", "--repeats", "3")
    assert ratio <= 0.5


def test_degree_days_agree_with_numpy_and_take_less_time():
    # Six methods by three cutoffs, the 86/50 rule with one of them only.
    ratios = ratios_of("degree_days.py", "--days", "200000", "--repeats", "3")
    assert len(ratios) == 16
    # One ratio may be met by another program's turn; half of them are not.
    assert np.median(ratios) < 1.0


def test_a_round_from_edit_to_quantiles_is_timed():
    steps = re.findall(r"^(\w+) +[\d.]+ ms", printed_by("interactive.py", "--repeats", "5"), re.M)
    assert steps == ["edit", "schedule", "simulate", "quantiles", "round"]


def test_a_sweep_says_how_long_its_cells_took():
    told = printed_by("sweep.py", "--steps", "2")
    assert re.match(r"8 cells of 30 successions in 30 season years: ", told)


def test_days_of_every_event_agree_with_numpy_plain_python_and_look_ups_and_take_less_time():
    # The script refuses to print times of answers that differ.
    told = printed_by("prospect.py", "--successions", "1000", "--repeats", "3")
    lines = dict(re.findall(r"^(\S.*?) {2,}([\d.]+) ms", told, re.M))
    made = float(lines["simulate, tables made"])
    assert ("numba, tables" in lines) == (importlib.util.find_spec("numba") is not None)
    # An interpreter's loop, and numpy, have room to spare against any other program's turn.
    assert float(lines["plain Python"]) > 100 * made
    assert float(lines["numpy"]) > made


def test_linked_plans_take_no_longer_a_succession_where_they_are_longer():
    told = printed_by("linked.py", "--chain", "300", "3000", "--waves", "200", "2000")
    for linked in ("chain", "waves"):
        short, long = map(float, re.findall(rf"^{linked} .* ([\d.]+) µs", told, re.M))
        # they grew with the square and the cube before, which is ten and a hundred times as much
        assert long < 4.0 * short
