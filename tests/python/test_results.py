"""Results: frozen values with the fields of the library's structs, whatever made or pickled them.

`pickles/results/in_order.gz` was written once, when a result was a dataclass in Python whose pickle
held its parts in order, and is never written again.
"""

import copy
import dataclasses
import gzip
import pickle
from datetime import date, timedelta
from pathlib import Path

import numpy as np
import pytest

from public_names import floors
from test_old_pickles import example_plan, example_record

epicotyl = pytest.importorskip("epicotyl")

PICKLE = Path(__file__).parent / "pickles" / "results" / "in_order.gz"


def results():
    """Results of several kinds, by name, as they were when the pickle was written."""
    plan, record = example_plan(), example_record()
    climate = epicotyl.Climate(record, latitude=51.9, season_days=365, years="all")
    calendar = epicotyl.schedule(plan, climate, reliability=0.6)
    prospect = epicotyl.simulate(calendar, climate)
    name = plan.successions[0]
    hasty = plan.with_not_after(name, transplant=date(2027, 1, 15))
    hasty_calendar = epicotyl.schedule(hasty, climate)
    windows = epicotyl.planting_windows(plan, climate, climate.years[0])
    return {
        "reasons": epicotyl.explain(calendar, name, "sow"),
        "claim": calendar.claim(name),
        "damage": prospect.damage(name),
        "overheld": prospect.overheld(name),
        "chains": windows.tightest_chains(),
        "conflicts": epicotyl.planting_windows(hasty, climate, climate.years[0]).conflicts,
        "unresolved": hasty_calendar.unresolved,
        "cures": hasty_calendar.cures(name),
        "comparison": epicotyl.compare(calendar, epicotyl.schedule(plan, climate, reliability=1.0)),
        "there": epicotyl.occupancy(calendar).there("beds", calendar.date(name, "transplant")),
        "coverage": epicotyl.coverage(prospect, crop="lettuce"),
        "fit": epicotyl.fit_to_space(plan, climate).moves,
    }


@pytest.fixture(scope="module")
def today():
    return results()


#: Fields of wording, which may change from release to release.
WORDING = ("sentence", "_text", "cure")


def same(one, other, but=()):
    """Equal, arrays too, but for some fields."""
    if isinstance(one, (list, tuple)):
        return len(one) == len(other) and all(
            same(a, b, but) for a, b in zip(one, other, strict=True)
        )
    if dataclasses.is_dataclass(one):
        return type(one) is type(other) and all(
            same(getattr(one, each.name), getattr(other, each.name), but)
            for each in dataclasses.fields(one)
            if each.name not in but
        )
    if isinstance(one, np.ndarray):
        return np.array_equal(one, other, equal_nan=True)
    return one == other


def test_results_that_were_pickled_in_order_are_read(today):
    read = pickle.loads(gzip.decompress(PICKLE.read_bytes()))
    assert read.keys() == today.keys()
    for name, value in today.items():
        assert same(read[name], value, but=WORDING), name


def test_every_class_is_found_where_older_pickles_say_that_it_is():
    for floor in floors():
        for name in floor.__all__:
            if isinstance(getattr(floor, name), type):
                assert getattr(epicotyl, name) is getattr(floor, name)


@pytest.mark.parametrize("protocol", range(2, pickle.HIGHEST_PROTOCOL + 1))
def test_results_come_back_from_a_pickle_and_a_copy_as_they_were(protocol, today):
    for value in today.values():
        assert same(pickle.loads(pickle.dumps(value, protocol)), value)
        assert same(copy.deepcopy(value), value)


def test_pickle_holds_fields_by_name_and_what_it_lacks_is_what_a_new_one_has(today):
    claim = today["claim"]
    state = claim.__getstate__()
    assert state == dataclasses.asdict(claim)
    del state["broken_claim"]
    older = type(claim).__new__(type(claim))
    older.__setstate__(state | {"a_field_of_a_later_release": 1})
    assert older == dataclasses.replace(claim, broken_claim="")


def test_results_cannot_be_changed(today):
    for value in (today["claim"], today["damage"], today["reasons"][0]):
        for each in dataclasses.fields(value):
            with pytest.raises(dataclasses.FrozenInstanceError):
                setattr(value, each.name, None)
        with pytest.raises((AttributeError, TypeError)):
            value.other = 1


def test_results_are_matched_shown_and_hashed_by_their_fields(today):
    claim = today["claim"]
    match claim:
        case epicotyl.season.SowingClaim(years, needed, good=good):
            assert (years, needed, good) == (claim.years, claim.needed, claim.good)
        case _:
            pytest.fail("a claim is no claim")
    assert repr(claim).startswith(f"SowingClaim(years={claim.years}, needed={claim.needed}, good=")
    assert hash(claim) == hash(copy.deepcopy(claim))
    assert len({claim, dataclasses.replace(claim)}) == 1
    assert claim != dataclasses.replace(claim, good=claim.good + 1)
    assert str(today["reasons"][0]) == today["reasons"][0].sentence


def test_what_python_adds_belongs_to_what_the_library_makes(today):
    assert today["damage"].share == today["damage"].damaged / today["damage"].years
    moved = epicotyl.what_if.MovedEvent("a", "sow", date(2027, 3, 1), date(2027, 3, 8))
    assert timedelta(moved.days) == moved.after - moved.before
    assert str(today["unresolved"][0]).startswith("lettuce")


if __name__ == "__main__":
    PICKLE.parent.mkdir(exist_ok=True)
    if not PICKLE.exists():
        PICKLE.write_bytes(gzip.compress(pickle.dumps(results(), 2), mtime=0))
