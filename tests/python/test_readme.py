"""What the README shows is true: its programs are run, its output compared, its plans read.

A fenced block of `python` or `cpp` is a whole program, run from the project's top folder; where a
`text` block follows it directly, that is its output. One of `cpp` that begins with the name of a
target in a comment links that. A `toml` block is a plan file. A `sh` block
holds the project's commands.
"""

import os
import re
import shlex
import subprocess
import sys
from pathlib import Path

import pytest

TOP = Path(__file__).resolve().parents[2]
BUILDS = [Path("build/dev"), Path("build/release")]
COMMANDS = {
    "examples/quickstart.sh": {"--weather", "--latitude", "--yes", "--no-apt"},
    "tests/run.sh": {"--thorough", "--yes", "--no-apt"},
}


def blocks():
    """(language, text, the output that follows or None, line) of every fenced block."""
    text = (TOP / "README.md").read_text(encoding="utf-8")
    found = list(re.finditer(r"^```(\w*)\n(.*?)^```$", text, re.M | re.S))
    for i, one in enumerate(found):
        follows = found[i + 1] if i + 1 < len(found) else None
        output = None
        if follows and follows[1] == "text" and not text[one.end() : follows.start()].strip():
            output = follows[2]
        yield one[1], one[2], output, text.count("\n", 0, one.start()) + 1


BLOCKS = list(blocks())


def each(language):
    return pytest.mark.parametrize(
        ("text", "output"),
        [pytest.param(text, output, id=f"line {line}") for name, text, output, line in BLOCKS
         if name == language],
    )  # fmt: skip


def run(*command):
    done = subprocess.run(command, cwd=TOP, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    return done.stdout


def test_every_block_says_its_language():
    assert {name for name, *_ in BLOCKS} <= {"python", "cpp", "toml", "sh", "text"}


def test_there_is_an_example_in_each_language():
    assert {"python", "cpp", "sh"} <= {name for name, *_ in BLOCKS}


@each("python")
def test_python_example(text, output):
    printed = run(sys.executable, "-c", text)
    assert output is None or printed == output


@pytest.fixture(scope="module")
def installed(tmp_path_factory):
    """The installed tree of a build of this project."""
    asked = os.environ.get("EPICOTYL_BUILD")
    for build in [Path(asked)] if asked else BUILDS:
        if (TOP / build / "CMakeCache.txt").is_file():
            prefix = tmp_path_factory.mktemp("prefix")
            run("cmake", "--install", str(build), "--prefix", str(prefix))
            return prefix
    pytest.skip("there is no build of the C++ library")


@each("cpp")
def test_cpp_example(text, output, installed, tmp_path):
    (tmp_path / "example.cpp").write_text(text, encoding="utf-8")
    said = re.match(r"// epicotyl::(\w+)\n", text)
    component = said[1] if said else "epicotyl"
    (tmp_path / "CMakeLists.txt").write_text(
        "cmake_minimum_required(VERSION 3.25)\n"
        "project(example LANGUAGES CXX)\n"
        f"find_package(epicotyl REQUIRED{f' COMPONENTS {component}' if said else ''})\n"
        "add_executable(example example.cpp)\n"
        f"target_link_libraries(example PRIVATE epicotyl::{component})\n"
    )
    folder, build = str(tmp_path), str(tmp_path / "build")
    run("cmake", "-G", "Ninja", "-S", folder, "-B", build, f"-DCMAKE_PREFIX_PATH={installed}")
    run("cmake", "--build", build)
    printed = run(str(tmp_path / "build" / "example"))
    assert output is None or printed == output


@each("toml")
def test_plan_file(text, output, tmp_path):
    import epicotyl

    assert output is None
    file = tmp_path / "plan.toml"
    file.write_text(text, encoding="utf-8")
    epicotyl.read_plan(file)


@each("sh")
def test_command_exists(text, output):
    assert output is None
    for line in text.splitlines():
        words = shlex.split(line, comments=True)
        if not words:
            continue
        assert words[0] == "sh"
        options = {word for word in words[2:] if word.startswith("--")}
        assert options <= COMMANDS[words[1]], line
        assert (TOP / words[1]).is_file()
