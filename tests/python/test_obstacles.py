"""What is said of a plan whose batches wait for one another: who has days, and what a day later
would break. By hand, and against the second reckoning, which tries every day."""

import datetime
import random

import pytest

from reckoned_twice import reckoned_twice
from reference_season import Record

epicotyl = pytest.importorskip("epicotyl")

START = datetime.date(2027, 1, 1)


def day(offset):
    return START + datetime.timedelta(days=offset)


def in_the_field(first, *more):
    """Stages in a bed: the first is sown, of a second it is picked."""
    stages = [{"begins": "sow", "where": "beds", "takes": first}]
    stages += [{"begins": "first_harvest", "where": "beds", "takes": takes} for takes in more]
    return {"stages": stages}


def farm(crops, successions, links, *, reliability=0.5, season_days=300):
    return {
        "format": 1,
        "units": "metric",
        "defaults": {"risk": False, "reliability": reliability},
        "site": {"latitude": 45.0, "season_start": START, "season_days": season_days},
        "places": {"beds": {"for": ["field"]}},
        "crops": crops,
        "succession": [{"plants": 1, **one} for one in successions],
        "link": [
            {
                "first": {"succession": first, "event": event},
                "then": {"succession": then, "event": "sow"},
                "after": {"days": 0},
            }
            for first, event, then in links
        ],
    }


def steady_years(means):
    """A record in which every day of a year has the same mean; one year a season year."""
    first = datetime.date(2001, 1, 1)
    count = (datetime.date(2001 + len(means), 1, 1) - first).days
    values = [float(means[(first + datetime.timedelta(k)).year - 2001]) for k in range(count)]
    return Record(first, values, list(values))


def test_a_batch_that_gets_its_days_in_the_second_round_is_no_obstacle():
    # The pea waits for nobody and is waited for: picked on 10 February in the least plan, when its
    # repeat would have to be picked a week later. But that one waits for the cover crop, cleared
    # after 100 days. Raised, the pea is picked on 31 May, and its repeat on 7 June.
    document = farm(
        {
            "pea": in_the_field({"days": 40}, {"days": 20}),
            "salad": in_the_field({"days": 40}),
            "cover": in_the_field({"days": 100}),
        },
        [
            {"crop": "cover", "target": {"event": "clear", "by": day(119)}},
            {
                "crop": "pea",
                "target": {"event": "first_harvest", "by": day(150)},
                "repeat": {"times": 2, "harvest_every": 7},
            },
            {"crop": "salad", "target": {"event": "clear", "by": day(250)}},
        ],
        [("cover", "clear", "pea 2"), ("pea 1", "sow", "salad")],
    )
    pair_climate = steady_years([10.0] * 5)
    climate = epicotyl.Climate(
        epicotyl.DailyRecord(pair_climate.first, pair_climate.low, pair_climate.high),
        latitude=45.0,
        season_start=START,
        season_days=300,
    )
    calendar = epicotyl.schedule(epicotyl.plan(document), climate)
    assert calendar.unresolved == []
    calendar.require()
    assert calendar.date("pea 1", "sow") == day(110)
    assert calendar.date("pea 1", "first_harvest") == day(150)
    assert calendar.date("pea 2", "sow") == day(117)
    assert calendar.date("pea 2", "first_harvest") == day(157)
    # The cover crop makes way on the day that the second pea is sown.
    assert calendar.date("cover", "sow") == day(17)


# 200 K day: 20 days in seven warm years, 40 in three cool ones.
WARM_AND_COOL = [10.0, 10.0, 5.0, 10.0, 10.0, 5.0, 10.0, 10.0, 5.0, 10.0]


def relay():
    """The second is in harvest on 31 May and still on 10 June when it is sown on day 101 to 120."""
    return farm(
        {
            "first": in_the_field({"heat": 200.0, "base": 0.0, "method": "average"}),
            "second": in_the_field({"days": 30}, {"days": 30}),
        },
        [
            {"crop": "first", "target": {"event": "clear", "by": day(180)}},
            {
                "crop": "second",
                "target": {
                    "event": "first_harvest",
                    "in_harvest": {"from": day(150), "until": day(160), "chance": 0.5},
                },
            },
        ],
        [("first", "clear", "second")],
    )


def test_a_sowing_that_would_cost_another_its_good_harvests_says_how_many():
    # Sown on day 80 the first is cleared on day 120 in the cool years; a day later the second would
    # be sown there on day 121, and be picked too late.
    pair = reckoned_twice(relay(), steady_years(WARM_AND_COOL), 10)
    calendar = pair.calendar
    assert calendar.date("first", "sow") == day(80)
    assert calendar.date("second", "sow") == day(120)
    claim = calendar.claim("first")
    assert (claim.broken, claim.broken_claim, claim.good_one_day_later) == ("second", "harvest", 7)
    why = epicotyl.explain(calendar, "first", "sow")[0]
    assert why.code == "sow.others_wait"
    assert why.values["broken_claim"] == "harvest"
    assert (
        str(why) == 'sow 22 Mar: clear by 30 Jun in 10 of 10 years; a day later "second", which '
        "waits for it, would keep only 7 of the 10 of 10 years in which it is in harvest when it "
        "is wanted"
    )
    # A day later costs the second its three cool years, by the second reckoning as well.
    season, later = pair.season, {**pair.planned, "first": 81}
    had = season.harvest_years("second", pair.wanted, pair.bound, pair.days)
    days = season.simulate(later, pair.wanted, pair.bound)
    assert len(had) == 10
    assert len(season.harvest_years("second", pair.wanted, pair.bound, days)) == 7


def random_relay(seed):
    draw = random.Random(seed)
    crops = {
        "first": in_the_field({"heat": float(draw.randint(80, 400)), "base": 0.0}),
        "second": in_the_field(
            {"heat": float(draw.randint(100, 300)), "base": 0.0}, {"days": draw.randint(10, 40)}
        ),
        "third": in_the_field({"days": draw.randint(10, 60)}),
    }
    begin = draw.randint(70, 150)
    successions = [
        {"crop": "first", "target": {"event": "clear", "by": day(draw.randint(60, 160))}},
        {
            "crop": "second",
            "target": {
                "event": "first_harvest",
                "in_harvest": {
                    "from": day(begin),
                    "until": day(begin + draw.randint(0, 20)),
                    "chance": draw.choice([0.2, 0.3, 0.5]),
                },
            },
        },
        {"crop": "third", "target": {"event": "clear", "by": day(draw.randint(120, 195))}},
    ]
    links = [("first", "clear", "second")]
    if draw.random() < 0.6:
        links.append(("second", draw.choice(["sow", "first_harvest", "clear"]), "third"))
    means = [draw.choice([4.0, 6.0, 8.0, 10.0, 12.0]) for _ in range(8)]
    document = farm(crops, successions, links, reliability=0.5, season_days=200)
    return reckoned_twice(document, steady_years(means), 8)


def test_a_linked_harvest_keeps_the_good_years_of_the_least_plan_and_has_the_most_there_are():
    resolved, with_loss, most = 0, 0, 0
    for seed in range(1, 121):
        pair = random_relay(seed)
        claim = pair.calendar.claim("second")
        if claim is None or pair.calendar.claim("first") is None:
            continue
        resolved += 1
        season = pair.season

        # In the least plan, in which all that it waits for is as early as it may be.
        sown, aims, bounds = {}, {}, {}
        for name in season.order():
            if season.linked(name):
                season.plan_least(name, sown, aims, bounds)
        least = season.harvest_years("second", aims, bounds, season.simulate(sown, aims, bounds))
        assert claim.good >= len(least), seed

        # No other sowing of it would serve more years, the rest where they are.
        counts = []
        for sowing in range(pair.plan.season_days + 1):
            days = season.simulate({**pair.planned, "second": sowing}, pair.wanted, pair.bound)
            counts.append(len(season.harvest_years("second", pair.wanted, pair.bound, days)))
        why = str(epicotyl.explain(pair.calendar, "second", "sow")[0])
        if "the most there are" in why:
            most += 1
            assert claim.good == max(counts), (seed, why)
        # One day more of what it waits for costs it some.
        with_loss += pair.calendar.claim("first").broken_claim == "harvest"
    assert resolved > 60
    assert with_loss > 10
    assert most > 0
