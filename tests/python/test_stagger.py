"""Staggered and chosen sowings, in a climate that can be reckoned by hand and against numpy."""

import copy
import datetime
import pickle

import numpy as np
import pytest

epicotyl = pytest.importorskip("epicotyl")


def day(month, date):
    return datetime.date(2027, month, date)


def staggered_chard(known, **options):
    return epicotyl.stagger(
        known.plan, known.climate, "chard", day(5, 3), day(5, 30), **{"every": 7} | options
    )


def test_harvests_a_week_apart_where_every_day_is_alike(known):
    # 20 days on the bench and 10 in the beds, in nine of ten years.
    found = staggered_chard(known)
    assert [one.usual for one in found.sowings] == [day(5, 3), day(5, 10), day(5, 17), day(5, 24)]
    assert found.sowing_days.dtype == np.dtype("datetime64[D]")
    np.testing.assert_array_equal(found.sowing_days, found.usual_days - 30)
    assert found.intervals == [7, 7, 7]
    # A week of harvest each: no day without, but in 2005, five days early.
    assert found.share_covered == 1.0
    assert found.gaps == []
    assert found.left_out == []
    assert [one.name for one in found.sowings] == ["chard 4", "chard 5", "chard 6", "chard 7"]
    # Equal to the days that equal distances give, since nothing changes.
    assert [(one.sowing, one.usual) for one in found.equal_gaps()] == [
        (one.sowing, one.usual) for one in found.sowings
    ]
    # Without frosts in autumn the season's last day is the last harvest.
    assert found.last_useful.sowing == datetime.date(2028, 1, 1) - datetime.timedelta(days=30)
    assert found.last_useful.limit == "season"
    assert str(found.last_useful).startswith("sow on 2 Dec at the latest")


def test_frost_that_does_not_come_and_crops_that_are_unknown(known):
    none = epicotyl.stagger(
        known.plan, known.climate, "chard", day(9, 1), until_first_frost=0.5, every=7
    )
    assert none.until is None
    assert none.sowings == []
    assert none.left_out[0].code == "frost.none"
    with pytest.raises(epicotyl.InvalidInput, match='nearest is "chard"'):
        epicotyl.stagger(known.plan, known.climate, "charde", day(9, 1), day(9, 9), every=7)


def test_added_to_the_plan_they_are_sown_on_the_same_days(known):
    found = staggered_chard(known, reliability=0.9, plants=12)
    more = found.added_to(known.plan)
    assert more.successions == [*known.plan.successions, *(one.name for one in found.sowings)]
    calendar = epicotyl.schedule(more, known.climate)
    for one in found.sowings:
        assert calendar.date(one.name, "sow") == one.sowing
    assert found.successions[0] == {
        "name": "chard 4",
        "crop": "chard",
        "plants": 12.0,
        "target": {"event": "first_harvest", "on": day(5, 3)},
        "reliability": 0.9,
    }
    with pytest.raises(epicotyl.InvalidInput):
        found.added_to(more)


def test_weeks_and_gaps_are_those_counted_with_numpy(documented):
    plan, climate = documented.plan, documented.climate
    start, until = day(5, 24), day(8, 1)
    found = epicotyl.stagger(
        plan, climate, "lettuce", start, until, every=14, reliability=0.75, name="head"
    )
    prospect = epicotyl.simulate(epicotyl.schedule(found.added_to(plan), climate), climate)
    days = np.arange(start, until + datetime.timedelta(days=1), dtype="datetime64[D]")
    cut = np.zeros((len(climate.years), len(days)), dtype=bool)
    for one in found.sowings:
        picked = prospect.days(one.name, "first_harvest")[:, None]
        cleared = prospect.days(one.name, "clear")[:, None]
        cut |= (picked <= days) & (np.isnat(cleared) | (days < cleared))
    years = cut.sum(axis=0)
    in_gap = np.zeros(len(days), dtype=bool)
    for gap in found.gaps:
        inside = (days >= np.datetime64(gap.start)) & (days <= np.datetime64(gap.until))
        assert years[inside].min() == gap.fewest
        in_gap |= inside
    np.testing.assert_array_equal(in_gap, years < 9)
    assert 0 < in_gap.sum() < len(days)
    for week in found.weeks:
        inside = (days >= np.datetime64(week.start)) & (days <= np.datetime64(week.until))
        assert week.years == cut[:, inside].any(axis=1).sum()
        assert week.covered == (week.years >= 9)
    assert found.share_covered == np.mean([week.covered for week in found.weeks])


def test_fewest_sowings_share_the_years(known):
    # On the bench 20 days, in the beds 10, and 5 in 2005, then 7 of harvest: picked on or before
    # 12 May and cleared after it when sown from 6 to 12 April, and from 11 to 17 April in 2005.
    found = epicotyl.harvest.fewest_sowings(
        known.plan, known.climate, "chard", day(5, 12), chance=1.0
    )
    np.testing.assert_array_equal(found.sowings, [np.datetime64("2027-04-12")])
    assert found.most_good == [10]
    assert found.served == [known.climate.years]
    # A whole week leaves each year one day: 12 April, and 17 April in 2005.
    week = epicotyl.harvest.fewest_sowings(
        known.plan, known.climate, "chard", np.datetime64("2027-05-12"), day(5, 18), chance=1.0
    )
    np.testing.assert_array_equal(
        week.sowings, np.array(["2027-04-12", "2027-04-17"], dtype="datetime64[D]")
    )
    assert week.most_good == [9, 10]
    assert week.served == [[year for year in known.climate.years if year != 2005], [2005]]
    assert week.missed == []
    assert "1 sowing at best in 9, and 10 are wanted" in str(week)
    calendar = epicotyl.schedule(week.added_to(known.plan), known.climate)
    assert [calendar.date(name, "sow") for name in ("chard 4", "chard 5")] == week.sowings.tolist()


def test_no_number_of_sowings_is_a_result(known):
    found = epicotyl.harvest.fewest_sowings(
        known.plan, known.climate, "chard", day(5, 12), day(5, 19), chance=0.5
    )
    assert len(found.sowings) == 0
    assert found.none.code == "in_harvest.too_seldom"
    assert repr(found) == "<CoveringSowings 'chard': 0 sowings, good in 0 of 10 years>"


@pytest.mark.parametrize("protocol", range(2, pickle.HIGHEST_PROTOCOL + 1))
def test_results_are_values(known, protocol):
    dates = np.datetime64("2027-05-03"), np.datetime64("2027-05-30")
    same = epicotyl.stagger(known.plan, known.climate, "chard", *dates, every=7)
    fewest = epicotyl.harvest.fewest_sowings(
        known.plan, known.climate, "chard", day(5, 12), chance=0.5
    )
    for value in (staggered_chard(known, count=3, every=None), staggered_chard(known), fewest):
        again = pickle.loads(pickle.dumps(value, protocol))
        assert again == value
        assert hash(again) == hash(value)
        assert str(again) == str(value)
        assert copy.deepcopy(value) is value
        assert (value == same) == (str(value) == str(same))
        assert value != "value"


def test_arguments_are_refused_by_kind_and_by_value(known):
    plan, climate = known.plan, known.climate
    with pytest.raises(TypeError, match="one of last and until_first_frost"):
        epicotyl.stagger(plan, climate, "chard", day(5, 1), every=7)
    with pytest.raises(TypeError, match="one of last and until_first_frost"):
        epicotyl.stagger(
            plan, climate, "chard", day(5, 1), day(6, 1), until_first_frost=0.5, every=7
        )
    noon = np.datetime64("2027-05-01T12", "h")
    with pytest.raises(TypeError, match="first"):
        epicotyl.stagger(plan, climate, "chard", noon, day(6, 1), every=7)
    with pytest.raises(TypeError, match="one day"):
        epicotyl.stagger(plan, climate, "chard", np.datetime64("NaT", "D"), day(6, 1), every=7)
    with pytest.raises(TypeError, match="every"):
        staggered_chard(known, every=7.0)
    for options, field in (
        ({"count": 3}, "every"),
        ({"every": 0}, "every"),
        ({"reliability": 0.3}, "reliability"),
        ({"day_length_at_least": float("nan")}, "day_length_at_least"),
    ):
        with pytest.raises(epicotyl.InvalidInput) as told:
            staggered_chard(known, **options)
        assert told.value.field == field
    with pytest.raises(epicotyl.InvalidInput) as told:
        epicotyl.stagger(plan, climate, "chard", day(5, 1), until_first_frost=1.5, every=7)
    assert told.value.field == "until_first_frost"
    with pytest.raises(epicotyl.InvalidInput) as told:
        epicotyl.harvest.fewest_sowings(
            plan, climate, "chard", datetime.date(2020, 1, 1), chance=0.5
        )
    assert told.value.field == "start"
    with pytest.raises(epicotyl.InvalidInput) as told:
        epicotyl.harvest.fewest_sowings(plan, climate, "chard", day(5, 1), chance=-0.5)
    assert told.value.field == "chance"
