"""Seasons walked again with requirements left out, by the reference reckoning.

Small farms in which nearly everything is linked, and two walks: of planned days, in which all
planned sowings and target days stay as they are, and of the least plan, in which the day of a
decision aimed at is found.
"""

import random

from random_farms import Writer, add_links, random_farm
from reference_season import NEVER, quantile


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


def quantile_of_need(days, need):
    return sorted(days)[need - 1]
