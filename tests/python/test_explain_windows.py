"""Both ends of a window explained, and why a succession has no days."""

import datetime

import pytest

epicotyl = pytest.importorskip("epicotyl")

DAY = datetime.date


def test_a_window_is_explained_from_its_left_bound_to_its_right_bound(known):
    # On the bench 20 days; out on 1 April; 10 days in the beds, and 7 days of harvest.
    windows = epicotyl.planting_windows(known.plan, known.climate, 2001)
    why = epicotyl.explain(windows, "chard 1", "transplant")
    assert [one.code for one in why] == [
        "window",
        "window.earliest.target",
        "window.latest.target",
    ]
    assert why[0].values == {
        "year": 2001,
        "earliest": DAY(2027, 4, 1),
        "latest": DAY(2027, 4, 1),
        "slack": 0,
    }
    sown = epicotyl.explain(windows, "chard 1", "sow")
    assert [one.code for one in sown] == [
        "window",
        "window.earliest.season_start",
        "window.latest.stage",
        "window.latest.target",
    ]
    assert sown[2].values["day"] == DAY(2027, 3, 12)
    assert sown[2].values["from_event"] == "transplant"
    assert sown[2].values["from_day"] == DAY(2027, 4, 1)
    assert str(sown[2]) == (
        "sow no later than 12 Mar, as transplant comes no later than 1 Apr (the time it takes "
        "after sow in bench)"
    )


def test_a_conflict_is_explained_step_by_step(known):
    hasty = known.plan.with_not_before("chard 2", transplant=DAY(2027, 6, 5))
    windows = epicotyl.planting_windows(hasty, known.climate, 2001)
    why = epicotyl.explain(windows, "chard 2", "sow")
    assert [one.code for one in why] == [
        "conflict.not_before",
        "conflict.stage",
        "conflict.broken",
    ]
    assert why[1].values["day"] == DAY(2027, 6, 15)
    assert why[2].values == {
        "kind": "target",
        "day": DAY(2027, 6, 10),
        "field": "succession[2].target",
    }


def test_names_and_kinds_are_checked(known):
    windows = epicotyl.planting_windows(known.plan, known.climate, 2001)
    with pytest.raises(epicotyl.InvalidInput, match='the nearest is "chard 1"'):
        epicotyl.explain(windows, "chard 11", "sow")
    with pytest.raises(TypeError):
        epicotyl.explain(known.prospect, "chard 1", "sow")
    with pytest.raises(TypeError):
        epicotyl.season.why_unresolved(windows, "chard 1")


def test_why_a_succession_has_no_days_is_a_proof_with_cures(known):
    hasty = known.plan.with_not_before("chard 2", transplant=DAY(2027, 6, 5))
    calendar = epicotyl.schedule(hasty, known.climate)
    assert [one.succession for one in calendar.unresolved] == ["chard 2"]
    assert epicotyl.season.why_unresolved(calendar, "chard 1") is None
    why = epicotyl.season.why_unresolved(calendar, "chard 2")
    # Planted on 5 June it is ready on 15 June, in the warm year on 10 June: one of ten.
    assert (why.succession, why.years, why.needed, why.possible) == ("chard 2", 10, 8, 1)
    assert [one.years for one in why.failures] == [[y for y in range(2001, 2011) if y != 2005]]
    assert why.failures[0].broken.kind == "target"
    assert why.year == 2001
    assert [step.when for step in why.proof.steps] == [DAY(2027, 6, 5), DAY(2027, 6, 15)]
    # 5 days sooner planted, 5 days less in the tunnel, or asked 5 days later.
    assert [(cure.what.kind, cure.days) for cure in why.cures] == [
        ("not_before", 5),
        ("stage", 5),
        ("target", 5),
    ]
    assert str(why.cures[2]) == 'aim for first harvest of "chard 2" 5 days later: on 15 Jun'
    assert str(why).startswith('"chard 2" can be kept in 1 of 10 years, and 8 are wanted; in 2001:')
    assert hash(why) == hash(epicotyl.season.why_unresolved(calendar, "chard 2"))
    later = hasty.with_target_moved("chard 2", days=5)
    assert epicotyl.schedule(later, known.climate).unresolved == []
    sooner = hasty.with_not_before("chard 2", transplant=DAY(2027, 6, 1))
    assert epicotyl.schedule(sooner, known.climate).unresolved != []
    enough = hasty.with_not_before("chard 2", transplant=DAY(2027, 5, 31))
    assert epicotyl.schedule(enough, known.climate).unresolved == []


def test_a_season_that_begins_too_late_is_cured_by_an_earlier_start(known):
    early = known.plan.with_season(start=DAY(2027, 3, 15), days=292)
    climate = epicotyl.Climate(known.record, latitude=51.9, season_start=(3, 15), season_days=292)
    calendar = epicotyl.schedule(early, climate)
    why = epicotyl.season.why_unresolved(calendar, "chard 1")
    # Out on 1 April: sown on 12 March, 3 days before the season.
    (cure,) = [one for one in why.cures if one.what.kind == "season_start"]
    assert cure.days == 3
    assert str(cure) == (
        "sow before the season starts: give season_start = 2027-03-12 and season_days = 295"
    )
