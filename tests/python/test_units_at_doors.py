"""With a plan at hand, numbers and texts are in its units, in and out.

The demo farm and its twin in US units are asked everything that the package offers, found by
introspection: every public function that takes a plan, calendar, prospect or what is made of them,
and every public attribute and method of these. Days and counts must be equal, quantities equal when
turned by hand, and no text may have a unit, or a date in the order, of the other system. A new name
whose arguments are not known fails here until they are given.
"""

import datetime
import inspect
from pathlib import Path

import numpy as np
import pytest

from public_names import homes
from units_walk import Alike, farm_in

epicotyl = pytest.importorskip("epicotyl")

FARM = Path(__file__).resolve().parents[2] / "examples" / "quillet_hollow" / "farm.toml"
START = datetime.date(2027, 2, 1)
UNTIL = datetime.date(2027, 4, 30)

#: Types of which a public name must be walked.
OF_A_PLAN = [
    "Plan",
    "Calendar",
    "Prospect",
    "Occupancy",
    "Sweep",
    "PlantingWindows",
    "WindowYears",
    "Staggered",
    "CoveringSowings",
    "SpaceFit",
    "PlanQuantities",
    "Season",
    "HarvestSpans",
    "YieldByWeek",
    "SeasonHeat",
    "HeatCurve",
    "DamageReport",
    "CalendarComparison",
    "HarvestCoverage",
    "SweepRow",
    "OverheldReport",
]

#: An argument by its name, where nothing else is said.
ARGUMENTS = {
    "plan": lambda of: of.plan,
    "climate": lambda of: of.climate,
    "calendar": lambda of: of.calendar,
    "prospect": lambda of: of.prospect,
    "before": lambda of: of.calendar,
    "after": lambda of: epicotyl.schedule(
        of.plan.with_place(of.heated, heat_to=of.temperature(4.0)), of.climate
    ),
    "value": lambda of: of.prospect,
    "of": lambda of: of.prospect,
    "succession": lambda of: of.name,
    "event": lambda _: "transplant",
    "begins": lambda _: "transplant",
    "q": lambda _: 0.9,
    "share": lambda _: 0.9,
    "place": lambda of: of.heated,
    "crop": lambda of: of.crop,
    "year": lambda of: of.year,
    "date": lambda _: datetime.date(2027, 4, 15),
    "days": lambda _: 7,
    "first": lambda _: datetime.date(2027, 7, 20),
    "start": lambda _: START,
    "until": lambda _: UNTIL,
    "structure": lambda _: epicotyl.heat.Structure(
        [epicotyl.heat.Surface("film", 60.0, 4.0)], volume=50.0, air_changes=1.0
    ),
    "set_points": lambda of: [of.temperature(4.0), of.temperature(7.0)],
    "chance": lambda _: 0.5,
    "watts": lambda _: 2000.0,
    "units": lambda of: of.units,
    "level": lambda _: 0.5,
    "changes": lambda of: {
        "years": [epicotyl.Change.none(), epicotyl.Change.warmer(of.span(2.0))],
        "house": [
            epicotyl.Change.plan(
                "cool", lambda plan: plan.with_place(of.heated, heat_to=of.temperature(4.0))
            )
        ],
    },
    "gives": lambda of: epicotyl.harvest.HarvestYield(
        epicotyl.harvest.YieldShape.weibull(2.0, of.heat(200.0)),
        10.0,
        unit="stems",
        base=of.temperature(5.0),
        units=of.units,
    ),
}

#: What is given beyond arguments that must be, or in place of them, and the kind of numbers given.
MORE = {
    "heat_of_season": {"heat_to": lambda of: of.temperature(9.0), "per_kwh": lambda _: 0.3},
    "sweep": {"progress": lambda _: False},
    "coverage": {
        "successions": lambda of: [of.name],
        "per_week": lambda _: 5.0,
        "gives": ARGUMENTS["gives"],
    },
    "fewest_sowings": {
        "start": lambda _: datetime.date(2027, 8, 1),
        "until": lambda _: datetime.date(2027, 8, 7),
    },
    "fit_to_space": {
        "most_shift": lambda _: 3,
        "splits": lambda _: False,
        "leave_out": lambda _: False,
        "seconds": lambda _: None,
    },
    "stagger": {"last": lambda _: datetime.date(2027, 8, 20), "every": lambda _: 14},
    "Plan.with_place": {
        "heat_to": lambda of: of.temperature(6.0),
        "heat_lift": lambda of: of.span(9.0),
    },
    "Plan.with_crop": {"limit_tender": lambda of: of.temperature(-1.0)},
    "Plan.with_stage_change": {
        "takes": lambda of: {"heat": of.heat(400.0), "base": of.temperature(5.0)},
        "hold": lambda _: None,
    },
    "Plan.with_succession": {"plants": lambda _: 77},
    "Plan.with_added_succession": {
        "name": lambda _: "one more",
        "crop": lambda of: of.crop,
        "bed": lambda of: of.bed(3.0),
        "target": lambda _: {"event": "transplant", "from": datetime.date(2027, 5, 10)},
    },
    "Plan.with_target": {
        "event": lambda _: "transplant",
        "risk": lambda _: 0.2,
        "limit": lambda of: of.temperature(1.0),
    },
    "Plan.with_target_moved": {"succession": lambda of: of.moved},
    "Plan.with_not_before": {"transplant": lambda _: datetime.date(2027, 5, 1)},
    "Plan.with_not_after": {"transplant": lambda _: datetime.date(2027, 6, 30)},
    "Plan.with_season": {"days": lambda _: 545, "start": lambda _: None},
    "Plan.without_cover": {"place": lambda of: of.covered},
    "Occupancy.there": {"year": lambda of: of.year},
    "SpaceFit": {},
    "WindowYears.slack_in": {"share": lambda _: 0.8},
    "PlantingWindows.cures": None,  # of a conflict; the demo farm has none in this year
    "Calendar.require": None,  # raises where anything has no day; its sentences are walked
    "Plan.without_stage_change": None,  # of a changed stage: walked by hand below
    "Plan.without_succession": {"succession": lambda of: of.plan.successions[-1]},
    "Staggered.added_to": {},
    "Sweep.row": {"*": lambda of: of.found.rows[-1].choice},
    "Sweep.grid": {"what": lambda _: "sowing"},
    "Season.explain": {},
    "climate_from_normals": {"plan": lambda of: of.by_normals},
    "Plan.to_dict": None,  # is how plans are compared
    "from_json": None,  # of a text: below
    "open_season": None,  # of a file: below
}

#: Of what kind numbers are that come out bare.
KINDS = {"PlanQuantities.medium": "medium"}


@pytest.fixture(scope="module")
def farms():
    season = epicotyl.open_season(FARM)
    plan = season.plan
    for crop, one in plan.to_dict()["crops"].items():
        # The grower's own words stay as they are, whatever their units.
        if "caution" in one:
            plan = plan.with_crop(crop, caution=None)
    twins = [
        farm_in(plan, season.climate) for plan in (plan.with_units("metric"), plan.with_units("us"))
    ]
    for of in twins:
        of.filled = epicotyl.occupancy(of.prospect)
        of.windows = epicotyl.planting_windows(of.plan, of.climate, of.year)
        of.found = epicotyl.sweep(of.plan, of.climate, ARGUMENTS["changes"](of), progress=False)
        of.moved = next(
            one.get("name", one["crop"])
            for one in of.plan.to_dict()["succession"]
            if {"from", "by", "on"} & set(one["target"]) and "repeat" not in one
        )
        months = {
            "monthly_low": [
                of.temperature(one) for one in (-6, -5, -1, 4, 10, 15, 18, 17, 13, 7, 2, -3)
            ],
            "monthly_high": [
                of.temperature(one) for one in (3, 5, 10, 17, 22, 27, 30, 28, 24, 18, 11, 5)
            ],
        }
        tables = of.plan.to_dict()
        site = {key: value for key, value in tables["site"].items() if key != "weather"}
        of.by_normals = epicotyl.plan(tables | {"site": site | months})
    return twins


def is_of_a_plan(function):
    words = " ".join(str(one.annotation) for one in inspect.signature(function).parameters.values())
    return any(f"{name}" in words.replace("|", " ").split() for name in OF_A_PLAN)


def functions():
    """Public functions that take what belongs to a plan."""
    found = {}
    for home in homes():
        for name in home.__all__:
            value = getattr(home, name)
            if inspect.isfunction(value) and is_of_a_plan(value):
                found[name] = value
    return found


def asked(function, of, known):
    """The answer of a call, or the code of what it refuses."""
    positional, named = [], {}
    more = dict(MORE.get(known) or {})
    for name, one in inspect.signature(function).parameters.items():
        if name in ("self", "ax") or one.kind is one.VAR_KEYWORD:
            continue
        if one.kind is one.VAR_POSITIONAL:
            positional += more.pop("*")(of)
            continue
        if name in more:
            value = more.pop(name)(of)
        elif one.default is not one.empty:
            continue
        else:
            assert name in ARGUMENTS, f"{known}: say what its {name} is"
            value = ARGUMENTS[name](of)
        if one.kind is one.KEYWORD_ONLY:
            named[name] = value
        else:
            positional.append(value)
    named |= {name: value(of) for name, value in more.items()}
    return function(*positional, **named)


def compare_calls(alike, farms, functions, known):
    """Asks both farms; what one refuses the other refuses, with the same code."""
    answers = []
    for of in farms:
        try:
            answers.append(asked(functions[of.units], of, known))
        except epicotyl.InvalidInput as fault:
            answers.append(fault)
    metric, us = answers
    if isinstance(metric, epicotyl.InvalidInput):
        assert isinstance(us, epicotyl.InvalidInput), (known, us, str(metric))
        assert metric.code == us.code, known
        alike.text(str(metric), str(us), known)
        return f"{known}: {metric}"
    assert not isinstance(us, epicotyl.InvalidInput), (known, str(us))
    alike(metric, us, known, KINDS.get(known))
    return None


@pytest.mark.parametrize("name", [name for name in functions() if MORE.get(name, {}) is not None])
def test_a_function_of_a_plan_answers_in_its_units(farms, name):
    function = functions()[name]
    refused = compare_calls(Alike(), farms, {"metric": function, "us": function}, name)
    assert refused is None


def objects(of):
    """One of every class whose answers belong to a plan."""
    return {
        "Plan": of.plan,
        "Calendar": of.calendar,
        "Prospect": of.prospect,
        "Occupancy": of.filled,
        "PlantingWindows": of.windows,
        "WindowYears": epicotyl.windows.window_years(of.calendar),
        "Sweep": of.found,
        "SweepRow": of.found.rows[0],
        "Season": epicotyl.season.Season(of.plan, of.climate, of.calendar, of.prospect),
        "Staggered": asked(epicotyl.stagger, of, "stagger"),
        "CoveringSowings": asked(epicotyl.harvest.fewest_sowings, of, "fewest_sowings"),
        "HarvestSpans": epicotyl.harvest.harvest_spans(of.prospect, of.name),
        "YieldByWeek": asked(epicotyl.harvest.expected_yield, of, "expected_yield"),
        "HarvestCoverage": asked(epicotyl.coverage, of, "coverage"),
        "PlanQuantities": epicotyl.seeds.quantities(of.plan),
        "SeasonHeat": asked(epicotyl.heat.heat_of_season, of, "heat_of_season"),
        "HeatCurve": asked(epicotyl.heat.heat_curve, of, "heat_curve"),
        "DamageReport": of.prospect.damage(of.name),
        "OverheldReport": of.prospect.overheld(of.name),
        "CalendarComparison": asked(epicotyl.compare, of, "compare"),
        "SpaceFit": asked(epicotyl.fit_to_space, of, "fit_to_space"),
    }


@pytest.fixture(scope="module")
def made(farms):
    return [objects(of) for of in farms]


def test_every_class_of_a_plan_is_walked(made):
    assert sorted(made[0]) == sorted(OF_A_PLAN)


@pytest.mark.parametrize("of_class", OF_A_PLAN)
def test_what_a_value_of_a_plan_says_is_in_its_units(farms, made, of_class):
    alike = Alike()
    one, other = made[0][of_class], made[1][of_class]
    # Of an object that is told whole, text and fields.
    alike(one, other, of_class)
    for name in dir(one):
        if name.startswith("_") or (isinstance(one, tuple) and hasattr(tuple, name)):
            continue
        known = f"{of_class}.{name}"
        if MORE.get(known, {}) is None or known == "Plan.units":
            continue
        if not callable(getattr(one, name)):
            if dataclasses_has(one, name):
                continue
            alike(getattr(one, name), getattr(other, name), known, KINDS.get(known))
            continue
        if name in ("to_frame",):
            pytest.importorskip("pandas")
        if name == "plot":
            pyplot().figure()
        methods = {"metric": getattr(one, name), "us": getattr(other, name)}
        refused = compare_calls(alike, farms, methods, known)
        assert refused is None
    assert alike.texts


def dataclasses_has(value, name):
    """Fields are compared with the value."""
    return name in getattr(value, "__dataclass_fields__", ()) or name in getattr(
        value, "_fields", ()
    )


def pyplot():
    matplotlib = pytest.importorskip("matplotlib")
    matplotlib.use("agg")
    from matplotlib import pyplot as plt

    return plt


@pytest.mark.parametrize("by", ["prospect", "calendar"])
def test_room_comes_in_feet_where_the_plan_says_feet(farms, by):
    alike = Alike()
    metric, us = (epicotyl.occupancy(getattr(of, by)) for of in farms)
    place = farms[0].field
    for kind in ("bed", "trays", "area"):
        alike(metric.space(place, kind), us.space(place, kind), f"space of {kind}", kind)
        alike(metric.room(place, kind), us.room(place, kind), f"room of {kind}", kind)
        quantiles = (one.quantile(place, 0.9, kind) for one in (metric, us))
        alike(*quantiles, f"quantile of {kind}", kind)
    year = None if by == "calendar" else farms[0].year
    day = datetime.date(2027, 7, 1)
    there = [one.there(place, day, kind="bed", year=year) for one in (metric, us)]
    assert there[0]
    alike(*there, "there", "bed")
    assert alike.turned >= {"bed"}
    # Of the plan's own number nothing is lost: 450 m are written as feet, and come out as written.
    assert us.room(place, "bed") == farms[1].plan.to_dict()["places"][place]["bed"]


def test_every_day_is_explained_in_the_units_of_the_plan(farms):
    alike = Alike()
    for name, event in farms[0].calendar.events:
        said = [epicotyl.explain(of.calendar, name, event) for of in farms]
        alike(*said, f"explain {name} {event}")
        said = [epicotyl.explain(of.windows, name, event) for of in farms]
        alike(*said, f"explain the window of {name} {event}")
    for name in farms[0].plan.successions:
        alike(*(of.prospect.damage(name) for of in farms), f"damage of {name}")
        alike(*(of.prospect.too_hot(name) for of in farms), f"heat on {name}")
        alike(*(of.calendar.cures(name) for of in farms), f"cures of {name}")
    assert alike.turned >= {"span", "temperature"}


def test_a_plot_of_beds_has_its_axis_in_the_units_of_the_plan(farms):
    plt = pyplot()
    labels = []
    for of in farms:
        plt.figure()
        labels.append(of.filled.plot(of.field, "bed").get_ylabel())
        plt.close()
    assert labels == ["metres of bed", "feet of bed"]


def test_files_and_documents_say_the_units_they_are_in(farms, tmp_path):
    alike = Alike()
    for of in farms:
        assert epicotyl.files.from_json(epicotyl.files.to_json(of.calendar)) == of.calendar
        path = tmp_path / f"{of.units}.toml"
        path.write_text(of.plan.to_toml(), encoding="utf-8")
        assert epicotyl.read_plan(path) == of.plan
    seasons = [
        epicotyl.open_season(tmp_path / f"{of.units}.toml", weather=FARM.parent / "weather.csv")
        for of in farms
    ]
    alike(*(one.prospect for one in seasons), "open_season")


def test_a_changed_stage_is_undone_in_both(farms):
    changed = [
        of.plan.with_stage_change(of.name, "transplant", limit=of.temperature(-1.0)) for of in farms
    ]
    Alike()(*changed, "with_stage_change")
    undone = [
        one.without_stage_change(of.name, "transplant")
        for one, of in zip(changed, farms, strict=True)
    ]
    Alike()(*undone, "without_stage_change")


def test_a_set_point_of_the_other_units_is_refused(farms):
    structure = ARGUMENTS["structure"](None)
    for of, given, sentence in (
        (
            farms[0],
            50,
            """heat_to: 50 °C is warmer than heaters hold places for plants (allowed: -2 to 30 °C);
            did you mean °F? 50 °F are 10.0 °C, and the plan is in °C""",
        ),
        (
            farms[1],
            7,
            """heat_to: 7 °F is colder than heaters hold places for plants (allowed: 28.4 to 86 °F);
            did you mean °C? 7 °C are 44.6 °F, and the plan is in °F""",
        ),
    ):
        with pytest.raises(epicotyl.InvalidInput) as refused:
            epicotyl.heat.heat_of_season(
                structure, of.plan, of.climate, of.heated, START, UNTIL, heat_to=given
            )
        assert str(refused.value) == " ".join(sentence.split())
        with pytest.raises(epicotyl.InvalidInput, match="set_points: "):
            epicotyl.heat.heat_curve(
                of.plan, of.climate, of.heated, structure, [given], START, UNTIL
            )


def test_a_warming_of_the_other_units_is_a_row_that_asks(farms):
    of = farms[0]
    found = epicotyl.sweep(
        of.plan, of.climate, {"years": [epicotyl.Change.warmer(9)]}, progress=False
    )
    assert found.rows[0].refused == (
        "by: years 9 K warmer are no years of this place (allowed: -8 to 8 K); did you mean °F? "
        "9 °F warmer are 5 K, and the plan is in metric units"
    )
    found = epicotyl.sweep(
        farms[1].plan, of.climate, {"years": [epicotyl.Change.warmer(9)]}, progress=False
    )
    assert found.rows[0].refused == ""
    assert found.rows[0].choice == ("+9 °F",)


def test_a_record_in_fahrenheit_is_told_from_one_in_celsius():
    day = datetime.date(2026, 7, 1)
    with pytest.raises(epicotyl.InvalidInput) as refused:
        epicotyl.DailyRecord(day, [50.0, 61.0], [60.0, 86.0])
    assert str(refused.value) == (
        "tmax[1]: 86 °C is no air temperature (allowed: -95 to 65 °C); is it in °F? Then give "
        'units="us": 86 °F are 30.0 °C'
    )
    record = epicotyl.DailyRecord(day, [50.0, 61.0], [60.0, 86.0], units="us")
    np.testing.assert_allclose(record.tmin, [10.0, 145 / 9], rtol=1e-12)
    np.testing.assert_allclose(record.tmax, [140 / 9, 30.0], rtol=1e-12)
    with pytest.raises(epicotyl.InvalidInput, match="metric"):
        epicotyl.DailyRecord(day, [1.0], [2.0], units="imperial")


def test_freezes_take_fahrenheit_where_it_is_said(documented):
    risk = epicotyl.FreezeRisk(documented.record, 28.4, units="us")
    assert risk.threshold == pytest.approx(-2.0)
    same = epicotyl.FreezeRisk(documented.record, risk.threshold)
    assert risk.last_freeze(0.5, year=2027) == same.last_freeze(0.5, year=2027)
    table = epicotyl.frost.FreezeTable(
        documented.record, thresholds=[32.0, 28.0], chances=[0.5], units="us"
    )
    assert table.thresholds == pytest.approx([0.0, -20 / 9])
    assert "32 °F" in str(table)
    assert "Mar " in str(table)
    assert "0.0 °C" in table.to_text(units="metric")


def test_other_weather_takes_units_too(documented):
    metric = documented.climate.shifted(2.0)
    us = documented.climate.shifted(3.6, units="us")
    np.testing.assert_allclose(metric.tmin, us.tmin, rtol=0, atol=1e-12)
    assert (metric.origin, us.origin) == ("shifted by +2 K", "shifted by +3.6 °F")
    model = epicotyl.weather.model_from_normals([41.0] * 12, [59.0] * 12, units="us")
    assert str(model) == str(epicotyl.weather.model_from_normals([5.0] * 12, [15.0] * 12))
