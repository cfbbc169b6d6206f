"""Clocks of days and light, beside `epicotyl.degree_days` and `epicotyl.day_length`.

Every wait is a clock: a rate for each day, summed until an amount has passed. Warmth is counted by
`epicotyl.degree_days`, light by `epicotyl.day_length`. Here are the rate of the germination clock,
the days on which light passes a bound, and the week that a day is in.
"""

from epicotyl._clock import first_day_with, iso_weeks, last_day_with
from epicotyl._rate import germination_rate

__all__ = [
    "first_day_with",
    "germination_rate",
    "iso_weeks",
    "last_day_with",
]
