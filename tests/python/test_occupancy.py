"""What stands where: against a count of its own, and in places that are parts of others."""

import copy
import datetime
import math
import os
import pickle
import random

import numpy as np
import pytest

from random_farms import random_farm, stages_of

epicotyl = pytest.importorskip("epicotyl")

FARMS = int(os.environ.get("EPICOTYL_RANDOM_FARMS", "150"))
METRES_PER_FOOT = 0.3048
SQUARE_METRES_PER_SQUARE_FOOT = METRES_PER_FOOT**2
CENTIMETRES_PER_INCH = 2.54


# ---- Random farms with room --------------------------------------------------------------------


def farm_with_room(seed):
    """A random farm whose stages stand in containers and beds, some of its places in others."""
    farm = random_farm(seed)
    draw = random.Random(seed + 1_000_000)
    document = farm.document
    document["containers"] = {
        "tray": {"cells": 50},
        "plug": {"cells": draw.choice([72, 128, 200])},
        "pot": {"cells": draw.choice([1, 6, 18])},
    }
    for crop in document["crops"].values():
        for stage in crop.get("stages", []):
            where = stage["where"] if isinstance(stage["where"], str) else stage["where"][0]
            in_bed = where in ("field", "beds", "tunnel")
            stage.pop("container", None)
            if draw.random() < 0.9:
                if in_bed != (draw.random() < 0.1):
                    stage["spacing"] = {
                        "rows": draw.randint(1, 5),
                        "in_row": float(draw.randint(2, 60)),
                    }
                else:
                    stage["container"] = draw.choice(["tray", "plug", "pot"])
            if draw.random() < 0.6:
                stage["survives"] = draw.choice([0.5, 0.7, 0.8, 0.9, 0.95])
    for batch in document["succession"]:
        stages = changed_stages(document, batch)
        choices = ["plants"]
        if "container" in stages[0]:
            choices.append("trays")
        if any("spacing" in stage for stage in stages):
            choices.append("bed")
        what = draw.choice(choices)
        del batch["plants"]
        batch[what] = {
            "plants": draw.randint(1, 600),
            "trays": draw.choice([0.5, 1.0, 2.0, 3.0, 7.0]),
            "bed": draw.choice([0.3, 2.5, 10.0, 33.3]),
        }[what]
    names = list(document["places"])
    for k, name in enumerate(names):
        place = document["places"][name]
        if draw.random() < 0.7:
            place["trays"] = float(draw.randint(2, 30))
        if draw.random() < 0.5:
            place["bed"] = float(draw.randint(5, 60))
        if k > 0 and draw.random() < 0.35:
            place["part_of"] = draw.choice(names[:k])
    add_areas(document, random.Random(seed + 2_000_000))
    return farm


def add_areas(document, draw):
    """Areas of some containers and places: of none in which a container without one stands."""
    unit = SQUARE_METRES_PER_SQUARE_FOOT if document["units"] == "us" else 1.0
    for container in document["containers"].values():
        if draw.random() < 0.7:
            container["area"] = round(draw.uniform(0.005, 0.4) / unit, 4)
    bare = places_of_bare_containers(document)
    for name, place in document["places"].items():
        if name not in bare and draw.random() < 0.6:
            place["area"] = round(draw.uniform(0.2, 5.0) / unit, 2)


def places_of_bare_containers(document):
    """Places in which, or in a part of which, a container without an area stands."""
    bare = set()
    for batch in document["succession"]:
        for stage in changed_stages(document, batch):
            container = document["containers"].get(stage.get("container"), {"area": None})
            if "area" not in container:
                bare.update(wholes(document, place_of(document, stage)))
    return bare


def changed_stages(document, batch):
    """The stages of a batch's crop with the batch's own changes."""
    stages = copy.deepcopy(stages_of(document, batch["crop"]))
    for begins, change in batch.get("stage", {}).items():
        for stage in stages:
            if stage["begins"] == begins:
                stage |= change
    return stages


# ---- Counted by hand -----------------------------------------------------------------------------


def members(batch):
    """Names of the batches that a table of the document stands for."""
    name = batch["name"]
    if "repeat" not in batch:
        return [name]
    return [f"{name} {k + 1}" for k in range(batch["repeat"]["times"])]


def alive(stages, batch, cells, aim, us):
    """Plants alive when each event comes."""
    counts = [0.0] * (len(stages) + 1)
    if "plants" in batch:
        at, counts[aim] = aim, float(batch["plants"])
    elif "trays" in batch:
        at, counts[0] = 0, batch["trays"] * cells[stages[0]["container"]]
    else:
        at = next(j for j, stage in enumerate(stages) if "spacing" in stage)
        spacing = stages[at]["spacing"]
        per_unit = (12.0 if us else 100.0) * spacing["rows"] / spacing["in_row"]
        counts[at] = batch["bed"] * per_unit
    for j in range(at, len(stages)):
        counts[j + 1] = counts[j] * stages[j].get("survives", 1.0)
    for j in range(at - 1, -1, -1):
        counts[j] = counts[j + 1] / stages[j].get("survives", 1.0)
    return counts


def place_of(document, stage):
    """The first of a `where` that is a place or the job of one."""
    where = stage["where"] if isinstance(stage["where"], list) else [stage["where"]]
    for word in where:
        if word in document["places"]:
            return word
        for name, place in document["places"].items():
            if word in place["for"]:
                return name
    raise AssertionError(stage)


def wholes(document, place):
    """The place and all that it is a part of."""
    found = [place]
    while "part_of" in document["places"][found[-1]]:
        found.append(document["places"][found[-1]]["part_of"])
    return found


def counted(document, days_of, season_days):
    """{(place, kind): [row][day]}, one batch, one row and one day after the other."""
    us = document["units"] == "us"
    cells = {name: one["cells"] for name, one in document["containers"].items()}
    found = {}
    for batch in document["succession"]:
        stages = changed_stages(document, batch)
        events = [stage["begins"] for stage in stages] + ["clear"]
        for k, name in enumerate(members(batch)):
            aimed_at = batch["target"]["event"] if k == 0 else "first_harvest"
            counts = alive(stages, batch, cells, events.index(aimed_at), us)
            for j, stage in enumerate(stages):
                if "container" in stage:
                    trays = math.ceil(counts[j] / cells[stage["container"]] - 1e-9)
                    area = document["containers"][stage["container"]].get("area", 0.0)
                    square = SQUARE_METRES_PER_SQUARE_FOOT if us else 1.0
                    amounts = {"trays": trays, "area": trays * area * square}
                elif "spacing" in stage:
                    rows, in_row = stage["spacing"]["rows"], stage["spacing"]["in_row"]
                    length = in_row * CENTIMETRES_PER_INCH if us else in_row
                    amounts = {"bed": counts[j] * length / (100.0 * rows)}
                else:
                    continue
                begins, ends = days_of(name, events[j]), days_of(name, events[j + 1])
                for row, (begin, end) in enumerate(zip(begins, ends, strict=True)):
                    last = season_days if end is None else end
                    for day in range(season_days if begin is None else begin, last):
                        for place in wholes(document, place_of(document, stage)):
                            for kind, amount in amounts.items():
                                rows_of = found.setdefault(
                                    (place, kind), np.zeros((len(begins), season_days))
                                )
                                if day < season_days:
                                    rows_of[row, day] += amount
    return found


def test_every_place_holds_what_stands_in_it_on_every_day_of_random_plans():
    for seed in range(FARMS):
        farm = farm_with_room(seed)
        plan = epicotyl.plan(farm.document)
        record = epicotyl.DailyRecord(farm.record.first, farm.record.low, farm.record.high)
        climate = epicotyl.Climate(
            record,
            latitude=plan.latitude,
            season_start=plan.season_start,
            season_days=plan.season_days,
            years=farm.years,
        )
        calendar = epicotyl.schedule(plan, climate)
        prospect = epicotyl.simulate(calendar, climate, threads=1)
        start = np.datetime64(plan.season_start, "D")

        def offsets(days, start=start):
            return [None if np.isnat(day) else int((day - start).astype(int)) for day in days]

        def by_year(name, event, prospect=prospect):
            # What is lost is gone on the day after its last night.
            gone = offsets(prospect.lost(name) + 1)
            found = zip(offsets(prospect.days(name, event)), gone, strict=True)
            return [min((d for d in pair if d is not None), default=None) for pair in found]

        def planned(name, event, calendar=calendar):
            return offsets(np.array([calendar.date(name, event)], dtype="datetime64[D]"))

        for source, days_of, rows in (
            (prospect, by_year, None),
            (epicotyl.occupancy(calendar), planned, 1),
        ):
            expected = counted(farm.document, days_of, plan.season_days)
            for place in plan.places:
                for kind in ("trays", "bed", "area"):
                    dates, space = source.space(place, kind)
                    assert dates[0] == start
                    assert len(dates) == plan.season_days
                    wanted = expected.get((place, kind), np.zeros(space.shape))
                    # Beds of a plan in US units are told in feet, and floors in square feet.
                    feet = {"trays": 0, "bed": 1, "area": 2}[kind] * (plan.units == "us")
                    wanted = wanted / 0.3048**feet
                    shown = space[None] if rows else space
                    assert shown.shape[-1] == plan.season_days
                    if kind == "trays":
                        assert np.array_equal(shown, np.broadcast_to(wanted, shown.shape)), seed
                    else:
                        # A billionth of a metre a batch, from the rounding of amounts.
                        assert np.abs(shown - wanted).max() < 1e-7, (seed, place)
                        assert (shown[np.broadcast_to(wanted, shown.shape) == 0] == 0).all()
        overflows_agree(plan, farm.document, prospect)


def test_no_place_may_count_area_where_a_container_without_one_stands():
    refused = 0
    for seed in range(FARMS):
        document = farm_with_room(seed).document
        for name in sorted(places_of_bare_containers(document)):
            changed = copy.deepcopy(document)
            changed["places"][name]["area"] = 1.0
            with pytest.raises(epicotyl.InvalidInput, match="has no area"):
                epicotyl.plan(changed)
            refused += 1
    assert refused > FARMS // 4


def overflows_agree(plan, document, prospect):
    """What is reported of rooms, against the arrays."""
    filled = epicotyl.occupancy(prospect)
    found = {(one.place, one.kind): one for one in filled.overflows if one.what == "room"}
    for place in plan.places:
        for kind in ("trays", "bed", "area"):
            _, space = filled.space(place, kind)
            room = filled.room(place, kind)
            if kind == "area":
                written = document["places"][place].get("area")
                assert room == (None if written is None else pytest.approx(written))
            if room is None or not (space > room + 1e-6).any():
                assert (place, kind) not in found
                continue
            one = found.pop((place, kind))
            over = space > room + 1e-6
            day = int((np.datetime64(one.worst) - np.datetime64(plan.season_start)).astype(int))
            row = filled.years.index(one.worst_year)
            assert one.most == space.max() == space[row, day]
            assert one.years_over == int(over.any(axis=1).sum())
            assert one.days_over == int(over[row].sum())
            first = np.flatnonzero(over.any(axis=0))[0]
            assert np.datetime64(one.first) == np.datetime64(plan.season_start) + first
            there = filled.there(place, one.worst, kind=kind, year=one.worst_year)
            assert list(one.there) == there
            assert math.isclose(sum(each.amount for each in there), one.most, rel_tol=1e-9)
            assert [each.start for each in there] == sorted(each.start for each in there)
            stayed = [each for each in there if each.succession not in one.last_in]
            assert sum(each.amount for each in stayed) <= room + 1e-6
            parts = {name for name in document["places"] if place in wholes(document, name)}
            assert {each.place for each in there} <= parts
    assert not found


# ---- By hand -------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def two_batches():
    """Two batches of 160 plants: 2 trays of plugs for 30 days, then 8 of pots for 20, on one bench.

    The first is planted out on 1 May, the second on 6 May; the bench has room for 9 trays.
    """
    start = datetime.date(2027, 1, 1)
    batch = {"crop": "stock", "plants": 160}
    plan = epicotyl.plan(
        format=1,
        units="metric",
        title="Two batches",
        defaults={"risk": False},
        site={
            "latitude": 51.9, "season_start": start, "season_days": 300, "normal_years": 12,
            "monthly_low": [5.0] * 12, "monthly_high": [9.0] * 12,
        },
        places={
            "mat": {"for": ["germinate"], "trays": 4.0},
            "bench": {"for": ["grow"], "trays": 9.0},
            "beds": {"for": ["field"], "bed": 20.0},
        },
        containers={"plug": {"cells": 100}, "pot": {"cells": 20}},
        crops={
            "stock": {
                "stages": [
                    {"begins": "sow", "where": "mat", "container": "plug", "takes": {"days": 10},
                     "survives": 0.8},
                    {"begins": "emerge", "where": "bench", "container": "plug",
                     "takes": {"days": 30}},
                    {"begins": "pot_on", "where": "bench", "container": "pot",
                     "takes": {"days": 20}},
                    {"begins": "transplant", "where": "beds",
                     "spacing": {"rows": 4, "in_row": 20.0}, "takes": {"days": 40}},
                ]
            }
        },
        succession=[
            {"name": "one", **batch,
             "target": {"event": "transplant", "on": datetime.date(2027, 5, 1)}},
            {"name": "two", **batch,
             "target": {"event": "transplant", "on": datetime.date(2027, 5, 6)}},
        ],
    )  # fmt: skip
    calendar = epicotyl.schedule(plan, epicotyl.weather.climate_from_normals(plan))
    return calendar, epicotyl.simulate(calendar, calendar.climate)


def test_the_overlap_is_told_with_its_days_and_who_comes_last(two_batches):
    calendar, prospect = two_batches
    one = epicotyl.occupancy(calendar).overflows[0]
    assert (one.place, one.what, one.kind, one.room, one.most) == ("bench", "room", "trays", 9, 16)
    assert one.first == datetime.date(2027, 4, 11)
    assert one.worst == datetime.date(2027, 4, 16)
    assert one.worst_year is None
    assert one.last_in == ("two",)
    assert repr(one) == "<Overflow 'bench': 16 of 9 trays>"
    assert str(one).startswith("bench: 16 trays on 16 Apr, room for 9")
    by_year = epicotyl.occupancy(prospect).overflows[0]
    assert (by_year.years, by_year.years_over) == (12, 12)
    assert str(one) in str(epicotyl.occupancy(calendar))


def test_square_metres_are_counted_and_told_as_trays_are(two_batches):
    # A plug takes 0.15 m², a tray of pots 0.25: 0.3 m², 2 m² and, where both batches overlap, 4 m².
    tables = two_batches[0].plan.to_dict()
    tables["containers"]["plug"]["area"] = 0.15
    with pytest.raises(epicotyl.InvalidInput, match=r'"pot_on" of "one" .* "bench"'):
        epicotyl.plan(
            tables | {"places": tables["places"] | {"bench": {"for": ["grow"], "area": 2.2}}}
        )
    tables["containers"]["pot"]["area"] = 0.25
    plan = epicotyl.plan(tables).with_place("bench", trays=None, area=2.2)
    assert plan.to_dict()["containers"]["pot"] == {"cells": 20, "area": 0.25}
    assert plan.to_dict()["places"]["bench"] == {"for": ["grow"], "area": 2.2}
    assert pickle.loads(pickle.dumps(plan)) == plan
    calendar = epicotyl.schedule(plan, two_batches[0].climate)
    filled = epicotyl.occupancy(calendar)
    dates, space = filled.space("bench", kind="area")
    by_day = dict(zip(dates.astype(str).tolist(), space.round(7).tolist(), strict=True))
    assert by_day["2027-03-11"] == 0.0
    assert by_day["2027-03-12"] == 0.3
    assert by_day["2027-04-11"] == 2.3
    assert by_day["2027-04-16"] == 4.0
    assert by_day["2027-05-01"] == 2.0
    assert by_day["2027-05-06"] == 0.0
    assert filled.quantile("bench", 0.5, kind="area")[1].max() == pytest.approx(4.0)
    assert (filled.room("bench", "area"), filled.room("bench")) == (2.2, None)
    (one,) = (each for each in filled.overflows if each.place == "bench")
    assert (one.kind, one.room, one.last_in) == ("area", 2.2, ("two",))
    assert repr(one) == "<Overflow 'bench': 4 of 2.2 (area)>"
    there = filled.there("bench", one.worst, kind="area")
    assert [round(each.amount, 7) for each in there] == [2.0, 2.0]
    drawn = pytest.importorskip("matplotlib.figure")
    axes = filled.plot("bench", "area", ax=drawn.Figure().add_subplot())
    assert axes.get_ylabel() == "square metres"


def test_space_is_an_array_of_its_own_for_each_call(two_batches):
    calendar, prospect = two_batches
    dates, trays = prospect.space("bench")
    assert (dates.dtype, trays.dtype, trays.shape) == ("datetime64[D]", "float64", (12, 300))
    trays[:] = -1.0
    assert prospect.space("bench")[1].min() == 0.0
    planned = epicotyl.occupancy(calendar)
    assert planned.space("bench")[1].shape == (300,)
    assert np.array_equal(planned.space("bench")[1], prospect.space("bench")[1][0])


def test_what_cannot_be_asked_is_refused(two_batches):
    _, prospect = two_batches
    filled = epicotyl.occupancy(prospect)
    with pytest.raises(epicotyl.InvalidInput, match="bench"):
        prospect.space("bemch")
    with pytest.raises(epicotyl.InvalidInput, match="trays"):
        prospect.space("bench", kind="tray")
    with pytest.raises(epicotyl.InvalidInput, match="season year"):
        filled.there("bench", datetime.date(2027, 4, 16))
    with pytest.raises(TypeError, match="Calendar or a Prospect"):
        epicotyl.occupancy("bench")


def test_an_occupancy_is_a_value(two_batches):
    for source in two_batches:
        filled = epicotyl.occupancy(source)
        again = pickle.loads(pickle.dumps(filled))
        assert again == filled
        assert hash(again) == hash(filled)
        assert again.overflows == filled.overflows
        assert copy.deepcopy(filled) is filled


def test_the_picture_has_units_and_the_room_on_it(two_batches):
    drawn = pytest.importorskip("matplotlib.figure")
    figure = drawn.Figure()
    for k, source in enumerate(two_batches):
        axes = epicotyl.occupancy(source).plot("bench", ax=figure.add_subplot(2, 1, k + 1))
        assert (axes.get_xlabel(), axes.get_ylabel()) == ("date", "trays")
        words = [text.get_text() for text in axes.get_legend().get_texts()]
        assert "room for 9" in words
        assert "does not fit" in words
        assert axes.get_ylim()[1] > 16
