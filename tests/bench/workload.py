"""An invented farm of many successions, as a plan, and as the bare numbers of the same dates.

Forty crops of five stages in four places, twelve clocks (three in each place), links on a tenth of
the successions, thirty season years of made-up weather. The plan is what epicotyl is given; the
arrays are what a script of its own would need to find the same days.
"""

from __future__ import annotations

import datetime
from dataclasses import dataclass

import numpy as np

import epicotyl

START = datetime.date(2027, 1, 1)
DAYS = 550
YEARS = 30
CROPS = 40
STAGES = 5
LATITUDE = 45.0
EVENTS = ("sow", "emerge", "pot_on", "transplant", "first_harvest", "clear")

# What a place adds to the night and to the day [K].
PLACES = {"mat": (14.0, 8.0), "house": (4.0, 7.0), "frame": (1.5, 3.0), "beds": (0.0, 0.0)}
# Of each stage: its place, by turns of the crop.
STANDS = (("mat",), ("house",), ("house", "frame"), ("beds",), ("beds", "beds", "frame"))
BASES = (2.0, 5.0, 8.0)
AMOUNTS = ((60.0, 110.0), (180.0, 380.0), (60.0, 160.0), (350.0, 700.0), (250.0, 500.0))


@dataclass(frozen=True)
class Workload:
    """The plan's numbers. Arrays of one row a succession or a crop."""

    crop: np.ndarray  # [succession]
    place: np.ndarray  # [crop, stage], index into PLACES
    base: np.ndarray  # [crop, stage], index into BASES
    amount: np.ndarray  # [crop, stage], K day
    asked: np.ndarray  # [succession], offset of the day by which the first harvest has come
    first: np.ndarray  # [link], succession whose seedlings are waited for
    then: np.ndarray  # [link], succession that is planted out once they are up
    gap: int  # days


def workload(count: int) -> Workload:
    """The numbers of `count` successions."""
    random = np.random.default_rng(20270301)
    names = list(PLACES)
    place = np.array(
        [[names.index(kinds[k % len(kinds)]) for kinds in STANDS] for k in range(CROPS)]
    )
    low, high = np.array(AMOUNTS).T
    return Workload(
        crop=np.arange(count) % CROPS,
        place=place,
        base=random.integers(0, len(BASES), (CROPS, STAGES)),
        amount=np.round(low + random.random((CROPS, STAGES)) * (high - low)),
        asked=random.integers(215, 315, count),
        # Pairs, so that what waits has room left in the season.
        first=np.arange(0, count - 1, 10),
        then=np.arange(1, count, 10),
        gap=5,
    )


def weather() -> epicotyl.DailyRecord:
    """Days with a year's wave, spells, and nights below freezing in winter."""
    random = np.random.default_rng(7)
    start = np.datetime64("1989-01-01")
    days = (np.datetime64("2021-12-31") - start).astype(int) + 1
    wave = -np.cos(2 * np.pi * (np.arange(days) - 20) / 365.25)
    spell = np.zeros(days)
    shock = random.normal(0.0, 2.6, days)
    for d in range(1, days):
        spell[d] = 0.7 * spell[d - 1] + shock[d]
    tmin = 7.0 + 10.0 * wave + spell
    return epicotyl.DailyRecord(start, np.round(tmin, 1), np.round(tmin + 9.0, 1))


def climate(warmer: float = 0.0) -> epicotyl.Climate:
    """Thirty season years."""
    record = weather()
    if warmer:
        record = epicotyl.DailyRecord(record.dates[0], record.tmin + warmer, record.tmax + warmer)
    return epicotyl.Climate(
        record, latitude=LATITUDE, season_start=START, season_days=DAYS, years=YEARS
    )


def tables(of: Workload) -> dict:
    """The plan as the tables of a plan file."""
    names = list(PLACES)
    jobs = {"mat": "germinate", "house": "grow", "frame": "harden", "beds": "field"}
    crops = {}
    for k in range(CROPS):
        crops[f"crop {k}"] = {
            "limit_tender": 1.0,
            "limit_hardened": -2.0,
            "stages": [
                {
                    "begins": EVENTS[j],
                    "where": names[of.place[k, j]],
                    "takes": {
                        "heat": float(of.amount[k, j]),
                        "base": BASES[of.base[k, j]],
                        "method": "average",
                    },
                }
                for j in range(STAGES)
            ],
        }
    return {
        "format": 1,
        "units": "metric",
        "title": "A made-up farm of many batches",
        "defaults": {"risk": False},
        "site": {"latitude": LATITUDE, "season_start": START, "season_days": DAYS},
        "places": {
            name: {"for": [jobs[name]], "warmer_night": night, "warmer_day": day}
            for name, (night, day) in PLACES.items()
        },
        "crops": crops,
        "succession": [
            {
                "name": f"batch {i}",
                "crop": f"crop {of.crop[i]}",
                "plants": 50,
                "target": {
                    "event": "first_harvest",
                    "by": START + datetime.timedelta(days=int(of.asked[i])),
                },
            }
            for i in range(len(of.crop))
        ],
        "link": [
            {
                "first": {"succession": f"batch {a}", "event": "emerge"},
                "then": {"succession": f"batch {b}", "event": "transplant"},
                "after": {"days": of.gap},
            }
            for a, b in zip(of.first, of.then, strict=True)
        ],
    }


def plan(of: Workload) -> epicotyl.Plan:
    """The plan."""
    return epicotyl.plan(tables(of))
