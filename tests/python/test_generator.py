"""The weather generator: models, and the weather that is drawn from them."""

import pickle
import subprocess
import sys
from datetime import date

import numpy as np
import pytest

epicotyl = pytest.importorskip("epicotyl")


def course(level, *cosine, sine=(0.0, 0.0, 0.0)):
    waves = (*cosine, 0.0, 0.0, 0.0)[:3]
    return epicotyl.weather.YearlyCourse(level, cosine=waves, sine=sine)


def northern(**changes):
    parts = {
        "minimum": epicotyl.weather.ElementCourse(course(5.0, -10.0), course(3.0)),
        "maximum": epicotyl.weather.ElementCourse(
            course(18.0, -12.0, sine=(0.0, 2.0, 0.0)), course(4.0)
        ),
        "same_day": 0.6,
        "next_day": [[0.6, 0.5], [0.4, 0.6]],
        "origin": "made from a test's model",
    }
    return epicotyl.weather.WeatherModel(**(parts | changes))


def test_the_phase_runs_once_round_each_year_leap_or_not():
    assert epicotyl.weather.phase_of(date(2028, 1, 1)) == 0.0
    days = np.array(["2027-07-01", "2028-07-01", "2028-12-31", "NaT"], dtype="datetime64[D]")
    wanted = 2 * np.pi * np.array([181 / 365, 182 / 366, 365 / 366, np.nan])
    np.testing.assert_allclose(epicotyl.weather.phase_of(days), wanted)
    assert epicotyl.weather.phase_of(days.reshape(2, 2)).shape == (2, 2)
    with pytest.raises(TypeError):
        epicotyl.weather.phase_of("2027-01-01")


def test_a_yearly_course_is_the_sum_of_its_waves():
    one = epicotyl.weather.YearlyCourse(1.0, cosine=(2.0, 3.0, 4.0), sine=(5.0, 6.0, 7.0))
    phases = np.linspace(0.0, 2 * np.pi, 12).reshape(3, 4)
    wanted = 1.0 + sum(
        one.cosine[k] * np.cos((k + 1) * phases) + one.sine[k] * np.sin((k + 1) * phases)
        for k in range(3)
    )
    np.testing.assert_allclose(one.at(phases), wanted)
    assert one.at(0.0) == 10.0
    with pytest.raises(TypeError, match="three numbers"):
        epicotyl.weather.YearlyCourse(1.0, cosine=(2.0,))
    with pytest.raises(TypeError, match="level"):
        epicotyl.weather.YearlyCourse("1")


def test_matrices_of_a_model_are_those_of_its_correlations():
    model = northern()
    today = np.array([[1.0, 0.6], [0.6, 1.0]])
    lagged = np.array([[0.6, 0.5], [0.4, 0.6]])
    carried = lagged @ np.linalg.inv(today)
    np.testing.assert_allclose(model.carried, carried)
    np.testing.assert_allclose(model.renewed, np.linalg.cholesky(today - carried @ lagged.T))
    np.testing.assert_array_equal(model.next_day, lagged)
    assert model.same_day == 0.6
    assert model.minimum.mean.cosine == (-10.0, 0.0, 0.0)
    assert model.maximum.mean.sine == (0.0, 2.0, 0.0)
    assert model.maximum.spread.level == 4.0


def test_share_of_days_that_meet_is_that_of_the_normal_distribution():
    stats = pytest.importorskip("scipy.stats")
    model = northern(
        minimum=epicotyl.weather.ElementCourse(course(10.0), course(3.0)),
        maximum=epicotyl.weather.ElementCourse(course(12.0), course(4.0)),
    )
    # The range: mean 2, variance 9 + 16 - 2 · 0.6 · 12.
    assert model.met_share == pytest.approx(stats.norm(2.0, np.sqrt(10.6)).cdf(0.0))


def test_weather_is_the_same_on_every_machine():
    # From the same formulas written a second time, see tests/unit/generator_test.cpp.
    made = epicotyl.weather.generate(northern(), date(2028, 2, 28), 4, seed=2027)
    assert made.tmin.tolist() == [-2.24, -1.52, 0.56, -0.18]
    assert made.tmax.tolist() == [16.33, 12.84, 14.82, 14.58]
    assert made.origin == "made from a test's model"
    assert made.start == date(2028, 2, 28)


def test_a_longer_record_begins_with_the_shorter_and_another_seed_is_other_weather():
    model = northern()
    longer = epicotyl.weather.generate(model, np.datetime64("2001-01-01"), 900, seed=7)
    shorter = epicotyl.weather.generate(model, date(2001, 1, 1), 300, seed=7)
    np.testing.assert_array_equal(shorter.tmin, longer.tmin[:300])
    assert epicotyl.weather.generate(model, date(2001, 1, 1), 300, seed=8) != shorter
    largest = epicotyl.weather.generate(model, date(2001, 1, 1), 1, seed=2**64 - 1)
    assert largest == epicotyl.weather.generate(
        model, date(2001, 1, 1), 1, seed=np.uint64(2**64 - 1)
    )


def test_a_fit_gives_back_what_was_drawn_from():
    model = northern()
    drawn = epicotyl.weather.generate(model, date(1801, 1, 1), 36524, seed=11)
    fitted = epicotyl.weather.fit_weather_model(drawn, years="all")
    assert fitted.origin == "made from a model of a record, 1801 – 1900"
    phases = np.linspace(0.0, 2 * np.pi, 50)
    np.testing.assert_allclose(
        fitted.minimum.mean.at(phases), model.minimum.mean.at(phases), atol=0.35
    )
    np.testing.assert_allclose(
        fitted.maximum.spread.at(phases), model.maximum.spread.at(phases), atol=0.3
    )
    assert fitted.same_day == pytest.approx(0.6, abs=0.02)
    np.testing.assert_allclose(fitted.next_day, model.next_day, atol=0.03)


def test_a_fit_to_a_mean_is_the_least_squares_of_numpy():
    drawn = epicotyl.weather.generate(northern(), date(2001, 1, 1), 7304, seed=3)
    phases = epicotyl.weather.phase_of(drawn.dates)
    waves = [f((k + 1) * phases) for f in (np.cos, np.sin) for k in range(3)]
    wanted, *_ = np.linalg.lstsq(np.column_stack([np.ones_like(phases), *waves]), drawn.tmin)
    mean = epicotyl.weather.fit_weather_model(drawn, years="all").minimum.mean
    np.testing.assert_allclose([mean.level, *mean.cosine, *mean.sine], wanted, atol=1e-8)


def test_a_fit_looks_at_the_years_asked_for():
    ten = epicotyl.weather.generate(northern(), date(2001, 1, 1), 3652, seed=1)
    some = epicotyl.weather.fit_weather_model(ten, years=(2003, 2005))
    assert some.origin == "made from a model of a record, 2003 – 2005"
    assert epicotyl.weather.fit_weather_model(ten, years=3).origin.endswith("2008 – 2010")
    with pytest.raises(epicotyl.InvalidInput, match="20 or more days"):
        epicotyl.weather.fit_weather_model(ten, years=(2003, 2003))
    with pytest.raises(epicotyl.InvalidInput, match="years"):
        epicotyl.weather.fit_weather_model(ten, years="every")


LOWS = [-3.0, -2.2, 1.4, 7.2, 12.3, 17.7, 20.8, 20.2, 16.4, 10.2, 5.0, 0.2]
HIGHS = [4.3, 5.8, 10.1, 16.7, 22.0, 26.7, 29.6, 28.6, 24.7, 18.2, 12.3, 7.0]


def test_monthly_means_of_a_model_are_the_normals_it_was_made_from():
    model = epicotyl.weather.model_from_normals(LOWS, HIGHS)
    days = np.arange("2027-01-01", "2028-01-01", dtype="datetime64[D]")
    months = days.astype("datetime64[M]").astype(int) % 12
    for element, normals in ((model.minimum, LOWS), (model.maximum, HIGHS)):
        values = element.mean.at(epicotyl.weather.phase_of(days))
        means = [values[months == month].mean() for month in range(12)]
        np.testing.assert_allclose(means, normals, atol=0.6)
    assert model.origin == "made from normals"


def test_what_normals_do_not_say_is_new_york_unless_given():
    told = epicotyl.weather.model_from_normals(
        np.array(LOWS),
        HIGHS,
        minimum_spread_coldest=5.1,
        minimum_spread_warmest=2.5,
        maximum_spread_coldest=5.7,
        maximum_spread_warmest=3.5,
        same_day=0.78,
        next_day=[[0.69, 0.63], [0.54, 0.60]],
    )
    assert epicotyl.weather.model_from_normals(LOWS, HIGHS) == told
    mild = epicotyl.weather.model_from_normals(LOWS, HIGHS, minimum_spread_coldest=3.0)
    phases = np.linspace(0.0, 2 * np.pi, 400)
    assert mild.minimum.spread.at(phases).max() == pytest.approx(3.0, abs=0.01)
    assert mild.minimum.spread.at(phases).min() == pytest.approx(2.5, abs=0.01)
    assert mild.maximum == told.maximum


NAN = float("nan")


@pytest.mark.parametrize(
    ("call", "error", "match"),
    [
        (lambda: northern(same_day=1.0), epicotyl.InvalidInput, "same_day"),
        (lambda: northern(same_day=None), TypeError, "same_day"),
        (lambda: northern(next_day=[[0.9, 0], [0, 0.9]]), epicotyl.InvalidInput, "no weather"),
        (lambda: northern(next_day=[0.9, 0.9]), epicotyl.InvalidInput, "next_day"),
        (lambda: northern(origin=""), epicotyl.InvalidInput, "origin"),
        (lambda: northern(minimum=3.0), TypeError, "minimum"),
        (
            lambda: northern(minimum=epicotyl.weather.ElementCourse(course(NAN), course(3.0))),
            epicotyl.InvalidInput,
            "minimum.mean",
        ),
        (
            lambda: northern(
                maximum=epicotyl.weather.ElementCourse(course(9.0), course(2.0, -2.5))
            ),
            epicotyl.InvalidInput,
            "maximum.spread",
        ),
        (lambda: epicotyl.weather.ElementCourse(3.0, course(3.0)), TypeError, "mean"),
        (
            lambda: epicotyl.weather.model_from_normals(HIGHS, LOWS),
            epicotyl.InvalidInput,
            "mean low",
        ),
        (
            lambda: epicotyl.weather.model_from_normals(LOWS[:11], HIGHS),
            epicotyl.InvalidInput,
            "lows",
        ),
        (
            lambda: epicotyl.weather.model_from_normals(LOWS, [*HIGHS[:11], 30.0]),
            epicotyl.InvalidInput,
            "December",
        ),
        (
            lambda: epicotyl.weather.generate(northern(), date(2001, 1, 1), 0, seed=1),
            epicotyl.InvalidInput,
            "length",
        ),
        (
            lambda: epicotyl.weather.generate(northern(), date(2001, 1, 1), 10**12, seed=1),
            epicotyl.InvalidInput,
            "length",
        ),
        (
            lambda: epicotyl.weather.generate(northern(), date(2001, 1, 1), 9, seed=-1),
            epicotyl.InvalidInput,
            "seed",
        ),
        (
            lambda: epicotyl.weather.generate(northern(), date(2001, 1, 1), 9, seed=2**64),
            epicotyl.InvalidInput,
            "seed",
        ),
        (
            lambda: epicotyl.weather.generate(northern(), date(2001, 1, 1), 9, seed=1.0),
            TypeError,
            "seed",
        ),
        (lambda: epicotyl.weather.generate(northern(), "2001-01-01", 9, seed=1), TypeError, "date"),
        (lambda: epicotyl.weather.generate(None, date(2001, 1, 1), 9, seed=1), TypeError, "model"),
        (lambda: epicotyl.weather.fit_weather_model(northern()), TypeError, "record"),
    ],
)
def test_what_is_no_model_is_refused(call, error, match):
    with pytest.raises(error, match=match):
        call()


@pytest.mark.parametrize("protocol", range(2, pickle.HIGHEST_PROTOCOL + 1))
def test_models_and_courses_are_values(protocol):
    model = northern()
    again = pickle.loads(pickle.dumps(model, protocol))
    assert again == model
    assert hash(again) == hash(model)
    assert again != northern(same_day=0.5)
    assert pickle.loads(pickle.dumps(model.minimum, protocol)) == model.minimum
    assert len({model.minimum, again.minimum}) == 1
    assert repr(model) == "<WeatherModel made from a test's model: means 5.0 and 18.0 °C>"
    with pytest.raises(AttributeError):
        model.same_day = 0.2
    with pytest.raises(AttributeError):
        model.minimum.mean = model.maximum.mean


def test_generated_weather_carries_its_origin_through_a_pickle():
    made = epicotyl.weather.generate(northern(), date(2001, 1, 1), 730, seed=7)
    again = pickle.loads(pickle.dumps(made))
    assert again == made
    assert again.origin == made.origin
    climate = epicotyl.Climate(again, latitude=51.9, season_days=365)
    assert climate.year_note.endswith("made from a test's model")
    assert pickle.loads(pickle.dumps(climate)) == climate


def test_the_lock_is_free_while_weather_is_drawn():
    # Four million days take a good part of a second; another thread goes on meanwhile.
    code = """
import datetime, threading, epicotyl
model = epicotyl.weather.model_from_normals([5.0] * 12, [15.0] * 12)
work = threading.Thread(
    target=epicotyl.weather.generate,
    args=(model, datetime.date(1, 1, 1), 3_000_000),
    kwargs={"seed": 1},
)
work.start()
turns = 0
while work.is_alive():
    turns += 1
work.join()
print(turns)
"""
    told = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert int(told.stdout) > 1000
