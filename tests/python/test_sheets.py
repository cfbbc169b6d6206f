"""Sheets: what is printed fits on a page of 100 columns, and says each thing once and plainly.

Every sheet is made (`every_sheet.py`), of the demo farm with its own weather and with that of three
stations. A class that prints several lines must stand there, or the first test fails.
"""

import datetime
import inspect
import itertools
import re

import pytest

from every_sheet import SHEETS, STATIONS, in_2027, opened, sheets_of
from public_names import homes

epicotyl = pytest.importorskip("epicotyl")

PAGE = 100

#: Printed as one line, in sheets and messages, or as a whole plan file.
VALUES = {
    "AirFit", "ChainEvent", "ChainInYears", "ChangedInput", "Climate", "ColdExtreme",
    "ConflictStep", "CountedChance", "CoverageGap", "CoverageWeek", "Cure", "DailyRecord",
    "DamageReport", "EqualGapSowing", "Error", "FitMove", "FreezeAnswer", "FreezeRisk",
    "GerminationCurve", "GerminationSpread", "GuessedGain", "HarvestGap", "HarvestWeek",
    "HarvestYield", "HeatPoint", "HeatedBatch", "HeaterMatch", "InvalidInput", "LastSowing",
    "LeftOutYear",
    "LinkCount", "LinkedGroup", "MaximumGermination", "MovedEvent", "NotPlaced", "Obstacle",
    "Overflow", "OverheldReport", "Plan", "Reason", "Requirement", "SeasonConflict", "SowingClaim",
    "StageQuantity", "StaggeredSowing", "Standing", "SuccessionQuantity", "SweptSuccession",
    "TightestChain", "TrayLine", "TypedCure", "Unresolved", "UnresolvedConflict", "WeatherModel",
    "WindowFailure", "YieldByWeek", "YieldShape",
}  # fmt: skip


@pytest.fixture(params=["demo", *STATIONS])
def place(request):
    """The demo farm with its own weather, and with that of the stations."""
    opened(request.param)
    return request.param


@pytest.fixture(scope="module")
def demo():
    return opened("demo")


def test_every_class_that_is_printed_is_a_sheet_or_a_value():
    printed = {
        name
        for home in homes()
        for name in home.__all__
        if inspect.isclass(getattr(home, name))
        and getattr(home, name).__str__ not in (object.__str__, tuple.__str__)
    }
    assert printed - VALUES - {"SpliceReport"} <= SHEETS.keys()
    assert not VALUES & SHEETS.keys()


@pytest.mark.parametrize("printed", SHEETS)
def test_every_sheet_fits_on_a_page(place, printed):
    """At most 100 columns, no torn date, no number at a line's end whose word is on the next."""
    made = [str(one) for one in sheets_of(place, printed)]
    assert made
    for sheet in made:
        lines = sheet.splitlines()
        assert [line for line in lines if len(line) > PAGE] == []
        assert [line for line in lines if line != line.rstrip()] == []
        assert "\N{MINUS SIGN}" not in sheet
        sentences = [line for line in lines if "  " not in line.strip()]
        for line, below in itertools.pairwise(sentences):
            is_wrapped = below.startswith("    ") and len(line) > PAGE - 12
            assert not (is_wrapped and re.search(r"[ (]\d{1,2}$", line)), line


@pytest.mark.parametrize("station", STATIONS)
def test_the_head_names_the_station_and_its_years(station):
    season = opened(station)
    number = STATIONS[station][0].split("_")[0]
    for sheet in (str(season.calendar), str(season.prospect)):
        title, weather, *_ = sheet.splitlines()
        assert title == "Quillet Hollow 2027"
        assert weather.startswith(f"Weather of {number}: {len(season.climate.years)} season years")
        assert ".dly" not in sheet
        assert "weather.csv" not in sheet


def test_a_table_of_days_names_its_station_or_its_file_alone(demo):
    assert str(demo.calendar).splitlines()[1] == (
        "Weather of Quillet Hollow: 30 season years, 1996 – 2025; none left out."
    )


def test_the_sow_line_says_seeds_and_trays_besides_plants(demo):
    """The numbers are those of `quantities`: seeds enough in 95 sowings of 100."""
    needs = {one.succession: one for one in epicotyl.seeds.quantities(demo.plan).successions}
    lines = str(demo.calendar).splitlines()
    for name in ("tomato 1", "zinnia 1", "snapdragon 1"):
        one = needs[name]
        sown = next(line for line in lines if re.search(rf" sow +{name} ", line))
        trays, container = one.stages[0].trays, one.stages[0].container
        count = "1 tray" if trays == 1 else f"{trays:g} trays"
        said = f"{one.seeds} seeds in {count} of {container} for {one.plants} plants"
        at = lines.index(sown)
        assert said in " ".join(line.strip() for line in lines[at : at + 2])
        assert trays * demo.plan.to_dict()["containers"][container]["cells"] >= one.seeds


def test_the_prospect_has_a_line_for_every_event(demo):
    """Early, usual and late are quantiles of the prospect; in time is counted on its days."""
    blocks = str(demo.prospect).split("\n\n")
    block = next(one for one in blocks if one.startswith("tomato 1 ("))
    head, *lines = block.splitlines()[1:]
    assert head.split() == ["planned", "early", "usual", "late", "in", "time"]
    days = demo.prospect.days("tomato 1", "transplant")
    planned = demo.calendar.date("tomato 1", "transplant")
    count = int((days <= planned).sum())
    line = next(one for one in lines if one.strip().startswith("transplant"))
    said = [
        planned,
        *(demo.prospect.quantile("tomato 1", "transplant", q) for q in (0.1, 0.5, 0.9)),
    ]
    expected = [f"{one.day} {one:%b}" for one in said]
    assert re.split(r"  +", line.strip()) == ["transplant", *expected, f"{count} of 30 years"]
    assert re.search(r"^  damage by cold: .*with the heater off: \d+", block, re.M)
    nights = (
        r"^  nights to cover or heat: (none|\d+) in the usual year, \d+ or more in 1 year in 10$"
    )
    assert any(re.search(nights, one, re.M) for one in blocks)


def test_a_comparison_says_each_move_once(place):
    move = re.compile(r"[a-z ]+ \d+ \w+(?: \d+)? to \d+ \w+(?: \d+)?")
    for made in sheets_of(place, "CalendarComparison"):
        text = re.sub(r"\n {8}", " ", str(made))
        told = [
            (line.strip().split(":")[0], one.strip())
            for line in text.splitlines()
            if line.startswith("    ")
            for one in move.findall(line.split(":", 1)[1])
        ]
        assert len(told) == len(set(told))
        shifted = {
            (one.succession, one.event, one.before, one.after)
            for moves in (made.moved, *(each.moves for each in made.inputs))
            for one in moves
            if one.before and one.after
        }
        assert len(told) == len(shifted)


def test_a_coverage_joins_runs_of_weeks(demo):
    days = {"first": in_2027(6, 1), "last": in_2027(10, 31)}
    found = epicotyl.coverage(demo.prospect, wave="warm", **days)
    text = str(found)
    assert text.count("week") < len(found.gaps) + 2
    assert re.search(
        r"\n  weeks of \d+ \w+ to \d+ \w+ \(weeks \d+ to \d+\): nothing to pick in ", text
    )
    mondays = {gap.monday for gap in found.gaps}
    week = datetime.timedelta(days=7)
    runs = sum(1 for monday in mondays if monday - week not in mondays)
    assert len(re.sub(r"\n {4,}", " ", text).splitlines()) - 1 == runs


def test_days_of_another_year_say_it(place):
    """No block of a prospect has a day after the season's first year without its year."""
    for made in sheets_of(place, "Prospect"):
        blocks = str(made).split("\n\n")[1:]
        if blocks[-1].startswith("caution: "):
            del blocks[-1]
        for name, block in zip(made.calendar.plan.successions, blocks, strict=True):
            for event in made.calendar.plan.events(name):
                late = made.quantile(name, event, 0.9)
                if made.calendar.date(name, event) is None or late is None or late.year == 2027:
                    continue
                # Harvest days are those of the years in which it is not lost.
                day = r"\d+ \w+" if "  lost to cold in " in block else f"{late.day} {late:%b}"
                row = rf"^  {event.replace('_', ' ')} .*{day} {late.year}"
                assert re.search(row, block, re.M), block


def test_what_comes_too_late_stands_apart_from_what_is_to_be_sown(place):
    seen = 0
    for made in sheets_of(place, "Staggered"):
        text = str(made)
        last = made.last_useful.sowing
        before, _, behind = text.partition(
            "Too late to be of use in enough years, not to be sown:\n"
        )
        late = [one for one in made.sowings if last and one.sowing > last]
        assert bool(late) == bool(behind) or last is None
        for one in made.sowings if last else []:
            line = rf"^  {one.name}  +{one.sowing.day} {one.sowing:%b}"
            assert bool(re.search(line, before, re.M)) == (one not in late)
            assert bool(re.search(line, behind, re.M)) == (one in late)
        seen += len(late)
    assert seen > 0


def test_linked_batches_are_told_in_runs(demo):
    text = re.sub(r"\n {4}", " ", str(demo.calendar))
    assert demo.calendar.groups
    for group in demo.calendar.groups:
        count = f"linked, all in time together in {group.good} of {group.years} years: "
        told = [one.removeprefix(count) for one in text.splitlines() if one.startswith(count)]
        assert group.successions in [names_in(one) for one in told]
    assert "harden_off" not in text


def names_in(told):
    """The names that "lettuce 1 to 3, sweet pea 1 and 2" stands for."""
    names = []
    for part in told.split(", "):
        run = re.fullmatch(r"(.+ )(\d+)(?: to | and )(\d+)", part)
        if run:
            names += [f"{run[1]}{number}" for number in range(int(run[2]), int(run[3]) + 1)]
        else:
            names.append(part)
    return names


def test_a_freeze_table_credits_the_layout_that_it_follows(demo):
    text = str(epicotyl.frost.FreezeTable(demo.climate.record))
    assert "years in 10 with a freeze on or after the day" in text
    assert (
        "\nLaid out as the freeze/frost probability tables of the U.S. Climate Normals (NOAA "
        "NCEI);\nthe days are worked out from the record named above.\n" in text
    )


def test_words_are_those_of_the_trade(place):
    for printed in ("Calendar", "Prospect", "Staggered", "HarvestCoverage", "CalendarComparison"):
        for made in sheets_of(place, printed):
            for word in ("not resolved", "nights to act", "nothing done on", "reckon", "sooner)"):
                assert word not in str(made), (printed, word)
