"""The library against the reference reckoning: every day, count and claim the same.

Two people read the same design and wrote it down twice, once with tables and searches (the
library) and once with loops over days (`reference_season.py`, which imports nothing of it). Here
both plan the demo farm on its invented weather and, where EPICOTYL_REFERENCE_DATA names the
folder of the station files, on two long records; and many small random farms.
"""

import datetime
import gzip
import os
import tomllib
from pathlib import Path

import numpy as np
import pytest

from random_farms import random_farm
from reference_season import (
    NEVER,
    Clock,
    Record,
    Season,
    daily_rates,
    day_length,
    read_plan,
    read_weather,
    season_years,
)

epicotyl = pytest.importorskip("epicotyl")

FARM = Path(__file__).resolve().parents[2] / "examples" / "quillet_hollow" / "farm.toml"
STATIONS = {
    "central park": ("USW00094728*.dly.gz", 40.78),
    "dubois": ("USC00102707*.dly.gz", 44.24),
}
FARMS = int(os.environ.get("EPICOTYL_RANDOM_FARMS", "150"))


class Pair:
    """One plan with one record, reckoned by both."""

    def __init__(self, calendar, prospect, plan, years):
        self.calendar, self.prospect = calendar, prospect
        self.plan, self.season = plan, Season(plan, years)
        self.sown, self.aims, self.bounds = self.season.reckon()
        unresolved = {obstacle.succession for obstacle in calendar.unresolved}
        self.with_days = {name for name in plan.successions if name not in unresolved}
        # what the reference makes of the calendar's own sowings and target days
        self.planned, self.wanted, self.bound = {}, {}, {}
        for name in plan.successions:
            if name in self.with_days:
                self.take_from_calendar(name)
        self.resolved = list(self.planned)
        self.days = self.season.simulate(self.planned, self.wanted, self.bound)

    def take_from_calendar(self, name):
        succession = self.plan.successions[name]
        harvest = None
        if succession.first_of_repeat:
            harvest = self.calendar.date(succession.first_of_repeat, "first_harvest")
            harvest = None if harvest is None else self.plan.day(harvest)
        asked = self.season.asked(succession, harvest)
        if asked is None:
            return  # nothing to be spaced from: the reference has no such succession
        self.planned[name] = self.plan.day(self.calendar.date(name, succession.events[0]))
        self.bound[name] = self.season.bounds(succession, asked)
        self.wanted[name] = asked
        if not self.season.outcome_target(succession):
            self.wanted[name] = self.plan.day(self.calendar.date(name, succession.target_event))

    def dates(self, days):
        """Days as the library gives them."""
        found = [None if day == NEVER else self.plan.date(day) for day in days]
        return np.array(found, dtype="datetime64[D]")

    def stages(self):
        for name in self.resolved:
            for event in self.plan.successions[name].events[:-1]:
                yield name, event


def same_days(one, other):
    return np.array_equal(one, other, equal_nan=True)


# ---- What is compared: each gives the differences it finds --------------------------------------


def differing_sowings(pair):
    """Planned days of the two calendars, each made on its own."""
    found = []
    if set(pair.sown) != pair.with_days:
        found.append(("unresolved", set(pair.sown) ^ pair.with_days))
    for name in set(pair.sown) & set(pair.resolved):
        mine = (pair.sown[name], pair.aims[name])
        theirs = (pair.planned[name], pair.wanted[name])
        if mine != theirs:
            found.append((name, mine, theirs))
    return found


def differing_days(pair):
    found = []
    for name in pair.resolved:
        for event, days in zip(pair.plan.successions[name].events, pair.days[name], strict=True):
            if not same_days(pair.prospect.days(name, event), pair.dates(days)):
                found.append((name, event, pair.prospect.days(name, event), pair.dates(days)))
    return found


def differing_planned_days(pair):
    found = []
    for name in pair.resolved:
        days = pair.season.planned_days(name, pair.planned, pair.wanted, pair.days)
        for event, day in zip(pair.plan.successions[name].events, days, strict=True):
            mine = None if day == NEVER else pair.plan.date(day)
            if pair.calendar.date(name, event) != mine:
                found.append((name, event, pair.calendar.date(name, event), mine))
    return found


def differing_damage(pair):
    found = []
    for name, event in [*pair.stages(), *((name, None) for name in pair.resolved)]:
        mine = pair.season.damage(name, pair.days, event)
        off = pair.season.damage(name, pair.days, event, heater=False)
        open_to_cold = pair.season.damage(name, pair.days, event, cover=False)
        theirs = pair.prospect.damage(name, event)
        counts = (mine.years, mine.damaged, off.damaged, open_to_cold.damaged)
        if counts != (
            theirs.years,
            theirs.damaged,
            theirs.damaged_heater_off,
            theirs.damaged_cover_off,
        ):
            found.append((name, event, "damage", counts, theirs))
        hot = pair.season.damage(name, pair.days, event, hot=True)
        for one, other in ((mine, theirs), (hot, pair.prospect.too_hot(name, event))):
            if not same_days(other.first, pair.dates(one.first)):
                found.append((name, event, "first", other.first, one.first))
            margins = [np.nan if margin == NEVER else margin for margin in one.margin]
            if not np.allclose(other.margin, margins, rtol=0.0, atol=1e-9, equal_nan=True):
                found.append((name, event, "margin", other.margin, margins))
    return found


def differing_care(pair):
    """Overheld plants and nights to act."""
    season, found = pair.season, []
    nights = {place: [set() for _ in range(season.n)] for place in pair.plan.places}
    for name in pair.resolved:
        succession = pair.plan.successions[name]
        by_stage = [season.overheld(name, pair.days, event) for event in succession.events[:-1]]
        held = sum(any(stages) for stages in zip(*by_stage, strict=True))
        if pair.prospect.overheld(name).overheld != held:
            found.append((name, "overheld", pair.prospect.overheld(name), held))
        acted = []
        for year in range(season.n):
            own = set()
            for stage in range(len(succession.stages)):
                place = succession.stages[stage].place.name
                covered = season.nights_to_act(name, pair.days, stage, year)
                nights[place][year] |= covered
                own |= {(place, night) for night in covered}
            acted.append(len(own))
        if pair.prospect.nights_to_act(succession=name).tolist() != acted:
            found.append((name, "nights", pair.prospect.nights_to_act(succession=name), acted))
    for place, years in nights.items():
        acted = [len(year) for year in years]
        if pair.prospect.nights_to_act(place).tolist() != acted:
            found.append((place, "nights", pair.prospect.nights_to_act(place), acted))
    everywhere = [sum(len(years[y]) for years in nights.values()) for y in range(season.n)]
    if pair.prospect.nights_to_act().tolist() != everywhere:
        found.append(("nights", pair.prospect.nights_to_act(), everywhere))
    return found


def broken_claims(pair):
    """Claims that do not hold, or still hold a day later; counts that differ."""
    season, found = pair.season, []
    for name in pair.resolved:
        claim = season.claim(name, pair.planned, pair.wanted, pair.bound, pair.days)
        theirs = pair.calendar.claim(name)
        if not claim.holds:
            found.append((name, "does not hold", claim))
        if (theirs.good, theirs.needed, theirs.link_days_kept) != (
            claim.good,
            claim.needed,
            claim.links_kept,
        ):
            found.append((name, claim, theirs))
        later = {**pair.planned, name: pair.planned[name] + 1}
        days = season.simulate(later, pair.wanted, pair.bound)
        if theirs.broken_claim not in ("target", "links"):
            # nothing to break after the season's last day; and for a harvest in a window the
            # most good years may be more than are asked for
            after = season.claim(name, later, pair.wanted, pair.bound, days)
            fewer = pair.plan.successions[name].target.kind == "in_harvest" and (
                after.good < claim.good
            )
            if pair.planned[name] < pair.plan.season_days:
                if not fewer:
                    found.append((name, "no claim named", after, theirs))
                if after.good != theirs.good_one_day_later:
                    found.append((name, "a day later", after, theirs))
            continue
        after = season.claim(theirs.broken, later, pair.wanted, pair.bound, days)
        count = after.good if theirs.broken_claim == "target" else after.links_kept
        if count != theirs.good_one_day_later:
            found.append((name, "a day later", after, theirs))
        most = pair.plan.successions[theirs.broken].target.kind == "in_harvest"
        if count >= (theirs.good if most else after.needed):
            found.append((name, "holds a day later", after, theirs))
    return found


def broken_risks(pair):
    """Moves that a risk bound protects and that are hurt more often than it says."""
    season, found = pair.season, []
    for name in pair.resolved:
        succession = pair.plan.successions[name]
        for event, bound in pair.bound[name].protected.items():
            reached = pair.days[name][event]
            if succession.is_outcome(event):
                # it cannot wait: it comes before the bound in at most the allowed years
                share = sum(day < bound.day for day in reached)
            else:
                begin, end = bound.half
                damage = season.damage(name, pair.days, succession.events[event])
                share = sum(any(begin <= d <= end for d in nights) for nights in damage.nights)
            if share > bound.years:
                found.append((name, succession.events[event], share, bound))
    return found


def differing_links(pair):
    """Longest waits, and how often all of a linked group are good together."""
    season, found = pair.season, []
    for group in pair.calendar.groups:
        if not set(group.successions) <= set(pair.resolved):
            continue
        good = sum(
            all(
                season.is_good(
                    pair.plan.successions[name],
                    [days[year] for days in pair.days[name]],
                    pair.wanted[name],
                    pair.bound[name],
                )
                for name in group.successions
            )
            for year in range(season.n)
        )
        if (good, season.n) != (group.good, group.years):
            found.append((group, good))
    counts = [(count.within, count.kept) for count in pair.calendar.within_counts]
    mine = []
    for link in pair.plan.links:
        for then in link.then:
            if link.within is None or not {then, *link.first} <= set(pair.resolved):
                continue
            kept = sum(season.within_kept(link, then, year, pair.days) for year in range(season.n))
            mine.append((link.within, kept))
    if counts != mine:
        found.append(("within", counts, mine))
    return found


def reckoned_twice(document, record, count):
    """A pair made of tables and a record; `count` season years are asked for."""
    plan = read_plan(document)
    years = season_years(record, plan.season_start, plan.season_days, years=count)
    climate = epicotyl.Climate(
        epicotyl.DailyRecord(record.first, record.low, record.high),
        latitude=plan.latitude,
        season_start=plan.season_start,
        season_days=plan.season_days,
        years=count,
    )
    assert [year.year for year in years] == climate.years
    assert np.array_equal([year.low for year in years], climate.tmin)
    assert np.array_equal([year.high for year in years], climate.tmax)
    calendar = epicotyl.schedule(epicotyl.plan(document), climate)
    return Pair(calendar, epicotyl.simulate(calendar, climate), plan, years)


def differences(pair):
    found = {compare.__name__: compare(pair) for compare in COMPARISONS}
    return {name: differing for name, differing in found.items() if differing}


COMPARISONS = [
    differing_sowings,
    differing_days,
    differing_planned_days,
    differing_damage,
    differing_care,
    differing_links,
    broken_claims,
    broken_risks,
]


# ---- The demo farm -----------------------------------------------------------------------------


@pytest.fixture(scope="module", params=["quillet hollow", *STATIONS])
def demo(request, tmp_path_factory):
    if request.param == "quillet hollow":
        opened = epicotyl.open_season(FARM)
        plan = read_plan(FARM)
        record = read_weather(FARM.parent / plan.weather)
    else:
        folder = os.environ.get("EPICOTYL_REFERENCE_DATA")
        if not folder:
            pytest.skip("EPICOTYL_REFERENCE_DATA is not set")
        pattern, latitude = STATIONS[request.param]
        (packed,) = Path(folder).glob(pattern)
        path = tmp_path_factory.mktemp("station") / "station.dly"
        path.write_bytes(gzip.decompress(packed.read_bytes()))
        opened = epicotyl.open_season(FARM, weather=path, latitude=latitude)
        document = tomllib.loads(FARM.read_text(encoding="utf-8"))
        document["site"]["latitude"] = latitude
        plan = read_plan(document)
        record = read_weather(packed)
    years = season_years(record, plan.season_start, plan.season_days)
    assert [year.year for year in years] == opened.climate.years
    assert np.array_equal([year.low for year in years], opened.climate.tmin)
    assert np.array_equal([year.high for year in years], opened.climate.tmax)
    return Pair(opened.calendar, opened.prospect, plan, years)


@pytest.mark.parametrize("compare", COMPARISONS, ids=lambda compare: compare.__name__)
def test_demo_farm_has_no(demo, compare):
    assert compare(demo) == []


def test_demo_farm_is_mostly_resolved(demo):
    """So that the comparisons above compare something."""
    assert len(demo.resolved) >= 15


# ---- Random farms ------------------------------------------------------------------------------


@pytest.mark.parametrize("seed", range(FARMS))
def test_random_farm_is_reckoned_alike(seed):
    farm = random_farm(seed)
    assert differences(reckoned_twice(farm.document, farm.record, farm.years)) == {}


def test_random_farms_are_what_they_are_meant_to_be():
    """Every kind of thing comes up somewhere among them."""
    documents = [random_farm(seed).document for seed in range(FARMS)]
    text = repr(documents)
    for word in (
        "'us'",
        "'metric'",
        "germination",
        "days_between",
        "soil",
        "gate",
        "'all'",
        "'any'",
        "lamps",
        "open",
        "heat_lift",
        "in_harvest",
        "risk",
        "_last_frost",
        "_first_frost",
        "not_before",
        "not_after",
        "follows",
        "wave",
        "within",
        "repeat",
        "like",
        "last_harvest",
        "hold",
        "too_hot",
        "average_floored",
        "double_sine",
        "vertical",
    ):
        assert word in text
    assert any(document["site"]["latitude"] < 0.0 for document in documents)
    assert any(document["site"]["season_start"].year == 2028 for document in documents)


# ---- Cases that once differed --------------------------------------------------------------------


def one_crop(stages, *successions, places=None, days=366, **crop):
    """A plan of one crop in a house at 15 to 20 degC and in outdoor beds."""
    house = {"for": ["grow"], "day": 20.0, "night": 15.0}
    return {
        "format": 1,
        "units": "metric",
        "title": "One crop",
        "site": {
            "latitude": 50.0,
            "season_start": datetime.date(2027, 1, 1),
            "season_days": days,
        },
        "places": {"house": house, "beds": {"for": ["field"]}, **(places or {})},
        "crops": {"plant": {"stages": stages, **crop}},
        "succession": [
            {"name": f"batch {k}", "crop": "plant", "plants": 10, **table}
            for k, table in enumerate(successions, start=1)
        ],
    }


def weather(minimum, years=6, days=366):
    """A record from 2001 on; `minimum` gives each day's [degC], the maximum is 8 K above it."""
    first = datetime.date(2001, 1, 1)
    low = [minimum(first + datetime.timedelta(k)) for k in range(366 * (years - 1) + days)]
    return Record(first, low, [value + 8.0 for value in low])


def test_nothing_is_spaced_from_a_harvest_that_never_comes():
    # a season of 366 days, a crop of 300 days sown in May
    document = one_crop(
        [
            {"begins": "sow", "where": "beds", "takes": {"days": 300}},
            {"begins": "first_harvest", "where": "beds", "takes": {"days": 10}},
        ],
        {
            "target": {"event": "sow", "from": datetime.date(2027, 5, 1)},
            "repeat": {"times": 2, "harvest_every": 7},
        },
        risk=False,
    )
    pair = reckoned_twice(document, weather(lambda _: 5.0), 6)
    assert pair.calendar.date("batch 1 1", "first_harvest") is None
    assert [obstacle.succession for obstacle in pair.calendar.unresolved] == ["batch 1 2"]
    assert differences(pair) == {}


def test_repeats_are_spaced_from_the_day_that_the_calendar_prints():
    # Warm years plant out after 11 days, two cool ones of five not before June: the plan prints
    # June for planting out (8 years in 10), and nothing before it for the harvest
    stages = [
        {"begins": "sow", "where": "beds", "takes": {"heat": 110.0, "base": 0.0}},
        {"begins": "transplant", "where": "beds", "takes": {"days": 20}},
        {"begins": "first_harvest", "where": "beds", "takes": {"days": 10}},
    ]
    document = one_crop(
        stages,
        {
            "target": {"event": "first_harvest", "on": datetime.date(2027, 4, 1)},
            "repeat": {"times": 2, "harvest_every": 7},
        },
        risk=False,
    )

    def minimum(day):
        cool = day.year in (2001, 2002) and day.month < 6
        return -10.0 if cool else 6.0

    pair = reckoned_twice(document, weather(minimum, years=5), 5)
    printed = pair.calendar.date("batch 1 1", "first_harvest")
    assert printed == pair.calendar.date("batch 1 1", "transplant")
    assert differences(pair) == {}


def test_a_stage_that_stays_where_it_was_moves_into_no_colder_place():
    # The cover of the bed goes by the limit of what stands there, so the air differs by stage; a
    # pinch moves nothing, and waits for no bound
    document = one_crop(
        [
            {"begins": "transplant", "where": "beds", "takes": {"days": 10}, "limit": 0.0},
            {"begins": "pinch", "where": "beds", "takes": {"days": 20}, "limit": -5.0},
        ],
        {
            "target": {"event": "transplant", "from": datetime.date(2027, 3, 1)},
            "not_before": {"transplant": datetime.date(2027, 3, 1)},
        },
        places={"beds": {"for": ["field"], "cold_nights": {"warmer": 2.0}}},
    )

    def minimum(day):
        if (day.month, day.day) != (5, 10):
            return 5.0
        return -7.5 if day.year == 2003 else -4.9

    pair = reckoned_twice(document, weather(minimum), 6)
    assert pair.calendar.date("batch 1", "pinch") == datetime.date(2027, 3, 11)
    assert differences(pair) == {}


def test_another_takes_brings_its_own_hold():
    # "weeks = [4, 5]" means a hold of a week; "days = 20" instead of it means none
    document = one_crop(
        [
            {"begins": "sow", "where": "house", "takes": {"weeks": [4, 5]}},
            {"begins": "transplant", "where": "beds", "takes": {"days": 30}},
        ],
        {
            "target": {"event": "sow", "on": datetime.date(2027, 3, 1)},
            "not_before": {"transplant": datetime.date(2027, 5, 1)},
            "stage": {"sow": {"takes": {"days": 20}}},
        },
        risk=False,
    )
    pair = reckoned_twice(document, weather(lambda _: 5.0), 6)
    assert pair.prospect.overheld("batch 1").overheld == 0
    assert differences(pair) == {}


# ---- Parts -------------------------------------------------------------------------------------


def test_degree_days_and_day_lengths_are_alike():
    draw = np.random.default_rng(1927)
    low = np.round(draw.normal(8.0, 9.0, 400), 1)
    high = low + np.round(np.abs(draw.normal(8.0, 5.0, 400)), 1)
    for method in ("average", "average_floored", "single_triangle", "double_triangle"):
        for cutoff in ("horizontal", "intermediate", "vertical"):
            if method == "average_floored" and cutoff != "horizontal":
                continue
            clock = Clock("heat", base=5.0, upper=20.0, method=method, cutoff=cutoff)
            mine = daily_rates(clock, list(low), list(high), [])
            theirs = epicotyl.degree_days(
                low, high, base=5.0, upper=20.0, method=method, cutoff=cutoff
            )
            assert np.allclose(mine, theirs, rtol=0.0, atol=1e-9)
    dates = [datetime.date(2027, 1, 1) + datetime.timedelta(k) for k in range(365)]
    for latitude in (-70.0, -35.0, 0.0, 51.9, 67.0):
        mine = [day_length(latitude, date) for date in dates]
        theirs = epicotyl.day_length(latitude, np.array(dates, dtype="datetime64[D]"))
        assert np.allclose(mine, theirs, rtol=0.0, atol=1e-9)
