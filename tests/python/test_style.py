"""The linter and the formatter that pyproject.toml configures have nothing to say."""

import subprocess
import sys
from pathlib import Path

import pytest

TOP = Path(__file__).resolve().parents[2]
FOLDERS = ("bindings", "examples", "tests")


@pytest.mark.parametrize("command", [("check",), ("format", "--check")], ids=" ".join)
def test_ruff_is_content(command):
    pytest.importorskip("ruff")
    told = subprocess.run(
        [sys.executable, "-m", "ruff", *command, *FOLDERS],
        capture_output=True,
        text=True,
        check=False,
        cwd=TOP,
    )
    assert told.returncode == 0, told.stdout + told.stderr
