"""One plan with one record, reckoned by the library and by the reference, and what differs.

A `Pair` holds both reckonings of one plan; each `differing_...` gives the differences of one kind
of answer, as a list that should be empty.
"""

import datetime
import math

import numpy as np
import pytest

from reference_season import NEVER, Season, quantile, read_plan, season_years

epicotyl = pytest.importorskip("epicotyl")


class Pair:
    """A calendar and its prospect beside the reference's.

    The reference makes a calendar of its own, unless `own_calendar` is false, and follows the
    library's through the season years: those it was made for, or other ones that are `lived`."""

    def __init__(self, calendar, prospect, plan, years, *, lived=None, own_calendar=True):
        self.calendar, self.prospect, self.plan = calendar, prospect, plan
        self.planning = Season(plan, years)
        self.season = Season(plan, lived) if lived else self.planning
        unresolved = {obstacle.succession for obstacle in calendar.unresolved}
        self.with_days = {name for name in plan.successions if name not in unresolved}
        if own_calendar:
            self.sown, self.aims, self.bounds = self.planning.reckon()
        # what the reference makes of the calendar's own sowings and target days
        self.planned, self.wanted, self.bound = {}, {}, {}
        for name in plan.successions:
            if name in self.with_days:
                self.take_from_calendar(name)
        self.resolved = list(self.planned)
        # as if nothing were lost, and as it comes to pass
        self.days = self.season.simulate(self.planned, self.wanted, self.bound)
        self.lived = {name: self.season.lived(name, self.days) for name in self.days}

    def take_from_calendar(self, name):
        succession = self.plan.successions[name]
        harvest = None
        if succession.first_of_repeat:
            harvest = self.calendar.date(succession.first_of_repeat, "first_harvest")
            harvest = None if harvest is None else self.plan.day(harvest)
        asked = self.planning.asked(succession, harvest)
        if asked is None:
            return  # nothing to be spaced from: the reference has no such succession
        self.planned[name] = self.plan.day(self.calendar.date(name, succession.events[0]))
        self.bound[name] = self.planning.bounds(succession, asked)
        self.wanted[name] = asked
        if not self.planning.outcome_target(succession):
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
    """Every event in every season year; what is unresolved is never."""
    found = []
    events = [(s.name, event) for s in pair.plan.successions.values() for event in s.events]
    if pair.prospect.events != events:
        return [("events", pair.prospect.events, events)]
    for (name, event), row in zip(events, pair.prospect.days_all, strict=True):
        at = pair.plan.successions[name].events.index(event)
        mine = pair.lived[name][at] if name in pair.days else [NEVER] * pair.season.n
        if not same_days(row, pair.dates(mine)):
            found.append((name, event, row, pair.dates(mine)))
        if not same_days(row, pair.prospect.days(name, event)):
            found.append((name, event, row, pair.prospect.days(name, event)))
    return found


def differing_shares(pair):
    """Quantiles, and chances of a day: each year's own, the day before, and the season's ends."""
    found = []
    ends = [0, pair.plan.season_days]
    for name, by_event in pair.lived.items():
        for event, days in zip(pair.plan.successions[name].events, by_event, strict=True):
            for share in (0.0, 0.1, 0.5, 2.0 / 3.0, 0.8, 1.0):
                mine = quantile(days, share)
                mine = None if mine == NEVER else pair.plan.date(mine)
                theirs = pair.prospect.quantile(name, event, share)
                if mine != theirs:
                    found.append((name, event, share, theirs, mine))
            known = {day for day in days if day != NEVER}
            for day in known | {day - 1 for day in known} | set(ends):
                mine = sum(reached <= day for reached in days) / len(days)
                theirs = pair.prospect.chance_by(name, event, pair.plan.date(day))
                if mine != theirs:
                    found.append((name, event, pair.plan.date(day), theirs, mine))
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
    """Cold nights and hot days, by stage and in all, with heater and cover on and off."""
    found = []
    for name in pair.resolved:
        for event in [*pair.plan.successions[name].events, None]:
            for hot, report in ((False, pair.prospect.damage), (True, pair.prospect.too_hot)):
                theirs = report(name, event)
                differing = differing_report(pair, theirs, name, event, hot)
                if differing:
                    found.append((name, event, "too hot" if hot else "damage", differing))
    return found


def differing_report(pair, theirs, name, event, hot):
    def damage(**switches):
        return pair.season.damage(name, pair.days, event, hot=hot, **switches)

    found = []
    degree = 1.8 if pair.calendar.plan.units == "us" else 1.0  # of the plan, in a kelvin
    ways = {"": damage(), "_heater_off": damage(heater=False), "_cover_off": damage(cover=False)}
    for way, mine in ways.items():
        damaged, first, margin = (
            getattr(theirs, what + way) for what in ("damaged", "first", "margin")
        )
        if damaged != mine.damaged:
            found.append(("damaged" + way, damaged, mine.damaged))
        if not same_days(first, pair.dates(mine.first)):
            found.append(("first" + way, first, pair.dates(mine.first)))
        for one, other in zip(margin.tolist(), mine.margin, strict=True):
            alike = math.isnan(one) if other == NEVER else abs(one / degree - other) <= 1e-9
            if not alike:
                found.append(("margin" + way, margin, mine.margin))
    if (theirs.years, theirs.share) != (ways[""].years, ways[""].damaged / ways[""].years):
        found.append(("share", theirs.years, theirs.share))
    return found


def differing_holds(pair):
    """Years in which plants were held too long, and by how much."""
    found = []
    for name in pair.resolved:
        events = pair.plan.successions[name].events[:-1]
        by_stage = [pair.season.held_over(name, pair.days, event) for event in events]
        longest = [max(days) for days in zip(*by_stage, strict=True)]
        held = sum(days > 0 for days in longest)
        theirs = pair.prospect.overheld(name)
        mine = (pair.season.n, held, held / pair.season.n, longest)
        if (theirs.years, theirs.overheld, theirs.share, theirs.longest.tolist()) != mine:
            found.append((name, theirs, theirs.longest, mine))
    return found


def differing_losses(pair):
    """The night that loses each batch in each season year; none of what has no days."""
    found = []
    for name in pair.plan.successions:
        mine = [NEVER] * pair.season.n
        if name in pair.days:
            mine = pair.season.losses(name, pair.days)
        if not same_days(pair.prospect.lost(name), pair.dates(mine)):
            found.append((name, pair.prospect.lost(name), pair.dates(mine)))
    return found


def differing_room(pair):
    """What stands in each place on each day of each season year: of stages in containers. In a
    random farm each of these has as many cells as a batch has plants, so that a stage fills one;
    elsewhere it is compared whether anything is there."""
    season, found = pair.season, []
    filled = {name: np.zeros((season.n, pair.plan.season_days)) for name in pair.plan.places}
    stages = [stage for one in pair.plan.successions.values() for stage in one.stages]
    is_random = {stage.container for stage in stages} <= {None, "tray"}
    for name in pair.resolved:
        for at, stage in enumerate(pair.plan.successions[name].stages):
            if stage.container is None:
                continue
            for year in range(season.n):
                for day in season.standing(name, pair.days, at, year):
                    filled[stage.place.name][year, day] += 1.0
    for place, mine in filled.items():
        _, theirs = pair.prospect.space(place)
        if not is_random:
            mine, theirs = mine > 0.0, theirs > 0.0
        if not np.array_equal(mine, theirs):
            found.append((place, np.argwhere(mine != theirs)))
    return found


def harvest_days(pair, name, year, heat_stops=True):
    """The days on which there is something to pick."""
    one = pair.season.harvest(name, pair.days, year, heat_stops=heat_stops)
    return set(range(one[0], int(one[1]))) if one else set()


def differing_coverage(pair):
    """Years in which something is in harvest, week by week, over all that is harvested."""
    season, found = pair.season, []
    names = [n for n in pair.resolved if "first_harvest" in pair.plan.successions[n].events]
    if not names:
        return found
    years = {}  # of each week, by its Monday
    for year in range(season.n):
        days = set().union(*(harvest_days(pair, name, year) for name in names))
        for monday in {monday_of(pair.plan.date(day)) for day in days}:
            years[monday] = years.get(monday, 0) + 1
    weeks = epicotyl.coverage(pair.prospect, names).weeks
    theirs = {monday_of(week.start): week.years for week in weeks}
    if {monday: count for monday, count in theirs.items() if count} != years:
        found.append((names, theirs, years))
    return found


def monday_of(day):
    return day - datetime.timedelta(days=day.weekday())


def differing_yields(pair):
    """One unit a plant and day of harvest: as many units as days, of the plants that there are."""
    season, found = pair.season, []
    gives = epicotyl.harvest.HarvestYield(
        epicotyl.harvest.YieldShape.box(pair.plan.season_days), 1.0
    )
    for name in pair.resolved:
        if "first_harvest" not in pair.plan.successions[name].events:
            continue
        theirs = epicotyl.harvest.expected_yield(pair.prospect, name, gives)
        days = np.array([len(harvest_days(pair, name, year)) for year in range(season.n)])
        mine = theirs.possible * days / pair.plan.season_days
        if not np.allclose(theirs.totals, mine, rtol=1e-9, atol=1e-9):
            found.append((name, theirs.totals, mine))
    return found


def differing_harvests(pair):
    """From when to when there is something to pick, and what ends it, with heat and without."""
    season, found = pair.season, []
    for name in pair.resolved:
        if "first_harvest" not in pair.plan.successions[name].events:
            continue
        for heat_stops in (True, False):
            mine = [
                season.harvest(name, pair.days, year, heat_stops=heat_stops) or (NEVER, NEVER, None)
                for year in range(season.n)
            ]
            begun, until, ended_by = zip(*mine, strict=True)
            theirs = epicotyl.harvest.harvest_spans(pair.prospect, name, heat_stops=heat_stops)
            if theirs.ended_by != list(ended_by) or not (
                same_days(theirs.begin, pair.dates(begun))
                and same_days(theirs.end, pair.dates(until))
            ):
                found.append((name, heat_stops, theirs, theirs.end, theirs.ended_by, mine))
    return found


def differing_nights(pair):
    """Nights to act by place, by succession, by both and in all: a night in a place counts once."""
    season, found = pair.season, []
    errands = [set() for _ in range(season.n)]  # of each year (succession, place, night)
    for name in pair.resolved:
        for at, stage in enumerate(pair.plan.successions[name].stages):
            for year in range(season.n):
                nights = season.nights_to_act(name, pair.days, at, year)
                errands[year] |= {(name, stage.place.name, night) for night in nights}
    for place in [*pair.plan.places, None]:
        for name in [*pair.plan.successions, None]:
            mine = [
                len({(w, d) for n, w, d in year if place in (w, None) and name in (n, None)})
                for year in errands
            ]
            theirs = pair.prospect.nights_to_act(place, name).tolist()
            if theirs != mine:
                found.append((place, name, theirs, mine))
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
        if theirs.broken_claim == "harvest":
            # good harvest years that would be taken from another
            had = season.harvest_years(theirs.broken, pair.wanted, pair.bound, pair.days)
            kept = had & season.harvest_years(theirs.broken, pair.wanted, pair.bound, days)
            if len(kept) != theirs.good_one_day_later or kept == had:
                found.append((name, "harvest years a day later", had, kept, theirs))
            continue
        if theirs.broken_claim not in ("target", "links"):
            # nothing to break after the season's last day; and for a harvest in a window the
            # most good years may be more than are asked for
            after = season.claim(name, later, pair.wanted, pair.bound, days)
            fewer = pair.plan.successions[name].target.kind == "in_harvest" and (
                after.good < claim.good
            )
            succession = pair.plan.successions[name]
            early = succession.early and succession.has_choice
            # what is sown early breaks no claim of anyone's
            kept = all(
                season.claim(other, later, pair.wanted, pair.bound, days).holds
                for other in ([name] if early else [])
            )
            if pair.planned[name] < pair.plan.season_days:
                if not (fewer or (early and kept)):
                    found.append((name, "no claim named", after, theirs))
                if after.good != theirs.good_one_day_later:
                    found.append((name, "a day later", after, theirs))
            continue
        after = season.claim(theirs.broken, later, pair.wanted, pair.bound, days)
        count = after.good if theirs.broken_claim == "target" else after.links_kept
        if count != theirs.good_one_day_later:
            found.append((name, "a day later", after, theirs))
        wanted = after.needed if theirs.broken_claim == "target" else after.links_needed
        if count >= wanted:
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
                    year,
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


def reckoned_twice(document, record, count, *, lived=None, own_calendar=True):
    """A pair made of tables and a record; `count` season years are asked for. `lived` is the
    record of the years that come, where these are not those planned for."""
    plan = read_plan(document)
    years, climate = season_years_twice(plan, record, count)
    calendar = epicotyl.schedule(epicotyl.plan(document), climate)
    if lived:
        lived, climate = season_years_twice(plan, lived, count)
    prospect = epicotyl.simulate(calendar, climate, threads=1)
    return Pair(calendar, prospect, plan, years, lived=lived, own_calendar=own_calendar)


def season_years_twice(plan, record, count):
    """The season years of both, which must be the same."""
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
    return years, climate


def differences(pair, comparisons=None):
    found = {compare.__name__: compare(pair) for compare in comparisons or COMPARISONS}
    return {name: differing for name, differing in found.items() if differing}


# What becomes of a given calendar.
FOLLOWED = [
    differing_days,
    differing_shares,
    differing_damage,
    differing_holds,
    differing_losses,
    differing_harvests,
    differing_coverage,
    differing_yields,
    differing_nights,
    differing_room,
]
COMPARISONS = [
    differing_sowings,
    differing_planned_days,
    *FOLLOWED,
    differing_links,
    broken_claims,
    broken_risks,
]
