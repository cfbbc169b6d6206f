"""Moves on random farms so that the room suffices: what they may not break nor leave unsaid."""

import os
from pathlib import Path

import numpy as np
import pytest

from fit_reckoned import (
    DONE,
    Fit,
    crowded,
    field_by_hand,
    fields_of,
    moved_days,
    reckoned_prices,
    risks,
    say_event,
    sentences,
    told_days,
)

epicotyl = pytest.importorskip("epicotyl")

FARMS = int(os.environ.get("EPICOTYL_RANDOM_FARMS", "150")) // 3
FARM = Path(__file__).resolve().parents[2] / "examples" / "quillet_hollow" / "farm.toml"
MOST_SHIFT = 14


def demo_with_less_room():
    """The demo farm with more and less room than it has: waves, links, repeats, thirty years."""
    farm = epicotyl.open_season(FARM)
    for share in (0.55, 0.7, 0.85, 1.0):
        tables = farm.plan.to_dict()
        for place in tables["places"].values():
            for kind in {"trays", "bed", "area"} & set(place):
                place[kind] *= share
        yield f"demo with {share} of its room", epicotyl.plan(tables), farm.climate


@pytest.fixture(scope="module")
def fits():
    """Each farm with all moves, and without other places, so that the others are met more often."""
    farms = [(seed, *crowded(seed)) for seed in range(FARMS)]
    return [
        Fit(*farm, places=places)
        for farm in (*farms, *demo_with_less_room())
        for places in (True, False)
    ]


def test_no_move_breaks_what_held(fits):
    for of in fits:
        plan, fit = of.before_plan, of.fit
        assert fit.bound <= fit.cost + 1e-9
        assert {one.succession for one in fit.after.unresolved} <= of.unresolved
        moved = {one.succession for one in fit.moves}
        for name in plan.successions:
            if name in of.unresolved:
                continue
            if name not in moved:
                assert [part for part, *_ in of.parts(name)] == [name]
                for event in plan.events(name):
                    assert fit.after.date(name, event) == fit.before.date(name, event)
                    same = np.array_equal(
                        of.before.days(name, event), of.after.days(name, event), equal_nan=True
                    )
                    assert same
            for part, *_ in of.parts(name):
                allowed = int(risks(plan, name) * of.years + 1e-9)
                before, after = of.before, of.after
                for count in (
                    lambda prospect, one: prospect.damage(one).damaged,
                    lambda prospect, one: prospect.too_hot(one).damaged,
                    of.lost,
                ):
                    assert count(after, part) <= max(allowed, count(before, name)), of.label
                assert after.overheld(part).overheld <= before.overheld(name).overheld
                claim = fit.after.claim(part)
                assert claim.good >= min(claim.needed, fit.before.claim(name).good)
        kept = {(one.first, one.then): one.kept for one in fit.before.within_counts}
        for one in fit.after.within_counts:
            assert one.kept >= kept.get((one.first, one.then), 0)
        over = [one for one in epicotyl.occupancy(fit.after).overflows if one.what != "closed"]
        assert bool(over) != fit.fits
        names = {one.succession for one in fit.short_of}
        assert {each for one in over for each in one.last_in} <= names
    assert sum(len(of.fit.moves) for of in fits) > FARMS // 4


def test_every_sentence_is_what_the_calendars_and_prospects_say(fits):
    kinds = {}
    for of in fits:
        for name in dict.fromkeys(one.succession for one in of.fit.moves):
            moves = [one for one in of.fit.moves if one.succession == name]
            assert [one.sentence for one in moves] == list(sentences(of, name)), of.label
            for part, _, is_moved in of.parts(name):
                if not is_moved:
                    continue
                told = tuple(told_days(of, name, part))
                for one in moves:
                    assert one.days_moved == (() if one.what == "split" else told), of.label
                    kinds[one.what] = kinds.get(one.what, 0) + 1
    print(f"\n{len(fits)} fits, sentences: {kinds}")


def test_every_day_that_moves_by_more_than_one_is_in_the_sentences(fits):
    told_of = 0
    for of in fits:
        text = {one.succession: "" for one in of.fit.moves}
        for one in of.fit.moves:
            text[one.succession] += one.sentence + "\n"
        for name in of.before_plan.successions:
            for part, *_ in of.parts(name) if name not in of.unresolved else []:
                for event, was, now in moved_days(of, name, part):
                    if was == now or (was and now and abs((now - was).days) <= 1):
                        continue
                    words = DONE.get(event, say_event(event))
                    said = f"{words} {of.day(now)} instead of {of.day(was)}"
                    assert said in text[name], (of.label, said)
                    told_of += 1
    print(f"\n{len(fits)} fits, {told_of} days that move by more than one, all told")


def test_no_priced_day_moves_by_more_than_it_may_and_prices_add_up_to_the_cost(fits):
    for of in fits:
        for name in dict.fromkeys(one.succession for one in of.fit.moves):
            prices, days = reckoned_prices(of, name)
            assert days <= MOST_SHIFT, of.label
            costs = [one.cost for one in of.fit.moves if one.succession == name]
            assert costs == pytest.approx(prices), (of.label, name)
        assert sum(one.cost for one in of.fit.moves) == pytest.approx(of.fit.cost)


def test_the_field_holds_what_it_held_on_the_days_of_the_changed_plan(fits):
    same, all_of = 0, 0
    for of in fits:
        wanted, more = field_by_hand(of)
        before, after = epicotyl.occupancy(of.fit.before), epicotyl.occupancy(of.fit.after)
        for place, kind in fields_of(of.before_plan.to_dict()):
            nothing = np.zeros(of.before_plan.season_days)
            _, space = after.space(place, kind)
            least = wanted.get((place, kind), nothing)
            most = least + more.get((place, kind), nothing)
            assert (space >= least - 1e-6).all(), (of.label, place, kind)
            assert (space <= most + 1e-6).all(), (of.label, place, kind)
            all_of += 1
            same += int(np.abs(space - before.space(place, kind)[1]).max() < 1e-6)
    print(f"\n{len(fits)} fits, {all_of} fields, {same} as before on every day")
