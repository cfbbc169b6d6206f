"""Whatever numbers, dates and names a program gives: an answer comes, or `InvalidInput`.

Run as a program, because what must not happen ends the process; `test_absurd.py` runs it. What is
tried is written to standard error first, so that a process that dies has named it.

    python tests/python/absurd.py [EXAMPLES] [SEED]
"""

import contextlib
import copy
import datetime
import sys

import numpy as np
from hypothesis import HealthCheck, Phase, given, seed, settings
from hypothesis import strategies as st

import epicotyl

DAY = datetime.date(2027, 1, 1)

NUMBERS = st.one_of(
    st.sampled_from(
        [
            *(0, -0.0, 1, -1, 0.5, 1e306, -1e306, 1e-306, 5e-324, 60.1, -90.1, 1e6, 36525, 36526),
            *(float("nan"), float("inf"), float("-inf"), 2**31 - 1, 2**31, -(2**31), 2**63, 2**64),
            *(2**70, 10**400, 549, 550, 1500, 1501, 32767, 32768, 65536),
        ]
    ),
    st.floats(),
    st.integers(-100, 100),
    st.integers(),
)
ANYTHING = st.one_of(
    NUMBERS,
    NUMBERS,
    NUMBERS,
    st.dates(),
    st.booleans(),
    st.text(max_size=4),
    st.sampled_from(["sow", "transplant", "first_harvest", "clear", "house", "aster", "", "all"]),
    st.just([]),
    st.just({}),
    st.just([1e306]),
)

STAGES = [
    {
        "begins": "sow",
        "where": "mat",
        "container": "plug",
        "takes": {"germination": 110.0, "base": 4.0, "optimum": 22.0, "ceiling": 32.0},
        "survives": 0.8,
    },
    {
        "begins": "emerge",
        "where": ["house", "frame"],
        "container": "plug",
        "takes": {
            "heat": 300.0,
            "base": 4.0,
            "upper": 28.0,
            "gate": {"day_length_at_least": 10.0, "otherwise": 0.5},
        },
    },
    {
        "begins": "harden_off",
        "where": "frame",
        "container": "plug",
        "takes": {"all": [{"days": 8}, {"days_between": 3, "low": 2.0, "high": 26.0}]},
        "hold": 14,
    },
    {
        "begins": "transplant",
        "where": "beds",
        "spacing": {"rows": 4, "in_row": 23.0},
        "takes": {"heat": 500.0, "base": 4.0},
        "limit": -2.0,
        "too_hot": 38.0,
    },
    {
        "begins": "first_harvest",
        "where": "beds",
        "spacing": {"rows": 4, "in_row": 23.0},
        "takes": {"days": 20},
    },
]
TABLES = {
    "format": 1,
    "units": "metric",
    "defaults": {"risk": 0.1, "reliability": 0.8},
    "site": {
        "latitude": 51.9,
        "season_start": DAY,
        "season_days": 365,
        "max_gap": 3,
        "frost": {"at": 0.0, "chance": 0.5},
    },
    "places": {
        "mat": {"for": ["germinate"], "day": 22.0, "night": 20.0},
        "house": {
            "for": ["grow"],
            "trays": 2,
            "warmer_night": 2.5,
            "warmer_day": 7.0,
            "heat_to": 6.0,
            "heat_lift": 9.0,
            "vent_above": 25.0,
            "lamps": {
                "hours": 14.0,
                "from": DAY,
                "until": datetime.date(2027, 3, 31),
                "trays": 1,
            },
        },
        "frame": {"for": ["harden"], "cold_nights": {"below": 1.0, "warmer": 5.0}},
        "beds": {"for": ["field"], "bed": 120.0},
    },
    "containers": {"plug": {"cells": 104, "medium": 1.6}},
    "crops": {"aster": {"limit_tender": 0.0, "limit_hardened": -2.2, "stages": STAGES}},
    "succession": [
        {
            "name": "one",
            "crop": "aster",
            "plants": 180,
            "wave": "cool",
            "target": {"event": "transplant", "risk": 0.1},
        },
        {
            "name": "two",
            "crop": "aster",
            "trays": 2,
            "target": {"event": "first_harvest", "by": datetime.date(2027, 9, 1)},
            "not_before": {"transplant": datetime.date(2027, 5, 1)},
            "repeat": {"times": 2, "harvest_every": 14},
        },
        {
            "name": "three",
            "crop": "aster",
            "bed": 12.0,
            "target": {"event": "transplant", "weeks_after_last_frost": 2},
            "not_after": {"clear": datetime.date(2027, 10, 1)},
        },
    ],
    "link": [
        {
            "first": {"wave": "cool", "event": "transplant", "of": "all"},
            "then": {"succession": "three", "event": "sow"},
            "after": {"days": 3},
            "within": {"days": 120},
        }
    ],
}


def leaves(tables, path=()):
    """Every path to a value of a tree of tables and lists."""
    inner = tables.items() if isinstance(tables, dict) else enumerate(tables)
    for key, value in inner:
        if isinstance(value, dict | list) and value:
            yield from leaves(value, (*path, key))
        else:
            yield (*path, key)


PATHS = list(leaves(TABLES))


def made_record():
    """Eight invented years."""
    dates = np.arange("2012-01-01", "2020-01-01", dtype="datetime64[D]")
    mean = 10.0 - 11.0 * np.cos(2.0 * np.pi * (np.arange(dates.size) - 20) / 365.25)
    mean += np.random.default_rng(1).normal(0.0, 2.0, dates.size)
    return epicotyl.DailyRecord(dates[0], np.round(mean - 5.0, 1), np.round(mean + 5.0, 1))


RECORD = made_record()
CLIMATE = epicotyl.Climate(RECORD, latitude=51.9, season_days=365)
PLAN = epicotyl.plan(TABLES)
CALENDAR = epicotyl.schedule(PLAN, CLIMATE)
PROSPECT = epicotyl.simulate(CALENDAR, CLIMATE)
RISK = epicotyl.FreezeRisk(RECORD, 0.0, latitude=51.9)
FILM = epicotyl.heat.Surface("film", area=20.0, u=5.0)
HOUSE = epicotyl.heat.Structure(surfaces=[FILM], volume=50.0, air_changes=1.0)


def ask_all(plan, climate):
    """Every question that a plan is asked; what has been planned answers all of them."""
    calendar = epicotyl.schedule(plan, climate)
    prospect = epicotyl.simulate(calendar, climate)
    windows = epicotyl.planting_windows(plan, climate, int(climate.years[0]))
    for name in plan.successions[:5]:
        for event in plan.events(name):
            epicotyl.explain(calendar, name, event)
            epicotyl.explain(windows, name, event)
        prospect.damage(name)
        epicotyl.season.why_unresolved(calendar, name)
    epicotyl.occupancy(prospect)
    epicotyl.fit_to_space(plan, climate)
    str(calendar), str(prospect), str(windows)


def trial(what, call):
    """What is tried is named, then tried; refused it may be, and nothing else."""
    print(what, file=sys.stderr, flush=True)
    with contextlib.suppress(epicotyl.InvalidInput, epicotyl.Unresolved):
        call()


def changed_tables(changes):
    tables = copy.deepcopy(TABLES)
    for path, value in changes:
        inner = tables
        for step in path[:-1]:
            inner = inner[step]
        inner[path[-1]] = value
    return tables


def plans_hold(changes):
    """A plan of which a few values are anything."""

    def call():
        try:
            plan = epicotyl.plan(changed_tables(changes))
        except TypeError:  # a kind of value that no plan has
            return
        try:
            climate = epicotyl.Climate(
                RECORD,
                latitude=plan.latitude,
                season_start=plan.season_start,
                season_days=plan.season_days,
            )
        except TypeError:
            raise AssertionError("a plan's own values are of the right kind") from None
        ask_all(plan, climate)

    trial(changes, call)


def float_of(number):
    """As an array holds it: beyond all floats it is infinite."""
    try:
        return float(number)
    except OverflowError:
        return float("inf")


QUESTIONS = {
    "Climate": lambda x, n: epicotyl.Climate(RECORD, latitude=x, season_days=n, max_gap=n),
    "shifted": lambda x, _n: CLIMATE.shifted(x),
    "shifted by month": lambda x, _n: CLIMATE.shifted([x] * 12),
    "only": lambda _x, n: CLIMATE.only([n]),
    "with_elevation_difference": lambda x, _n: epicotyl.weather.with_elevation_difference(
        RECORD, x
    ),
    "DailyRecord": lambda x, _n: ask_all(
        PLAN,
        epicotyl.Climate(
            epicotyl.DailyRecord(
                RECORD.dates[0],
                np.full(RECORD.tmin.size, float_of(x)),
                np.full(RECORD.tmin.size, float_of(x)),
            ),
            latitude=51.9,
            season_days=365,
        ),
    ),
    "schedule": lambda x, _n: epicotyl.schedule(PLAN, CLIMATE, reliability=x),
    "simulate": lambda _x, n: epicotyl.simulate(CALENDAR, CLIMATE, threads=n),
    "quantile": lambda x, _n: PROSPECT.quantile("one", "transplant", x),
    "planting_windows": lambda _x, n: epicotyl.planting_windows(PLAN, CLIMATE, n),
    "stagger every": lambda x, n: epicotyl.stagger(
        PLAN,
        CLIMATE,
        "aster",
        datetime.date(2027, 6, 1),
        datetime.date(2027, 9, 1),
        every=n,
        reliability=x,
    ),
    "stagger count": lambda x, n: epicotyl.stagger(
        PLAN,
        CLIMATE,
        "aster",
        datetime.date(2027, 6, 1),
        until_first_frost=0.5,
        count=n,
        day_length_at_least=x,
        plants=x,
    ),
    "sweep warmer": lambda x, _n: epicotyl.sweep(
        PLAN, CLIMATE, {"years": [epicotyl.Change.warmer(x)]}, progress=False
    ),
    "fit_to_space": lambda x, n: epicotyl.fit_to_space(
        PLAN, CLIMATE, weights=epicotyl.space.FitWeights(shift_day=x), most_shift=n, reliability=x
    ),
    "fit seconds": lambda x, _n: epicotyl.fit_to_space(PLAN, CLIMATE, seconds=x),
    "FreezeRisk": lambda x, _n: epicotyl.FreezeRisk(RECORD, x, latitude=51.9),
    "last_freeze": lambda x, _n: RISK.last_freeze(x),
    "coldest_night": lambda x, _n: epicotyl.heat.coldest_night(RECORD, latitude=51.9, in_years=x),
    "lift_of": lambda x, _n: epicotyl.heat.lift_of(HOUSE, x),
    "heat_loss": lambda x, _n: epicotyl.heat.heat_loss(HOUSE, float_of(x), -float_of(x)),
    "landed_cost": lambda x, n: epicotyl.cost.landed_cost(
        n, epicotyl.cost.PlantOffer(plants_a_tray=n, breaks=[(1, x)], survives=x)
    ),
    "break_even_usable": lambda x, n: epicotyl.cost.break_even_usable(x, n, x),
    "seeds_in": lambda x, _n: epicotyl.seeds.seeds_in(x, seeds_per_gram=x),
    "seeds_needed": lambda x, n: epicotyl.seeds_needed(n, germination=x, usable=x, confidence=x),
    "chance_band": lambda x, n: epicotyl.frost.chance_band(n, n, level=x),
    "degree_days": lambda x, _n: epicotyl.degree_days(
        [float_of(x)], [float_of(x)], base=x, upper=x
    ),
    "day_length": lambda x, _n: epicotyl.day_length(x, [DAY], sun_angle=x),
}


def api_holds(name, x, n):
    trial((name, x, n), lambda: QUESTIONS[name](x, n))


CHANGES = st.lists(st.tuples(st.sampled_from(PATHS), ANYTHING), min_size=1, max_size=3)


def main(examples=200, start=1):
    how = settings(
        max_examples=examples,
        deadline=None,
        database=None,
        phases=[Phase.generate],
        suppress_health_check=list(HealthCheck),
    )
    seed(start)(how(given(CHANGES)(plans_hold)))()
    names = st.sampled_from(sorted(QUESTIONS))
    wholes = st.one_of(st.integers(), st.integers(-3, 60))
    seed(start)(how(given(names, NUMBERS, wholes)(api_holds)))()
    for name in sorted(QUESTIONS):
        for x in (float("nan"), float("inf"), -float("inf"), 1e306, -1e306, 5e-324, 0.0, 2**64):
            api_holds(name, x, 1)
        for n in (0, -1, 2**31 - 1, -(2**31), 2**63):
            api_holds(name, 0.5, n)
    print("held")


if __name__ == "__main__":
    main(*map(int, sys.argv[1:]))
