"""Heat: printed cases, numerical integration, the record of Central Park, scipy's statistics."""

import datetime
import itertools
import os
import pickle
from pathlib import Path

import pytest

epicotyl = pytest.importorskip("epicotyl")
stats = pytest.importorskip("scipy.stats")
import numpy as np  # noqa: E402 - the package says what is missing

SQUARE_FOOT = 0.3048**2
BTU_AN_HOUR = 1055.05585262 / 3600.0
TUNNEL = epicotyl.heat.Structure(
    [epicotyl.heat.Surface("film", 90.0, 4.0)], volume=80.0, air_changes=0.75
)
FIRST, LAST = datetime.date(2027, 1, 10), datetime.date(2027, 4, 30)


@pytest.fixture(scope="module")
def park():
    where = os.environ.get("EPICOTYL_REFERENCE_DATA")
    if not where:
        pytest.skip("EPICOTYL_REFERENCE_DATA is not set")
    return epicotyl.read_ghcn_daily(Path(where) / "USW00094728_TMAX_TMIN_1869-2020.dly.gz")


@pytest.fixture(scope="module")
def climate(park):
    return epicotyl.Climate(park, latitude=40.78, season_days=365)


@pytest.fixture(scope="module")
def house():
    """Snapdragons grown in a heated house and planted out; invented but for their kinds."""
    stages = [
        {"begins": "sow", "where": "house", "takes": {"heat": 120.0, "base": 4.0}},
        {
            "begins": "emerge",
            "where": "house",
            "takes": {"heat": 420.0, "base": 4.0},
            "limit": 0.0,
        },
        {"begins": "transplant", "where": "beds", "takes": {"days": 60}, "limit": -2.2},
        {"begins": "first_harvest", "where": "beds", "takes": {"days": 20}, "limit": -2.2},
    ]
    return epicotyl.plan(
        format=1,
        units="metric",
        site={
            "latitude": 40.78,
            "season_start": datetime.date(2027, 1, 1),
            "season_days": 365,
            "frost": {"at": 0.0, "chance": 0.5},
        },
        places={
            "house": {
                "for": ["germinate", "grow"],
                "warmer_night": 2.0,
                "warmer_day": 8.0,
                "heat_to": 8.0,
            },
            "beds": {"for": ["field"]},
        },
        crops={"snapdragon": {"stages": stages}},
        succession=[
            {
                "name": "early",
                "crop": "snapdragon",
                "plants": 100,
                "target": {"event": "transplant", "on": datetime.date(2027, 5, 1)},
            },
            {
                "name": "late",
                "crop": "snapdragon",
                "plants": 100,
                "target": {"event": "transplant", "on": datetime.date(2027, 5, 20)},
            },
        ],
    )


def test_the_worked_case_of_a_general_calculator():
    u = 0.70 * BTU_AN_HOUR / SQUARE_FOOT * 1.8
    assert epicotyl.heat.u_of("double_polyethylene") == pytest.approx(u, rel=1e-12)
    film = epicotyl.heat.Surface("film", 2688.0 * SQUARE_FOOT, u)
    warmer = 50.0 / 1.8
    lost = epicotyl.heat.heat_loss(epicotyl.heat.Structure([film]), warmer, 0.0)
    assert lost / BTU_AN_HOUR == pytest.approx(94_080.0, rel=1e-12)
    leaky = epicotyl.heat.heat_loss(epicotyl.heat.Structure([film], allowance=0.15), warmer, 0.0)
    assert leaky / BTU_AN_HOUR == pytest.approx(108_192.0, rel=1e-12)


def test_arrays_are_broadcast_and_gaps_stay_gaps():
    lost = epicotyl.heat.heat_loss(TUNNEL, [[5.0], [8.0]], [-10.0, np.nan, 20.0])
    loss = epicotyl.heat.loss_per_kelvin(TUNNEL)
    assert loss == pytest.approx(90.0 * 4.0 + 0.33 * 0.75 * 80.0)
    np.testing.assert_allclose(lost, [[15 * loss, np.nan, 0.0], [18 * loss, np.nan, 0.0]])
    assert epicotyl.heat.coldest_outdoors(TUNNEL, 5.0, 15 * loss) == pytest.approx(-10.0)


def test_wrong_structures_and_words_are_refused():
    with pytest.raises(epicotyl.InvalidInput) as refused:
        epicotyl.heat.loss_per_kelvin(
            epicotyl.heat.Structure([epicotyl.heat.Surface("film", -1.0, 4.0)])
        )
    assert refused.value.field == "surfaces[1].area"
    with pytest.raises(epicotyl.InvalidInput, match="single_glass"):
        epicotyl.heat.u_of("single glass")
    with pytest.raises(TypeError, match="Structure"):
        epicotyl.heat.loss_per_kelvin([("film", 1.0, 4.0)])
    with pytest.raises(TypeError, match="Surface"):
        epicotyl.heat.loss_per_kelvin(epicotyl.heat.Structure([("film", 1.0, 4.0)]))


def test_winters_of_the_record_and_their_ranks(park):
    cold = epicotyl.heat.coldest_night(park, latitude=40.78, in_years=10.0)
    dates, low = park.dates, park.tmin
    expected = []
    for year in range(1869, 2020):
        winter = (dates >= np.datetime64(f"{year}-07-01")) & (
            dates < np.datetime64(f"{year + 1}-07-01")
        )
        missing = 365 - int(np.isfinite(low[winter]).sum())
        if missing <= 10:
            expected.append((year, float(np.nanmin(low[winter]))))
    assert cold.winters == expected[-30:]
    lows = np.sort([one for _, one in cold.winters])
    assert cold.night == lows[2]  # 31 / 10
    # Ranks of the interval by the binomial distribution.
    below = stats.binom.cdf(np.arange(30), 30, 0.1)
    assert cold.low is None
    assert below[0] > 0.025
    upper = next(u for u in range(1, 31) if 1.0 - below[u - 1] <= 0.025)
    assert cold.high == lows[upper - 1]
    every = epicotyl.heat.coldest_night(park, latitude=40.78, in_years=10.0, years=0)
    assert every.low is not None
    assert every.low <= every.night <= every.high


def test_intervals_hold_the_true_quantile_as_often_as_they_say():
    rng = np.random.default_rng(11)
    true = stats.norm.ppf(0.2, -15.0, 4.0)
    start = datetime.date(2000, 7, 1)
    dates = np.arange("2000-07-01", "2030-07-01", dtype="datetime64[D]")
    january = [
        int((np.datetime64(f"{year}-01-15") - dates[0]).astype(int)) for year in range(2001, 2031)
    ]
    held = 0
    for _ in range(300):
        low = np.full(dates.size, 30.0)
        low[january] = rng.normal(-15.0, 4.0, len(january))
        record = epicotyl.DailyRecord(start, low, np.full(dates.size, 40.0))
        cold = epicotyl.heat.coldest_night(record, latitude=50.0, in_years=5.0, level=0.9)
        held += (cold.low is None or cold.low <= true) and (cold.high is None or true <= cold.high)
    assert held >= 300 * 0.9 - 3 * np.sqrt(300 * 0.09)


def kelvin_days(low, high, at):
    """Mean of what lies below a temperature on a sine, hour by hour of a fine day."""
    hours = np.sin(2.0 * np.pi * (np.arange(20_000) + 0.5) / 20_000)
    day = (low + high)[:, None] / 2.0 + (high - low)[:, None] / 2.0 * hours
    return np.maximum(0.0, at - day).mean(axis=1)


def test_heat_is_what_the_sine_of_each_day_lacks(house, climate, park):
    found = epicotyl.heat.heat_of_season(
        TUNNEL, house, climate, "house", FIRST, LAST, per_kwh=0.3, efficiency=0.9, currency="EUR"
    )
    loss = epicotyl.heat.loss_per_kelvin(TUNNEL)
    assert found.years.tolist() == climate.years
    for i in (0, 13, 29):
        year = climate.years[i]
        dates = np.arange(f"{year}-01-01", f"{year + 1}-01-01", dtype="datetime64[D]")
        days = dates[9:120]  # 10 January to 30 April, by number as season years are met
        at = (days - park.dates[0]).astype(int)
        needed = kelvin_days(park.tmin[at] + 2.0, park.tmax[at] + 8.0, 8.0).sum()
        assert found.kwh[i] == pytest.approx(loss * 24.0 * needed / 1000.0, rel=1e-5)
    np.testing.assert_allclose(found.cost, found.kwh / 0.9 * 0.3)
    assert found.usual[0] == np.sort(found.kwh)[14]
    assert "EUR" in str(found)
    for caution in epicotyl.heat.heat_cautions():
        assert caution in str(found)
    assert pickle.loads(pickle.dumps(found)).kwh.tolist() == found.kwh.tolist()


def test_lower_set_points_cost_less_and_less_and_plants_are_never_ready_sooner(house, climate):
    points = np.arange(0.0, 13.0, 2.0)
    curve = epicotyl.heat.heat_curve(
        house, climate, "house", TUNNEL, points, FIRST, LAST, per_kwh=0.3, currency="EUR"
    )
    print("\n" + str(curve))
    kwh = np.array([point.heat.kwh for point in curve.points])
    rise = np.diff(kwh, axis=0)
    assert np.all(rise > 0.0)
    assert np.all(np.diff(rise, axis=0) > 0.0)
    costs = [point.heat.usual[1] for point in curve.points]
    assert costs == sorted(costs)
    for at in range(2):
        ready = [point.batches[at].ready for point in curve.points]
        for lower, higher in itertools.pairwise(ready):
            assert np.all(np.isnat(lower) | (lower >= higher))
        assert np.any(ready[0] > ready[-1])
        # At 0 °C the early batch cannot be grown in time at all.
        sown = [point.batches[at].sow for point in curve.points if point.batches[at].sow]
        assert len(sown) >= 6
        assert sown == sorted(sown)
    for point in curve.points:
        for batch in point.batches:
            assert batch.years == 30
            assert batch.damaged <= batch.damaged_heater_off
    # A house held at 2 °C is never below the limit of 0 °C; with the heater off it is.
    assert curve.points[1].batches[0].damaged_heater_off > curve.points[1].batches[0].damaged
    assert "heater off" in str(curve)
    assert epicotyl.heat.heat_cautions()[0] in str(curve)


def test_the_set_point_of_the_plan_is_the_plan(house, climate):
    curve = epicotyl.heat.heat_curve(house, climate, "house", TUNNEL, [8.0], FIRST, LAST)
    calendar = epicotyl.schedule(house, climate)
    heat = epicotyl.heat.heat_of_season(TUNNEL, house, climate, "house", FIRST, LAST)
    assert curve.points[0].heat.kwh.tolist() == heat.kwh.tolist()
    for batch in curve.points[0].batches:
        assert batch.sow == calendar.date(batch.succession, "sow")
        # Sown on the planned day it is ready by the target in the share of years that is planned.
        asked = calendar.date(batch.succession, "transplant")
        assert np.mean(batch.ready <= np.datetime64(asked)) >= calendar.reliability
    with pytest.raises(epicotyl.InvalidInput, match="set point"):
        epicotyl.heat.heat_curve(house, climate, "house", TUNNEL, [], FIRST, LAST)
    with pytest.raises(epicotyl.InvalidInput, match="set point"):
        epicotyl.heat.heat_of_season(TUNNEL, house, climate, "beds", FIRST, LAST)
    with pytest.raises(epicotyl.InvalidInput, match="no place"):
        epicotyl.heat.heat_curve(house, climate, "hous", TUNNEL, [1.0], FIRST, LAST)


def test_a_measured_gain_agrees_with_general_statistics():
    rng = np.random.default_rng(12)
    outside = rng.normal(-2.0, 5.0, 60)
    inside = outside + 2.78 + rng.normal(0.0, 0.8, 60) - 0.1 * outside
    inside[[3, 9]] = np.nan
    outside[[9, 20, 21]] = np.nan
    fit = epicotyl.heat.fit_air(inside, outside)
    both = np.isfinite(inside) & np.isfinite(outside)
    gain = (inside - outside)[both]
    assert fit.nights == both.sum() == 56
    assert fit.gain == pytest.approx(gain.mean(), rel=1e-12)
    assert fit.error == pytest.approx(stats.sem(gain), rel=1e-12)
    assert fit.middle == pytest.approx(np.median(gain), rel=1e-12)
    spread = stats.median_abs_deviation(gain)
    assert fit.middle_error == pytest.approx(1.2533 * 1.4826 * spread / np.sqrt(56), rel=1e-12)
    line = stats.linregress(outside[both], inside[both])
    assert fit.slope == pytest.approx(line.slope, rel=1e-9)
    assert fit.slope_error == pytest.approx(line.stderr, rel=1e-9)


def test_the_median_moves_little_by_a_few_wild_nights():
    rng = np.random.default_rng(13)
    outside = rng.normal(0.0, 4.0, 50)
    inside = outside + 3.0 + rng.normal(0.0, 0.5, 50)
    clean = epicotyl.heat.fit_air(inside, outside)
    inside[:4] = outside[:4] + 25.0
    wild = epicotyl.heat.fit_air(inside, outside)
    assert abs(wild.middle - clean.middle) < 0.2 < 1.0 < wild.gain - clean.gain


def test_gains_that_cannot_be_measured_are_refused():
    with pytest.raises(epicotyl.InvalidInput, match="no night"):
        epicotyl.heat.fit_air([np.nan], [1.0])
    with pytest.raises(epicotyl.InvalidInput, match="same nights"):
        epicotyl.heat.fit_air([1.0, 2.0], [1.0])
    with pytest.raises(TypeError, match="numbers"):
        epicotyl.heat.fit_air(["1"], [1.0])
    with pytest.raises(epicotyl.InvalidInput, match="double_film"):
        epicotyl.heat.guess_night_gain(["doublefilm"])
    with pytest.raises(TypeError, match="sequence"):
        epicotyl.heat.guess_night_gain("double_film")
    both = epicotyl.heat.guess_night_gain(["double_film", "light_fabric"])
    assert (both.low, both.high) == (2.0, 7.0)
