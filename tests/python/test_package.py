"""The package itself: its names, signatures, version and stubs."""

import ast
import inspect
import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

epicotyl = pytest.importorskip("epicotyl")
from epicotyl import _core  # noqa: E402 - the package says what is missing
from public_names import SOURCES, floors, homes  # noqa: E402

ROOT = Path(__file__).resolve().parents[2]

SIGNATURES = {
    "Climate": ("(record, *, latitude, season_start=None, season_days=550, max_gap=3, years=30)"),
    "Climate.given": "(self, observed, forecast=None)",
    "Climate.only": "(self, years)",
    "Climate.shifted": "(self, by, *, units='metric')",
    "DailyRecord": "(start, tmin, tmax, name='', *, origin='', units='metric')",
    "FreezeRisk": (
        "(record, threshold, *, estimator='fitted', latitude=45.0, halves=None, "
        "comparison='at_or_below', max_gap=3, years=30, units='metric')"
    ),
    "FreezeRisk.chance_earlier": "(self, date)",
    "FreezeRisk.chance_later": "(self, date)",
    "FreezeRisk.first_freeze": "(self, chance_earlier, *, year=None)",
    "FreezeRisk.last_freeze": "(self, chance_later, *, year=None)",
    "frost.FreezeTable": (
        "(record, *, thresholds=None, chances=None, estimator='fitted', latitude=45.0, "
        "halves=None, comparison='at_or_below', max_gap=3, years=30, units='metric')"
    ),
    "frost.FreezeTable.to_frame": "(self, *, year=None)",
    "frost.FreezeTable.to_text": "(self, *, units=None)",
    "seeds.GerminationCurve": "(half, steepness)",
    "seeds.GerminationCurve.needed_for": "(self, share, *, maximum=None)",
    "seeds.MaximumGermination": "(points)",
    "weather.WeatherModel": (
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
    "frost.chance_band": "(counted, years, *, level=0.95)",
    "coverage": (
        "(prospect, successions=None, *, wave=None, crop=None, first=None, last=None, "
        "reliability=None, per_week=None, gives=None, heat_stops=True)"
    ),
    "day_length": "(latitude, dates, *, model='cbm', sun_angle=0.8333)",
    "degree_days": ("(tmin, tmax, *, base, upper=None, method='single_sine', cutoff='horizontal')"),
    "files.expand": "(path)",
    "harvest.expected_yield": "(prospect, succession, gives, *, heat_stops=True)",
    "explain": "(calendar, succession, event)",
    "harvest.fewest_sowings": "(plan, climate, crop, start, until=None, *, chance)",
    "clock.first_day_with": ("(latitude, hours, *, start, until, model='cbm', sun_angle=0.8333)"),
    "weather.fit_weather_model": "(record, *, years=30)",
    "files.from_json": "(text, *, check=True)",
    "weather.generate": "(model, start, length, *, seed)",
    "seeds.germinated_by_day": "(means, *, base, optimum, ceiling, curve, maximum)",
    "clock.last_day_with": "(latitude, hours, *, start, until, model='cbm', sun_angle=0.8333)",
    "weather.morning_reader": "(record)",
    "open_season": (
        "(path, *, reliability=None, weather=None, latitude=None, station=None, "
        "whole_fahrenheit=None)"
    ),
    "plan": "(mapping=None, /, **tables)",
    "weather.quality": "(record, *, max_gap=3)",
    "read_daily_csv": ("(path, *, date='date', tmin='tmin', tmax='tmax', units=None, name='')"),
    "read_ghcn_daily": "(path, *, station=None, whole_fahrenheit=False)",
    "read_plan": "(path)",
    "schedule": "(plan, climate, *, reliability=None)",
    "simulate": "(calendar, climate, *, threads=0)",
    "weather.splice": "(first, second, *, match_means=False)",
    "stagger": (
        "(plan, climate, crop, first, last=None, *, until_first_frost=None, every=None, "
        "count=None, reliability=None, day_length_at_least=None, name='', plants=1.0)"
    ),
    "sweep": (
        "(plan, climate, changes, *, levels=(0.1, 0.5, 0.9), event='first_harvest', threads=0, "
        "progress=None)"
    ),
    "files.to_json": "(value, *, indent=None)",
    "weather.with_elevation_difference": "(record, metres, *, lapse_rate=6.5)",
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


# What a grower's season takes; all else has its home in a module.
# fmt: off
TOP = {
    "read_plan", "plan", "open_season", "read_ghcn_daily", "read_daily_csv", "DailyRecord",
    "Climate", "FreezeRisk", "degree_days", "day_length", "schedule", "simulate", "explain",
    "planting_windows", "stagger", "fit_to_space", "sweep", "compare", "occupancy",
    "seeds_needed", "coverage", "Change", "Plan", "Calendar", "Prospect", "Error", "InvalidInput",
    "Unresolved", "__version__",
}
# fmt: on


def test_the_top_holds_what_every_season_takes_and_no_more():
    assert set(epicotyl.__all__) == TOP
    assert len(TOP - {"__version__"}) <= 30


@pytest.mark.parametrize("home", homes(), ids=lambda home: home.__name__)
def test_public_names_are_sorted_there_and_all_that_is_shown(home):
    names = [name for name in home.__all__ if name != "__version__"]
    assert names == sorted(names, key=lambda name: (name[0].islower(), name))
    shown = {name for name in dir(home) if not name.startswith("_") or name == "__version__"}
    modules = {floor.__name__.rpartition(".")[2] for floor in floors()}
    assert shown == set(home.__all__) | (modules if home is epicotyl else set())
    for name in home.__all__:
        assert hasattr(home, name)


def test_every_public_name_has_one_home_and_is_named_by_it():
    every = [name for home in homes() for name in home.__all__]
    modules = [floor.__name__.rpartition(".")[2] for floor in floors()]
    assert sorted([*every, *modules]) == sorted({*every, *modules})
    for home in homes():
        for name in set(home.__all__) - {"__version__"}:
            assert getattr(home, name).__module__ == home.__name__


@pytest.mark.parametrize("home", floors(), ids=lambda home: home.__name__)
def test_a_module_says_in_prose_what_it_is_for(home):
    first, blank, *prose = home.__doc__.splitlines()
    assert first.endswith(".")
    assert blank == ""
    assert len(" ".join(prose).split()) >= 20


@pytest.mark.parametrize("module", [floor.__name__ for floor in floors()])
def test_a_module_is_there_by_its_own_import_and_with_the_package(module):
    name = module.rpartition(".")[2]
    for code in (f"import {module}", "import epicotyl", f"from epicotyl import {name}"):
        told = subprocess.run(
            [sys.executable, "-c", f"{code}\nimport epicotyl\nprint(epicotyl.{name}.__all__)"],
            capture_output=True,
            text=True,
            check=True,
        )
        assert told.stdout == f"{getattr(epicotyl, name).__all__}\n"


# What documents of JSON call themselves.
DOCUMENTS = {"epicotyl.calendar", "epicotyl.prospect"}


def shown_to_readers():
    """What README, examples and docstrings show of the package, as text."""
    for path in (ROOT / "README.md", *sorted((ROOT / "examples").glob("*.py"))):
        yield path.name, path.read_text(encoding="utf-8")
    for path in sorted(SOURCES.glob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Module | ast.ClassDef | ast.FunctionDef):
                yield path.name, ast.get_docstring(node) or ""


def test_what_readers_are_shown_uses_public_names_alone():
    public = {home.__name__: set(home.__all__) for home in homes()}
    unknown = []
    for where, text in shown_to_readers():
        for first, second in re.findall(r"(?<![\w./<])epicotyl\.(\w+)(?:\.(\w+))?", text):
            floor = public.get(f"epicotyl.{first}", set())
            floor = {*floor, ""} if floor else floor
            if f"epicotyl.{first}" in DOCUMENTS:
                continue
            if first not in public["epicotyl"] and second not in floor:
                unknown.append((where, first, second))
        for home, names in re.findall(r"from (epicotyl[.\w]*) import ([\w, ]+)", text):
            modules = {floor.__name__.rpartition(".")[2] for floor in floors()}
            known = public.get(home, set()) | (modules if home == "epicotyl" else set())
            unknown += [(where, home, one) for one in names.split(", ") if one not in known]
    assert unknown == []


def test_a_name_that_is_not_at_the_top_is_told_with_its_home():
    with pytest.raises(AttributeError) as told:
        epicotyl.heat_loss  # noqa: B018 - asking is what is tested
    text = "module 'epicotyl' has no attribute 'heat_loss'; it is epicotyl.heat.heat_loss"
    assert str(told.value) == text
    with pytest.raises(AttributeError) as told:
        epicotyl.heat_los  # noqa: B018
    assert str(told.value) == "module 'epicotyl' has no attribute 'heat_los'"


def test_the_readme_names_every_module():
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    listed = re.search(r"sorted by subject in (.*?), each with a page", text, re.S)[1]
    names = re.findall(r"`(?:epicotyl\.)?(\w+)`", listed)
    assert names == [floor.__name__.rpartition(".")[2] for floor in floors()]


def test_type_checkers_see_every_name_at_its_home_alone(tmp_path):
    pytest.importorskip("mypy")
    lines = ["import epicotyl"]
    lines += [f"{home.__name__}.{name}" for home in homes() for name in home.__all__]
    program = tmp_path / "program.py"
    program.write_text("\n".join([*lines, "epicotyl.YieldShape", ""]), encoding="utf-8")
    told = subprocess.run(
        [sys.executable, "-m", "mypy", "--strict", "--follow-imports=silent", str(program)],
        capture_output=True,
        text=True,
        check=False,
        cwd=tmp_path,
    )
    where = f"program.py:{len(lines) + 1}"
    assert told.stdout.splitlines() == [
        f'{where}: error: Module has no attribute "YieldShape"  [attr-defined]',
        "Found 1 error in 1 file (checked 1 source file)",
    ]


def test_the_package_passes_its_own_type_checks():
    pytest.importorskip("mypy")
    told = subprocess.run(
        [sys.executable, "-m", "mypy", "--config-file", str(ROOT / "pyproject.toml")],
        capture_output=True,
        text=True,
        check=False,
        cwd=ROOT,
    )
    assert told.returncode == 0, told.stdout


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
                if isinstance(member, ast.AnnAssign):
                    found[f"{node.name}.{member.target.id}"] = None
                elif isinstance(member, ast.Expr):
                    continue
                elif member.decorator_list:
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
            if (
                isinstance(value, property)
                or inspect.ismemberdescriptor(value)
                or member in getattr(thing, "_fields", ())
            ):
                found[f"{name}.{member}"] = None
            elif callable(value) and not member.startswith("_"):
                found[f"{name}.{member}"] = declared(value)
    return found


def test_stub_declares_what_the_extension_has_and_nothing_else():
    of_stub = {name: of for name, of in stub().items() if not name.endswith("__")}
    assert of_stub == compiled()


def test_stub_is_the_one_that_is_made():
    # Of the package that is tested, not of that beside the script.
    made = subprocess.run(
        [sys.executable, "-P", SOURCES.parent / "make_stub.py", "-"],
        capture_output=True,
        text=True,
        check=True,
        env={**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)},
    )
    assert made.stdout == (SOURCES / "_core.pyi").read_text(encoding="utf-8")


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
