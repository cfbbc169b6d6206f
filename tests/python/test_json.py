"""Calendars and prospects as JSON and back, and documents of earlier releases."""

import gzip
import json
from datetime import date
from pathlib import Path

import numpy as np
import pytest

from random_farms import climate_of, random_farm

epicotyl = pytest.importorskip("epicotyl")

DOCUMENTS = Path(__file__).parent / "documents"
FARM = Path(__file__).resolve().parents[2] / "examples" / "quillet_hollow" / "farm.toml"


def seasons():
    """A few random farms, gaps, winters and both halves of the globe among them."""
    for seed in range(12):
        farm = random_farm(seed)
        climate = climate_of(farm)
        calendar = epicotyl.schedule(epicotyl.plan(farm.document), climate, reliability=0.75)
        yield calendar, epicotyl.simulate(calendar, climate)


def same_answers(a, b):
    assert a == b
    assert a.events == b.events
    for event in a.events:
        assert a.date(*event) == b.date(*event)
    assert a.claims == b.claims
    assert a.unresolved == b.unresolved
    assert a.groups == b.groups
    assert a.within_counts == b.within_counts
    assert a.warnings == b.warnings
    assert a.reliability == b.reliability
    assert a.climate.left_out == b.climate.left_out
    assert str(a) == str(b)


def test_calendar_and_prospect_of_random_farms_come_back_equal():
    for calendar, prospect in seasons():
        same_answers(epicotyl.files.from_json(epicotyl.files.to_json(calendar)), calendar)
        again = epicotyl.files.from_json(epicotyl.files.to_json(prospect, indent=1))
        assert again == prospect
        np.testing.assert_array_equal(again.days_all, prospect.days_all)
        same_answers(again.calendar, calendar)


def test_demo_farm_comes_back_equal():
    season = epicotyl.open_season(FARM)
    again = epicotyl.files.from_json(epicotyl.files.to_json(season.prospect))
    np.testing.assert_array_equal(again.days_all, season.prospect.days_all)
    same_answers(again.calendar, season.calendar)
    assert epicotyl.files.to_json(again) == epicotyl.files.to_json(season.prospect)


def test_results_are_there_for_other_programs(known):
    document = json.loads(epicotyl.files.to_json(known.prospect))
    assert (document["format"], document["version"]) == ("epicotyl.prospect", 2)
    assert document["season_years"] == known.prospect.years
    (row,) = (
        row["days"]
        for row in document["events"]
        if (row["succession"], row["event"]) == ("chard 1", "first_harvest")
    )
    days = known.prospect.days("chard 1", "first_harvest").tolist()
    assert row == [None if day is None else day.isoformat() for day in days]
    assert document["lost"][0]["nights"] == [None, None, "2027-04-05", *[None] * 7]
    chard = document["calendar"]["successions"][0]
    assert chard["planned"]["sow"] == "2027-03-12"
    assert chard["claim"]["good"] == 10
    assert document["calendar"]["plan"] == known.plan.to_toml()


def test_changed_climates_come_back_equal(known):
    so_far = epicotyl.DailyRecord(date(2027, 1, 1), np.full(40, 3.0), np.full(40, 9.0), "So far")
    later = epicotyl.DailyRecord(date(2027, 2, 10), np.full(5, 2.0), np.full(5, 8.0))
    climate = known.climate.shifted(np.linspace(0.0, 2.2, 12)).only([2003, 2005, 2008])
    for other in (climate, climate.given(so_far), climate.given(so_far, later)):
        prospect = epicotyl.simulate(known.calendar, other)
        again = epicotyl.files.from_json(epicotyl.files.to_json(prospect))
        assert again == prospect
        assert again.climate == other
        assert again.climate.origin == other.origin
        np.testing.assert_array_equal(again.days_all, prospect.days_all)


def test_gaps_and_both_ways_to_choose_years_come_back(known):
    low = np.array(known.record.tmin)
    low[370:380] = np.nan
    low[800] = np.nan
    record = epicotyl.DailyRecord(known.record.start, low, known.record.tmax)
    for years in (5, (1999, 2004), "all"):
        climate = epicotyl.Climate(record, latitude=51.9, season_days=365, years=years)
        calendar = epicotyl.schedule(known.plan, climate)
        same_answers(epicotyl.files.from_json(epicotyl.files.to_json(calendar)), calendar)


# ---- Documents of earlier releases --------------------------------------------------------------


@pytest.mark.parametrize("path", sorted(DOCUMENTS.glob("*.gz")), ids=lambda path: path.name)
def test_documents_of_earlier_versions_are_read(path, known):
    """Each was written once from the `known` values of conftest, and is never written again."""
    read = epicotyl.files.from_json(gzip.decompress(path.read_bytes()).decode("utf-8"))
    calendar = read.calendar if isinstance(read, epicotyl.Prospect) else read
    same_answers(calendar, known.calendar)
    if isinstance(read, epicotyl.Prospect):
        np.testing.assert_array_equal(read.days_all, known.prospect.days_all)


def test_there_is_a_document_of_each_kind_and_version():
    assert {path.name for path in DOCUMENTS.iterdir()} >= {
        "calendar_version_1.json.gz",
        "prospect_version_1.json.gz",
        "calendar_version_2.json.gz",
        "prospect_version_2.json.gz",
    }


# ---- What is refused ----------------------------------------------------------------------------


def broken(known, *way, to=None, of=None):
    """The document of a calendar with one value changed, or left out."""
    document = json.loads(epicotyl.files.to_json(of or known.calendar))
    table = document
    for step in way[:-1]:
        table = table[step]
    if to is None:
        del table[way[-1]]
    else:
        table[way[-1]] = to
    return json.dumps(document)


@pytest.mark.parametrize(
    ("way", "to", "code", "field"),
    [
        (("version",), 3, "json.version", "version"),
        (("version",), "1", "json.kind", "version"),
        (("version",), True, "json.kind", "version"),
        (("format",), "epicotyl.plan", "json.format", "format"),
        (("plan",), None, "json.missing", "plan"),
        (("climate", "record"), [], "json.kind", "climate.record"),
        (("climate", "record", "start"), "1 May", "json.kind", "climate.record.start"),
        (("climate", "record", "tmin"), None, "json.missing", "climate.record.tmin"),
        (("climate", "record", "tmin", 3), "cold", "json.kind", "climate.record.tmin"),
        (("climate", "season_start"), [1], "json.kind", "season_start"),
        (("climate", "season_days"), 365.5, "json.kind", "climate.season_days"),
        (("climate", "only"), 2003, "json.kind", "climate.only"),
        (("reliability",), "0.8", "json.kind", "reliability"),
        (("reliability",), 0.2, "reliability.out_of_range", "reliability"),
        (
            ("successions", 0, "planned", "sow"),
            "2027-03-13",
            "json.differs",
            "successions[chard 1].planned.sow",
        ),
        (
            ("successions", 0, "claim", "good"),
            9,
            "json.differs",
            "successions[chard 1].claim.good",
        ),
        (("season_years",), [2001], "json.differs", "season_years"),
    ],
)
def test_a_document_that_is_none_is_refused_by_field(known, way, to, code, field):
    with pytest.raises(epicotyl.InvalidInput) as raised:
        epicotyl.files.from_json(broken(known, *way, to=to))
    assert (raised.value.code, raised.value.field) == (code, field)


def test_days_that_differ_are_read_when_nobody_is_to_compare(known):
    text = broken(known, "successions", 0, "planned", "sow", to="2027-03-13")
    assert epicotyl.files.from_json(text, check=False) == known.calendar
    text = broken(known, "events", 1, "days", 0, to="2027-03-13", of=known.prospect)
    with pytest.raises(epicotyl.InvalidInput, match=r"events\[chard 1\]\.days\[0\]"):
        epicotyl.files.from_json(text)
    assert epicotyl.files.from_json(text, check=False) == known.prospect


def test_wording_and_keys_of_another_release_do_not_matter(known):
    assert (
        epicotyl.files.from_json(broken(known, "warnings", to=["Mind the step."])) == known.calendar
    )
    assert epicotyl.files.from_json(broken(known, "made_on", to="2027-01-01")) == known.calendar
    without = broken(known, "successions", 0, "claim", "broken_claim")
    assert epicotyl.files.from_json(without) == known.calendar


@pytest.mark.parametrize("text", ["", "{", "[1, 2]", "null", '{"format": 1}', '{"a": NaN}'])
def test_what_is_no_document_is_refused(text):
    with pytest.raises(epicotyl.InvalidInput):
        epicotyl.files.from_json(text)


def test_other_things_are_neither_written_nor_read(known):
    with pytest.raises(TypeError):
        epicotyl.files.to_json(known.plan)
    with pytest.raises(TypeError):
        epicotyl.files.from_json(b"{}")
