"""The layout of the project: floors, guards, sizes, and what may stand where.

Reads the sources as text; lizard counts the branches of functions.
"""

import os
import re
from pathlib import Path

import pytest

TOP = Path(__file__).resolve().parents[2]
INCLUDE = TOP / "include" / "epicotyl"

# From the ground up. A file includes headers of lower floors and of its own folder; so no two
# folders include each other. Folders of src/ bear the names of those of include/.
FLOORS = [
    "base", "weather", "clock", "frost", "crop", "network", "choice", "plan", "amounts",
    "season/tables", "season/rows", "season/days", "season/harvest", "season/windows",
    "season/what_if", "season", "heat", "space", "space/fit",
]  # fmt: skip
# Files in include/epicotyl itself and in detail/ are the base. The umbrella stands above all.
BASE_FOLDERS = {"", "detail"}
UMBRELLA = "epicotyl/epicotyl.hpp"
# Above all, too: the header that gathers the sources, and the source that gathers what headers
# leave to impl/. Each floor's impl/ is a part of it.
GATHERER = "epicotyl/impl/src.hpp"
LEFT_TO_IMPL = "src/headers.cpp"
# Not in the umbrella: each brings the headers of another library along.
OPT_IN = re.compile(r"epicotyl/(network/.*|season/windows/event_network|fmt)\.hpp")

AT_THE_TOP = {
    "CMakeLists.txt", "CMakePresets.json", "README.md", "DEVELOPERS.md", "LICENSE",
    "pyproject.toml", "include", "src", "bindings", "examples", "tests",
}  # fmt: skip
MADE_HERE = {".git", ".hypothesis", ".venv", "build", "dist", "__pycache__"}

HEADERS = sorted(set(INCLUDE.rglob("*.hpp")) - {INCLUDE.parent / GATHERER})
LEFT_OUT = sorted(INCLUDE.rglob("*.ipp"))


def name_of(header):
    """As it is included: "epicotyl/clock/rate.hpp"."""
    return header.relative_to(INCLUDE.parent).as_posix()


def folder_of(header):
    return header.parent.parent if header.parent.name == "impl" else header.parent


def floor_of(name):
    """The index of a header's floor in FLOORS."""
    folder = "/".join(part for part in name.split("/")[1:-1] if part != "impl")
    return FLOORS.index("base" if folder in BASE_FOLDERS else folder)


def includes_of(path):
    return re.findall(r'^\s*#\s*include\s*([<"][^>"]+[>"])', path.read_text(encoding="utf-8"), re.M)


def files_of_the_project():
    for folder, folders, names in os.walk(TOP):
        folders[:] = [
            name
            for name in folders
            if name not in MADE_HERE and not name.endswith(("_cache", ".egg-info"))
        ]
        for name in names:
            if not name.endswith((".pyc", ".so")):
                yield Path(folder, name)


def sources_below(*folders):
    for folder in folders:
        for path in sorted((TOP / folder).rglob("*")):
            if path.suffix in {".cpp", ".hpp", ".ipp"}:
                yield path


each_header = pytest.mark.parametrize("header", HEADERS + LEFT_OUT, ids=name_of)


def test_the_headers_are_found():
    assert len(HEADERS) > 30


@each_header
def test_a_header_includes_only_lower_floors_and_its_own_folder(header):
    name = name_of(header)
    for include in includes_of(header):
        assert not include.startswith('"'), f"{name}: {include} must be <epicotyl/...>"
        other = include.strip("<>")
        if not other.startswith("epicotyl/") or name == UMBRELLA:
            continue
        assert other != UMBRELLA, f"{name} includes the umbrella"
        assert (INCLUDE.parent / other).is_file(), f"{name}: there is no {other}"
        same_folder = folder_of(header) == folder_of(INCLUDE.parent / other)
        assert same_folder or floor_of(other) < floor_of(name) or floor_of(name) == 0, (
            f"{name} ({FLOORS[floor_of(name)]}) includes {other} ({FLOORS[floor_of(other)]})"
        )


SOURCES = sorted(path for path in (TOP / "src").rglob("*") if path.suffix in {".cpp", ".hpp"})


@pytest.mark.parametrize("source", SOURCES, ids=lambda path: path.relative_to(TOP).as_posix())
def test_a_source_includes_only_lower_floors_and_its_own_folder(source):
    name = source.relative_to(TOP).as_posix()
    if name == LEFT_TO_IMPL:
        return
    for include in includes_of(source):
        other = include.strip('<>"')
        if include.startswith('"'):
            other = (source.parent / other).resolve().relative_to(TOP).as_posix()
            assert (TOP / other).is_file(), f"{name}: there is no {other}"
        elif not other.startswith("epicotyl/"):
            continue
        assert other != UMBRELLA, f"{name} includes the umbrella"
        assert floor_of(other) <= floor_of(name), (
            f"{name} ({FLOORS[floor_of(name)]}) includes {other} ({FLOORS[floor_of(other)]})"
        )


def test_a_source_lies_in_the_folder_of_its_header():
    public = {header.stem: header.parent.relative_to(INCLUDE) for header in HEADERS}
    private = {path.stem: path.parent for path in SOURCES if path.suffix == ".hpp"}
    for path in SOURCES:
        if path.suffix != ".cpp":
            continue
        if path.stem in private:
            assert path.parent == private[path.stem], path
        elif path.stem in public:
            assert path.parent == TOP / "src" / public[path.stem], path


@each_header
def test_a_header_begins_with_its_concept_in_prose(header):
    assert header.read_text(encoding="utf-8").startswith("// epicotyl: ")


@each_header
def test_a_header_has_a_guard_with_its_path_and_no_other_macro(header):
    text = header.read_text(encoding="utf-8")
    guard = re.sub(r"[/.]", "_", name_of(header)).upper()
    if name_of(header) == UMBRELLA:
        guard = "EPICOTYL_EPICOTYL_HPP"
    assert re.findall(r"^\s*#\s*define\s+(\w+)", text, re.M) == [guard]
    assert re.search(rf"^#ifndef {guard}\n#define {guard}\n", text, re.M)
    assert text.endswith("\n#endif\n")
    assert "#pragma once" not in text


@each_header
def test_a_header_has_at_most_450_lines(header):
    assert len(header.read_text(encoding="utf-8").splitlines()) <= 450


def test_a_source_has_at_most_450_lines():
    for path in sources_below("src", "bindings/module"):
        lines = len(path.read_text(encoding="utf-8").splitlines())
        assert lines <= 450, f"{path.relative_to(TOP)} has {lines} lines"


# Ways through a function: 1, and 1 more for every if, loop, case, and, or. More than 15 are not
# read in one go.
MOST_WAYS = 15


def test_a_function_can_be_read_in_one_go():
    lizard = pytest.importorskip("lizard")
    # The name tells lizard the language; it knows no .ipp.
    read = lizard.FileAnalyzer(lizard.get_extensions([])).analyze_source_code
    files = [(f"{path}.cpp", path) for path in sources_below("include", "src", "bindings/module")]
    files += [(f"{path}", path) for path in sorted((TOP / "bindings" / "epicotyl").glob("*.py"))]
    tangled = [
        f"{path.relative_to(TOP)}: {one.name} has {one.cyclomatic_complexity}"
        for name, path in files
        for one in read(name, path.read_text(encoding="utf-8")).function_list
        if one.cyclomatic_complexity > MOST_WAYS
    ]
    assert tangled == []


def test_no_header_opens_a_namespace_for_who_includes_it():
    for folder in ("include", "src", "bindings", "tests"):
        for header in (TOP / folder).rglob("*.[hi]pp"):
            assert "using namespace" not in header.read_text(encoding="utf-8"), header


def is_unstable(header):
    return header.parent.name == "detail" or "\n// Unstable" in header.read_text(encoding="utf-8")


def test_the_umbrella_lists_every_public_header_once():
    """A clock and a rule have a file each, which stands where they are registered."""
    listed = [one.strip("<>") for one in includes_of(INCLUDE / "epicotyl.hpp")]
    for register, block in (("clock/clock.hpp", "_wait"), ("crop/rule.hpp", "_rules?")):
        blocks = [
            one for one in includes_of(INCLUDE / register) if re.search(rf"{block}\.hpp>$", one)
        ]
        assert len(blocks) >= 4, register
        listed += [one.strip("<>") for one in blocks]
    public = [
        name_of(header)
        for header in HEADERS
        if name_of(header) != UMBRELLA
        and not is_unstable(header)
        and not OPT_IN.fullmatch(name_of(header))
    ]
    assert sorted(listed) == public


@pytest.mark.parametrize("left", LEFT_OUT, ids=name_of)
def test_what_a_header_leaves_to_impl_is_read_by_it_at_its_end(left):
    header = left.parents[1] / f"{left.stem}.hpp"
    assert header.read_text(encoding="utf-8").endswith(
        f"#ifdef EPICOTYL_INLINE\n#include <{name_of(left)}>\n#endif\n\n#endif\n"
    )
    # Read into many sources, which would each have their own.
    assert not re.search(r"^namespace \{|^static ", left.read_text(encoding="utf-8"), re.M)


def test_what_headers_leave_to_impl_is_compiled_once_for_the_library():
    gathered = [one.strip("<>") for one in includes_of(TOP / LEFT_TO_IMPL)]
    assert gathered == sorted(name_of(left) for left in LEFT_OUT)


def test_the_gathering_header_has_every_source_once():
    """Who adds a source adds a line to epicotyl/impl/src.hpp, in the order of the alphabet."""
    lines = [one.strip('"') for one in includes_of(INCLUDE.parent / GATHERER)]
    sources = [path.relative_to(TOP).as_posix() for path in SOURCES if path.suffix == ".cpp"]
    sources.remove(LEFT_TO_IMPL)
    assert lines == [f"../../../{name}" for name in [LEFT_TO_IMPL, *sources]]


def test_the_core_knows_nothing_of_python():
    for path in sources_below("include", "src", "tests"):
        for include in includes_of(path):
            assert not re.search(r"pybind11|Python\.h", include), f"{path}: {include}"


def test_toml_plus_plus_is_used_in_src_only():
    for path in sources_below("include", "bindings", "examples", "tests"):
        for include in includes_of(path):
            if path == INCLUDE.parent / GATHERER and include.startswith('"../../../src/'):
                continue
            assert "toml" not in include, f"{path}: {include}"


def test_the_headers_are_not_above_the_sources():
    for header in HEADERS:
        for include in includes_of(header):
            assert not re.search(r"src/|\.cpp", include), f"{header}: {include}"


def test_every_file_that_prose_names_is_there():
    named = re.compile(r"(?<![\w./<\"])((?:[a-z_]+/)+[a-z_]+\.(?:hpp|cpp|py|md))\b")
    texts = [*sources_below("include", "src", "bindings"), *INCLUDE.glob("*.md"), *TOP.glob("*.md")]
    roots = [TOP, TOP / "src", INCLUDE.parent, INCLUDE, TOP / "bindings"]
    found = 0
    for path in texts:
        for name in named.findall(path.read_text(encoding="utf-8")):
            found += 1
            assert any((root / name).is_file() for root in roots), f"{path}: {name}"
    assert found > 50


def test_nothing_else_stands_at_the_top():
    there = {path.name for path in TOP.iterdir()} - MADE_HERE
    there = {name for name in there if not name.startswith(".") and not name.endswith("_cache")}
    assert there - AT_THE_TOP == set()


def test_no_file_names_a_folder_of_one_machine():
    # Written backwards, so that this file does not hold what it looks for.
    words = [word[::-1] for word in ["/krow/", "/toor/", "/emoh/", "/pmt/", "tpircsnart"]]
    for path in files_of_the_project():
        try:
            text = path.read_text(encoding="utf-8")
        except UnicodeDecodeError:
            continue
        for word in words:
            assert word not in text, f"{path.relative_to(TOP)} holds {word!r}"


def test_the_version_stands_in_one_place():
    version = re.search(
        r'version = "(\d+\.\d+\.\d+)"', (INCLUDE / "version.hpp").read_text(encoding="utf-8")
    )[1]
    for name in ["CMakeLists.txt", "pyproject.toml"]:
        assert f'"{version}"' not in (TOP / name).read_text(encoding="utf-8"), name
