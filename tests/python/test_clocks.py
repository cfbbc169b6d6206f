"""Degree-days and day length of arrays."""

from datetime import date

import hypothesis
import numpy as np
import pytest
from hypothesis import strategies as st
from hypothesis.extra import numpy as of_numpy

epicotyl = pytest.importorskip("epicotyl")

METHODS = [
    "average",
    "average_floored",
    "single_triangle",
    "double_triangle",
    "single_sine",
    "double_sine",
]


def test_numbers_in_number_out():
    # (50 + 86) / 2 - 50
    result = epicotyl.degree_days(50, 86, base=50, method="average")
    assert result == 18.0
    assert type(result) is float


def test_a_minimum_below_the_base_by_hand():
    # Straight lines: 15² / (2 · 20).
    assert epicotyl.degree_days(5.0, 25.0, base=10.0, method="single_triangle") == 5.625
    # The 86/50 rule cuts 40 to 50 and 95 to 86 first.
    cut = epicotyl.degree_days(40.0, 95.0, base=50.0, upper=86.0, method="average_floored")
    assert cut == 18.0


def test_double_methods_look_at_the_next_minimum_and_the_last_day_at_its_own():
    low, high = [10.0, 0.0, 10.0], [20.0, 20.0, 20.0]
    single = epicotyl.degree_days(low, high, base=10.0, method="single_triangle")
    double = epicotyl.degree_days(low, high, base=10.0, method="double_triangle")
    # Half a day of each; 0 to 20 gives 10² / (2 · 20) = 2.5, 10 to 20 gives 5.
    assert single.tolist() == [5.0, 2.5, 5.0]
    assert double.tolist() == [3.75, 3.75, 5.0]
    # Rows are runs of their own.
    rows = epicotyl.degree_days([low, low], [high, high], base=10.0, method="double_triangle")
    assert rows.tolist() == [double.tolist()] * 2


def test_not_a_number_stays_one():
    result = epicotyl.degree_days([np.nan, 10.0], [20.0, 20.0], base=5.0)
    assert np.isnan(result).tolist() == [True, False]


@pytest.mark.parametrize("kind", [np.int32, np.float32, list, tuple])
def test_numbers_of_any_kind_are_taken(kind):
    numbers = [10, 12]
    given = kind(numbers) if kind in (list, tuple) else np.array(numbers, dtype=kind)
    result = epicotyl.degree_days(given, np.array([20, 22]), base=5, method="average")
    assert result.tolist() == [10.0, 12.0]


def test_strides_do_not_matter():
    low, high = np.arange(12.0), np.arange(12.0) + 8.0
    whole = epicotyl.degree_days(low, high, base=4.0)
    np.testing.assert_array_equal(
        epicotyl.degree_days(low[::2], high[::2], base=4.0, method="single_sine"), whole[::2]
    )
    by_column = np.asfortranarray(low.reshape(3, 4)), np.asfortranarray(high.reshape(3, 4))
    np.testing.assert_array_equal(epicotyl.degree_days(*by_column, base=4.0), whole.reshape(3, 4))


def test_no_days_give_no_degree_days():
    assert epicotyl.degree_days([], [], base=4.0).shape == (0,)
    assert epicotyl.degree_days(np.empty((0, 5)), np.empty((0, 5)), base=4.0).shape == (0, 5)
    assert epicotyl.degree_days(np.empty((5, 0)), np.empty((5, 0)), base=4.0).shape == (5, 0)


def test_shapes_that_differ_are_refused_with_both():
    with pytest.raises(epicotyl.InvalidInput, match=r"\(3,\).*\(2,\)") as raised:
        epicotyl.degree_days([1.0, 2.0, 3.0], [4.0, 5.0], base=0.0)
    assert raised.value.code == "degree_days.lengths"
    with pytest.raises(epicotyl.InvalidInput, match=r"\(\).*\(2,\)"):
        epicotyl.degree_days(1.0, [4.0, 5.0], base=0.0)


@pytest.mark.parametrize(
    "wrong", ["12", True, None, 1j, ["1", "2"], [True, False], np.ma.array([1.0], mask=[True])]
)
def test_what_is_no_number_is_of_the_wrong_kind(wrong):
    with pytest.raises(TypeError, match="tmin"):
        epicotyl.degree_days(wrong, 20.0, base=0.0)


@pytest.mark.parametrize("wrong", ["10", None, True, 1j])
def test_options_of_the_wrong_kind_are_named(wrong):
    with pytest.raises(TypeError, match="base"):
        epicotyl.degree_days(5.0, 25.0, base=wrong)
    with pytest.raises(TypeError, match="latitude"):
        epicotyl.day_length(wrong, date(2027, 6, 21))
    with pytest.raises(TypeError, match="method"):
        epicotyl.degree_days(5.0, 25.0, base=1.0, method=3)


def test_unknown_words_are_refused_with_the_nearest():
    with pytest.raises(epicotyl.InvalidInput, match=r"nearest is \"single_sine\"") as raised:
        epicotyl.degree_days(5.0, 25.0, base=1.0, method="single_sin")
    assert (raised.value.field, raised.value.value) == ("method", "single_sin")
    assert "double_sine" in raised.value.bound
    with pytest.raises(epicotyl.InvalidInput, match="fao56"):
        epicotyl.day_length(51.9, date(2027, 6, 21), model="fao")


def test_values_out_of_range_are_refused_by_name():
    with pytest.raises(epicotyl.InvalidInput, match="above maximum"):
        epicotyl.degree_days([1.0, 9.0], [4.0, 5.0], base=0.0)
    with pytest.raises(epicotyl.InvalidInput, match="not above the base"):
        epicotyl.degree_days(1.0, 9.0, base=5.0, upper=5.0)
    with pytest.raises(epicotyl.InvalidInput, match="cutoff"):
        epicotyl.degree_days(1.0, 9.0, base=5.0, method="average_floored", cutoff="vertical")
    with pytest.raises(epicotyl.InvalidInput, match="-90 to 90"):
        epicotyl.day_length(90.5, date(2027, 6, 21))
    with pytest.raises(epicotyl.InvalidInput, match="sun_angle"):
        epicotyl.day_length(51.9, date(2027, 6, 21), sun_angle=30.0)


def test_day_length_at_the_equator_and_beyond_the_circle():
    # FAO 56 has half a day everywhere on the equator; the sun does not set in the polar summer.
    assert epicotyl.day_length(0.0, date(2027, 3, 1), model="fao56") == pytest.approx(12.0)
    assert epicotyl.day_length(80.0, date(2027, 6, 21)) == 24.0
    assert epicotyl.day_length(80.0, date(2027, 12, 21)) == 0.0


days = st.integers(1, 30).flatmap(
    lambda size: st.tuples(
        of_numpy.arrays(np.float64, size, elements=st.floats(-30, 40)),
        of_numpy.arrays(np.float64, size, elements=st.floats(0, 30)),
    )
)


@pytest.mark.parametrize("method", METHODS)
@hypothesis.settings(derandomize=True, max_examples=50)
@hypothesis.given(days, st.floats(-5, 15), st.floats(0.1, 10))
def test_a_higher_base_never_gives_more(method, run, base, more):
    low, spread = run
    lower = epicotyl.degree_days(low, low + spread, base=base, method=method)
    higher = epicotyl.degree_days(low, low + spread, base=base + more, method=method)
    assert (lower >= 0.0).all()
    assert (higher <= lower + 1e-9).all()


@pytest.mark.parametrize("method", [name for name in METHODS if name != "average_floored"])
@hypothesis.settings(derandomize=True, max_examples=50)
@hypothesis.given(days, st.floats(-5, 15), st.floats(0.1, 20))
def test_cutoffs_are_ordered(method, run, base, above):
    low, spread = run
    sums = [
        epicotyl.degree_days(
            low, low + spread, base=base, upper=base + above, method=method, cutoff=cutoff
        )
        for cutoff in ("horizontal", "vertical")
    ]
    without = epicotyl.degree_days(low, low + spread, base=base, method=method)
    assert (sums[0] <= without + 1e-9).all()
    assert (sums[1] <= sums[0] + 1e-9).all()
