"""What holds of freeze dates on every record: by chance, by threshold, and in the other half of the
world.

Records are ten to twelve warm years with a few cold nights, so that every date is known from what
was drawn.
"""

import datetime

import hypothesis
import numpy as np
import pytest
from hypothesis import strategies as st

epicotyl = pytest.importorskip("epicotyl")

FIRST_YEAR = 2001
CHANCES = [0.02, 0.05, 0.1, 0.2, 0.25, 0.3, 0.4, 0.5, 0.6, 0.7, 0.75, 0.8, 0.9, 0.95, 0.98]

# Days that every month has, so that six months later is a day too.
nights = st.tuples(st.integers(1, 12), st.integers(1, 28), st.integers(-80, 10))
years = st.lists(st.lists(nights, max_size=8), min_size=10, max_size=12)
thresholds = st.floats(-6.0, 2.0)
estimators = st.sampled_from(["empirical", "fitted"])

many = hypothesis.settings(derandomize=True, max_examples=120, deadline=None)


def record_of(cold, *, months_later=0):
    """20 °C on every night but these; minima in tenths, the lowest where a night is drawn twice."""
    start = datetime.date(FIRST_YEAR, 1, 1)
    after = datetime.date(FIRST_YEAR + len(cold) + 1, 1, 1)
    low = np.full((after - start).days, 20.0)
    for year, drawn in enumerate(cold, start=FIRST_YEAR):
        for month, day, tenths in drawn:
            turned = month - 1 + months_later
            on = datetime.date(year + turned // 12, turned % 12 + 1, day)
            index = (on - start).days
            low[index] = min(low[index], tenths / 10.0)
    return epicotyl.DailyRecord(start, low, np.full(low.shape, 25.0))


def answers(found):
    """Those that are a day, in the order they came."""
    return [day for day in found if day is not None]


@many
@hypothesis.given(years, thresholds, estimators)
def test_a_greater_chance_never_gives_a_later_last_or_an_earlier_first_freeze(
    cold, threshold, estimator
):
    risk = epicotyl.FreezeRisk(record_of(cold), threshold, estimator=estimator)
    last = answers(risk.last_freeze(p, year=2027) for p in CHANCES)
    assert last == sorted(last, reverse=True)
    first = answers(risk.first_freeze(p, year=2027) for p in CHANCES)
    assert first == sorted(first)
    lengths = answers(risk.frost_free_days(p) for p in CHANCES)
    assert lengths == sorted(lengths, reverse=True)


@many
@hypothesis.given(years, thresholds, st.floats(0.0, 4.0))
def test_a_colder_threshold_never_gives_a_later_last_or_an_earlier_first_freeze(
    cold, threshold, colder_by
):
    record = record_of(cold)
    milder = epicotyl.FreezeRisk(record, threshold, estimator="empirical")
    colder = epicotyl.FreezeRisk(record, threshold - colder_by, estimator="empirical")
    for mild, cold_year in zip(milder.dates, colder.dates, strict=True):
        assert mild.year == cold_year.year
        if cold_year.last is not None:
            assert cold_year.last <= mild.last
        if cold_year.first is not None:
            assert cold_year.first >= mild.first
    for p in CHANCES:
        last = colder.last_freeze(p, year=2027)
        if last is not None:
            assert last <= milder.last_freeze(p, year=2027)
        first = colder.first_freeze(p, year=2027)
        if first is not None:
            assert first >= milder.first_freeze(p, year=2027)


def six_months_later(day):
    """The same day of the month; None stays none."""
    if day is None:
        return None
    turned = day.month - 1 + 6
    return datetime.date(day.year + turned // 12, turned % 12 + 1, day.day)


@many
@hypothesis.given(years, thresholds)
def test_a_northern_record_turned_by_six_months_gives_the_southern_dates(cold, threshold):
    """Month for month. January to July there are July to January here, August to December are
    February to June: the halves have the same months, and every night drawn keeps its own.
    """
    north = epicotyl.FreezeRisk(record_of(cold), threshold, latitude=50.0)
    south = epicotyl.FreezeRisk(record_of(cold, months_later=6), threshold, latitude=-50.0)
    southern = {year.year: year for year in south.dates}
    compared = 0
    for year in north.dates:
        turned = southern.get(year.year)
        if turned is None:
            continue
        if year.last_known and turned.last_known:
            assert turned.last == six_months_later(year.last)
            compared += 1
        # August there is February here: the half that begins a year later.
        turned = southern.get(year.year + 1)
        if turned is not None and year.first_known and turned.first_known:
            assert turned.first == six_months_later(year.first)
            compared += 1
    assert compared >= 2 * len(cold) - 2
