"""What becomes of a calendar, against a simulator that goes from day to day: all is alike.

Two thousand small random farms are planned and simulated by the library, and their calendars
followed through every season year by `reference_season.py`, which was written from the same design
and shares no code with the library. Compared are all days, quantiles and chances, damage and heat,
holds, harvests and nights to act. A fifth of the farms live through other years than they were
planned for.

`EPICOTYL_SMALL_FARMS` is the number of farms.
"""

import datetime
import multiprocessing
import os
from collections import Counter
from concurrent.futures import ProcessPoolExecutor

import pytest

from random_farms import CUTOFFS, METHODS, random_farm
from reckoned_twice import FOLLOWED, differences, reckoned_twice
from reference_season import NEVER

epicotyl = pytest.importorskip("epicotyl")

FOLLOWED_ALL = "successions followed"
SHARES = 20
FARMS = int(os.environ.get("EPICOTYL_SMALL_FARMS", "2000"))

KINDS = {
    *METHODS,
    *CUTOFFS,
    "all",
    "any",
    "damage",
    "day_length_at_least",
    "day_length_at_most",
    "days_between",
    "ended by frost",
    "follows",
    "from July",
    "gap",
    "gate that slows",
    "gate that stops",
    "germination",
    "harvest ended by clock",
    "harvest ended by frost",
    "harvest ended by heat",
    "harvest ended by season",
    "heat_lift",
    "held too long",
    "hold",
    "in_harvest",
    "lamps",
    "leap day of a season year",
    "leap day of the plan",
    "limit of a stage",
    "link by heat",
    "link of all",
    "link of first",
    "link of one",
    "lost at a temperature of its own",
    "lost before a harvest",
    "lost before what is no harvest",
    "more without cover",
    "more without heater",
    "never ready",
    "never lost",
    "nights to act",
    "open",
    "other years than planned for",
    "repeat",
    "season year left out",
    "several successions",
    "soil",
    "south",
    "sown late for a link",
    "stage",
    "target by",
    "target from",
    "target on",
    "target risk",
    "target weeks_after_last_frost",
    "target weeks_before_first_frost",
    "too hot",
    "too late for a link",
    "unresolved",
    "us",
    "vent_above",
    "waited",
    "within",
}


def within(tables):
    """Every (key, value) of nested tables."""
    if isinstance(tables, list):
        for one in tables:
            yield from within(one)
    elif isinstance(tables, dict):
        for key, value in tables.items():
            yield key, value
            yield from within(value)


def has_leap_day(first, count):
    days = (first + datetime.timedelta(k) for k in range(count))
    return any((day.month, day.day) == (2, 29) for day in days)


def asked_of(farm, pair):
    """What the plan of a farm asks for, in words."""
    pairs = list(within(farm.document))
    keys = {key for key, _ in pairs}
    found = keys & {
        "all",
        "any",
        "days_between",
        "follows",
        "gap",
        "germination",
        "heat_lift",
        "hold",
        "in_harvest",
        "lamps",
        "open",
        "repeat",
        "soil",
        "stage",
        "too_hot",
        "vent_above",
        "within",
    }
    found |= {f"target {key}" for table in farm.document["succession"] for key in table["target"]}
    found -= {"target event", "target after", "target limit"}
    values = {value for _, value in pairs if isinstance(value, str)}
    found |= values & {"us", *METHODS, *CUTOFFS}
    for key, value in pairs:
        if key == "gate":
            found |= {"gate", *value} - {"otherwise"}
            found.add("gate that slows" if value.get("otherwise") else "gate that stops")
        if key == "link":
            found |= {f"link of {link['first'].get('of', 'one')}" for link in value}
            found |= {"link by heat" for link in value if "heat" in link.get("after", {})}
        if key == "lost_at":
            found.add("never lost" if value is False else "lost at a temperature of its own")
    plan, years = pair.plan, pair.season.years
    stages = [stage for one in plan.successions.values() for stage in one.stages]
    if any(stage.limit is not None for stage in stages):
        found.add("limit of a stage")
    if plan.latitude < 0.0:
        found.add("south")
    if plan.season_start.month == 7:
        found.add("from July")
    if has_leap_day(plan.season_start, plan.season_days):
        found.add("leap day of the plan")
    starts = [plan.season_start.replace(year=year.year) for year in years]
    if any(has_leap_day(start, plan.season_days) for start in starts):
        found.add("leap day of a season year")
    if len(years) < farm.years:
        found.add("season year left out")
    if farm.other:
        found.add("other years than planned for")
    return found


def come_to_pass(pair):
    """What happens to a farm in some season year, in words."""
    season, found = pair.season, set()
    if len(pair.resolved) < len(pair.plan.successions):
        found.add("unresolved")
    if len(pair.resolved) > 1:
        found.add("several successions")
    for name in pair.resolved:
        succession, days = pair.plan.successions[name], pair.days[name]
        for at in range(len(succession.stages)):
            for year in range(season.n):
                begun, done = days[at][year], days[at + 1][year]
                ready = season.ready(succession, at, year, begun)
                if begun != NEVER and ready == NEVER:
                    found.add("never ready")
                if done < ready:
                    found.add("ended by frost")
                if done > ready:
                    found.add("waited")
        if any(day > pair.planned[name] for day in days[0]):
            found.add("sown late for a link")
        cold = pair.prospect.damage(name)
        happened = {
            "damage": cold.damaged,
            "more without heater": cold.damaged_heater_off > cold.damaged,
            "more without cover": cold.damaged_cover_off > cold.damaged,
            "too hot": pair.prospect.too_hot(name).damaged,
            "held too long": pair.prospect.overheld(name).overheld,
        }
        if any(night != NEVER for night in season.losses(name, pair.days)):
            harvested = "first_harvest" in succession.events
            found.add(f"lost before {'a' if harvested else 'what is no'} harvest")

        found |= {what for what, some in happened.items() if some}
        if "first_harvest" in succession.events:
            spans = epicotyl.harvest.harvest_spans(pair.prospect, name)
            found |= {f"harvest ended by {end}" for end in spans.ended_by if end}
    if pair.prospect.nights_to_act().any():
        found.add("nights to act")
    for link in pair.plan.links:
        for then in link.then:
            if link.within is None or not {then, *link.first} <= set(pair.resolved):
                continue
            years = range(season.n)
            if not all(season.within_kept(link, then, year, pair.days) for year in years):
                found.add("too late for a link")
    return found


def follow(seeds):
    """What differs, as text by kind and seed, and how many farms have what."""
    differing = {compare.__name__: {} for compare in FOLLOWED}
    counts = Counter()
    for seed in seeds:
        farm = random_farm(seed, small=True)
        pair = reckoned_twice(
            farm.document, farm.record, farm.years, lived=farm.other, own_calendar=False
        )
        for kind, found in differences(pair, FOLLOWED).items():
            differing[kind][seed] = repr(found)
        counts.update(asked_of(farm, pair) | come_to_pass(pair))
        counts[FOLLOWED_ALL] += len(pair.resolved)
    return differing, counts


@pytest.fixture(scope="module")
def farms():
    """`follow` of all farms, shared out among processes."""
    differing, counts = follow([])
    shares = [range(first, FARMS, SHARES) for first in range(SHARES)]
    with ProcessPoolExecutor(mp_context=multiprocessing.get_context("spawn")) as pool:
        for found, counted in pool.map(follow, shares):
            counts += counted
            for kind, by_seed in found.items():
                differing[kind] |= by_seed
    return differing, counts


@pytest.mark.parametrize("kind", [compare.__name__ for compare in FOLLOWED])
def test_small_farms_have_no(kind, farms):
    assert farms[0][kind] == {}


@pytest.mark.skipif(FARMS < 1000, reason="few farms are of few kinds")
def test_small_farms_are_of_all_kinds(farms):
    """Else the comparisons would say little: each kind of thing is in one farm of fifty."""
    counts = farms[1]
    for what in sorted(KINDS | set(counts)):
        print(f"{what:32}{counts[what]:6} of {FARMS} farms")
    rare = {what: counts[what] for what in KINDS if counts[what] < 0.02 * FARMS}
    assert rare == {}
    assert counts[FOLLOWED_ALL] >= 1.5 * FARMS
