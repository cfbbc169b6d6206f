"""Which spring a default bound looks into, and obstacles and claims that are so.

Weather and crops are invented; both reckonings must agree on each plan."""

import datetime
import math

import pytest

from reckoned_twice import differences, reckoned_twice
from reference_season import record_from_days

epicotyl = pytest.importorskip("epicotyl")

YEARS = range(2001, 2012)


def weather():
    """A year's wave, every night 8 K colder than the day; each year a little other."""
    days = {}
    for year in range(2000, 2014):
        day = datetime.date(year, 1, 1)
        while day.year == year:
            number = day.timetuple().tm_yday
            middle = 9.0 - 12.0 * math.cos((number - 20) / 365.25 * 2.0 * math.pi)
            middle += 2.0 * math.sin(number * 1.7 + year * 2.3)
            days[day] = (round(middle - 4.0, 1), round(middle + 4.0, 1))
            day += datetime.timedelta(days=1)
    return record_from_days(days)


def document(*successions, season_start=datetime.date(2027, 1, 1), links=(), **crop):
    """Raised indoors for 30 days, planted out, picked after 40 days for 20."""
    grown = {
        "limit_tender": 1.0,
        "limit_hardened": 0.0,
        "stages": [
            {"begins": "sow", "where": "grow", "takes": {"days": 30}},
            {"begins": "transplant", "where": "field", "takes": {"days": 40}},
            {"begins": "first_harvest", "where": "field", "takes": {"days": 150}},
        ],
        **crop,
    }
    return {
        "format": 1,
        "units": "metric",
        "title": "Invented",
        "site": {"latitude": 45.0, "season_start": season_start, "season_days": 550},
        "places": {
            "house": {"for": ["grow"], "day": 20.0, "night": 15.0},
            "beds": {"for": ["field"]},
        },
        "crops": {"kale": grown},
        "succession": [
            {"name": f"kale {k}", "crop": "kale", "plants": 10, **one}
            for k, one in enumerate(successions, start=1)
        ],
        **({"link": list(links)} if links else {}),
    }


def planned(plan):
    pair = reckoned_twice(plan, weather(), 10)
    assert differences(pair) == {}
    return pair.calendar


def test_of_two_kales_planted_in_august_both_are_planned_whenever_they_are_wanted():
    """Picked by 31 December and by 1 January: the spring after is not theirs."""
    slow = [
        {"begins": "sow", "where": "grow", "takes": {"days": 30}},
        {"begins": "transplant", "where": "field", "takes": {"days": 140}},
        {"begins": "first_harvest", "where": "field", "takes": {"days": 150}, "limit": -25.0},
    ]
    calendar = planned(
        document(
            {"target": {"event": "first_harvest", "by": datetime.date(2027, 12, 31)}},
            {"target": {"event": "first_harvest", "by": datetime.date(2028, 1, 1)}},
            stages=slow,
        )
    )
    assert calendar.unresolved == []
    assert calendar.date("kale 1", "transplant") == datetime.date(2027, 8, 13)
    assert calendar.date("kale 2", "transplant") == datetime.date(2027, 8, 14)


@pytest.mark.parametrize("first", [1, 2])
def test_basil_for_august_is_planned_in_seasons_from_1_july_and_from_2_july(first):
    calendar = planned(
        document(
            {"target": {"event": "transplant", "from": datetime.date(2027, 8, 20)}},
            season_start=datetime.date(2027, 7, first),
        )
    )
    assert calendar.unresolved == []
    assert calendar.date("kale 1", "transplant") == datetime.date(2027, 8, 20)


def test_a_spring_planting_keeps_its_bound():
    calendar = planned(
        document({"target": {"event": "transplant", "from": datetime.date(2027, 2, 20)}})
    )
    assert calendar.date("kale 1", "transplant") > datetime.date(2027, 3, 20)


def test_a_member_of_a_repeat_behind_the_season_is_refused_as_a_target_typed_there_is():
    plan = document(
        {
            "target": {"event": "first_harvest", "by": datetime.date(2028, 5, 20)},
            "repeat": {"times": 3, "harvest_every": 30},
            "risk": False,
        }
    )
    calendar = planned(plan)
    (obstacle,) = calendar.unresolved
    assert (obstacle.succession, obstacle.code) == ("kale 1 3", "target.after_season")
    assert obstacle.sentence == (
        'first harvest is wanted on 19 Jul 2028 (wanted 60 days after the first harvest of "kale '
        '1 1"), when the season of 550 days is over'
    )


def test_an_outcome_on_a_day_keeps_the_days_of_its_links_at_the_reliability():
    """Claim (b) asks for 8 of 10 years, claim (a) for half of them."""
    link = {
        "first": {"succession": "kale 1", "event": "transplant"},
        "then": {"succession": "kale 2", "event": "sow"},
        "after": {"heat": 200.0, "base": 4.0, "place": "beds"},
    }
    calendar = planned(
        document(
            {"target": {"event": "transplant", "on": datetime.date(2027, 4, 20)}},
            {"target": {"event": "first_harvest", "on": datetime.date(2027, 9, 20)}},
            links=[link],
        )
    )
    claim = calendar.claim("kale 2")
    assert claim.needed == 5
    assert claim.link_days_kept >= 8
