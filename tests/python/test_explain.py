"""Explain names what holds the day: without it the day moves, without anything else it stays.

On random farms with many links the reference reckoning, which walks a season from day to day and
knows nothing of the library, leaves out one requirement after the other. For a planned day that is
a quantile, all planned sowings and target days stay as they are and the season is walked again. A
requirement that the chain of reasons names must move the day; one that is named as tied must not do
so alone, but all tied ones together with those named; and one that is not named must not.
EPICOTYL_EXPLAIN_FARMS says how many farms.
"""

import os

import pytest

from reckoned_twice import reckoned_twice
from recounted import counts_in_sentence, counts_in_values, recount, recount_planned
from reference_season import NEVER
from walked_without import LeastWalk, Walk, linked_farm

epicotyl = pytest.importorskip("epicotyl")

FARMS = int(os.environ.get("EPICOTYL_EXPLAIN_FARMS", "12"))


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
