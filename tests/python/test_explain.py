"""Explain names what holds the day: without it the day moves, without anything else it stays.

On random farms with many links the reference reckoning, which walks a season from day to day and
knows nothing of the library, leaves out one requirement after the other. For a planned day that is
a quantile, all planned sowings and target days stay as they are and the season is walked again. A
requirement that the chain of reasons names must move the day; one that is named as tied must not do
so alone, but all tied ones together with those named; and one that is not named must not.
EPICOTYL_EXPLAIN_FARMS says how many farms.
"""

import os
import random

import pytest

from random_farms import Writer, add_links, random_farm
from reckoned_twice import reckoned_twice
from reference_season import NEVER, quantile

epicotyl = pytest.importorskip("epicotyl")

FARMS = int(os.environ.get("EPICOTYL_EXPLAIN_FARMS", "12"))


def linked_farm(seed):
    """A small farm in which nearly everything is linked."""
    farm = random_farm(seed, small=True)
    draw = random.Random(seed * 31 + 7)
    document = farm.document
    document.pop("link", None)
    for batch in document["succession"]:
        batch.pop("repeat", None)
        batch.pop("follows", None)
        batch.pop("gap", None)
    for _ in range(2):
        before = document.get("link", [])
        add_links(draw, Writer(draw, document["units"] == "us"), document, 0.9)
        known = {str((k["first"], k["then"])) for k in before}
        new = [k for k in document.get("link", []) if k not in before]
        document["link"] = before + [k for k in new if str((k["first"], k["then"])) not in known]
    for batch in document["succession"]:
        batch.pop("follows", None)
        batch.pop("gap", None)
    if not document["link"]:
        del document["link"]
    return farm


class Walk:
    """The season of a calendar, walked again with requirements left out."""

    def __init__(self, pair):
        self.pair, self.season, self.plan = pair, pair.planning, pair.plan
        self.n = self.season.n

    def requirements(self, wanted):
        """What can be left out of the successions that `wanted` waits for, and of itself."""
        upstream, found = [wanted], []
        for name in upstream:
            for link in self.plan.links:
                if name in link.then:
                    upstream += [first for first in link.first if first not in upstream]
        for name in upstream:
            succession = self.plan.successions[name]
            bounds = self.pair.bound[name]
            for event, day in enumerate(bounds.before):
                if day > 0 and not succession.is_outcome(event):
                    found.append(("bound", name, succession.events[event]))
            found.append(("sowing", name, succession.events[0]))
            if not self.season.outcome_target(succession):
                found.append(("target", name, succession.target_event))
            found += [("clock", name, event) for event in succession.events[1:]]
            for number, link in enumerate(self.plan.links):
                if name not in link.then:
                    continue
                firsts = link.first if link.of_all else [None]
                found += [("link", name, link.then_event, number, first) for first in firsts]
        return found

    def days(self, without):
        """days[name][event][year] as `Season.simulate` has them."""
        days = {}
        for name in self.season.order():
            if name not in self.pair.planned:
                continue
            rows = [self.chain(name, year, days, without) for year in range(self.n)]
            days[name] = [list(row) for row in zip(*rows, strict=True)]
        return days

    def link_floor(self, name, event, year, days, without):
        floor = 0
        for number, link in enumerate(self.plan.links):
            if name not in link.then or link.then_event != event or link.after is None:
                continue
            if ("link", name, event, number, None) in without:
                continue
            came = []
            for first in link.first:
                if link.of_all and ("link", name, event, number, first) in without:
                    continue
                at = self.plan.successions[first].events.index(link.first_event)
                came.append(days[first][at][year])
            if not came:
                continue
            decides = max(came) if link.of_all else min(came)
            day = NEVER
            if decides != NEVER:
                day = self.season.clock_ready(link.after, link.after_place, None, year, decides)
            floor = max(floor, day)
        return floor

    def chain(self, name, year, days, without):
        succession = self.plan.successions[name]
        row = []
        for at, event in enumerate(succession.events):
            if at == 0:
                day = 0 if ("sowing", name, event) in without else self.pair.planned[name]
            elif ("clock", name, event) in without:
                day = 0
            else:
                day = self.season.end(succession, at - 1, year, row[-1])
            if not succession.is_outcome(at):
                if ("bound", name, event) not in without:
                    day = max(day, self.pair.bound[name].before[at])
                day = max(day, self.link_floor(name, event, year, days, without))
                aimed = at == succession.aim and not self.season.outcome_target(succession)
                if aimed and ("target", name, event) not in without:
                    day = max(day, self.pair.wanted[name])
            row.append(day if day <= self.season.last_day else NEVER)
        return row

    def planned(self, name, event, without=()):
        """The day that a calendar prints for an event."""
        days = self.days(without)
        succession = self.plan.successions[name]
        best = 0
        for at in range(succession.events.index(event) + 1):
            word = succession.events[at]
            if at == succession.aim and not self.season.outcome_target(succession):
                day = 0 if ("target", name, word) in without else self.pair.wanted[name]
            elif at == 0:
                day = 0 if ("sowing", name, word) in without else self.pair.planned[name]
            else:
                outcome = succession.is_outcome(at) or at == len(succession.stages)
                share = 0.5 if outcome else succession.reliability
                day = quantile(days[name][at], share)
            best = max(best, day)
        return best


def names(reason, requirement, plan):
    """True where a reason of the chain names a requirement."""
    kind, name, event, *rest = requirement
    if (reason.succession, reason.event) != (name, event):
        return False
    if kind == "bound":
        return "no_sooner" in reason.values
    if kind == "clock":
        return reason.code in ("stage.takes", "decision.ready", "outcome.usual")
    if kind == "link":
        link = plan.links[rest[0]]
        if reason.code != "link.waits" or reason.values["after_event"] != link.first_event:
            return False
        return reason.values["after"] in ([rest[1]] if rest[1] else link.first)
    return reason.code == {"sowing": "sowing.planned", "target": "target.planned"}[kind]


def head_of(chain):
    """The reasons of the day itself: up to where a planned sowing or target is explained."""
    stop = len(chain)
    for at, reason in enumerate(chain):
        if at > 0 and (reason.code.startswith("sow.") or "asked" in reason.values):
            stop = at
            break
    return chain[:stop]


def check_planned_days(pair):
    walk, found, told = Walk(pair), [], set()
    for name in pair.resolved:
        succession = pair.plan.successions[name]
        for at, event in enumerate(succession.events):
            if at == 0 or event == succession.target_event:
                continue
            day = walk.planned(name, event)
            if day == NEVER:
                continue
            assert pair.calendar.date(name, event) == pair.plan.date(day)
            chain = head_of(epicotyl.explain(pair.calendar, name, event))
            told |= {reason.code for reason in chain}
            tied = []
            for one in walk.requirements(name):
                naming = [reason for reason in chain if names(reason, one, pair.plan)]
                moves = walk.planned(name, event, [one]) < day
                is_tied = bool(naming) and all("tied" in reason.values for reason in naming)
                if is_tied:
                    tied.append(one)
                several = [o for o in walk.requirements(name) if o[:3] == one[:3] and o != one]
                if several or (one[0] == "bound" and len(naming) > 1):
                    continue  # not told apart by what a reason says
                if moves != (bool(naming) and not is_tied):
                    found.append((name, event, one, moves, [str(r) for r in chain]))
            if tied and not walk.planned(name, event, tied) < day:
                found.append((name, event, "tied", tied, [str(r) for r in chain]))
    return found, told


@pytest.mark.parametrize("seed", range(FARMS))
def test_without_what_a_reason_names_the_day_moves_and_without_anything_else_it_stays(seed):
    farm = linked_farm(seed)
    pair = reckoned_twice(farm.document, farm.record, farm.years, own_calendar=False)
    found, _ = check_planned_days(pair)
    assert found == []


@pytest.mark.parametrize("seed", range(FARMS))
def test_the_order_of_links_in_the_file_changes_no_reason(seed):
    farm = linked_farm(seed)
    if len(farm.document.get("link", [])) < 2:
        return
    pair = reckoned_twice(farm.document, farm.record, farm.years, own_calendar=False)
    turned = {**farm.document, "link": farm.document["link"][::-1]}
    other = epicotyl.schedule(epicotyl.plan(turned), pair.calendar.climate)
    for name in pair.resolved:
        for event in pair.plan.successions[name].events:
            assert epicotyl.explain(pair.calendar, name, event) == epicotyl.explain(
                other, name, event
            )


@pytest.mark.parametrize("seed", range(FARMS))
def test_counts_in_sentences_are_those_of_the_second_reckoning(seed):
    farm = linked_farm(seed)
    pair = reckoned_twice(farm.document, farm.record, farm.years, own_calendar=False)
    season = pair.planning
    for name in pair.resolved:
        succession = pair.plan.successions[name]
        for at, event in enumerate(succession.events):
            for reason in epicotyl.explain(pair.calendar, name, event)[:1]:
                recount(pair, season, succession, at, reason)


def recount(pair, season, succession, at, reason):
    """Numbers of the reason of a planned day, counted from the days of the second reckoning."""
    days = pair.days[succession.name]
    values = reason.values
    planned = pair.calendar.date(succession.name, succession.events[at])
    if planned is None:
        return
    planned = pair.plan.day(planned)
    if at > 0:
        clock = [
            season.end(succession, at - 1, year, days[at - 1][year]) for year in range(season.n)
        ]
    if "by_then_years" in values:
        assert values["by_then_years"] == sum(day <= planned for day in days[at])
        assert f"{values['by_then_years']} of {season.n}" in str(reason) or "early" in values
    if "early" in values:
        assert pair.plan.day(values["early"]) == quantile(days[at], 0.1)
    if "ready_since" in values:
        since = quantile_of_need(clock, season.need(succession))
        assert pair.plan.day(values["ready_since"]) == since
        assert values["ready_years"] == sum(day <= since for day in clock)
        assert values.get("spare_days", 0) == max(0, planned - since)
    if "waiting_years" in values:
        if "no_sooner" in values:
            allowed = [pair.plan.day(values["no_sooner"])] * season.n
        else:
            allowed = [None] * season.n
        waits = sum(
            c < d and d != NEVER and (a is None or a == d)
            for c, d, a in zip(clock, days[at], allowed, strict=True)
        )
        if allowed[0] is not None:
            assert values["waiting_years"] == waits
        else:
            assert values["waiting_years"] <= waits
        assert f"in {values['waiting_years']} of {season.n} years" in str(reason)
    if reason.code == "event.never":
        assert values["reached_years"] == sum(day != NEVER for day in days[at])
    if reason.code == "sow.others_wait":
        other = pair.plan.successions[values["broken"]]
        assert values["needed_years"] == season.need(other)
        later = {**pair.planned, succession.name: pair.planned[succession.name] + 1}
        lived = season.simulate(later, pair.wanted, pair.bound)
        claim = season.claim(other.name, later, pair.wanted, pair.bound, lived)
        count = claim.good if values["broken_claim"] == "target" else claim.links_kept
        assert values["good_years_one_day_later"] == count < values["needed_years"]
        assert str(reason).endswith(
            f"in only {count} of {season.n} years, and {values['needed_years']} are wanted"
        )


def quantile_of_need(days, need):
    return sorted(days)[need - 1]
