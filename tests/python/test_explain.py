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
import re

import pytest

from random_farms import Writer, add_links, random_farm
from reckoned_twice import reckoned_twice
from reference_season import NEVER, allowed, quantile

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
    """The season of a calendar, walked again with requirements left out.

    Where the first of several decides, whatever is left out of the others could decide in its
    stead: there a requirement gives way by a day instead of altogether (`gives`)."""

    def __init__(self, pair):
        self.pair, self.season, self.plan = pair, pair.planning, pair.plan
        self.n = self.season.n
        self.gives = False

    def upstream(self, wanted):
        """The succession and all that it waits for."""
        found = [wanted]
        for name in found:
            for link in self.plan.links:
                if name in link.then:
                    found += [first for first in link.first if first not in found]
        return found

    def first_decides(self, wanted):
        """Whether it waits, directly or not, for the first of several."""
        upstream = self.upstream(wanted)
        return any(
            not link.of_all and len(link.first) > 1 and set(link.then) & set(upstream)
            for link in self.plan.links
        )

    def requirements(self, wanted):
        """What can be left out of the successions that `wanted` waits for, and of itself."""
        found = []
        for name in self.upstream(wanted):
            succession = self.plan.successions[name]
            bounds = self.pair.bound[name]
            for event, day in enumerate(bounds.before):
                if day > 0 and not succession.is_outcome(event):
                    found.append(("bound", name, succession.events[event]))
            found += self.planned_requirements(name, succession)
            found += [("clock", name, event) for event in succession.events[1:]]
            for number, link in enumerate(self.plan.links):
                if name not in link.then:
                    continue
                firsts = link.first if link.of_all else [None]
                found += [("link", name, link.then_event, number, first) for first in firsts]
        return found

    def planned_requirements(self, name, succession):
        found = [] if self.aims_at_sowing(name) else [("sowing", name, succession.events[0])]
        if not self.season.outcome_target(succession):
            found.append(("target", name, succession.target_event))
        return found

    def days(self, without):
        """days[name][event][year] as `Season.simulate` has them."""
        days = {}
        for name in self.season.order():
            if name not in self.pair.planned:
                continue
            rows = [
                self.chain(name, year, days, without, self.sown(name), self.pair.wanted[name])
                for year in range(self.n)
            ]
            days[name] = [list(row) for row in zip(*rows, strict=True)]
        return days

    def aims_at_sowing(self, name):
        """A sowing that is the target is planned once: as the target."""
        succession = self.plan.successions[name]
        return succession.aim == 0 and not self.season.outcome_target(succession)

    def sown(self, name):
        return 0 if self.aims_at_sowing(name) else self.pair.planned[name]

    def less(self, requirement, day, without):
        """A day that a requirement gives; one day sooner, or the first, where it gives way."""
        if requirement not in without or day == NEVER:
            return 0 if requirement in without and not self.gives else day
        return max(0, day - 1) if self.gives else 0

    def link_floor(self, name, event, year, days, without):
        floor = 0
        for number, link in enumerate(self.plan.links):
            if name not in link.then or link.then_event != event or link.after is None:
                continue
            of_several = ("link", name, event, number, None)
            by_first = []
            for first in link.first:
                at = self.plan.successions[first].events.index(link.first_event)
                came, day = days[first][at][year], NEVER
                if came != NEVER:
                    day = self.season.clock_ready(link.after, link.after_place, None, year, came)
                by_first.append(self.less(("link", name, event, number, first), day, without))
            decides = max(by_first) if link.of_all else min(by_first)
            floor = max(floor, self.less(of_several, decides, without))
        return floor

    def bound(self, name, at, without):
        event = self.plan.successions[name].events[at]
        return self.less(("bound", name, event), self.pair.bound[name].before[at], without)

    def chain(self, name, year, days, without, sown, wanted):
        """One season year. A decision target waits for the day `wanted`; None: it does not."""
        succession = self.plan.successions[name]
        row = []
        for at, event in enumerate(succession.events):
            if at == 0:
                day = self.less(("sowing", name, event), sown, without)
            else:
                day = self.season.end(succession, at - 1, year, row[-1])
                day = self.less(("clock", name, event), day, without)
            if not succession.is_outcome(at):
                day = max(day, self.bound(name, at, without))
                day = max(day, self.link_floor(name, event, year, days, without))
                aimed = at == succession.aim and not self.season.outcome_target(succession)
                if aimed and wanted is not None:
                    day = max(day, self.less(("target", name, event), wanted, without))
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
                day = self.less(("target", name, word), self.pair.wanted[name], without)
            elif at == 0:
                day = self.less(("sowing", name, word), self.pair.planned[name], without)
            else:
                outcome = succession.is_outcome(at) or at == len(succession.stages)
                share = 0.5 if outcome else succession.reliability
                day = quantile(days[name][at], share)
            best = max(best, day)
        return best


class LeastWalk(Walk):
    """The least plan, in which the day of a decision aimed at is found, made again without some
    of its requirements: sowings as early as bounds and links allow in enough years, targets on the
    day asked for or when enough years are ready. A harvest that is scanned for stays sown where it
    is, and the days that rules ask for stay."""

    def planned_requirements(self, name, succession):
        if succession.target.kind == "in_harvest":
            return [("sowing", name, succession.events[0])]
        if self.season.outcome_target(succession):
            return []
        return [("asked", name, succession.target_event)]

    def target_day(self, wanted, without=()):
        days, aims = {}, {}
        self.unwaited = {}  # before a target waits for its day
        upstream = self.upstream(wanted)
        for name in self.season.order():
            if name not in upstream:
                continue
            succession = self.plan.successions[name]
            sown = self.pair.planned[name]
            if succession.target.kind != "in_harvest":
                event = succession.events[0]
                floors = [
                    self.link_floor(name, event, year, days, without) for year in range(self.n)
                ]
                free = quantile_of_need(floors, self.season.links_need(succession))
                sown = max(free, self.bound(name, 0, without))

            def rows(wait, name=name, sown=sown):
                years = range(self.n)
                found = [self.chain(name, year, days, without, sown, wait) for year in years]
                return [list(row) for row in zip(*found, strict=True)]

            days[name] = self.unwaited[name] = rows(None)
            if self.season.outcome_target(succession):
                continue
            asked = self.season.asked(succession)
            aims[name] = self.less(("asked", name, succession.target_event), asked, without)
            if succession.target.kind != "on":
                ready = quantile_of_need(days[name][succession.aim], self.season.need(succession))
                aims[name] = max(aims[name], ready, self.bound(name, succession.aim, without))
            days[name] = rows(aims[name])
        return aims[wanted]


def names(reason, requirement, plan):
    """True where a reason of the chain names a requirement."""
    kind, name, event, *rest = requirement
    if (reason.succession, reason.event) != (name, event):
        return False
    if kind == "bound":
        return "no_sooner" in reason.values
    if kind == "asked":
        return reason.code.startswith("rule.") and "no_sooner" not in reason.values
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
        if at > 0 and (reason.code.startswith("sow.") or "planned" in reason.values):
            stop = at
            break
    return chain[:stop]


def misnamed(walk, name, chain, day, day_without):
    """Requirements that a chain names though the day stays without them, or does not name though
    it moves. `day_without` gives the day that is left of requirements."""
    found, tied = [], []
    requirements = walk.requirements(name)
    for one in requirements:
        naming = [reason for reason in chain if names(reason, one, walk.plan)]
        moves = day_without([one]) < day
        if moves and not naming and walk.first_decides(name):
            walk.gives = True
            moves = day_without([one]) < day
            walk.gives = False
        is_tied = bool(naming) and all("tied" in reason.values for reason in naming)
        if is_tied:
            tied.append(one)
        several = [other for other in requirements if other[:3] == one[:3] and other != one]
        if several or (one[0] == "bound" and len(naming) > 1):
            continue  # not told apart by what a reason says
        if moves != (bool(naming) and not is_tied):
            found.append((name, one, moves, [str(reason) for reason in chain]))
    if tied and not day_without(tied) < day:
        found.append((name, "tied", tied, [str(reason) for reason in chain]))
    return found


def misnamed_in_planned_days(pair):
    walk, found = Walk(pair), []
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

            def day_without(some, name=name, event=event):
                return walk.planned(name, event, some)

            found += misnamed(walk, name, chain, day, day_without)
    return found


def misnamed_in_targets(pair):
    """Of decisions aimed at; and how many were looked at."""
    walk, found, looked_at = LeastWalk(pair), [], 0
    for name in pair.resolved:
        succession = pair.plan.successions[name]
        if pair.season.outcome_target(succession):
            continue
        chain = epicotyl.explain(pair.calendar, name, succession.target_event)
        if succession.target.kind == "on":
            assert chain[0].code == "rule.on"
            assert "no_sooner" not in chain[0].values
            continue
        day = walk.target_day(name)
        if day != pair.wanted[name]:
            # Only what was scanned again, when others had moved, leaves the least plan.
            scanned = [pair.plan.successions[one].target.kind for one in walk.upstream(name)]
            assert "in_harvest" in scanned
            assert chain[0].code == "target.ready"
            continue
        looked_at += 1

        def day_without(some, name=name):
            return walk.target_day(name, some)

        found += misnamed(walk, name, head_of(chain), day, day_without)
    return found, looked_at


@pytest.mark.parametrize("seed", range(FARMS))
def test_without_what_a_reason_names_the_day_moves_and_without_anything_else_it_stays(seed):
    farm = linked_farm(seed)
    pair = reckoned_twice(farm.document, farm.record, farm.years, own_calendar=False)
    assert misnamed_in_planned_days(pair) == []
    found, _ = misnamed_in_targets(pair)
    assert found == []


@pytest.mark.parametrize("seed", range(FARMS))
def test_the_order_of_links_in_the_file_changes_no_reason(seed):
    farm = linked_farm(seed)
    if len(farm.document.get("link", [])) < 2:
        return
    pair = reckoned_twice(farm.document, farm.record, farm.years, own_calendar=False)
    turned = {**farm.document, "link": farm.document["link"][::-1]}
    other = epicotyl.schedule(epicotyl.plan(turned), pair.calendar.climate)
    for name in pair.plan.successions:
        for event in pair.plan.successions[name].events:
            assert epicotyl.explain(pair.calendar, name, event) == epicotyl.explain(
                other, name, event
            )


@pytest.mark.parametrize("seed", range(FARMS))
def test_counts_in_sentences_are_those_of_the_second_reckoning(seed):
    farm = linked_farm(seed)
    pair = reckoned_twice(farm.document, farm.record, farm.years, own_calendar=False)
    for name in pair.resolved:
        for event in pair.plan.successions[name].events:
            chain = epicotyl.explain(pair.calendar, name, event)
            for reason in chain:
                recount(pair, reason)
            recount_planned(pair, name, event, chain[0])


@pytest.mark.parametrize("seed", range(FARMS))
def test_every_count_in_a_sentence_is_among_its_values(seed):
    farm = linked_farm(seed)
    pair = reckoned_twice(farm.document, farm.record, farm.years, own_calendar=False)
    for name in pair.resolved:
        for event in pair.plan.successions[name].events:
            chain = epicotyl.explain(pair.calendar, name, event)
            of_chain = set().union(*(counts_in_values(reason) for reason in chain))
            for reason in chain:
                first, *tied = str(reason).split("; and besides, ")
                assert counts_in_sentence(first) <= counts_in_values(reason), (first, reason)
                # What only ties is told by a reason of its own as well.
                for other in tied:
                    assert counts_in_sentence(other) <= of_chain | counts_in_values(reason)


def counts_in_values(reason):
    """Whole numbers; days also as weeks."""
    found = {value for value in reason.values.values() if type(value) is int}
    for key in ("days", "asked_days"):
        if key in reason.values and reason.values[key] % 7 == 0:
            found.add(reason.values[key] // 7)
    return found


def counts_in_sentence(text):
    """Whole numbers that are neither a date nor a temperature, a chance or part of a name."""
    months = "Jan|Feb|Mar|Apr|May|Jun|Jul|Aug|Sep|Oct|Nov|Dec"
    for pattern in (
        '"[^"]*"',
        rf"\d+ ({months})( \d{{4}})?\b",
        r"-?\d+(\.\d+)? °[CF]",
        r"chance \d+(\.\d+)?",
        r"\(1 year in 10 each\)",
        r"cannot show [^;)]*",
    ):
        text = re.sub(pattern, "", text)
    return {int(number) for number in re.findall(r"\d+", text)}


def recount(pair, reason):
    """Counts of any reason, counted again from the days of the second reckoning."""
    season, plan, values = pair.planning, pair.plan, reason.values
    name = reason.succession
    succession = plan.successions[name]
    assert values.get("years", season.n) == season.n
    if reason.code.startswith("sow."):
        recount_sowing(pair, reason)
        return
    if "allowed_years" in values:
        if reason.code == "bound.open.carried":
            risk = 0.0
        elif reason.code != "rule.risk":  # the default bound, and what it does not cover
            risk = succession.risk
        elif "no_sooner" in values:
            risk = succession.not_before[reason.event].chance
        else:
            risk = succession.target.chance
        assert values["allowed_years"] == allowed(risk, season.n)
        assert f"{values['allowed_years']} of {season.n} years" in str(reason)
    if "asked_allowed_years" in values:
        assert values["asked_allowed_years"] == allowed(succession.target.chance, season.n)
    if "damaged_years" in values:
        damage = season.damage(name, pair.days, reason.event)
        assert values["damaged_years"] == damage.damaged > values["allowed_years"]
        assert f"do damage in {damage.damaged} of {season.n} years" in str(reason)
        assert plan.day(values["first_night"]) == min(damage.first)
    if "sooner_years" in values:
        least = LeastWalk(pair)
        day = least.target_day(name)
        assert day == pair.wanted[name]
        sooner = sum(d < day for d in least.unwaited[name][succession.aim])
        assert values["sooner_years"] == sooner < values["needed_years"]
        assert values["needed_years"] == season.need(succession)
        assert (
            f"it is ready sooner {in_only(sooner, season.n)}, and "
            f"{values['needed_years']} are wanted" in str(reason)
        )
    if "lost_years" in values:
        assert values["lost_years"] == sum(d != NEVER for d in season.losses(name, pair.days))
        assert str(reason).endswith(f"lost to cold in {values['lost_years']} of {season.n} years")


def recount_sowing(pair, reason):
    """A claim, and what becomes of it when the sowing is a day later."""
    season, plan, values = pair.planning, pair.plan, reason.values
    name = reason.succession
    own = season.claim(name, pair.planned, pair.wanted, pair.bound, pair.days)
    if reason.code == "sow.spring":
        succession = plan.successions[name]
        latest = season.latest_sowing(succession, pair.wanted[name], pair.bound[name])
        assert plan.day(values["latest"]) == latest
        assert plan.day(values["no_sooner"]) == season.spring_start(latest)
        return
    assert plan.day(values["day"]) == pair.planned[name]
    assert values["good_years"] == own.good
    assert f"in {own.good} of {season.n} years" in str(reason)
    assert values.get("own_needed_years", values["needed_years"]) == own.needed
    if reason.code == "sow.season_ends":
        assert pair.planned[name] == season.last_day
        return
    if reason.code.startswith("sow.earliest"):  # a day later would break nothing
        assert f"in {own.good} of {season.n} years" in str(reason)
        assert f"and {own.needed} are wanted" in str(reason)
        return
    later = {**pair.planned, name: pair.planned[name] + 1}
    lived = season.simulate(later, pair.wanted, pair.bound)
    broken = values.get("broken", name)
    claim = season.claim(broken, later, pair.wanted, pair.bound, lived)
    what = values.get("broken_claim", "target")
    if what == "harvest":
        had = season.harvest_years(broken, pair.wanted, pair.bound, pair.days)
        kept = had & season.harvest_years(broken, pair.wanted, pair.bound, lived)
        assert (values["needed_years"], values["good_years_one_day_later"]) == (len(had), len(kept))
        assert f"keep only {len(kept)} of the {len(had)} of {season.n} years" in str(reason)
        return
    count, wanted = claim.good, claim.needed
    if what == "links":
        count, wanted = claim.links_kept, claim.links_needed
    assert (values["needed_years"], values["good_years_one_day_later"]) == (wanted, count)
    if reason.code == "sow.most_often_in_harvest":
        assert f"sown a day later, in {count}, and {wanted} are wanted" in str(reason)
        return
    assert count < wanted
    only = f"in {count}" if broken == name else in_only(count, season.n)
    assert f"{only}, and {wanted} are wanted" in str(reason)
    if what == "target":
        ends = breaking(pair, broken, lived)
        assert {k: v for k, v in values.items() if k.startswith("breaks_")} == ends
        for key, years in ends.items():
            more = f" in {years} more year{'s' if years > 1 else ''}"
            assert (more in str(reason)) == (set(ends) != {"breaks_target"}), (key, reason)


def in_only(count, years):
    return f"in only {count} of {years} years" if count else f"in none of {years} years"


def breaking(pair, name, lived):
    """What fails in years that were good, when another sowing is `lived`: the target, each
    `not_after`. One that the target's day keeps is none of its own."""
    season, succession = pair.planning, pair.plan.successions[name]
    by_day = succession.target.kind != "in_harvest"
    lasts = {}
    if by_day:
        lasts["breaks_target"] = (succession.aim, pair.wanted[name])
    for at, last in enumerate(pair.bound[name].after):
        if last != NEVER and not (by_day and at == succession.aim and last >= pair.wanted[name]):
            lasts[f"breaks_not_after_{succession.events[at]}"] = (at, last)
    found = {}
    for year in range(season.n):
        was = [row[year] for row in pair.days[name]]
        if not season.is_good(succession, was, pair.wanted[name], pair.bound[name], year):
            continue
        for key, (at, last) in lasts.items():
            if lived[name][at][year] > last:
                found[key] = found.get(key, 0) + 1
    return found


def recount_planned(pair, name, event, reason):
    """Counts of the reason of a planned day itself."""
    season, plan, values = pair.planning, pair.plan, reason.values
    succession, days = plan.successions[name], pair.days[name]
    at = succession.events.index(event)
    if reason.code == "event.never":
        assert values["reached_years"] == sum(day != NEVER for day in days[at])
        assert in_only(values["reached_years"], season.n) in str(reason)
    planned = pair.calendar.date(name, event)
    if planned is None:
        return
    planned = plan.day(planned)
    if at > 0:
        clock = [
            season.end(succession, at - 1, year, days[at - 1][year]) for year in range(season.n)
        ]
    if "good_years" in values and at > 0:
        claim = season.claim(name, pair.planned, pair.wanted, pair.bound, pair.days)
        assert values["good_years"] == claim.good
        assert f"which holds in {claim.good} of {season.n} years" in str(reason)
    if "by_then_years" in values:
        assert values["by_then_years"] == sum(day <= planned for day in days[at])
        assert f"{values['by_then_years']} of {season.n}" in str(reason) or "early" in values
    if "early" in values:
        assert plan.day(values["early"]) == quantile(days[at], 0.1)
    if reason.code == "outcome.usual":
        late = quantile(days[at], 0.9)
        assert values.get("late") == (None if late == NEVER else plan.date(late))
    if "ready_since" in values:
        since = quantile_of_need(clock, season.need(succession))
        assert plan.day(values["ready_since"]) == since
        assert values["ready_years"] == sum(day <= since for day in clock)
        assert values.get("spare_days", 0) == max(0, planned - since)
    elif at > 0 and (reason.event, event) == (succession.target_event,) * 2:
        is_decision = not season.outcome_target(succession)
        assert not is_decision or quantile_of_need(clock, season.need(succession)) == NEVER
    if "waiting_years" in values:
        allowed_day = [plan.day(values["no_sooner"])] * season.n if "no_sooner" in values else None
        if allowed_day is None:
            allowed_day = link_days(pair, name, event, values)
        waits = {
            sum(c < d != NEVER and a == d for c, d, a in zip(clock, days[at], by_year, strict=True))
            for by_year in ([allowed_day] if "no_sooner" in values else allowed_day)
        }
        assert values["waiting_years"] in waits
        # One that ties need not hold up any year.
        count = f"in {values['waiting_years']} of {season.n} years"
        assert count in str(reason) or (values["waiting_years"] == 0 and "tied" in values)


def link_days(pair, name, event, values):
    """Year by year the day that each link allows which the values can mean."""
    season, found = pair.planning, []
    for link in pair.plan.links:
        if name not in link.then or link.then_event != event or link.after is None:
            continue
        if values["after"] not in link.first or values["after_event"] != link.first_event:
            continue
        row = []
        for year in range(season.n):
            first = season.first_of(link, year, pair.days)
            clock = (link.after, link.after_place, None, year)
            row.append(NEVER if first == NEVER else season.clock_ready(*clock, first))
        found.append(row)
    return found


def quantile_of_need(days, need):
    return sorted(days)[need - 1]
