"""Which headers of other libraries a header of ours brings along.

Reads the sources as text and follows the lines of inclusion. What that costs a compiler is printed
by `tests/bench/headers.py`.
"""

import re
from pathlib import Path

import pytest

INCLUDE = Path(__file__).resolve().parents[2] / "include"
UMBRELLA = "epicotyl/epicotyl.hpp"
HEADERS = sorted(path.relative_to(INCLUDE).as_posix() for path in INCLUDE.rglob("*.hpp"))
HEADERS.remove("epicotyl/impl/src.hpp")


def below(folder):
    return [name for name in HEADERS if name.startswith(f"epicotyl/{folder}/")]


def brought_by(header, *, alone):
    """All that is read with a header; `alone`: and linked to nothing, so with its `impl/`."""
    found = set()
    asked = [header]
    while asked:
        text = (INCLUDE / asked.pop()).read_text(encoding="utf-8")
        if not alone:
            text = re.sub(r"#ifdef EPICOTYL_INLINE\n.*?#endif\n", "", text, flags=re.S)
        for name in re.findall(r"^#include <([^>]+)>", text, re.M):
            if name not in found and name.startswith("epicotyl/"):
                asked.append(name)
            found.add(name)
    return found


def libraries(header, *, alone=False):
    """Of what is not of the language: "date", "fmt", "boost/graph"."""
    others = {name for name in brought_by(header, alone=alone) if not name.startswith("epicotyl/")}
    return {
        "/".join(name.split("/")[: 2 if name.startswith("boost/") else 1])
        for name in others
        if "/" in name or "." in name
    }


def test_the_scan_sees_what_is_there():
    assert "boost/graph" in libraries("epicotyl/network/order.hpp")
    assert "fmt" in libraries("epicotyl/fmt.hpp")
    assert libraries("epicotyl/frost/freeze_risk.hpp", alone=True) == {"boost/math", "date", "fmt"}
    assert "epicotyl/impl/days.ipp" in brought_by("epicotyl/days.hpp", alone=True)


@pytest.mark.parametrize("header", HEADERS)
def test_only_the_header_for_fmt_brings_fmt(header):
    assert ("fmt" in libraries(header)) == (header == "epicotyl/fmt.hpp")


@pytest.mark.parametrize("header", HEADERS)
def test_boost_stands_behind_the_headers_of_the_network(header):
    network = {*below("network"), "epicotyl/season/windows/event_network.hpp"}
    brought = {name for name in libraries(header) if name.startswith("boost")}
    assert brought <= ({"boost/graph", "boost/property_map"} if header in network else set())


def test_the_umbrella_brings_no_library_but_the_calendar():
    assert libraries(UMBRELLA) == {"date"}


@pytest.mark.parametrize("header", below("network"))
def test_the_network_brings_neither_date_nor_zlib_nor_fmt(header):
    assert libraries(header, alone=True) <= {"boost/graph", "boost/property_map"}


@pytest.mark.parametrize("header", below("clock"))
def test_the_clocks_bring_no_boost_and_from_the_headers_alone_only_the_calendar(header):
    assert libraries(header) == set()
    assert libraries(header, alone=True) <= {"date"}


@pytest.mark.parametrize("header", [*below("frost"), *below("crop")])
def test_frost_and_crop_bring_no_zlib_and_no_toml(header):
    assert libraries(header, alone=True) <= {"boost/math", "date", "fmt"}


@pytest.mark.parametrize(
    "header", ["epicotyl/days.hpp", "epicotyl/season/days/schedule.hpp", *below("plan")]
)
def test_who_needs_a_day_reads_no_calendar_of_months(header):
    assert libraries(header) == set()
