"""Dates and ISO weeks of 400 years, there and back, against Python's `datetime`."""

import datetime
import math
import re

import numpy as np
import pytest

epicotyl = pytest.importorskip("epicotyl")

FIRST, AFTER = datetime.date(1800, 1, 1), datetime.date(2200, 1, 1)
COUNT = (AFTER - FIRST).days


def every_day():
    return [datetime.date.fromordinal(FIRST.toordinal() + k) for k in range(COUNT)]


def test_a_record_of_400_years_has_the_days_of_datetime():
    flat = np.zeros(COUNT)
    record = epicotyl.DailyRecord(FIRST, flat, flat)
    assert COUNT == 146_097
    assert record.start == FIRST
    assert record.dates.tolist() == every_day()


def test_day_of_the_year_is_that_of_datetime_for_every_day():
    """By the day length of FAO 56, which depends on the day of the year alone.

    omega = acos(-tan L tan(0.409 sin(2 pi J / 365 - 1.39))), day length 24 / pi omega.
    """
    days = every_day()
    found = epicotyl.day_length(51.9, days, model="fao56")
    lean = -math.tan(math.radians(51.9))
    expected = [
        24.0
        / math.pi
        * math.acos(
            lean * math.tan(0.409 * math.sin(2 * math.pi * day.timetuple().tm_yday / 365.0 - 1.39))
        )
        for day in days
    ]
    np.testing.assert_allclose(found, expected, atol=1e-12, rtol=0)


def test_iso_week_is_that_of_datetime_for_every_day():
    days = every_day()
    years, weeks = epicotyl.clock.iso_weeks(days)
    wanted = [day.isocalendar() for day in days]
    assert years.tolist() == [one.year for one in wanted]
    assert weeks.tolist() == [one.week for one in wanted]


def test_iso_weeks_keep_the_shape_of_what_they_are_asked_about():
    days = np.array([["2027-01-03", "2027-01-04"], ["NaT", "2026-12-28"]], dtype="datetime64[D]")
    years, weeks = epicotyl.clock.iso_weeks(days)
    assert years.tolist() == [[2026, 2027], [0, 2026]]
    assert weeks.tolist() == [[53, 1], [0, 53]]
    assert epicotyl.clock.iso_weeks(np.datetime64("2027-01-04")) == (2027, 1)
    with pytest.raises(TypeError, match="without a time of day"):
        epicotyl.clock.iso_weeks(datetime.datetime(2027, 1, 4, tzinfo=datetime.UTC))


def test_dates_of_every_kind_are_the_same_day():
    days = every_day()[::97]
    one_by_one = [epicotyl.day_length(40.0, day) for day in days]
    as_array = epicotyl.day_length(40.0, np.array(days, dtype="datetime64[D]"))
    assert as_array.tolist() == one_by_one


def test_the_first_and_last_of_every_year_come_back_as_they_were_given():
    flat = np.zeros(2)
    for year in range(FIRST.year, AFTER.year):
        for month, day in ((1, 1), (2, 28), (3, 1), (12, 31)):
            start = datetime.date(year, month, day)
            record = epicotyl.DailyRecord(start, flat, flat)
            assert (record.start, record.end) == (start, start + datetime.timedelta(days=2))


def test_weeks_of_a_sheet_are_those_of_datetime(known):
    # Names as the sheet has them, whatever the locale.
    names = "JanFebMarAprMayJunJulAugSepOctNovDec"
    number = {names[3 * k : 3 * k + 3]: k + 1 for k in range(12)}
    found = re.findall(
        r"[Ww]eek of Mon (\d+) (\w{3})(?: \d{4})? \(week (\d+)\)", str(known.calendar)
    )
    assert found
    for day, month, week in found:
        date = datetime.date(2027, number[month], int(day))
        assert date.weekday() == 0
        assert date.isocalendar().week == int(week)
