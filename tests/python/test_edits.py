"""Edits of plans: what one gets by typing the change into the file, and what is refused."""

import datetime
import pickle
import re

import numpy as np
import pytest

epicotyl = pytest.importorskip("epicotyl")

APRIL = datetime.date(2027, 4, 8)

#: An edit, the text that is typed over, and what is typed there. The file is that of `farm_text`.
EDITS = {
    "reliability": (lambda p: p.with_reliability(0.9), "reliability = 0.8", "reliability = 0.9"),
    "own reliability": (
        lambda p: p.with_reliability(0.9, succession="kale 1"),
        "plants = 50",
        "plants = 50\nreliability = 0.9",
    ),
    "risk": (lambda p: p.with_risk(0.3), "risk = 0.1", "risk = 0.3"),
    "no risk": (lambda p: p.with_risk(False), "risk = 0.1", "risk = false"),
    "own risk": (
        lambda p: p.with_risk(False, succession="kale 1"),
        "plants = 50",
        "plants = 50\nrisk = false",
    ),
    "season start": (
        lambda p: p.with_season(start=np.datetime64("2026-12-01")),
        "season_start = 2027-01-01",
        "season_start = 2026-12-01",
    ),
    "season days": (lambda p: p.with_season(days=500), "season_days = 450", "season_days = 500"),
    "keys of a succession": (
        lambda p: p.with_succession("kale 1", trays=2, wave="cool", not_after=None),
        "plants = 50\nnot_after = { sow = 2027-03-20, transplant = 2027-04-20 }",
        'trays = 2\nwave = "cool"',
    ),
    "amount": (lambda p: p.with_succession("kale 1", plants=60), "plants = 50", "plants = 60"),
    "measure": (lambda p: p.with_succession("kale 1", trays=1.5), "plants = 50", "trays = 1.5"),
    "target": (
        lambda p: p.with_target("kale 2", event="sow", from_=APRIL),
        'target = { event = "transplant", risk = 0.2 }',
        'target = { event = "sow", from = 2027-04-08 }',
    ),
    "rule of a target": (
        lambda p: p.with_target("kale 2", weeks_after_last_frost=2),
        "risk = 0.2",
        "weeks_after_last_frost = 2",
    ),
    "a week later": (
        lambda p: p.with_target_moved("kale 1", days=7),
        "on = 2027-04-08",
        "on = 2027-04-15",
    ),
    "not before": (
        lambda p: p.with_not_before("kale 2", transplant={"risk": 0.05, "limit": 25}),
        "trays = 1",
        "trays = 1\nnot_before = { transplant = { risk = 0.05, limit = 25 } }",
    ),
    "not after": (
        lambda p: p.with_not_after("kale 1", sow=None, transplant=datetime.date(2027, 4, 30)),
        "{ sow = 2027-03-20, transplant = 2027-04-20 }",
        "{ transplant = 2027-04-30 }",
    ),
    "stage": (
        lambda p: p.with_stage_change("kale 2", "emerge", where="frame", takes={"days": 30}),
        "trays = 1",
        'trays = 1\nstage.emerge = { where = "frame", takes = { days = 30 } }',
    ),
    "stage as the crop has it": (
        lambda p: p.with_stage_change("kale 1", "sow", limit=None),
        "stage.sow = { survives = 0.7, limit = 20 }",
        "stage.sow = { survives = 0.7 }",
    ),
    "no change of a stage": (
        lambda p: p.without_stage_change("kale 1", "sow"),
        "stage.sow = { survives = 0.7, limit = 20 }",
        "",
    ),
    "place": (
        lambda p: p.with_place("bench", trays=20, warmer_night=None, jobs=["grow"]),
        'for = ["germinate", "grow"], warmer_night = 6, heat_to = 45, trays = 28',
        'for = ["grow"], heat_to = 45, trays = 20',
    ),
    "heater off": (lambda p: p.without_heater("bench"), "heat_to = 45, ", ""),
    "cover off": (lambda p: p.without_cover("frame"), ", cold_nights = { warmer = 9 }", ""),
    "crop": (
        lambda p: p.with_crop("kale", limit_hardened=None, limit_tender=24),
        "limit_tender = 28\nlimit_hardened = 20",
        "limit_tender = 24",
    ),
    "one more": (
        lambda p: p.with_added_succession(
            name="kale 3", crop="kale", bed=12, target={"event": "sow", "on": APRIL}
        ),
        "[end]",
        (
            '[[succession]]\nname = "kale 3"\ncrop = "kale"\nbed = 12\n'
            'target = { event = "sow", on = 2027-04-08 }\n'
        ),
    ),
    "one less": (
        lambda p: p.without_succession("kale 2"),
        (
            '[[succession]]\nname = "kale 2"\ncrop = "kale"\ntrays = 1\n'
            'target = { event = "transplant", risk = 0.2 }\n'
        ),
        "",
    ),
}

FARM = """format = 1
units = "us"
defaults = { risk = 0.1, reliability = 0.8 }
[site]
latitude = 45.0
season_start = 2027-01-01
season_days = 450
[places]
mat = { for = ["germinate"], day = 70, night = 66 }
bench = { for = ["germinate", "grow"], warmer_night = 6, heat_to = 45, trays = 28 }
frame = { for = ["harden"], warmer_night = 3, cold_nights = { warmer = 9 } }
beds = { for = ["field"] }
[containers]
"plug 104" = { cells = 104 }
[crops.kale]
limit_tender = 28
limit_hardened = 20
stages = [
  { begins = "sow", where = "germinate", container = "plug 104", takes = { days = 6 } },
  { begins = "emerge", where = "grow", container = "plug 104", takes = { weeks = [4, 6] } },
{ begins = "transplant", where = "beds", spacing = { rows = 3, in_row = 9 }, takes = { days = 9 } },
]
[[succession]]
name = "kale 1"
crop = "kale"
plants = 50
not_after = { sow = 2027-03-20, transplant = 2027-04-20 }
target = { event = "transplant", on = 2027-04-08 }
stage.sow = { survives = 0.7, limit = 20 }
[[succession]]
name = "kale 2"
crop = "kale"
trays = 1
target = { event = "transplant", risk = 0.2 }
[end]
"""


@pytest.fixture
def read(tmp_path):
    """Reads a plan from text, as a file."""

    def of(text):
        path = tmp_path / "farm.toml"
        path.write_text(text.replace("[end]\n", ""), encoding="utf-8")
        return epicotyl.read_plan(path)

    return of


@pytest.mark.parametrize("name", EDITS)
def test_an_edit_gives_the_plan_that_one_gets_by_typing_the_change(name, read):
    edit, was, typed = EDITS[name]
    assert FARM.count(was) == 1
    before = read(FARM)
    after = edit(before)
    assert type(after) is epicotyl.Plan
    assert after == read(FARM.replace(was, typed))
    assert after != before
    assert before == read(FARM)
    assert epicotyl.plan(after.to_dict()) == after
    assert pickle.loads(pickle.dumps(after)) == after


REFUSED = {
    "no such succession: the nearest": (
        lambda p: p.with_succession("kale1", plants=3),
        'there is no succession "kale1"; the nearest is "kale 1"',
    ),
    "no such place": (
        lambda p: p.without_heater("benhc"),
        'there is no place "benhc"; the nearest is "bench"',
    ),
    "no such crop": (
        lambda p: p.with_crop("kael", risk=0.2),
        'there is no crop "kael"; the nearest is "kale"',
    ),
    "no such key of a place": (
        lambda p: p.with_place("bench", heater=None),
        'places.bench.heater: there is no key "heater" here; the nearest is "heat_to"',
    ),
    "no such key of a succession": (
        lambda p: p.with_succession("kale 1", plant=3),
        'succession[1].plant: there is no key "plant" here; the nearest is "plants"',
    ),
    "two rules": (
        lambda p: p.with_target("kale 1", on=APRIL, risk=0.2),
        'both "on" and "risk" say on which day',
    ),
    "no rule": (lambda p: p.with_target("kale 1", event="sow"), "succession[1].target: "),
    "risk has no day": (
        lambda p: p.with_target_moved("kale 2", days=7),
        "a risk says how rare cold nights are to be, and has no day to move; give the target a day",
    ),
    "outside the season": (
        lambda p: p.with_target_moved("kale 1", days=-98),
        "succession[1].target.on: 2026-12-31 is outside the season",
    ),
    "no event": (
        lambda p: p.with_not_before("kale 1", pot_on=APRIL),
        '"kale" has no event "pot_on"',
    ),
    "no bound": (
        lambda p: p.with_not_before("kale 1", transplant=None),
        '"kale 1" has no such bound of its own on "transplant"',
    ),
    "an outcome cannot wait": (
        lambda p: p.with_not_before("kale 1", emerge=APRIL),
        '"emerge" comes when the plants are ready and cannot wait',
    ),
    "no heater": (lambda p: p.without_heater("frame"), '"frame" has no heater to leave off'),
    "no cover": (lambda p: p.without_cover("bench"), 'nothing is done in "bench" on cold nights'),
    "a share": (lambda p: p.with_reliability(0.3), "reliability: 0.3 is out of range"),
    "an own share": (
        lambda p: p.with_reliability(1.2, succession="kale 1"),
        "succession[1].reliability: 1.2 is out of range",
    ),
    "a risk": (lambda p: p.with_risk(1.5), "risk: 1.5 is out of range"),
    "a season": (lambda p: p.with_season(days=0), "season_days: 0 days is no season"),
    "a date left outside": (
        lambda p: p.with_season(start=datetime.date(2027, 5, 1)),
        "succession[1].target.on: 2027-04-08 is outside the season",
    ),
    "two measures": (
        lambda p: p.with_succession("kale 1", plants=3, trays=2),
        'both "plants" and "trays" say how much there is to be; keep one of them',
    ),
    "nothing to grow": (
        lambda p: p.with_succession("kale 1", plants=0),
        "succession[1].plants: 0 is nothing to grow",
    ),
    "no bed": (
        lambda p: p.with_crop("kale", stages=[{"begins": "sow", "where": "bets"}]),
        'crops.kale.stages[1]: "takes" is missing',
    ),
    "no place by that name": (
        lambda p: p.with_stage_change("kale 1", "sow", where="matt"),
        'there is no place or job "matt"; the nearest is "mat"',
    ),
    "a name twice": (
        lambda p: p.with_succession("kale 2", name="kale 1"),
        'two successions are called "kale 1"',
    ),
}


@pytest.mark.parametrize("name", REFUSED)
def test_an_edit_that_cannot_be_made_says_what_is_wrong(name, read):
    edit, sentence = REFUSED[name]
    with pytest.raises(epicotyl.InvalidInput, match=re.escape(sentence)):
        edit(read(FARM))


@pytest.mark.parametrize(
    "edit",
    [
        lambda p: p.with_target_moved("kale 1", days=1.5),
        lambda p: p.with_target("kale 1", on="2027-04-08", from_=3, **{"from": 3}),
        lambda p: p.with_succession("kale 1", plants=object()),
        lambda p: p.with_risk("none"),
        lambda p: p.with_risk(True),
        lambda p: p.with_reliability(None),
        lambda p: p.without_succession(3),
        lambda p: p.with_season(start=np.datetime64("2027-01-01T00")),
    ],
)
def test_a_wrong_kind_is_a_type_error(edit, read):
    with pytest.raises(TypeError):
        edit(read(FARM))


def test_an_edited_plan_is_planned_as_the_typed_one_is(documented):
    later = documented.plan.with_target_moved("lettuce 2", days=-21)
    tables = documented.plan.to_dict()
    tables["succession"][1]["target"]["by"] -= datetime.timedelta(21)
    typed = epicotyl.plan(tables)
    ours = epicotyl.schedule(later, documented.climate)
    theirs = epicotyl.schedule(typed, documented.climate)
    assert str(ours) == str(theirs)
    assert ours.date("lettuce 2", "sow") < documented.calendar.date("lettuce 2", "sow")
    assert ours.date("lettuce 1", "sow") == documented.calendar.date("lettuce 1", "sow")
