"""Degree-days and day length of whole arrays: every method, cutoff and model, day by day."""

import itertools
from datetime import date

import numpy as np
import pytest

epicotyl = pytest.importorskip("epicotyl")

CUTOFFS = ["horizontal", "intermediate", "vertical"]
SINGLE = ["average", "single_triangle", "single_sine"]
DOUBLE = ["double_triangle", "double_sine"]
COMBINATIONS = [
    *itertools.product([*SINGLE, *DOUBLE], CUTOFFS),
    ("average_floored", "horizontal"),
]


@pytest.fixture(scope="module")
def rows():
    """Six runs of forty days below, across and above both thresholds, a few days missing."""
    chance = np.random.default_rng(2027)
    low = chance.uniform(-10.0, 35.0, (2, 3, 40))
    high = low + chance.uniform(0.0, 20.0, low.shape)
    low[0, 1, 7] = np.nan
    high[1, 2, 39] = np.nan
    return low, high


@pytest.mark.parametrize(("method", "cutoff"), COMBINATIONS, ids="-".join)
@pytest.mark.parametrize("upper", [None, 30.0])
def test_an_array_is_reckoned_as_its_days_are(method, cutoff, upper, rows):
    low, high = rows
    options = {"base": 10.0, "upper": upper, "method": method, "cutoff": cutoff}
    found = epicotyl.degree_days(low, high, **options)
    assert found.shape == low.shape
    assert found.dtype == np.float64
    for index in np.ndindex(low.shape):
        # A double method of one day is a run of two: the next day's minimum counts.
        run = slice(index[-1], index[-1] + 2)
        of_run = epicotyl.degree_days(low[index[:-1]][run], high[index[:-1]][run], **options)
        np.testing.assert_array_equal(found[index], of_run[0])
        if method in SINGLE or method == "average_floored":
            alone = epicotyl.degree_days(float(low[index]), float(high[index]), **options)
            np.testing.assert_array_equal(found[index], alone)


@pytest.mark.parametrize("cutoff", CUTOFFS)
def test_triangles_are_the_mean_of_many_moments(cutoff):
    # A straight line up and down, looked at 100,000 times a day.
    low, high, base, upper = np.array([5.0, 12.0, 0.0, 28.0]), 35.0, 10.0, 30.0
    moment = (np.arange(100_000) + 0.5) / 100_000
    temperature = low[:, None] + (high - low[:, None]) * moment
    over = np.clip(temperature - base, 0.0, None)
    beyond = np.clip(temperature - upper, 0.0, None)
    momentary = {
        "horizontal": over - beyond,
        "intermediate": over - 2.0 * beyond,
        "vertical": np.where(temperature > upper, 0.0, over),
    }[cutoff]
    found = epicotyl.degree_days(
        low, np.full(4, high), base=base, upper=upper, method="single_triangle", cutoff=cutoff
    )
    np.testing.assert_allclose(found, np.clip(momentary.mean(axis=1), 0.0, None), atol=1e-3)


@pytest.mark.parametrize("model", ["cbm", "fao56"])
def test_day_length_of_an_array_is_that_of_its_days(model):
    dates = np.arange("2027-01-01", "2029-01-01", 13, dtype="datetime64[D]")[:56].reshape(7, 8)
    for latitude in (-66.0, -34.0, 0.0, 51.9, 80.0):
        found = epicotyl.day_length(latitude, dates, model=model)
        alone = [[epicotyl.day_length(latitude, day, model=model) for day in row] for row in dates]
        np.testing.assert_array_equal(found, alone)
        assert ((found >= 0.0) & (found <= 24.0)).all()


def test_fao56_is_its_three_equations():
    """Allen, Pereira, Raes and Smith 1998, equations 24, 25 and 34."""
    dates = np.arange("2027-01-01", "2028-01-01", dtype="datetime64[D]")
    latitude = np.radians(51.9)
    declination = 0.409 * np.sin(2 * np.pi * np.arange(1, 366) / 365 - 1.39)
    wanted = 24 / np.pi * np.arccos(-np.tan(latitude) * np.tan(declination))
    np.testing.assert_allclose(epicotyl.day_length(51.9, dates, model="fao56"), wanted)


@pytest.mark.parametrize("model", ["cbm", "fao56"])
@pytest.mark.parametrize("latitude", [-45.0, 0.0, 40.0, 68.0])
@pytest.mark.parametrize("hours", [0.0, 8.0, 10.0, 12.1, 24.0])
def test_first_and_last_day_are_those_of_the_array(model, latitude, hours):
    dates = np.arange("2027-01-15", "2028-02-01", dtype="datetime64[D]")
    long = np.flatnonzero(epicotyl.day_length(latitude, dates, model=model) >= hours)
    run = {"start": dates[0], "until": dates[-1], "model": model}
    first = epicotyl.clock.first_day_with(latitude, hours, **run)
    last = epicotyl.clock.last_day_with(latitude, hours, **run)
    if long.size:
        assert (first, last) == (dates[long[0]].item(), dates[long[-1]].item())
    else:
        assert (first, last) == (None, None)


def test_twilight_makes_days_longer_and_the_first_of_them_earlier():
    run = {"start": date(2027, 1, 1), "until": date(2027, 6, 30)}
    civil = epicotyl.clock.first_day_with(51.9, 12.0, sun_angle=6.0, **run)
    assert civil < epicotyl.clock.first_day_with(51.9, 12.0, **run)


@pytest.mark.parametrize("of", ["first_day_with", "last_day_with"])
@pytest.mark.parametrize(
    ("change", "error", "match"),
    [
        ({"hours": 25.0}, epicotyl.InvalidInput, "hours"),
        ({"hours": float("nan")}, epicotyl.InvalidInput, "hours"),
        ({"latitude": 91.0}, epicotyl.InvalidInput, "latitude"),
        ({"until": date(2026, 12, 31)}, epicotyl.InvalidInput, "until"),
        ({"model": "fao"}, epicotyl.InvalidInput, "fao56"),
        ({"sun_angle": 30.0}, epicotyl.InvalidInput, "sun_angle"),
        ({"hours": "10"}, TypeError, "hours"),
        ({"start": "2027-01-01"}, TypeError, "date"),
        ({"until": None}, TypeError, "date"),
    ],
)
def test_questions_about_days_of_a_length_are_checked(of, change, error, match):
    given = {
        "latitude": 51.9,
        "hours": 10.0,
        "start": date(2027, 1, 1),
        "until": date(2027, 6, 30),
    } | change
    with pytest.raises(error, match=match):
        getattr(epicotyl.clock, of)(given.pop("latitude"), given.pop("hours"), **given)
