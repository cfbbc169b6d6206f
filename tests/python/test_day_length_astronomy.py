"""Day length against an ephemeris: twelve latitudes, twenty-four days.

PyEphem (a planetary theory, nothing to download) finds sunrise and sunset of the sun's upper edge
at a refraction of 34', without pressure: what almanacs print.

The expected difference. Both models know a year of 365 days without leap years and an orbit of
their own, so they have the sun's declination of a neighbouring day. At the equinoxes it moves 0.4
degrees a day, which is 2 · 0.4 / 15 · tan(latitude) hours of day length: 0.05 h at 45 degrees, 0.11
h at 65.

    cbm     up to one such day
    fao56   up to 3.2 of them: 0.17 h at 45 degrees, 0.37 h at 65
"""

import datetime
import math

import pytest

epicotyl = pytest.importorskip("epicotyl")
ephem = pytest.importorskip("ephem")

LATITUDES = [-60.0, -45.0, -33.0, -20.0, 0.0, 15.0, 30.0, 40.0, 45.0, 51.9, 60.0, 65.0]
DAYS = [datetime.date(2027, month, day) for month in range(1, 13) for day in (5, 20)]


def hours_of(days, latitude):
    """What so many days of the sun's fastest movement make of day length, and rounding."""
    return 0.006 + days * 2.0 * 0.4 / 15.0 * math.tan(math.radians(abs(latitude)))


def hours_of_sun(latitude, day, *, horizon, centre):
    """From sunrise to sunset around noon at longitude 0."""
    place = ephem.Observer()
    place.lat, place.lon, place.pressure = str(latitude), "0", 0
    place.horizon = horizon
    place.date = ephem.Date(day.strftime("%Y/%m/%d 12:00:00"))
    sun = ephem.Sun()
    rise = place.previous_rising(sun, use_center=centre)
    sunset = place.next_setting(sun, use_center=centre)
    return (sunset - rise) * 24.0


def test_the_ephemeris_agrees_with_an_almanac():
    """United States Naval Observatory, Los Angeles, 34 degrees 5 minutes north: June 14.388 h."""
    june = [datetime.date(2027, 6, day) for day in range(1, 31)]
    hours = [hours_of_sun(34 + 5 / 60, day, horizon="-0:34", centre=False) for day in june]
    assert math.fsum(hours) / len(hours) == pytest.approx(14.388, abs=0.02)


@pytest.mark.parametrize("latitude", LATITUDES)
def test_sunrise_to_sunset(latitude):
    for day in DAYS:
        expected = hours_of_sun(latitude, day, horizon="-0:34", centre=False)
        found = epicotyl.day_length(latitude, day)
        assert found == pytest.approx(expected, abs=hours_of(1.0, latitude)), day


@pytest.mark.parametrize("latitude", LATITUDES)
def test_centre_of_the_sun_without_refraction(latitude):
    for day in DAYS:
        expected = hours_of_sun(latitude, day, horizon="0", centre=True)
        found = epicotyl.day_length(latitude, day, model="fao56")
        assert found == pytest.approx(expected, abs=hours_of(3.2, latitude)), day
        cbm = epicotyl.day_length(latitude, day, sun_angle=0.0)
        assert cbm == pytest.approx(expected, abs=hours_of(1.0, latitude)), day


@pytest.mark.parametrize("latitude", LATITUDES)
def test_civil_twilight(latitude):
    """Six degrees below the horizon. From 60 degrees on summer nights do not end it, and near them
    the sun meets the horizon so flatly that a day's movement counts twice.
    """
    allowed = hours_of(1.0 if abs(latitude) < 60.0 else 2.0, latitude)
    for day in DAYS:
        found = epicotyl.day_length(latitude, day, sun_angle=6.0)
        try:
            expected = hours_of_sun(latitude, day, horizon="-6", centre=True)
        except ephem.AlwaysUpError:
            assert found > 22.0
            continue
        if expected > 22.0:
            # The sun grazes the horizon: hours turn on hundredths of a degree.
            assert found > 20.5
            continue
        assert found == pytest.approx(expected, abs=allowed), day
