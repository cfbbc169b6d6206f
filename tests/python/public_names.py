"""The public names of the package, each with the module that is its home.

The modules are found by their files, so that one that is forgotten elsewhere is seen.
"""

import importlib
from pathlib import Path

import epicotyl

SOURCES = Path(__file__).resolve().parents[2] / "bindings" / "epicotyl"


def floors():
    """The public modules of the package."""
    names = sorted(path.stem for path in SOURCES.glob("[a-z]*.py"))
    return [importlib.import_module(f"epicotyl.{name}") for name in names]


def homes():
    """The package, and its public modules."""
    return [epicotyl, *floors()]
