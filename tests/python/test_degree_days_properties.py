"""What holds of degree-days on every day, whatever the method."""

import itertools

import hypothesis
import pytest
from hypothesis import strategies as st

epicotyl = pytest.importorskip("epicotyl")

METHODS = [
    "average",
    "average_floored",
    "single_triangle",
    "double_triangle",
    "single_sine",
    "double_sine",
]
CUTOFFS = ["horizontal", "intermediate", "vertical"]
# The 86/50 rule has no other cutoff.
RULES = [
    (method, cutoff)
    for method, cutoff in itertools.product(METHODS, CUTOFFS)
    if method != "average_floored" or cutoff == "horizontal"
]

lows = st.floats(-30, 40)
spreads = st.floats(0, 30)
bases = st.floats(-5, 15)
widths = st.floats(0.5, 25)
steps = st.floats(0, 10)

many = hypothesis.settings(derandomize=True, max_examples=200, deadline=None)


def one(low, high, rule, base, upper):
    method, cutoff = rule
    return epicotyl.degree_days(low, high, base=base, upper=upper, method=method, cutoff=cutoff)


@pytest.mark.parametrize("rule", RULES, ids="-".join)
@many
@hypothesis.given(lows, spreads, bases, widths)
def test_never_negative_and_never_more_than_the_whole_width(rule, low, spread, base, width):
    result = one(low, low + spread, rule, base, base + width)
    assert 0.0 <= result <= width + 1e-9


@pytest.mark.parametrize("rule", RULES, ids="-".join)
@many
@hypothesis.given(lows, spreads, bases, widths)
def test_zero_when_the_maximum_does_not_pass_the_base(rule, low, spread, base, width):
    high = min(low + spread, base)
    assert one(min(low, high), high, rule, base, base + width) == 0.0


@pytest.mark.parametrize("rule", RULES, ids="-".join)
@many
@hypothesis.given(lows, spreads, bases, widths, steps, steps)
def test_warmer_is_never_less_below_the_upper_threshold(
    rule, low, spread, base, width, night, afternoon
):
    upper = base + width
    high = min(low + spread, upper)
    low = min(low, high)
    warmer_high = min(high + afternoon, upper)
    warmer_low = min(low + night, warmer_high)
    before = one(low, high, rule, base, upper)
    assert one(low, warmer_high, rule, base, upper) >= before - 1e-9
    assert one(min(warmer_low, high), high, rule, base, upper) >= before - 1e-9
    assert one(warmer_low, warmer_high, rule, base, upper) >= before - 1e-9


@pytest.mark.parametrize("method", METHODS)
@many
@hypothesis.given(lows, spreads, bases, widths, steps, steps)
def test_horizontal_never_falls_at_any_temperature(
    method, low, spread, base, width, night, afternoon
):
    rule = (method, "horizontal")
    high = low + spread
    warmer = one(min(low + night, high + afternoon), high + afternoon, rule, base, base + width)
    assert warmer >= one(low, high, rule, base, base + width) - 1e-9


@pytest.mark.parametrize("method", [name for name in METHODS if name != "average_floored"])
@many
@hypothesis.given(lows, spreads, bases, widths)
def test_horizontal_is_the_most(method, low, spread, base, width):
    days = low, low + spread
    most = one(*days, (method, "horizontal"), base, base + width)
    assert one(*days, (method, "intermediate"), base, base + width) <= most + 1e-9
    assert one(*days, (method, "vertical"), base, base + width) <= most + 1e-9


# An average has no share of a day above the upper threshold: with the vertical cutoff it stops at
# once when the mean passes it, and must jump.
SMOOTH = [rule for rule in RULES if rule != ("average", "vertical")]


@pytest.mark.parametrize("rule", SMOOTH, ids="-".join)
@many
@hypothesis.given(st.floats(1, 30), bases, widths, st.sampled_from([-1, 1]))
def test_nothing_jumps_where_an_extreme_passes_a_threshold(rule, spread, base, width, side):
    """A step of 1e-8 at a border moves the sum by no more than the border's own slope.

    Horizontal and intermediate cutoffs follow the temperature at most one for one. The vertical one
    follows the share of the day above the threshold, which near a crest goes with the root of the
    step: a sine of range 1 or more moves by less than its root.
    """
    step = 1e-8
    upper = base + width
    allowed = 2.0 * step + 1e-11
    if rule[1] == "vertical":
        allowed += width * step**0.5
    for border in (base, upper):
        at_crest = one(border - spread, border, rule, base, upper)
        assert abs(one(border - spread, border + side * step, rule, base, upper) - at_crest) < (
            allowed
        )
        at_foot = one(border, border + spread, rule, base, upper)
        assert abs(one(border + side * step, border + spread, rule, base, upper) - at_foot) < (
            allowed
        )


@pytest.mark.parametrize("rule", SMOOTH, ids="-".join)
@many
@hypothesis.given(lows, bases, widths)
def test_a_day_without_range_is_its_one_temperature(rule, low, base, width):
    upper = base + width
    hypothesis.assume(abs(low - upper) > 1e-6)
    expected = {
        "horizontal": min(max(low - base, 0.0), width),
        "intermediate": max(0.0, max(low - base, 0.0) - 2.0 * max(low - upper, 0.0)),
        "vertical": 0.0 if low > upper else max(low - base, 0.0),
    }[rule[1]]
    assert one(low, low, rule, base, upper) == pytest.approx(expected, abs=1e-9)
