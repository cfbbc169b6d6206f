"""Degree-days and fitted freeze dates against numerical integration and distributions of SciPy."""

import math
from datetime import date, timedelta

import numpy as np
import pytest

epicotyl = pytest.importorskip("epicotyl")
integrate = pytest.importorskip("scipy.integrate")
stats = pytest.importorskip("scipy.stats")

DAYS = 10_000
BASE, UPPER = 8.0, 24.0


def crossing(threshold, mean, half):
    """Where, from the minimum at -pi/2 to the maximum at pi/2, the day passes a threshold."""
    return math.asin(min(1.0, max(-1.0, (threshold - mean) / half)))


def excess(threshold, mean, half):
    """Mean excess of a sine day over a threshold, by adaptive quadrature of its warming half."""
    edge = math.pi / 2
    # Where the day passes the threshold is a hint for the quadrature, not a part of the answer.
    total, _ = integrate.quad(
        lambda x: max(0.0, mean + half * math.sin(x) - threshold),
        -edge, edge, points=[crossing(threshold, mean, half)], epsabs=1e-10, limit=200,
    )  # fmt: skip
    return total / math.pi


@pytest.fixture(scope="module")
def random_days():
    """Minima and maxima of every case: wholly below, across and above both thresholds."""
    random = np.random.default_rng(20270301)
    low = random.uniform(-10.0, 28.0, DAYS)
    return low, low + random.uniform(0.5, 25.0, DAYS)


@pytest.fixture(scope="module")
def integrated(random_days):
    """A(base), A(upper) by quadrature, and the share of each day above the upper threshold."""
    low, high = random_days
    means, halves = ((high + low) / 2).tolist(), ((high - low) / 2).tolist()
    pairs = list(zip(means, halves, strict=True))
    above_base = np.array([excess(BASE, mean, half) for mean, half in pairs])
    above_upper = np.array([excess(UPPER, mean, half) for mean, half in pairs])
    share = np.array([0.5 - crossing(UPPER, mean, half) / math.pi for mean, half in pairs])
    return above_base, above_upper, share


def test_random_days_meet_every_case(random_days):
    low, high = random_days
    cases = [
        high <= BASE,
        (low < BASE) & (high > BASE) & (high <= UPPER),
        (low < BASE) & (high > UPPER),
        (low >= BASE) & (high <= UPPER),
        (low >= BASE) & (low < UPPER) & (high > UPPER),
        low >= UPPER,
    ]
    assert sum(int(case.sum()) for case in cases) == DAYS
    assert min(int(case.sum()) for case in cases) > 200


@pytest.mark.parametrize("cutoff", ["horizontal", "vertical", "intermediate"])
def test_sine_days_are_the_integral_of_their_sine(cutoff, random_days, integrated):
    above_base, above_upper, share = integrated
    expected = {
        "horizontal": above_base - above_upper,
        "vertical": above_base - above_upper - share * (UPPER - BASE),
        "intermediate": np.maximum(0.0, above_base - 2.0 * above_upper),
    }[cutoff]
    for method in ("single_sine", "double_sine"):
        low, high = random_days
        if method == "double_sine":
            # Each day a run of its own, so that the next minimum is its own.
            low, high = low[:, np.newaxis], high[:, np.newaxis]
        found = epicotyl.degree_days(
            low, high, base=BASE, upper=UPPER, method=method, cutoff=cutoff
        )
        np.testing.assert_allclose(found.ravel(), expected, atol=1e-7, rtol=0)


def test_double_sine_is_half_of_each_neighbouring_sine(random_days):
    low, high = (days[:400] for days in random_days)
    after = np.append(low[1:], low[-1])
    # A falling half needs somewhere to fall.
    high = np.maximum(high, after + 0.5)
    found = epicotyl.degree_days(low, high, base=BASE, upper=UPPER, method="double_sine")
    for least, next_least, most, sum_of_day in zip(low, after, high, found, strict=True):
        halves = [
            excess(BASE, (most + foot) / 2, (most - foot) / 2)
            - excess(UPPER, (most + foot) / 2, (most - foot) / 2)
            for foot in (least, next_least)
        ]
        assert sum_of_day == pytest.approx(sum(halves) / 2, abs=1e-7)


def test_a_grid_of_the_day_agrees_where_nothing_is_cut_by_a_formula(random_days):
    """Four thousand moments of the day, read off and averaged; all three cutoffs moment by moment.

    The vertical cutoff jumps: a moment at the jump counts for 1/4000 of the day and half of that is
    the worst that the grid can miss, 16 K / 8000 = 0.002.
    """
    low, high = random_days
    count = 4000
    wave = np.sin(np.pi * ((np.arange(count) + 0.5) / count - 0.5))
    horizontal, vertical = [], []
    for part in np.array_split(np.arange(DAYS), 20):
        mean = ((high + low) / 2)[part, np.newaxis]
        course = mean + ((high - low) / 2)[part, np.newaxis] * wave
        warmth = np.clip(course, BASE, UPPER) - BASE
        horizontal.append(warmth.mean(axis=1))
        vertical.append(np.where(course > UPPER, 0.0, warmth).mean(axis=1))
    options = {"base": BASE, "upper": UPPER, "method": "single_sine"}
    np.testing.assert_allclose(
        epicotyl.degree_days(low, high, cutoff="horizontal", **options),
        np.concatenate(horizontal), atol=1e-5, rtol=0,
    )  # fmt: skip
    np.testing.assert_allclose(
        epicotyl.degree_days(low, high, cutoff="vertical", **options),
        np.concatenate(vertical), atol=0.0021, rtol=0,
    )  # fmt: skip


def record_with(last, first):
    """Years from 2001 on whose only freezes are on these days after 1 January and 1 August."""
    dates = np.arange("2001-01-01", f"{2001 + len(last)}-01-01", dtype="datetime64[D]")
    low = np.full(dates.shape, 10.0)
    for year, (spring, autumn) in enumerate(zip(last, first, strict=True), start=2001):
        for half, offset in ((f"{year}-01-01", spring), (f"{year}-08-01", autumn)):
            if offset is not None:
                low[(np.datetime64(half) - dates[0]).astype(int) + offset] = -1.0
    return epicotyl.DailyRecord(dates[0], low, np.full(dates.shape, 20.0))


def test_fitted_days_and_chances_are_those_of_the_normal_mixed_with_the_share_of_years():
    random = np.random.default_rng(20270302)
    last = [None if k % 8 == 0 else int(day) for k, day in enumerate(random.normal(105, 9, 40))]
    first = [None if k % 10 == 3 else int(day) for k, day in enumerate(random.normal(80, 11, 40))]
    record = record_with(last, first)
    risk = epicotyl.FreezeRisk(record, 0.0, estimator="fitted")
    # The risk rests on the latest 30 years.
    kept_last = [day for day in last[-30:] if day is not None]
    kept_first = [day for day in first[-30:] if day is not None]
    spring = stats.norm(np.mean(kept_last), np.std(kept_last, ddof=1))
    autumn = stats.norm(np.mean(kept_first), np.std(kept_first, ddof=1))
    share_last, share_first = len(kept_last) / 30, len(kept_first) / 30

    january, august = date(2027, 1, 1), date(2027, 8, 1)
    for p in (0.01, 0.05, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.85):
        offset = spring.isf(p / share_last)
        assert risk.last_freeze(p, year=2027) == january + timedelta(days=math.floor(offset + 0.5))
        offset = autumn.ppf(p / share_first)
        assert risk.first_freeze(p, year=2027) == august + timedelta(days=math.floor(offset + 0.5))
    for days in range(50, 160, 7):
        expected = share_last * spring.sf(days)
        assert risk.chance_later(january + timedelta(days=days)) == pytest.approx(expected, 1e-9)
    for days in range(30, 150, 7):
        expected = share_first * autumn.cdf(days)
        assert risk.chance_earlier(august + timedelta(days=days)) == pytest.approx(expected, 1e-9)
