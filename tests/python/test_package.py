"""The package itself: its names, signatures, version and stubs."""

import ast
import inspect
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

epicotyl = pytest.importorskip("epicotyl")
from epicotyl import _core  # noqa: E402 - the package says what is missing

ROOT = Path(__file__).resolve().parents[2]
SOURCES = ROOT / "bindings" / "epicotyl"

SIGNATURES = {
    "Climate": ("(record, *, latitude, season_start=None, season_days=550, max_gap=3, years=30)"),
    "Climate.given": "(self, observed, forecast=None)",
    "Climate.only": "(self, years)",
    "Climate.shifted": "(self, by)",
    "DailyRecord": "(start, tmin, tmax, name='', *, origin='')",
    "FreezeRisk": (
        "(record, threshold, *, estimator='fitted', latitude=45.0, halves=None, "
        "comparison='at_or_below', max_gap=3, years=30)"
    ),
    "FreezeRisk.chance_earlier": "(self, date)",
    "FreezeRisk.chance_later": "(self, date)",
    "FreezeRisk.first_freeze": "(self, chance_earlier, *, year=None)",
    "FreezeRisk.last_freeze": "(self, chance_later, *, year=None)",
    "FreezeTable": (
        "(record, *, thresholds=None, chances=None, estimator='fitted', latitude=45.0, "
        "halves=None, comparison='at_or_below', max_gap=3, years=30)"
    ),
    "FreezeTable.to_frame": "(self, *, year=None)",
    "FreezeTable.to_text": "(self, *, unit='celsius')",
    "GerminationCurve": "(half, steepness)",
    "GerminationCurve.needed_for": "(self, share, *, maximum=None)",
    "MaximumGermination": "(points)",
    "WeatherModel": (
        "(*, minimum, maximum, same_day, next_day, origin='made from a stated model')"
    ),
    "Calendar.date": "(self, succession, event)",
    "Calendar.require": "(self)",
    "Prospect.chance_by": "(self, succession, event, date)",
    "Prospect.damage": "(self, succession, event=None)",
    "Prospect.days": "(self, succession, event)",
    "Prospect.nights_to_act": "(self, place=None, succession=None)",
    "Prospect.overheld": "(self, succession)",
    "Prospect.quantile": "(self, succession, event, q)",
    "Prospect.too_hot": "(self, succession, event=None)",
    "chance_band": "(counted, years, *, level=0.95)",
    "coverage": (
        "(prospect, successions=None, *, wave=None, crop=None, first=None, last=None, "
        "reliability=None, per_week=None, gives=None, heat_stops=True)"
    ),
    "day_length": "(latitude, dates, *, model='cbm', sun_angle=0.8333)",
    "degree_days": ("(tmin, tmax, *, base, upper=None, method='single_sine', cutoff='horizontal')"),
    "expand": "(path)",
    "expected_yield": "(prospect, succession, gives, *, heat_stops=True)",
    "explain": "(calendar, succession, event)",
    "fewest_sowings": "(plan, climate, crop, start, until=None, *, chance)",
    "first_day_with": ("(latitude, hours, *, start, until, model='cbm', sun_angle=0.8333)"),
    "fit_weather_model": "(record, *, years=30)",
    "from_json": "(text, *, check=True)",
    "generate": "(model, start, length, *, seed)",
    "germinated_by_day": "(means, *, base, optimum, ceiling, curve, maximum)",
    "last_day_with": "(latitude, hours, *, start, until, model='cbm', sun_angle=0.8333)",
    "morning_reader": "(record)",
    "open_season": (
        "(path, *, reliability=None, weather=None, latitude=None, station=None, "
        "whole_fahrenheit=None)"
    ),
    "plan": "(mapping=None, /, **tables)",
    "quality": "(record, *, max_gap=3)",
    "read_daily_csv": ("(path, *, date='date', tmin='tmin', tmax='tmax', unit=None, name='')"),
    "read_ghcn_daily": "(path, *, station=None, whole_fahrenheit=False)",
    "read_plan": "(path)",
    "schedule": "(plan, climate, *, reliability=None)",
    "simulate": "(calendar, climate, *, threads=0)",
    "splice": "(first, second, *, match_means=False)",
    "stagger": (
        "(plan, climate, crop, first, last=None, *, until_first_frost=None, every=None, "
        "count=None, reliability=None, day_length_at_least=None, name='', plants=1.0)"
    ),
    "sweep": (
        "(plan, climate, changes, *, levels=(0.1, 0.5, 0.9), event='first_harvest', threads=0, "
        "progress=None)"
    ),
    "to_json": "(value, *, indent=None)",
    "with_elevation_difference": "(record, metres, *, lapse_rate=6.5)",
}


@pytest.mark.parametrize("name", SIGNATURES)
def test_signature_is_the_one_promised(name):
    thing = epicotyl
    for part in name.split("."):
        thing = getattr(thing, part)
    signature = inspect.signature(thing)
    bare = signature.replace(
        parameters=[
            one.replace(annotation=inspect.Parameter.empty) for one in signature.parameters.values()
        ],
        return_annotation=inspect.Signature.empty,
    )
    assert str(bare) == SIGNATURES[name]


def test_options_after_the_data_are_keyword_only(known):
    with pytest.raises(TypeError):
        epicotyl.degree_days(5.0, 25.0, 10.0)
    with pytest.raises(TypeError):
        epicotyl.simulate(known.calendar, known.climate, 2)
    with pytest.raises(TypeError):
        epicotyl.Climate(known.record, 51.9)


def test_public_names_are_sorted_there_and_all_that_is_shown():
    names = [name for name in epicotyl.__all__ if name != "__version__"]
    assert names == sorted(names, key=lambda name: (name[0].islower(), name))
    assert dir(epicotyl) == sorted(epicotyl.__all__)
    for name in epicotyl.__all__:
        assert hasattr(epicotyl, name)


def test_things_are_named_by_where_users_find_them():
    for name in epicotyl.__all__:
        if name != "__version__":
            assert getattr(epicotyl, name).__module__ == "epicotyl"


def test_version_is_the_one_of_the_header():
    header = (ROOT / "include" / "epicotyl" / "version.hpp").read_text(encoding="utf-8")
    assert epicotyl.__version__ == re.search(r'version = "([0-9.]+)"', header)[1]


def test_types_are_shipped():
    assert (Path(epicotyl.__file__).parent / "py.typed").exists()
    assert (Path(epicotyl.__file__).parent / "_core.pyi").exists()


def test_sources_without_the_extension_say_how_to_build(tmp_path):
    copy = tmp_path / "epicotyl"
    shutil.copytree(
        SOURCES, copy, ignore=lambda _, names: [n for n in names if not n.endswith(".py")]
    )
    code = f"import sys; sys.path.insert(0, {str(tmp_path)!r}); import epicotyl"
    told = subprocess.run(
        [sys.executable, "-I", "-c", code], capture_output=True, text=True, check=False
    )
    assert told.returncode != 0
    assert "ImportError" in told.stderr
    assert "pip install ." in told.stderr


def stub():
    """Names and parameters that the stub of the extension module declares."""
    tree = ast.parse((SOURCES / "_core.pyi").read_text(encoding="utf-8"))
    found = {}

    def parameters(node):
        of = node.args
        return [one.arg for one in (*of.posonlyargs, *of.args, *of.kwonlyargs)]

    for node in tree.body:
        if isinstance(node, ast.FunctionDef):
            found[node.name] = parameters(node)
        elif isinstance(node, ast.ClassDef):
            found[node.name] = None
            for member in node.body:
                if member.decorator_list:
                    found[f"{node.name}.{member.name}"] = None
                else:
                    found[f"{node.name}.{member.name}"] = parameters(member)
    return found


def declared(function):
    """Names of parameters that a compiled function says of itself, self included."""
    first = function.__doc__.splitlines()[0]
    inside = first[first.index("(") + 1 : first.rindex(")")] if "(" in first else ""
    # Parameters are parted by commas outside brackets.
    depth, parts = 0, [""]
    for letter in inside.split(") ->")[0]:
        depth += (letter in "[(") - (letter in "])")
        if letter == "," and depth == 0:
            parts.append("")
        else:
            parts[-1] += letter
    names = [part.split(":")[0].split("=")[0].strip() for part in parts if part]
    return [name for name in names if name not in {"*", "/", ""}]


def compiled():
    """Names and parameters that the extension module has."""
    found = {}
    for name, thing in vars(_core).items():
        if name.startswith("_") or not callable(thing):
            continue
        if not inspect.isclass(thing):
            found[name] = declared(thing)
            continue
        found[name] = None
        for member, value in vars(thing).items():
            if isinstance(value, property):
                found[f"{name}.{member}"] = None
            elif callable(value) and not member.startswith("_"):
                found[f"{name}.{member}"] = declared(value)
    return found


def test_stub_declares_what_the_extension_has_and_nothing_else():
    of_stub = {name: of for name, of in stub().items() if not name.endswith("__")}
    assert of_stub == compiled()


def test_stub_agrees_with_the_type_checker(tmp_path):
    pytest.importorskip("mypy.stubtest")
    # What the compiler of the bindings gives every class cannot be said in a stub.
    allowed = Path(__file__).with_name("stubtest_allowed.txt")
    options = ["--concise", "--allowlist", str(allowed)]
    told = subprocess.run(
        [sys.executable, "-m", "mypy.stubtest", "epicotyl._core", *options],
        capture_output=True,
        text=True,
        check=False,
        cwd=tmp_path,
    )
    assert told.returncode == 0, told.stdout + told.stderr


def test_no_text_of_the_package_names_a_network():
    for path in (*SOURCES.iterdir(), ROOT / "pyproject.toml"):
        if path.suffix in {".py", ".pyi", ".toml"}:
            assert not re.search(r"https?:", path.read_text(encoding="utf-8")), path.name
