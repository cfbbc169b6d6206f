"""How many seeds have germinated: curves, maxima, courses."""

import pickle

import numpy as np
import pytest

epicotyl = pytest.importorskip("epicotyl")

CARDINAL = {"base": 4.0, "optimum": 22.0, "ceiling": 32.0}


@pytest.fixture
def curve():
    return epicotyl.seeds.GerminationCurve(100.0, 4.0)


@pytest.fixture
def everywhere():
    return epicotyl.seeds.MaximumGermination([(20.0, 1.0)])


def test_shares_are_those_of_the_log_logistic_distribution(curve):
    stats = pytest.importorskip("scipy.stats")
    sums = np.array([0.0, 1.0, 50.0, 100.0, 200.0, 1e6])
    of = stats.fisk(4.0, scale=100.0)  # SciPy's name for it
    np.testing.assert_allclose(curve.share_up(sums), of.cdf(sums), atol=1e-15)
    shares = np.array([0.01, 0.25, 0.5, 0.9])
    np.testing.assert_allclose(curve.needed_for(shares), of.ppf(shares))
    assert curve.share_up(200.0) == pytest.approx(16 / 17)  # (100 / 200)⁴ = 1/16


def test_numbers_give_numbers_and_arrays_their_shape(curve):
    assert type(curve.share_up(100)) is float
    assert type(curve.needed_for(0.5)) is float
    assert curve.share_up([[100.0, np.nan], [0.0, 1e9]]).shape == (2, 2)
    assert np.isnan(curve.share_up([np.nan])).all()
    assert np.isnan(curve.share_up(np.nan))
    assert curve.share_up([]).shape == (0,)
    by_column = np.asfortranarray([[50.0, 100.0], [200.0, 400.0]])
    np.testing.assert_array_equal(
        curve.share_up(by_column), [[curve.share_up(x) for x in row] for row in by_column]
    )


def test_a_share_of_all_seeds_is_never_reached_when_fewer_can_germinate(curve):
    assert curve.needed_for(0.4, maximum=0.8) == pytest.approx(100.0)
    assert curve.needed_for(0.8, maximum=0.8) is None
    found = curve.needed_for([0.4, 0.8, 0.9], maximum=0.8)
    np.testing.assert_allclose(found, [100.0, np.nan, np.nan])


def test_two_counts_of_a_tray_give_back_the_steepness(curve):
    steepness = epicotyl.seeds.steepness_between(
        curve.share_up(80.0), 80.0, curve.share_up(130.0), 130.0
    )
    assert steepness == pytest.approx(4.0)
    with pytest.raises(epicotyl.InvalidInput) as raised:
        epicotyl.seeds.steepness_between(0.6, 80.0, 0.4, 90.0)
    assert raised.value.code == "germination.counts"


def test_the_maximum_runs_straight_between_points_and_is_unknown_beyond():
    lettuce = epicotyl.seeds.MaximumGermination([(25.0, 0.99), (30.0, 0.12)])
    where = np.array([24.9, 25.0, 27.5, 30.0, 30.1])
    wanted = np.interp(where, [25.0, 30.0], [0.99, 0.12], left=np.nan, right=np.nan)
    np.testing.assert_allclose(lettuce.at(where), wanted)
    np.testing.assert_allclose(lettuce.held(where), np.interp(where, [25.0, 30.0], [0.99, 0.12]))
    assert lettuce.at(24.9) is None
    assert lettuce.at(27.5) == pytest.approx(0.555)
    assert lettuce.held(99.0) == 0.12
    assert np.isnan(lettuce.at(np.nan))
    assert lettuce.points == [(25.0, 0.99), (30.0, 0.12)]


def test_the_rate_rises_to_the_optimum_and_falls_to_the_ceiling():
    means = np.array([0.0, 4.0, 10.0, 22.0, 27.0, 32.0, 40.0, np.nan])
    wanted = [0.0, 0.0, 6.0, 18.0, 9.0, 0.0, 0.0, np.nan]
    np.testing.assert_allclose(epicotyl.clock.germination_rate(means, **CARDINAL), wanted)
    assert epicotyl.clock.germination_rate(10.0, **CARDINAL) == 6.0
    assert epicotyl.clock.germination_rate(means.reshape(2, 4), **CARDINAL).shape == (2, 4)


def test_at_a_constant_temperature_the_course_is_the_maximum_times_the_curve(curve):
    maximum = epicotyl.seeds.MaximumGermination([(10.0, 0.4), (20.0, 0.9)])
    course = epicotyl.seeds.germinated_by_day(
        np.full(30, 16.0), curve=curve, maximum=maximum, **CARDINAL
    )
    # 12 K day a day, and 0.7 of the seeds can at 16 °C.
    np.testing.assert_allclose(course, 0.7 * curve.share_up(12.0 * np.arange(1, 31)))


def test_a_course_of_changing_days_by_hand(curve):
    maximum = epicotyl.seeds.MaximumGermination([(10.0, 0.4), (20.0, 0.9)])
    means = np.array([12.0, 18.0, 2.0, 30.0, 20.0])
    due = curve.share_up(np.cumsum(epicotyl.clock.germination_rate(means, **CARDINAL)))
    most = np.interp(means, [10.0, 20.0], [0.4, 0.9])
    wanted = np.cumsum(most * np.diff(due, prepend=0.0))
    course = epicotyl.seeds.germinated_by_day(means, curve=curve, maximum=maximum, **CARDINAL)
    np.testing.assert_allclose(course, wanted)
    assert (np.diff(course) >= 0.0).all()


def test_rows_are_sowings_of_their_own(curve, everywhere):
    options = CARDINAL | {"curve": curve, "maximum": everywhere}
    one = epicotyl.seeds.germinated_by_day([10.0, 20.0, 15.0], **options)
    rows = epicotyl.seeds.germinated_by_day([[10.0, 20.0, 15.0]] * 3, **options)
    np.testing.assert_array_equal(rows, [one] * 3)
    assert epicotyl.seeds.germinated_by_day([], **options).shape == (0,)
    assert epicotyl.seeds.germinated_by_day(np.empty((4, 0)), **options).shape == (4, 0)


@pytest.mark.parametrize(
    ("call", "error", "match"),
    [
        (lambda: epicotyl.seeds.GerminationCurve(0.0, 4.0), epicotyl.InvalidInput, "half"),
        (lambda: epicotyl.seeds.GerminationCurve(-1.0, 4.0), epicotyl.InvalidInput, "half"),
        (lambda: epicotyl.seeds.GerminationCurve(1.0, np.nan), epicotyl.InvalidInput, "steepness"),
        (lambda: epicotyl.seeds.GerminationCurve("1", 4.0), TypeError, "half"),
        (
            lambda: epicotyl.seeds.GerminationCurve(1.0, 4.0).needed_for(1.0),
            epicotyl.InvalidInput,
            "share",
        ),
        (
            lambda: epicotyl.seeds.GerminationCurve(1.0, 4.0).needed_for(0.5, maximum=2.0),
            epicotyl.InvalidInput,
            "maximum",
        ),
        (
            lambda: epicotyl.seeds.GerminationCurve(1.0, 4.0).share_up(-1.0),
            epicotyl.InvalidInput,
            "negative",
        ),
        (
            lambda: epicotyl.seeds.GerminationCurve(1.0, 4.0).share_up("9"),
            TypeError,
            "thermal_time",
        ),
        (lambda: epicotyl.seeds.MaximumGermination([]), epicotyl.InvalidInput, "no point"),
        (
            lambda: epicotyl.seeds.MaximumGermination([(20.0, 0.9), (10.0, 0.4)]),
            epicotyl.InvalidInput,
            "ascend",
        ),
        (lambda: epicotyl.seeds.MaximumGermination([(20.0, 99)]), epicotyl.InvalidInput, "99 %"),
        (lambda: epicotyl.seeds.MaximumGermination([(20.0, 0.9, 1)]), TypeError, "points"),
        (
            lambda: epicotyl.clock.germination_rate(1.0, base=4.0, optimum=3.0, ceiling=30.0),
            epicotyl.InvalidInput,
            "do not rise",
        ),
        (
            lambda: epicotyl.clock.germination_rate(1.0, base=np.nan, optimum=3.0, ceiling=30.0),
            epicotyl.InvalidInput,
            "base",
        ),
    ],
)
def test_what_cannot_be_is_refused(call, error, match):
    with pytest.raises(error, match=match):
        call()


def test_a_missing_mean_is_named(curve, everywhere):
    options = CARDINAL | {"curve": curve, "maximum": everywhere}
    with pytest.raises(epicotyl.InvalidInput) as raised:
        epicotyl.seeds.germinated_by_day([[1.0, 2.0], [1.0, np.nan]], **options)
    assert raised.value.field == "means[1, 1]"
    with pytest.raises(TypeError, match="curve"):
        epicotyl.seeds.germinated_by_day([1.0], **(options | {"curve": 6.0}))
    with pytest.raises(TypeError, match="maximum"):
        epicotyl.seeds.germinated_by_day([1.0], **(options | {"maximum": 0.9}))
    with pytest.raises(TypeError, match="array of days"):
        epicotyl.seeds.germinated_by_day(12.0, **options)


@pytest.mark.parametrize("name", ["curve", "maximum"])
def test_curves_and_maxima_are_values(name):
    value = {
        "curve": epicotyl.seeds.GerminationCurve(52.9, 6.0),
        "maximum": epicotyl.seeds.MaximumGermination([(25.0, 0.99), (30.0, 0.12)]),
    }[name]
    again = pickle.loads(pickle.dumps(value))
    assert again == value
    assert hash(again) == hash(value)
    assert value != "value"
    names = {"GerminationCurve": epicotyl.seeds.GerminationCurve}
    names["MaximumGermination"] = epicotyl.seeds.MaximumGermination
    assert eval(repr(value), names) == value  # noqa: S307 - our own words
    with pytest.raises(AttributeError):
        value.half = 3.0
    assert str(epicotyl.seeds.GerminationCurve(52.9, 6.0)) == "half after 52.9 K day, steepness 6"
    assert str(epicotyl.seeds.MaximumGermination([(25.0, 0.99)])) == "0.99 at 25 °C"
