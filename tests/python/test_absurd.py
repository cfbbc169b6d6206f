"""No value that a program gives ends the process: an answer comes, or `InvalidInput`."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

pytest.importorskip("epicotyl")


def test_absurd_values_are_refused_and_end_nothing():
    examples = os.environ.get("EPICOTYL_ABSURD_EXAMPLES", "150")
    program = str(Path(__file__).with_name("absurd.py"))
    ran = subprocess.run(
        [sys.executable, "-X", "faulthandler", program, examples],
        capture_output=True,
        text=True,
        timeout=900,
        check=False,
    )
    assert ran.returncode == 0, ran.stderr[-4000:]
    assert ran.stdout.endswith("held\n")
