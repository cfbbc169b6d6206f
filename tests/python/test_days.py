"""Days in and out: dates without a time of day, and nothing else."""

import datetime
from datetime import date

import numpy as np
import pytest

epicotyl = pytest.importorskip("epicotyl")

MOMENTS = [
    datetime.datetime(2027, 4, 11, 12, 0, tzinfo=datetime.UTC),
    np.datetime64("2027-04-11T12:00"),
    np.datetime64("2027-04-11", "ns"),
    np.datetime64("2027-04"),
    np.datetime64("NaT", "D"),
    "2027-04-11",
    20554,
    None,
]


@pytest.mark.parametrize("moment", MOMENTS, ids=repr)
def test_what_is_no_plain_day_is_refused_as_of_the_wrong_kind(moment, known):
    with pytest.raises(TypeError, match=r"datetime\.date"):
        known.prospect.chance_by("chard 1", "first_harvest", moment)
    with pytest.raises(TypeError, match=r"datetime\.date"):
        epicotyl.DailyRecord(moment, [1.0], [2.0])


def test_a_day_of_numpy_is_the_same_day(known):
    for day in (date(2027, 4, 11), np.datetime64("2027-04-11", "D")):
        assert known.prospect.chance_by("chard 1", "first_harvest", day) == 0.9
        assert epicotyl.DailyRecord(day, [1.0], [2.0]).start == date(2027, 4, 11)


def test_days_come_back_as_plain_dates(known):
    for day in (
        known.calendar.date("chard 1", "sow"),
        known.prospect.quantile("chard 1", "sow", 0.5),
        known.plan.season_start,
        known.record.start,
        known.record.end,
    ):
        assert type(day) is date


def test_first_and_last_day_of_the_calendar_survive_the_way_there_and_back():
    first = epicotyl.DailyRecord(date(1, 1, 1), [0.0, 0.0], [0.0, 0.0])
    assert (first.start, first.end) == (date(1, 1, 1), date(1, 1, 3))
    last = epicotyl.DailyRecord(date(9999, 12, 31), [0.0], [0.0])
    assert last.start == date(9999, 12, 31)
    with pytest.raises(ValueError, match="year"):
        _ = last.end


def test_every_day_of_400_years_survives_the_way_there_and_back():
    days = np.arange("1900-01-01", "2300-01-01", 37, dtype="datetime64[D]")
    for day in days.astype(datetime.date).tolist():
        assert epicotyl.DailyRecord(day, [0.0], [0.0]).start == day


@pytest.mark.parametrize("moment", MOMENTS[:4] + MOMENTS[5:], ids=repr)
def test_arrays_of_anything_but_days_are_refused(moment):
    with pytest.raises(TypeError, match=r"datetime\.date or datetime64\[D\]"):
        epicotyl.day_length(51.9, [moment])


def test_lists_of_dates_and_arrays_of_days_are_the_same():
    dates = [date(2027, 1, 1), date(2027, 6, 21)]
    as_array = np.array(dates, dtype="datetime64[D]")
    listed = epicotyl.day_length(51.9, dates)
    np.testing.assert_array_equal(listed, epicotyl.day_length(51.9, as_array))
    np.testing.assert_array_equal(
        epicotyl.day_length(51.9, as_array.reshape(2, 1)), listed.reshape(2, 1)
    )
    assert listed.tolist() == [epicotyl.day_length(51.9, day) for day in dates]
    assert listed.tolist() == [epicotyl.day_length(51.9, day) for day in as_array]
    np.testing.assert_array_equal(epicotyl.day_length(51.9, as_array[::-1]), listed[::-1])


def test_not_a_time_has_no_day_length():
    days = np.array(["2027-03-01", "NaT"], dtype="datetime64[D]")
    assert np.isnan(epicotyl.day_length(51.9, days)).tolist() == [False, True]


def test_record_days_are_the_days_of_the_calendar():
    record = epicotyl.DailyRecord(date(2024, 2, 28), [1.0] * 3, [2.0] * 3)
    assert record.dates.tolist() == [date(2024, 2, 28), date(2024, 2, 29), date(2024, 3, 1)]


def test_days_do_not_depend_on_the_time_zone(monkeypatch, known):
    import time

    for zone in ("Pacific/Kiritimati", "Etc/GMT+12"):
        monkeypatch.setenv("TZ", zone)
        time.tzset()
        assert known.calendar.date("chard 1", "sow") == date(2027, 3, 12)
        assert known.plan.to_dict()["site"]["season_start"] == date(2027, 1, 1)
    monkeypatch.undo()
    time.tzset()
