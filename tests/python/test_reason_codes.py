"""Every code that a reason of a calendar can have, in full text, in cases reckoned by hand.

All happens on the plot of `reason_plot.py`. The codes are those that stand in the library's
sources: one that is added there without a case here fails the last test.
"""

import re
import tomllib
from pathlib import Path

import pytest

epicotyl = pytest.importorskip("epicotyl")
from reason_cases_held import HELD  # noqa: E402 - the package says what is missing
from reason_cases_lost import LOST  # noqa: E402
from reason_cases_sown import SOWN  # noqa: E402
from reason_plot import AND_SO_ON, ON_1_MARCH, PLOT, batch, calendar, told, weather  # noqa: E402

SOURCES = Path(__file__).resolve().parents[2] / "src"
CASES = SOWN | HELD | LOST


@pytest.mark.parametrize("case", CASES)
def test_what_is_said_is_so_in_full(case):
    text, asked, said, *weather_and_days = CASES[case]
    keywords = dict(zip(("record", "season_days"), weather_and_days, strict=False))
    found = told(calendar(text, **keywords), *asked)
    if said[-1] == AND_SO_ON:
        assert found[: len(said) - 1] == said[:-1]
    else:
        assert found == said


def test_years_that_are_not_a_stations_are_said_to_be_so():
    document = tomllib.loads(PLOT + batch("pea", ON_1_MARCH))
    climate = epicotyl.Climate(weather(), latitude=45.0, season_days=300, years=(2001, 2005))
    warmer = epicotyl.schedule(epicotyl.plan(document), climate.shifted(2.0))
    assert told(warmer, "pea", "sow") == [
        "rule.on | sow 1 Mar: wanted on 1 Mar",
        (
            "years.origin | counted in season years that are not simply those of a station: "
            "shifted by +2 K"
        ),
    ]


# Codes of errors, windows and other answers begin with these.
ELSEWHERE = (
    r"(conflict|coverage|crop|day|day_length|days|defaults|file|network|normals|plan|site|stagger"
    r"|succession|sweep|threads|weather|window|windows|yield)\."
)


def test_every_code_in_the_sources_is_asserted_by_a_case():
    found = set()
    for path in (SOURCES / "season").rglob("*.cpp"):
        found |= set(re.findall(r'"([a-z_]+\.[a-z_.]+)"', path.read_text(encoding="utf-8")))
    found = {code for code in found if not code.endswith(".hpp")}
    found = {code for code in found if not re.match(ELSEWHERE, code)}
    found -= {"season.climate_differs"}
    # Put together from two parts.
    found |= {"bound.open.carried", "bound.risk.carried"}
    found |= {f"rule.{name}" for name in ("on", "from", "by", "in_harvest")}
    said = {line.split(" | ")[0] for _, _, lines, *_ in CASES.values() for line in lines}
    said.remove(AND_SO_ON)
    said.add("years.origin")
    assert said <= found
    assert found - said <= asserted_elsewhere()


def asserted_elsewhere():
    """Codes that other tests of the package compare a reason's code with."""
    compared = re.compile(r'\bcodes?\b.* == \[?("[a-z_]+\.[a-z_.]+"(?:, )?)+')
    found = set()
    for path in Path(__file__).parent.glob("test_*.py"):
        for line in path.read_text(encoding="utf-8").splitlines():
            if compared.search(line):
                found |= set(re.findall(r'"([a-z_]+\.[a-z_.]+)"', line))
    return found
