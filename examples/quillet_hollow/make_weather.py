#!/usr/bin/env python3
"""Write the invented daily weather of the demo farm: weather.csv.

Quillet Hollow does not exist. Its name, its latitude and every number below are
invented; no station was measured, copied or fitted. The character aimed at is a
temperate inland place near 40 degrees north.

The idea is that of Richardson (1981), "Stochastic simulation of daily precipitation,
temperature, and solar radiation", Water Resources Research 17(1), 182-190 (cited from
memory): a seasonal mean and a seasonal spread for the daily minimum and maximum, and
standardised residuals of the two that are correlated with each other and with those of
the day before. Two departures: rain is left out, and a slow third residual, common to
both, makes whole seasons early or late. The parameters are ours.

The same seed gives the same file, byte for byte: of the generator only random() is used,
the one method whose sequence Python promises to keep, and sums are exact (fsum).

Run:  python3 make_weather.py [weather.csv]
"""

import datetime
import math
import random
import sys
from pathlib import Path

SEED = 1981
FIRST = datetime.date(1996, 1, 1)
# 31 calendar years hold 30 seasons of 550 days that begin on 1 January: the thirtieth
# begins in 2025 and needs the weather up to 4 July 2026.
LAST = datetime.date(2026, 12, 31)

YEAR = 365.25  # days
# Seasonal course of each element: mean over the year [degrees C]; yearly wave [K], lowest
# on the coldest day of the year; half-yearly wave [K], which cools spring and autumn (clear
# nights) against winter and summer; spread of the residuals in winter and in summer [K].
MINIMUM = {
    "mean": 5.4,
    "yearly": 10.9,
    "half_yearly": 0.8,
    "coldest": 20.0,
    "winter": 4.8,
    "summer": 2.7,
}
MAXIMUM = {
    "mean": 16.4,
    "yearly": 12.5,
    "half_yearly": 0.0,
    "coldest": 20.0,
    "winter": 5.0,
    "summer": 3.1,
}

# Standardised daily residuals, (minimum, maximum): correlation on the same day, and of
# today (row) with yesterday (column).
SAME_DAY = 0.55
LAG = ((0.52, 0.48), (0.36, 0.62))

# The slow residual: its share of the variance and its correlation from day to day.
SLOW_SHARE = 0.10
SLOW_LAG = 0.985

# A day is never colder at its warmest than this much above its night [K].
LEAST_RANGE = 0.5


def gauss(source):
    """One draw with mean 0, variance 1 and nearly normal: twelve uniforms less six."""
    return math.fsum(source.random() for _ in range(12)) - 6.0


def residual_matrices():
    """A and the lower triangle B of z(t) = A z(t-1) + B e(t), from the correlations.

    A = M1 M0^-1 and B B' = M0 - A M1' keep both correlations stationary, where M0 holds
    those of the same day and M1 those with the day before.
    """
    r = SAME_DAY
    determinant = 1.0 - r * r
    a = [[(row[0] - r * row[1]) / determinant, (row[1] - r * row[0]) / determinant] for row in LAG]
    rest = [
        [
            (1.0 if i == j else r) - math.fsum(a[i][k] * LAG[j][k] for k in range(2))
            for j in range(2)
        ]
        for i in range(2)
    ]
    b00 = math.sqrt(rest[0][0])
    b10 = rest[1][0] / b00
    b11 = math.sqrt(rest[1][1] - b10 * b10)
    return a, ((b00, 0.0), (b10, b11))


def seasonal(course, day_of_year):
    """Mean [degrees C] and spread of the residuals [K] of one element on a day."""
    angle = 2.0 * math.pi * (day_of_year - course["coldest"]) / YEAR
    wave = math.cos(angle)
    mean = course["mean"] - course["yearly"] * wave + course["half_yearly"] * math.cos(2.0 * angle)
    middle = 0.5 * (course["winter"] + course["summer"])
    spread = middle + 0.5 * (course["winter"] - course["summer"]) * wave
    return mean, spread


def weather(seed=SEED, first=FIRST, last=LAST):
    """Yield (date, minimum, maximum) for every day from first to last, degrees C."""
    source = random.Random(seed)
    a, b = residual_matrices()
    quick = [gauss(source), gauss(source)]
    slow = gauss(source)
    slow_step = math.sqrt(1.0 - SLOW_LAG * SLOW_LAG)
    quick_weight, slow_weight = math.sqrt(1.0 - SLOW_SHARE), math.sqrt(SLOW_SHARE)

    for number in range((last - first).days + 1):
        day = first + datetime.timedelta(days=number)
        day_of_year = day.timetuple().tm_yday
        values = []
        for course, residual in zip((MINIMUM, MAXIMUM), quick, strict=True):
            mean, spread = seasonal(course, day_of_year)
            values.append(mean + spread * (quick_weight * residual + slow_weight * slow))
        low, high = values
        yield day, low, max(high, low + LEAST_RANGE)

        e = (gauss(source), gauss(source))
        quick = [
            a[i][0] * quick[0] + a[i][1] * quick[1] + b[i][0] * e[0] + b[i][1] * e[1]
            for i in range(2)
        ]
        slow = SLOW_LAG * slow + slow_step * gauss(source)


def one_decimal(value):
    """The value to one decimal; a rounded zero has no sign."""
    return f"{round(value, 1) + 0.0:.1f}"


def write_weather(path):
    """Write the whole record to a file, lines ended by a single line feed."""
    lines = [
        "# Invented weather of Quillet Hollow, a place that does not exist; not a measurement.",
        f"# Written by make_weather.py with seed {SEED}.",
        "# station: Quillet Hollow",
        "date,tmin_c,tmax_c",
    ]
    lines += [
        f"{day.isoformat()},{one_decimal(low)},{one_decimal(high)}" for day, low, high in weather()
    ]
    Path(path).write_bytes(("\n".join(lines) + "\n").encode("ascii"))


def main(arguments):
    """Write to the path given, or beside this script."""
    path = Path(arguments[0]) if arguments else Path(__file__).with_name("weather.csv")
    write_weather(path)


if __name__ == "__main__":
    main(sys.argv[1:])
