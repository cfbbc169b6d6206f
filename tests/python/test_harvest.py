"""Harvests, yields and coverage, against scipy and against counts day by day on random farms.

The random farms are planned by the reference reckoning as well, which knows nothing of the library:
its days and airs say when each batch is picked.
"""

import datetime
import math
import pickle

import numpy as np
import pytest

from random_farms import random_farm
from reckoned_twice import reckoned_twice
from reference_season import NEVER

epicotyl = pytest.importorskip("epicotyl")
scipy_stats = pytest.importorskip("scipy.stats")

SHAPES = [
    epicotyl.harvest.YieldShape.box(20),
    epicotyl.harvest.YieldShape.trapezoid(7, 14, 10.5),
    epicotyl.harvest.YieldShape.weibull(2.2, 18.0),
]
DAY = datetime.timedelta(days=1)


def reckoned(seed):
    farm = random_farm(seed)
    return reckoned_twice(farm.document, farm.record, farm.years)


@pytest.fixture(scope="module")
def farms():
    # The last two have harvests that only the season ends.
    return [reckoned(seed) for seed in [*range(24), 78, 79]]


def harvested(pair):
    return [n for n in pair.resolved if "first_harvest" in pair.plan.successions[n].events]


def picked(pair, name, heat_stops=True):
    """Days of picking (first, end, what ended it) in each year, or None."""
    season, batch = pair.season, pair.plan.successions[name]
    at = batch.events.index("first_harvest")
    stage, length = batch.stages[at], pair.plan.season_days
    found = []
    for year in range(season.n):
        start, over, clear = (pair.lived[name][e][year] for e in (at, at + 1, -1))
        if start == NEVER or start >= length:
            found.append(None)
            continue
        limit = season.limit(batch, at)
        low, high = season.air(stage.place, limit, year)[:2]
        end, why = (length, "season") if clear == NEVER else (clear, "clock")
        if clear != NEVER and limit is not None:
            nights = [d for d in range(start + 1, length) if low[d] <= limit]
            if nights and nights[0] == over:
                why = "frost"
        hot = stage.too_hot if heat_stops else None
        days = [d for d in range(start + 1, end) if hot is not None and high[d] >= hot]
        found.append((start, days[0], "heat") if days else (start, end, why))
    return found


# ---- Shapes --------------------------------------------------------------------------------------


@pytest.mark.parametrize(("shape", "scale"), [(0.8, 12.0), (1.0, 5.0), (2.5, 20.0), (6.0, 300.0)])
def test_weibull_is_that_of_scipy(shape, scale):
    x = np.linspace(0.01, 4.0 * scale, 500)
    mine = epicotyl.harvest.YieldShape.weibull(shape, scale)
    theirs = scipy_stats.weibull_min(c=shape, scale=scale)
    np.testing.assert_allclose(mine.cumulative(x), theirs.cdf(x), rtol=1e-12, atol=1e-15)
    np.testing.assert_allclose(mine.density(x), theirs.pdf(x), rtol=1e-11, atol=1e-300)


@pytest.mark.parametrize("shape", SHAPES, ids=str)
def test_area_under_a_shape_is_one(shape):
    quad = pytest.importorskip("scipy.integrate").quad
    breaks = np.cumsum(shape.parameters) if shape.name != "weibull" else [18.0]
    area = quad(shape.density, 0.0, 200.0, points=breaks, limit=200)[0]
    assert area == pytest.approx(1.0, abs=1e-9)
    assert shape.cumulative(200.0) == pytest.approx(1.0, abs=1e-12)


def test_trapezoid_is_that_of_scipy():
    length = 7.0 + 14.0 + 10.5
    theirs = scipy_stats.trapezoid(7.0 / length, 21.0 / length, scale=length)
    x = np.linspace(-2.0, 40.0, 300)
    np.testing.assert_allclose(SHAPES[1].cumulative(x), theirs.cdf(x), atol=1e-12)


# ---- Harvests ------------------------------------------------------------------------------------


def test_harvests_of_random_farms_are_those_counted_day_by_day(farms):
    seen = set()
    for pair in farms:
        for name in harvested(pair):
            for heat_stops in (True, False):
                mine = epicotyl.harvest.harvest_spans(pair.prospect, name, heat_stops=heat_stops)
                theirs = picked(pair, name, heat_stops)
                assert mine.ended_by == [one and one[2] for one in theirs]
                starts = pair.dates([one[0] if one else NEVER for one in theirs])
                ends = pair.dates([one[1] if one else NEVER for one in theirs])
                np.testing.assert_array_equal(mine.begin, starts)
                np.testing.assert_array_equal(mine.end, ends)
                assert mine.days.tolist() == [one[1] - one[0] if one else 0 for one in theirs]
                assert sum(mine.counts.values()) == len(mine.years)
                seen |= set(mine.ended_by)
    assert seen == {"frost", "clock", "heat", "season", None}


# ---- Yields --------------------------------------------------------------------------------------


@pytest.mark.parametrize("shape", SHAPES, ids=str)
def test_weeks_of_random_farms_add_up_to_the_share_of_the_window_realised(farms, shape):
    gives = epicotyl.harvest.HarvestYield(shape, 3.0)
    count = 0
    for pair in farms:
        for name in harvested(pair):
            found = epicotyl.harvest.expected_yield(pair.prospect, name, gives)
            lengths = [one[1] - one[0] if one else 0 for one in picked(pair, name)]
            expected = found.possible * np.array([shape.cumulative(float(n)) for n in lengths])
            np.testing.assert_allclose(found.totals, expected, rtol=1e-12, atol=1e-12)
            np.testing.assert_allclose(found.values.sum(axis=1), expected, rtol=1e-9, atol=1e-9)
            np.testing.assert_allclose(found.mean().sum(), expected.mean(), rtol=1e-9, atol=1e-9)
            assert found.possible == 3.0 * found.plants
            assert (found.values >= 0.0).all()
            count += np.count_nonzero(expected)
    assert count > 60


def test_yield_over_heat_follows_the_degree_days_of_the_place(farms):
    shape = epicotyl.harvest.YieldShape.weibull(1.7, 150.0)
    gives = epicotyl.harvest.HarvestYield(shape, 1.0, base=6.0, upper=28.0)
    for pair in farms[:12]:
        for name in harvested(pair):
            batch = pair.plan.successions[name]
            at = batch.events.index("first_harvest")
            found = epicotyl.harvest.expected_yield(pair.prospect, name, gives)
            for year, one in enumerate(picked(pair, name)):
                heat = 0.0
                if one:
                    limit = pair.season.limit(batch, at)
                    low, high = pair.season.air(batch.stages[at].place, limit, year)[:2]
                    heat = epicotyl.degree_days(low, high, base=6.0, upper=28.0)
                    heat = float(np.sum(heat[one[0] : one[1]]))
                share = -math.expm1(-((heat / 150.0) ** 1.7))
                assert found.totals[year] == pytest.approx(found.plants * share, rel=1e-9, abs=1e-9)


def test_quantile_of_a_week_is_one_of_its_years_and_the_kth(known):
    gives = epicotyl.harvest.HarvestYield(epicotyl.harvest.YieldShape.box(7), 1.0)
    found = epicotyl.harvest.expected_yield(known.prospect, "chard 1", gives)
    table = np.sort(found.values, axis=0)
    for q, k in ((0.0, 1), (0.1, 1), (0.11, 2), (0.5, 5), (1.0, 10)):
        np.testing.assert_array_equal(found.quantile(q), table[k - 1])
    with pytest.raises(epicotyl.InvalidInput):
        found.quantile(1.5)


def test_picture_shows_the_usual_year_within_its_band(known):
    figure = pytest.importorskip("matplotlib.figure").Figure()
    gives = epicotyl.harvest.HarvestYield(epicotyl.harvest.YieldShape.box(7), 2.0, unit="heads")
    found = epicotyl.harvest.expected_yield(known.prospect, "chard 1", gives)
    axes = found.plot(per_week=30, ax=figure.add_subplot())
    assert (axes.get_title(), axes.get_ylabel()) == ("chard 1", "heads a week")
    usual, wanted = axes.get_lines()
    np.testing.assert_array_equal(usual.get_ydata()[:-1], found.quantile(0.5))
    assert set(wanted.get_ydata()) == {30}
    labels = [one.get_text() for one in axes.get_legend().get_texts()]
    assert labels == ["1 year in 10 to 9 years in 10", "usual", "30 wanted"]


# ---- Coverage ------------------------------------------------------------------------------------


def weeks_by_hand(pair, names, gives, wanted):
    """Per ISO week: years in harvest on some day, and years that give so much, by counting days."""
    years = {}
    alive = {n: epicotyl.harvest.expected_yield(pair.prospect, n, gives).plants for n in names}
    for year in range(pair.season.n):
        for name in names:
            one = picked(pair, name)[year]
            if one is None:
                continue
            for d in range(one[0], one[1]):
                week = tuple(pair.plan.date(d).isocalendar())[:2]
                share = gives.shape.cumulative(float(d + 1 - one[0]))
                share -= gives.shape.cumulative(float(d - one[0]))
                units = years.setdefault(week, {}).setdefault(year, 0.0)
                years[week][year] = units + share * alive[name] * gives.units_per_plant
    return {
        week: (len(units), sum(one >= wanted * (1.0 - 1e-9) for one in units.values()))
        for week, units in years.items()
    }


def test_coverage_of_random_farms_is_the_one_counted_day_by_day(farms):
    gives = epicotyl.harvest.HarvestYield(
        epicotyl.harvest.YieldShape.trapezoid(3, 10, 6), 2.0, unit="stems"
    )
    weeks_seen = gaps_seen = 0
    for number, pair in enumerate(farms):
        names = harvested(pair)
        if not names:
            continue
        wanted = 7.3 + number
        mine = epicotyl.coverage(
            pair.prospect, names, reliability=0.7, per_week=wanted, gives=gives
        )
        by_hand = weeks_by_hand(pair, names, gives, wanted)
        n, need = pair.season.n, max(1, math.ceil(0.7 * pair.season.n - 1e-9))
        assert (mine.years, mine.needed) == (n, need)
        uncovered = []
        for week in mine.weeks:
            key = tuple(week.start.isocalendar())[:2]
            assert (week.years, week.met) == by_hand.pop(key, (0, 0))
            assert week.covered == (min(week.years, week.met) >= need)
            assert week.until.isocalendar().week == key[1]
            if not week.covered:
                uncovered.append(week.start - week.start.weekday() * DAY)
        assert by_hand == {}  # nothing outside of the weeks listed
        assert [gap.monday for gap in mine.gaps] == uncovered
        weeks_seen += len(mine.weeks)
        gaps_seen += len(mine.gaps)
    assert weeks_seen > 200
    assert 0 < gaps_seen < weeks_seen


def test_waves_and_crops_are_their_successions(farms):
    for pair in farms:
        for crop in pair.calendar.plan.crops:
            mine = [n for n in harvested(pair) if pair.plan.successions[n].crop == crop]
            unresolved = {one.succession for one in pair.calendar.unresolved}
            if not mine or unresolved:
                continue
            assert epicotyl.coverage(pair.prospect, crop=crop) == epicotyl.coverage(
                pair.prospect, mine
            )


def test_gaps_are_named(known):
    """Picked from Sunday 11 April on, but for the year in which a cold night has lost it."""
    found = epicotyl.coverage(known.prospect, ["chard 1"], reliability=1.0)
    assert str(found.gaps[0]) == ("week of Mon 5 Apr (week 14): nothing to pick in 1 of 10 years")
    assert str(found) == (
        "0 of 2 weeks covered in 10 of 10 years or more\n"
        "  weeks of 5 Apr to 12 Apr (weeks 14 to 15): nothing to pick in 1 of 10 years\n"
    )
    lives = epicotyl.coverage(known.prospect, ["chard 3"], reliability=1.0)
    assert str(lives).startswith("1 of 2 weeks covered in 10 of 10 years or more\n")


def test_what_is_lost_is_not_picked_and_yields_nothing(known):
    gives = epicotyl.harvest.HarvestYield(epicotyl.harvest.YieldShape.box(7), 1.0)
    lost = [year == 2003 for year in known.prospect.years]
    spans = epicotyl.harvest.harvest_spans(known.prospect, "chard 1")
    assert [end is None for end in spans.ended_by] == lost
    assert (spans.days == np.where(lost, 0, 7)).all()
    found = epicotyl.harvest.expected_yield(known.prospect, "chard 1", gives)
    np.testing.assert_allclose(found.totals, np.where(lost, 0.0, 40.0))


@pytest.mark.parametrize(
    "arguments",
    [{}, {"crop": "chard", "wave": "cool"}, {"crop": "chard", "per_week": 3.0}],
)
def test_a_question_that_is_not_one_is_refused(known, arguments):
    with pytest.raises(TypeError):
        epicotyl.coverage(known.prospect, **arguments)
    with pytest.raises(TypeError):
        epicotyl.coverage(known.prospect, "chard 1")


# ---- Values --------------------------------------------------------------------------------------


def test_shapes_and_yields_are_values():
    for shape in SHAPES:
        assert pickle.loads(pickle.dumps(shape)) == shape
        assert eval(repr(shape), {"YieldShape": epicotyl.harvest.YieldShape}) == shape  # noqa: S307
        for gives in (
            epicotyl.harvest.HarvestYield(shape, 4, unit="kg"),
            epicotyl.harvest.HarvestYield(shape, 4, base=5.0, upper=30.0, method="double_sine"),
        ):
            again = pickle.loads(pickle.dumps(gives))
            assert again == gives
            assert hash(again) == hash(gives)
            assert str(again) == str(gives)
    assert epicotyl.harvest.YieldShape.box(3) != epicotyl.harvest.YieldShape.box(4)
    assert (
        str(epicotyl.harvest.HarvestYield(SHAPES[0], 4, unit="kg"))
        == "4 kg a plant, box(20) over days"
    )


@pytest.mark.parametrize(
    ("make", "error"),
    [
        (lambda: epicotyl.harvest.YieldShape.box(0), epicotyl.InvalidInput),
        (lambda: epicotyl.harvest.YieldShape.box("3"), TypeError),
        (lambda: epicotyl.harvest.YieldShape.trapezoid(0, 0, 0), epicotyl.InvalidInput),
        (lambda: epicotyl.harvest.YieldShape.weibull(float("nan"), 1), epicotyl.InvalidInput),
        (lambda: epicotyl.harvest.YieldShape(), TypeError),
        (lambda: epicotyl.harvest.HarvestYield(SHAPES[0], -1), epicotyl.InvalidInput),
        (lambda: epicotyl.harvest.HarvestYield(SHAPES[0], 1, upper=3.0), epicotyl.InvalidInput),
        (
            lambda: epicotyl.harvest.HarvestYield(SHAPES[0], 1, base=4, method="sine"),
            epicotyl.InvalidInput,
        ),
        (lambda: epicotyl.harvest.HarvestYield("box", 1), TypeError),
    ],
)
def test_what_is_no_yield_is_refused(make, error):
    with pytest.raises(error):
        make()
