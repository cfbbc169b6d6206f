"""Climates made from a climate: shifted, only some years, given the season so far."""

import itertools
import pickle
from datetime import date

import numpy as np
import pytest

epicotyl = pytest.importorskip("epicotyl")

GONE = float("nan")


@pytest.fixture(scope="module")
def here():
    """Ten years whose minimum is the day's number in 64ths of a °C; 2004 has too long a gap."""
    days = np.arange("2000-01-01", "2010-01-01", dtype="datetime64[D]")
    low = np.arange(days.size) / 64.0
    low[(days >= np.datetime64("2004-05-01")) & (days < np.datetime64("2004-05-10"))] = GONE
    record = epicotyl.DailyRecord(days[0], low, np.arange(days.size) / 64.0 + 5.0, "Marlpit")
    return epicotyl.Climate(record, latitude=51.9, season_days=365)


def so_far(length, low=-1.0, start="2027-01-01"):
    return epicotyl.DailyRecord(
        np.datetime64(start), np.full(length, low), np.full(length, low + 5.0)
    )


def test_a_shifted_climate_has_the_same_years_each_day_that_much_warmer(here):
    warmer = here.shifted(2.0)
    assert warmer.years == here.years
    assert warmer.left_out == here.left_out
    np.testing.assert_array_equal(warmer.tmin, np.array(here.tmin) + 2.0)
    np.testing.assert_array_equal(warmer.tmax, np.array(here.tmax) + 2.0)
    assert (here.origin, warmer.origin) == ("", "shifted by +2 K")
    assert warmer.record.origin == "shifted by +2 K"
    assert warmer.year_note == "9 season years, 2000 – 2009; 1 left out (2004); shifted by +2 K"
    assert here.shifted(0) == here
    assert warmer != here


def test_a_shift_by_month_moves_each_month_by_its_own(here):
    spans = np.arange(12) - 1.0
    moved = here.shifted(spans)
    months = np.arange("2001-01-01", "2002-01-01", dtype="datetime64[D]")
    months = months.astype("datetime64[M]").astype(int) % 12
    np.testing.assert_array_equal(moved.tmax[1], here.tmax[1] + spans[months])
    assert moved.origin == "shifted month by month by -1 to +10 K"


def test_only_some_years_keep_their_numbers(here):
    some = here.only([2007, 2002])
    assert some.years == [2002, 2007]
    assert (here.is_chosen, some.is_chosen) == (False, True)
    np.testing.assert_array_equal(some.tmin, np.array(here.tmin)[[2, 6]])
    assert [one.year for one in some.left_out] == [2004]
    assert some.origin == "only chosen years"
    assert here.only(here.years) != here


def test_given_days_stand_in_every_season_year(here):
    given = here.given(so_far(59), so_far(7, low=3.0, start="2027-03-01"))
    assert (given.tmin[:, :59] == -1.0).all()
    assert (given.tmin[:, 59:66] == 3.0).all()
    np.testing.assert_array_equal(given.tmin[:, 66:], here.tmin[:, 66:])
    assert given.observed == so_far(59)
    assert given.forecast == so_far(7, low=3.0, start="2027-03-01")
    assert given.origin == "observed to 28 Feb 2027, forecast to 7 Mar 2027"
    assert (here.observed, here.forecast, given.given(so_far(3)).forecast) == (None, None, None)
    # What has happened is not shifted.
    assert (given.shifted(2.0).tmin[:, :59] == -1.0).all()


def test_short_gaps_of_what_was_observed_are_filled(here):
    low = np.array([0.0, GONE, GONE, 3.0])
    observed = epicotyl.DailyRecord(date(2027, 1, 1), low, low + 5.0)
    np.testing.assert_allclose(here.given(observed).tmin[0, :4], [0.0, 1.0, 2.0, 3.0])


@pytest.mark.parametrize(
    ("call", "error", "match"),
    [
        (lambda of: of.only([]), epicotyl.InvalidInput, "no season year"),
        (lambda of: of.only([2001, 2001]), epicotyl.InvalidInput, "twice"),
        (lambda of: of.only([2004]), epicotyl.InvalidInput, "2004"),
        (lambda of: of.only(["2001"]), TypeError, "years"),
        (lambda of: of.shifted(GONE), epicotyl.InvalidInput, "by: nan"),
        (lambda of: of.shifted([1.0, 2.0]), epicotyl.InvalidInput, r"\(2,\)"),
        (lambda of: of.shifted("2"), TypeError, "by"),
        (lambda of: of.given(so_far(3, start="2027-01-02")), epicotyl.InvalidInput, "first day"),
        (
            lambda of: of.given(so_far(3), so_far(3, start="2027-01-03")),
            epicotyl.InvalidInput,
            "forecast",
        ),
        (lambda of: of.given(so_far(366)), epicotyl.InvalidInput, "365"),
        (lambda of: of.given(so_far(3, low=GONE)), epicotyl.InvalidInput, "observed"),
        (lambda of: of.given(of), TypeError, "observed"),
        (lambda of: of.given(so_far(3), 3), TypeError, "forecast"),
    ],
)
def test_what_makes_no_climate_is_refused(call, error, match, here):
    with pytest.raises(error, match=match):
        call(here)


STEPS = {
    "shifted": lambda of: of.shifted(1.5),
    "by month": lambda of: of.shifted(np.linspace(-1.0, 2.0, 12)),
    "only": lambda of: of.only(of.years[1::2]),
    "given": lambda of: of.given(so_far(20), so_far(5, start="2027-01-21")),
    "observed": lambda of: of.given(so_far(20)),
}


@pytest.mark.parametrize(
    "names",
    [names for count in (1, 2, 3) for names in itertools.permutations(STEPS, count)],
    ids=" ".join,
)
def test_a_pickled_climate_comes_back_with_all_that_was_done_to_it(names, here):
    climate = here
    for name in names:
        climate = STEPS[name](climate)
    again = pickle.loads(pickle.dumps(climate))
    assert again == climate
    assert hash(again) == hash(climate)
    assert again.origin == climate.origin != ""
    assert again.year_note == climate.year_note
    assert again.is_chosen == climate.is_chosen
    assert again.observed == climate.observed
    assert again.forecast == climate.forecast
    assert again.left_out == climate.left_out
    assert again.warnings == climate.warnings
    np.testing.assert_array_equal(again.tmin, climate.tmin)
    np.testing.assert_array_equal(again.tmax, climate.tmax)
    assert again.only(again.years[:1]) == climate.only(climate.years[:1])


def test_a_climate_pickled_before_there_was_a_what_if_is_a_plain_one(here):
    version, *parts = here.__getstate__()
    assert version == 2
    old = epicotyl.Climate.__new__(epicotyl.Climate)
    old.__setstate__((1, *parts[:6]))
    assert old == here


def test_plans_are_made_and_pickled_under_such_a_climate(known):
    climate = known.climate.only(known.climate.years[:5]).given(so_far(40, low=6.0))
    calendar = epicotyl.schedule(known.plan, climate)
    prospect = epicotyl.simulate(calendar, known.climate.shifted(1.0))
    assert calendar.origin == climate.origin
    again = pickle.loads(pickle.dumps(prospect))
    assert again == prospect
    assert again.calendar.climate.origin == climate.origin
    assert again.climate.origin == "shifted by +1 K"
    np.testing.assert_array_equal(again.days_all, prospect.days_all)


@pytest.mark.parametrize("span", [2**64, -(2**70), [2**64] * 12])
def test_whole_numbers_beyond_64_bits_are_refused_as_numbers_not_as_a_kind(here, span):
    with pytest.raises(epicotyl.InvalidInput, match=r"\(allowed: -60 to 60 K\)"):
        here.shifted(span)
