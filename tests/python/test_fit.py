"""What to move so that the room suffices, by hand."""

import datetime
import pickle
import subprocess
import sys
import time
from pathlib import Path

import numpy as np
import pytest

epicotyl = pytest.importorskip("epicotyl")

FARM = Path(__file__).resolve().parents[2] / "examples" / "quillet_hollow" / "farm.toml"


# ---- By hand -------------------------------------------------------------------------------------


def bench(room, **batch):
    """Two batches of 8 trays for 20 days on one bench, both to be ready by 20 May."""
    start = datetime.date(2027, 1, 1)
    target = {"event": "transplant", "from": datetime.date(2027, 5, 20)}
    return epicotyl.plan(
        format=1,
        units="metric",
        title="Bench",
        defaults={"risk": False},
        site={
            "latitude": 51.9, "season_start": start, "season_days": 300, "normal_years": 12,
            "monthly_low": [5.0] * 12, "monthly_high": [9.0] * 12,
        },
        places={
            "mat": {"for": ["germinate"]}, "bench": {"for": ["grow"], "trays": room},
            "shed": {"for": ["store"], "trays": 8.0}, "beds": {"for": ["field"]},
        },
        containers={"pot": {"cells": 20}},
        crops={
            "stock": {
                "stages": [
                    {"begins": "sow", "where": "mat", "container": "pot", "takes": {"days": 10}},
                    {"begins": "prick_out", "where": "bench", "container": "pot",
                     "takes": {"days": 20}},
                    {"begins": "transplant", "where": "beds", "takes": {"days": 40}},
                ]
            }
        },
        succession=[
            {"name": "one", "crop": "stock", "plants": 160, "target": target},
            {"name": "two", "crop": "stock", "plants": 160, "target": target, **batch},
        ],
    )  # fmt: skip


def fitted(plan, **options):
    return epicotyl.fit_to_space(plan, epicotyl.weather.climate_from_normals(plan), **options)


def test_a_plan_that_fits_has_no_moves():
    fit = fitted(bench(16.0))
    assert (fit.moves, fit.short_of, fit.cost, fit.ended) == ((), (), 0.0, "proved")
    assert fit.after == fit.before
    assert str(fit) == "Room at Bench: all fits as planned\n"


def test_a_target_gives_way_within_what_it_asks_for():
    # 20 days on the bench: the second must come 20 days later; 21 is the next that is tried.
    fit = fitted(bench(8.0), most_shift=21, leave_out=False)
    assert [one.what for one in fit.moves] == ["shift"]
    assert fit.moves[0].days == 21
    assert fit.cost == 21.0
    assert str(fit.moves[0]) == (
        "one: transplant 21 days later, on 10 Jun; sown 11 May instead of 20 Apr, pricked out "
        "21 May instead of 30 Apr, planted out 10 Jun instead of 20 May, cleared 20 Jul instead of "
        "29 Jun"
    )
    assert fit.moves[0].moved == 21
    assert fit.fits
    assert epicotyl.occupancy(fit.after).overflows == []


def test_another_place_of_the_list_is_taken():
    stage = {"prick_out": {"where": ["bench", "shed"]}}
    fit = fitted(bench(8.0, stage=stage))
    assert [(one.what, one.before, one.after) for one in fit.moves] == [("place", "bench", "shed")]
    assert fit.moves[0].trays == 8
    assert fit.fits


def test_one_goes_out_early_and_the_other_gives_way():
    # Twenty days on the bench from 20 April. One leaves it three quarters early, after 5 days, so
    # that the other has to come 5 days later: 15 and a half each, and 5.
    tables = bench(8.0).to_dict()
    tables["places"]["frame"] = {"for": ["harden"]}
    stages = tables["crops"]["stock"]["stages"]
    stages.insert(
        2, {"begins": "harden_off", "where": "frame", "container": "pot", "takes": {"days": 10}}
    )
    fit = fitted(epicotyl.plan(tables), leave_out=False)
    assert (fit.cost, fit.ended, fit.fits) == (12.5, "proved", True)
    early, shift = sorted(fit.moves, key=lambda one: one.what)
    assert str(early) == (
        f"8 trays of {early.succession} go to frame 15 days earlier, on 25 Apr: no cold is known "
        "to hurt them"
    )
    assert (early.days, early.cost, early.moved, early.days_moved) == (15, 7.5, 0, ())
    assert str(shift) == (
        f"{shift.succession}: transplant 5 days later, on 25 May; sown 15 Apr instead of 10 Apr, "
        "pricked out 25 Apr instead of 20 Apr, hardened off 15 May instead of 10 May, planted out "
        "25 May instead of 20 May, cleared 4 Jul instead of 29 Jun"
    )


def test_batches_that_are_linked_give_way_together():
    # The third, on its day, stands on the bench from 20 April to 10 May; the first from 30 April;
    # the second, sown ten days after the first is pricked out, when the first is gone. The first
    # cannot come 10 days later alone.
    tables = bench(8.0).to_dict()
    one, two = tables["succession"]
    two["target"] = {"event": "transplant", "from": datetime.date(2027, 6, 9)}
    on = {"event": "transplant", "on": datetime.date(2027, 5, 10)}
    tables["succession"] = [one, two, {**one, "name": "three", "target": on}]
    tables["link"] = [
        {
            "first": {"succession": "one", "event": "prick_out"},
            "then": {"succession": "two", "event": "sow"},
            "after": {"days": 10},
        }
    ]
    fit = fitted(epicotyl.plan(tables), leave_out=False)
    assert (fit.cost, fit.ended, fit.fits) == (20.0, "proved", True)
    assert [str(move) for move in fit.moves] == [
        (
            "one: transplant 10 days later, on 30 May, together with two; sown 30 Apr instead of "
            "20 Apr, pricked out 10 May instead of 30 Apr, planted out 30 May instead of 20 May, "
            "cleared 9 Jul instead of 29 Jun"
        ),
        (
            "two: transplant 10 days later, on 19 Jun, together with one; sown 20 May instead of "
            "10 May, pricked out 30 May instead of 20 May, planted out 19 Jun instead of 9 Jun, "
            "cleared 29 Jul instead of 19 Jul"
        ),
    ]
    # One that must not give way keeps the other.
    del two["target"]["from"]
    two["target"]["on"] = datetime.date(2027, 6, 9)
    assert not fitted(epicotyl.plan(tables), leave_out=False).fits


def test_what_cannot_be_raised_is_bought_in_and_named():
    fit = fitted(bench(8.0))
    assert [one.what for one in fit.moves] == ["left_out"]
    # 60 and 10 for each of 8 trays.
    assert fit.cost == 140.0
    assert fit.moves[0].plants == 160
    # It comes as plants on the day on which it is planted out, and stands in the field.
    name = fit.moves[0].succession
    assert fit.plan.events(name) == ["transplant", "clear"]
    for event in ("transplant", "clear"):
        assert fit.after.date(name, event) == fit.before.date(name, event)
    assert str(fit.moves[0]) == (
        f"buy in 160 plants of {name} for transplant on 20 May: there is no room to raise them"
    )
    # Half of it is cheaper where half has room.
    half = fitted(bench(12.0))
    assert [(one.what, one.plants) for one in half.moves] == [("left_out", 80)]
    assert half.cost == 100.0


def test_broccoli_in_the_frame_says_that_it_is_planted_out_later():
    # 16 K above its base for 20 days in the house; 8 in the frame, so that it takes twice as long
    # there. Three weeks are the farthest that anything may move here.
    plan = bench(2.0).to_dict()
    plan["places"]["frame"] = {"for": ["harden"], "day": 12.0, "night": 12.0}
    plan["places"]["bench"] |= {"day": 20.0, "night": 20.0}
    plan["containers"] = {"plug": {"cells": 72}}
    plan["crops"] = {
        "broccoli": {
            "stages": [
                {"begins": "sow", "where": "mat", "container": "plug", "takes": {"days": 10}},
                {"begins": "prick_out", "where": ["bench", "frame"], "container": "plug",
                 "takes": {"heat": 320.0, "base": 4.0}},
                {"begins": "transplant", "where": "beds", "takes": {"days": 40}},
            ]
        }
    }  # fmt: skip
    target = {"event": "transplant", "from": datetime.date(2027, 4, 13)}
    sown = {"sow": datetime.date(2027, 3, 14)}
    plan["succession"] = [
        {"name": name, "crop": "broccoli", "plants": 144, "target": target, "not_before": sown}
        for name in ("broccoli", "romanesco")
    ]
    options = {"leave_out": False, "splits": False, "most_shift": 20}
    fit = fitted(epicotyl.plan(plan), **options)
    (move,) = fit.moves
    assert str(move) == (
        "2 trays of broccoli stand in frame instead of bench from 24 Mar (prick out): no cold is "
        "known to hurt them; planted out 3 May instead of 13 Apr, cleared 12 Jun instead of 23 May"
    )
    assert fit.fits
    # 4 for the place and 20 days.
    assert (fit.cost, fit.moves[0].cost, fit.moves[0].moved) == (24.0, 24.0, 20)
    assert fit.moves[0].days_moved == (
        ("transplant", datetime.date(2027, 4, 13), datetime.date(2027, 5, 3)),
        ("clear", datetime.date(2027, 5, 23), datetime.date(2027, 6, 12)),
    )
    # A day less than that is too few.
    assert not fitted(epicotyl.plan(plan), **(options | {"most_shift": 19})).fits


def test_plants_that_are_bought_in_stand_in_the_field():
    tables = bench(8.0).to_dict()
    tables["crops"]["stock"]["stages"][-1]["spacing"] = {"rows": 4, "in_row": 20.0}
    tables["places"]["beds"]["bed"] = 16.0
    fit = fitted(epicotyl.plan(tables))
    assert [one.what for one in fit.moves] == ["left_out"]
    assert fit.fits
    # 160 plants 20 cm apart in four rows are 8 m, raised or not.
    before, after = epicotyl.occupancy(fit.before), epicotyl.occupancy(fit.after)
    days, metres = after.space("beds", "bed")
    standing = (days >= np.datetime64("2027-05-20")) & (days < np.datetime64("2027-06-29"))
    assert np.array_equal(metres, np.where(standing, 16.0, 0.0))
    assert np.array_equal(metres, before.space("beds", "bed")[1])
    assert after.space("bench")[1].max() == 8.0


def test_a_shortage_of_field_is_said_and_not_cured_by_buying_in():
    tables = bench(16.0).to_dict()
    tables["crops"]["stock"]["stages"][-1]["spacing"] = {"rows": 4, "in_row": 20.0}
    tables["places"]["beds"]["bed"] = 12.0
    fit = fitted(epicotyl.plan(tables))
    assert fit.moves == ()
    assert [str(one) for one in fit.short_of] == [
        f"no room for {name}: 4 m of bed short in beds from 20 May to 28 Jun"
        for name in ("one", "two")
    ]


def test_no_move_loses_more_years_than_are_accepted_and_those_it_loses_are_said():
    # A night of -2 on 15 May in 2 of 8 years. The bench is half a degree warmer: hurt at 0, alive
    # at -1.8. The shed is not: hurt as often, and lost.
    tables = bench(8.0, stage={"prick_out": {"where": ["bench", "shed"]}}).to_dict()
    tables["places"]["bench"] |= {"warmer_night": 0.5, "warmer_day": 0.0}
    site = tables["site"]
    tables["site"] = {key: site[key] for key in ("latitude", "season_start", "season_days")}
    limits = {"limit_tender": 0.0, "limit_hardened": 0.0}
    dates = np.arange("2001-01-01", "2009-01-01", dtype="datetime64[D]")
    is_cold = np.isin(dates, np.array(["2002-05-15", "2005-05-15"], dtype="datetime64[D]"))
    record = epicotyl.DailyRecord(dates[0], np.where(is_cold, -2.0, 5.0), np.full(dates.size, 15.0))
    climate = epicotyl.Climate(record, latitude=51.9, season_days=300)

    def fit_with(risk, lost_at):
        crop = tables["crops"]["stock"] | limits | {"risk": risk, "lost_at": lost_at}
        plan = epicotyl.plan(tables | {"crops": {"stock": crop}})
        return epicotyl.fit_to_space(plan, climate, leave_out=False, splits=False, most_shift=0)

    stands = (
        "8 trays of two stand in shed instead of bench from 30 Apr (prick out): safe from cold "
        "there in 6 of 8 years"
    )
    fit = fit_with(0.25, -1.8)
    assert [str(one) for one in fit.moves] == [
        f"{stands}; lost to cold in 2 of 8 years instead of 0"
    ]
    after = epicotyl.simulate(fit.after, climate)
    assert np.count_nonzero(~np.isnat(after.lost("two"))) == after.damage("two").damaged == 2
    # Where none is accepted, that is too many; as long as it is only hurt, it is as before.
    assert not fit_with(False, -1.8).fits
    assert [str(one) for one in fit_with(False, -5.0).moves] == [stands]
    assert [str(one) for one in fit_with(False, False).moves] == [stands]


def test_what_has_no_room_at_all_is_named_with_its_days_and_trays():
    fit = fitted(bench(8.0), most_shift=0, leave_out=False)
    assert not fit.fits
    assert {one.succession for one in fit.short_of} == {"one", "two"}
    one = fit.short_of[0]
    assert (one.place, one.kind, one.shortage) == ("bench", "trays", 8.0)
    assert (one.first, one.last) == (datetime.date(2027, 4, 30), datetime.date(2027, 5, 19))
    assert "8 trays short in bench from 30 Apr to 19 May" in str(one)


def test_what_is_short_can_be_square_metres():
    # Two batches of eight trays of 0.25 m²: 4 m² for 2.5. With room for all of it nothing moves.
    tables = bench(8.0).to_dict()
    tables["containers"]["pot"]["area"] = 0.25
    plan = epicotyl.plan(tables)
    fit = fitted(plan.with_place("bench", trays=None, area=2.5), most_shift=0, leave_out=False)
    assert {(one.succession, one.kind) for one in fit.short_of} == {
        ("one", "area"),
        ("two", "area"),
    }
    assert fit.short_of[0].shortage == pytest.approx(1.5)
    assert "1.5 m² short in bench from 30 Apr to 19 May" in str(fit.short_of[0])
    assert fitted(plan.with_place("bench", trays=None, area=4.0)).moves == ()
    # Half of one is 1 m² less, and too much still: 60 and 10 for each 0.15 m² of a whole batch.
    assert fitted(plan.with_place("bench", trays=None, area=2.5)).cost == pytest.approx(
        60.0 + 10.0 * 2.0 / 0.15
    )


def test_a_search_can_be_watched_and_stopped():
    told = []

    def stop(cost, bound, seconds):
        told.append((cost, bound, seconds))
        return False

    fit = fitted(bench(8.0), progress=stop)
    assert fit.ended == "stopped"
    assert not fit.fits
    assert told[0][0] is None

    def fail(*_):
        raise KeyError("mine")

    with pytest.raises(KeyError, match="mine"):
        fitted(bench(8.0), progress=fail)


def test_a_fit_is_a_value():
    fit = fitted(bench(8.0))
    assert pickle.loads(pickle.dumps(fit)) == fit
    assert repr(fit) == "<SpaceFit 'Bench': 1 move, all fits>"
    with pytest.raises(epicotyl.InvalidInput, match="place"):
        fitted(bench(8.0), weights=epicotyl.space.FitWeights(place=-1.0))
    with pytest.raises(epicotyl.InvalidInput, match="most_shift"):
        fitted(bench(8.0), most_shift=-1)


# ---- The demo farm -------------------------------------------------------------------------------


def test_three_hundred_batches_are_fitted_in_two_seconds():
    farm = epicotyl.open_season(FARM)
    tables = farm.plan.to_dict()
    tables.pop("link")
    for place in tables["places"].values():
        for kind in {"trays", "bed", "area"} & set(place):
            place[kind] *= 10.0
    batches = tables["succession"]
    tables["succession"] = []
    for k in range(10):
        for batch in batches:
            copied = batch | {"name": f"{batch['name']} of {k}"}
            copied.pop("id", None)
            copied.pop("wave", None)
            if "follows" in copied:
                copied["follows"] += f" of {k}"
            tables["succession"].append(copied)
    plan = epicotyl.plan(tables)
    assert len(plan.successions) == 300
    started = time.process_time()
    fit = epicotyl.fit_to_space(plan, farm.climate)
    took = time.process_time() - started
    print(f"\n300 batches: {took:.2f} s, cost {fit.cost:g}, no less than {fit.bound:g}")
    assert took < 2.0
    assert fit.fits
    assert 0.0 < fit.bound <= fit.cost


def test_the_demo_farm_is_cured_and_drawn(tmp_path):
    picture = tmp_path / "room.png"
    printed = subprocess.run(
        [sys.executable, str(FARM.parents[1] / "room.py"), "--picture", str(picture)],
        capture_output=True,
        text=True,
        check=True,
    ).stdout
    assert printed.startswith("Room at Quillet Hollow 2027, by planned days\n")
    assert "\n- glasshouse: 36 trays on 29 Apr, room for 26" in printed
    assert "\n! " not in printed
    assert picture.read_bytes().startswith(b"\x89PNG")
