"""Every code that the reason of a window can have, in full text, in cases reckoned by hand.

All happens in one season year of 5 to 15 °C on every day; the farm is invented. Of random farms it
is only asked that what is said holds a day does hold it.
"""

import datetime
import os
import tomllib

import numpy as np
import pytest

epicotyl = pytest.importorskip("epicotyl")

from random_farms import climate_of, random_farm  # noqa: E402

PLOT = """
format = 1
units = "metric"
site = { latitude = 45.0, season_start = 2027-01-01, season_days = 300 }
defaults = { risk = false }
[places]
house = { for = ["grow"] }
beds = { for = ["field"] }
[crops.onion]
stages = [
  { begins = "sow", where = "grow", takes = { days = 30 }, hold = 7 },
  { begins = "transplant", where = "field", takes = { days = 60 } },
]
[crops.pea]
stages = [ { begins = "sow", where = "field", takes = { days = 50 } } ]
"""
ONION = """
[[succession]]
crop = "onion"
plants = 9
target = { event = "clear", by = 2027-06-30 }
"""
PEA = """
[[succession]]
crop = "pea"
plants = 9
target = { event = "clear", by = 2027-04-30 }
"""
LINK = """
[[link]]
first = { succession = "pea", event = "clear" }
then = { succession = "onion", event = "transplant" }
"""


def one_year():
    days = 302
    record = epicotyl.DailyRecord(
        datetime.date(2001, 1, 1), np.full(days, 5.0), np.full(days, 15.0)
    )
    return epicotyl.Climate(record, latitude=45.0, season_days=300)


def told(text, succession, event):
    windows = epicotyl.planting_windows(epicotyl.plan(tomllib.loads(text)), one_year(), 2001)
    return [f"{one.code} | {one}" for one in epicotyl.explain(windows, succession, event)]


# Onions are cleared 60 days after they are out: by 30 June, out on 1 May at the latest, and sown on
# 1 April; with 7 days of holding no sooner sown than 37 days before they go out.
CASES = {
    "a stage from its left bound to its right bound": (
        ONION,
        ("onion", "transplant"),
        [
            "window | transplant 31 Jan to 1 May in 2001: 90 days of room",
            (
                "window.earliest.stage | transplant no earlier than 31 Jan: the time it takes "
                "after sow in house, and sow comes no earlier than 1 Jan"
            ),
            (
                "window.earliest.season_start | sow no earlier than 1 Jan: the season starts on 1 "
                "Jan 2027"
            ),
            (
                "window.latest.stage | transplant no later than 1 May, as clear comes no later "
                "than 30 Jun (the time it takes after transplant in beds)"
            ),
            "window.latest.target | clear no later than 30 Jun: no later than 30 Jun",
        ],
    ),
    "bounds on either side": (
        ONION
        + "not_before = { transplant = 2027-03-01 }\nnot_after = { transplant = 2027-03-20 }\n",
        ("onion", "sow"),
        [
            "window | sow 23 Jan to 18 Feb in 2001: 26 days of room",
            (
                "window.earliest.hold | sow no earlier than 23 Jan, as transplant comes no "
                "earlier than 1 Mar (ready plants hold for 7 days)"
            ),
            "window.earliest.not_before | transplant no earlier than 1 Mar: not before 1 Mar",
            (
                "window.latest.stage | sow no later than 18 Feb, as transplant comes no later "
                "than 20 Mar (the time it takes after sow in house)"
            ),
            "window.latest.not_after | transplant no later than 20 Mar: no later than 20 Mar",
        ],
    ),
    "plants that cannot wait longer": (
        ONION + "not_after = { sow = 2027-01-10 }\n",
        ("onion", "transplant"),
        [
            "window | transplant 31 Jan to 16 Feb in 2001: 16 days of room",
            (
                "window.earliest.stage | transplant no earlier than 31 Jan: the time it takes "
                "after sow in house, and sow comes no earlier than 1 Jan"
            ),
            (
                "window.earliest.season_start | sow no earlier than 1 Jan: the season starts on 1 "
                "Jan 2027"
            ),
            (
                "window.latest.hold | transplant no later than 16 Feb: ready plants hold for 7 "
                "days, and sow comes no later than 10 Jan"
            ),
            "window.latest.not_after | sow no later than 10 Jan: no later than 10 Jan",
        ],
    ),
    "a link that holds what waits": (
        ONION + PEA + LINK + "after = { days = 10 }\n",
        ("onion", "transplant"),
        [
            "window | transplant 2 Mar to 1 May in 2001: 60 days of room",
            (
                "window.earliest.link | transplant no earlier than 2 Mar: it waits for clear of "
                '"pea", and clear of "pea" comes no earlier than 20 Feb'
            ),
            (
                "window.earliest.stage | clear no earlier than 20 Feb: the time it takes after "
                "sow in beds, and sow comes no earlier than 1 Jan"
            ),
            (
                "window.earliest.season_start | sow no earlier than 1 Jan: the season starts on 1 "
                "Jan 2027"
            ),
            (
                "window.latest.stage | transplant no later than 1 May, as clear comes no later "
                "than 30 Jun (the time it takes after transplant in beds)"
            ),
            "window.latest.target | clear no later than 30 Jun: no later than 30 Jun",
        ],
    ),
    "a link that holds what is waited for": (
        ONION.replace("06-30", "05-31") + PEA + LINK,
        ("pea", "clear"),
        [
            "window | clear 20 Feb to 1 Apr in 2001: 40 days of room",
            (
                "window.earliest.stage | clear no earlier than 20 Feb: the time it takes after "
                "sow in beds, and sow comes no earlier than 1 Jan"
            ),
            (
                "window.earliest.season_start | sow no earlier than 1 Jan: the season starts on 1 "
                "Jan 2027"
            ),
            (
                "window.latest.link | clear no later than 1 Apr, as transplant of "
                '"onion" comes no later than 1 Apr (it waits for clear of "pea")'
            ),
            (
                "window.latest.stage | transplant no later than 1 Apr, as clear comes no later "
                "than 31 May (the time it takes after transplant in beds)"
            ),
            "window.latest.target | clear no later than 31 May: no later than 31 May",
        ],
    ),
    "a longest wait holds what waits": (
        ONION + PEA.replace("04-30", "03-10") + LINK + "within = { days = 20 }\n",
        ("onion", "transplant"),
        [
            "window | transplant 20 Feb to 30 Mar in 2001: 38 days of room",
            (
                "window.earliest.link | transplant no earlier than 20 Feb: it waits for clear of "
                '"pea", and clear of "pea" comes no earlier than 20 Feb'
            ),
            (
                "window.earliest.stage | clear no earlier than 20 Feb: the time it takes after "
                "sow in beds, and sow comes no earlier than 1 Jan"
            ),
            (
                "window.earliest.season_start | sow no earlier than 1 Jan: the season starts on 1 "
                "Jan 2027"
            ),
            (
                "window.latest.within | transplant no later than 30 Mar: at most 20 days after "
                'clear of "pea", and clear of "pea" comes no later than 10 Mar'
            ),
            "window.latest.target | clear no later than 10 Mar: no later than 10 Mar",
        ],
    ),
    "a longest wait holds what is waited for": (
        ONION
        + "not_before = { transplant = 2027-04-20 }\n"
        + PEA
        + LINK
        + "within = { days = 20 }\n",
        ("pea", "clear"),
        [
            "window | clear 31 Mar to 30 Apr in 2001: 30 days of room",
            (
                'window.earliest.within | clear no earlier than 31 Mar, as transplant of "onion" '
                'comes no earlier than 20 Apr (at most 20 days after clear of "pea")'
            ),
            "window.earliest.not_before | transplant no earlier than 20 Apr: not before 20 Apr",
            "window.latest.target | clear no later than 30 Apr: no later than 30 Apr",
        ],
    ),
}


@pytest.mark.parametrize("case", CASES)
def test_a_window_is_told_from_what_holds_its_first_day_to_what_holds_its_last(case):
    farm, event, wanted = CASES[case]
    assert told(PLOT + farm, *event) == wanted


TO_PLANT = 'event = "transplant", on = 2027-03-10'
AIMED = ONION.replace('event = "clear", by = 2027-06-30', TO_PLANT)
CONFLICTS = {
    "a season that begins too late": (
        ONION.replace("06-30", "03-15"),
        [
            (
                'conflict.season_start | sow of "onion" not before 1 Jan (the season starts on 1 '
                "Jan 2027)"
            ),
            (
                'conflict.stage | transplant of "onion" not before 31 Jan (the time it takes '
                "after sow in house)"
            ),
            (
                'conflict.stage | clear of "onion" not before 1 Apr (the time it takes after '
                "transplant in beds)"
            ),
            'conflict.broken | clear of "onion" no later than 15 Mar (no later than 15 Mar)',
        ],
    ),
    "a bound": (
        ONION.replace("06-30", "03-15") + "not_before = { transplant = 2027-02-10 }\n",
        [
            'conflict.not_before | transplant of "onion" not before 10 Feb (not before 10 Feb)',
            (
                'conflict.stage | clear of "onion" not before 11 Apr (the time it takes after '
                "transplant in beds)"
            ),
            'conflict.broken | clear of "onion" no later than 15 Mar (no later than 15 Mar)',
        ],
    ),
    "plants that cannot wait": (
        ONION + "not_before = { transplant = 2027-04-01 }\nnot_after = { sow = 2027-02-10 }\n",
        [
            'conflict.not_before | transplant of "onion" not before 1 Apr (not before 1 Apr)',
            'conflict.hold | sow of "onion" not before 23 Feb (ready plants hold for 7 days)',
            'conflict.broken | sow of "onion" no later than 10 Feb (no later than 10 Feb)',
        ],
    ),
    "a link": (
        ONION
        + "not_after = { transplant = 2027-02-28 }\n"
        + PEA
        + LINK
        + "after = { days = 10 }\n",
        [
            (
                'conflict.season_start | sow of "pea" not before 1 Jan (the season starts on 1 Jan '
                "2027)"
            ),
            (
                'conflict.stage | clear of "pea" not before 20 Feb (the time it takes after sow in '
                "beds)"
            ),
            'conflict.link | transplant of "onion" not before 2 Mar (it waits for clear of "pea")',
            'conflict.broken | transplant of "onion" no later than 28 Feb (no later than 28 Feb)',
        ],
    ),
    "a longest wait": (
        ONION
        + "not_before = { transplant = 2027-04-20 }\n"
        + PEA.replace("04-30", "03-20")
        + LINK
        + "within = { days = 20 }\n",
        [
            'conflict.not_before | transplant of "onion" not before 20 Apr (not before 20 Apr)',
            (
                'conflict.within | clear of "pea" not before 31 Mar (transplant of "onion" at most '
                '20 days after clear of "pea")'
            ),
            'conflict.broken | clear of "pea" no later than 20 Mar (no later than 20 Mar)',
        ],
    ),
    "a day asked for": (
        AIMED + "not_before = { sow = 2027-02-20 }\n",
        [
            'conflict.not_before | sow of "onion" not before 20 Feb (not before 20 Feb)',
            (
                'conflict.stage | transplant of "onion" not before 22 Mar (the time it takes '
                "after sow in house)"
            ),
            'conflict.broken | transplant of "onion" no later than 10 Mar (wanted on 10 Mar)',
        ],
    ),
    "a day asked for that comes too late": (
        AIMED.replace("on =", "from =") + "not_after = { clear = 2027-05-01 }\n",
        [
            'conflict.target | transplant of "onion" not before 10 Mar (not before 10 Mar)',
            (
                'conflict.stage | clear of "onion" not before 9 May (the time it takes after '
                "transplant in beds)"
            ),
            'conflict.broken | clear of "onion" no later than 1 May (no later than 1 May)',
        ],
    ),
}


@pytest.mark.parametrize("case", CONFLICTS)
def test_a_conflict_is_told_step_by_step_to_what_it_breaks(case):
    farm, wanted = CONFLICTS[case]
    name = "pea" if case == "a longest wait" else "onion"
    assert told(PLOT + farm, name, "sow") == wanted


def test_what_the_season_does_not_reach_is_said_with_what_holds_the_rest():
    late = AIMED.replace("on = 2027-03-10", "from = 2027-09-10")
    assert told(PLOT + late, "onion", "clear") == [
        (
            "window.not_in_season | clear is not within the season in 2001, however early all "
            "before it comes"
        ),
        (
            "window.earliest.target | transplant no earlier than 10 Sep: its day in the calendar "
            "(not before 10 Sep)"
        ),
    ]
    assert told(PLOT + late, "onion", "transplant") == [
        "window | transplant 10 Sep to 10 Sep in 2001: 0 days of room",
        (
            "window.earliest.target | transplant no earlier than 10 Sep: its day in the calendar "
            "(not before 10 Sep)"
        ),
        (
            "window.latest.target | transplant no later than 10 Sep: its day in the calendar (not "
            "before 10 Sep)"
        ),
    ]


# Kinds that cannot be: the season's start holds nothing back and its end nothing forward; a day
# kept for other years' sake is no window's.
NEVER_SAID = {
    "window.latest.season_start",
    "window.latest.not_before",
    "window.earliest.not_after",
    "window.earliest.season_end",
}


FARMS = int(os.environ.get("EPICOTYL_RANDOM_FARMS", "60"))


def test_a_window_of_a_random_farm_is_held_by_what_is_said_to_hold_it():
    told_codes = set()
    for seed in range(1, FARMS + 1):
        farm = random_farm(seed, small=seed % 2 == 0)
        climate = climate_of(farm)
        calendar = epicotyl.schedule(epicotyl.plan(farm.document), climate)
        windows = epicotyl.planting_windows(calendar.plan, climate, climate.years[seed % 3])
        for succession, event in calendar.events:
            if not windows.is_feasible(succession):
                continue
            for one in epicotyl.explain(windows, succession, event):
                about = (seed, windows.year, succession, event, one)
                told_codes.add(one.code)
                assert not str(one).endswith((": ", "()")), about
                held = one.values.get("bound", one.values.get("day"))
                if one.code == "window.earliest.season_start":
                    assert held == farm.document["site"]["season_start"], about
                if "bound" in one.values:
                    # further out than the day, which is reached by what holds one another
                    assert (held < one.values["day"]) == ("earliest" in one.code), about
                    assert str(one).endswith("; no day between will do")
                if one.code.startswith("window.earliest."):
                    mine = windows.earliest(one.succession, one.event)
                    assert one.values["day"] == mine, about
                if one.code.startswith("window.latest."):
                    mine = windows.latest(one.succession, one.event)
                    assert one.values["day"] == mine, about
    assert len(told_codes) > 10
    assert not told_codes & NEVER_SAID


FROST = 'event = "transplant", days_before_last_frost = 0'


def test_no_days_before_a_frost_are_the_day_of_the_frost():
    days = np.tile(np.where(np.arange(365) < 110, -1.0, 5.0), 4)
    record = epicotyl.DailyRecord(datetime.date(2001, 1, 1), days, days + 10.0)
    climate = epicotyl.Climate(record, latitude=45.0, season_days=300)
    frost = ONION.replace('event = "clear", by = 2027-06-30', FROST)
    plan = epicotyl.plan(tomllib.loads(PLOT + frost))
    why = epicotyl.explain(epicotyl.schedule(plan, climate), "onion", "transplant")
    assert str(why[0]).startswith(
        "transplant 20 Apr: on the last frost of 20 Apr (0 °C, later in 5 years of 10)"
    ), str(why[0])
