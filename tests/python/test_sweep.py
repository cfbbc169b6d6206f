"""Sweeps: every cell of a grid against the same single calls, order, refusals, stopping."""

import itertools
import subprocess
import sys
from datetime import date, timedelta
from pathlib import Path

import numpy as np
import pytest

epicotyl = pytest.importorskip("epicotyl")
from epicotyl import Change, _progress  # noqa: E402 - the package says what is missing

FARM = Path(__file__).resolve().parents[2] / "examples" / "quillet_hollow" / "farm.toml"
SPRINGS = [0.0, 0.0, 1.5, 1.5, 1.5, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0]
UNHEATED = Change.plan("bench unheated", lambda plan: plan.without_heater("bench"))


def moved(succession, days):
    """The target of a succession so many days later."""
    return Change.plan(f"{days:+} days", lambda plan: plan.with_target_moved(succession, days=days))


@pytest.fixture(scope="module")
def farm():
    return epicotyl.open_season(FARM)


def same_as_single_calls(row, plan, climate, reliability=None, event="first_harvest"):
    """Reckons one cell by `schedule` and `simulate`, and compares all that its row holds."""
    calendar = epicotyl.schedule(plan, climate, reliability=reliability)
    prospect = epicotyl.simulate(calendar, climate, threads=1)
    assert (row.refused, row.years) == ("", len(climate))
    assert [one.name for one in row.successions] == plan.successions
    obstacles = {}
    for obstacle in calendar.unresolved:
        obstacles.setdefault(obstacle.succession, obstacle.code)
    for one in row.successions:
        events = plan.events(one.name)
        assert one.unresolved == obstacles.get(one.name, "")
        if one.unresolved:
            assert (one.sowing, one.target, one.good, one.damaged) == (None, None, 0, 0)
            continue
        assert one.sowing == calendar.date(one.name, events[0])
        assert one.target in {calendar.date(one.name, name) for name in events}
        assert one.event in events
        assert (one.event == event) == (event in events)
        assert one.quantiles == [prospect.quantile(one.name, one.event, q) for q in (0.1, 0.5, 0.9)]
        assert one.good == calendar.claim(one.name).good
        cold = prospect.damage(one.name)
        assert (one.damaged, one.damaged_heater_off, one.damaged_cover_off) == (
            cold.damaged,
            cold.damaged_heater_off,
            cold.damaged_cover_off,
        )
        assert one.too_hot == prospect.too_hot(one.name).damaged
        assert one.overheld == prospect.overheld(one.name).overheld


def test_every_cell_of_the_demo_farm_is_what_single_calls_give(farm):
    """Every kind of change, each beside the plan as it is."""
    place = "frame"
    axes = {
        "reliability": [Change.none(), Change.reliability(0.9)],
        "target": [Change.none(), moved("tomato 1", -10)],
        "frame": [Change.none(), Change.plan("uncovered", lambda p: p.without_cover(place))],
        "weather": [Change.none(), Change.warmer(1.5), Change.warmer(SPRINGS, "warm springs")],
    }
    found = epicotyl.sweep(farm.plan, farm.climate, axes, threads=2, progress=False)
    assert found.complete
    assert found.shape == (2, 2, 2, 3)
    by_hand = itertools.product(
        [None, 0.9],
        [farm.plan, farm.plan.with_target_moved("tomato 1", days=-10)],
        [False, True],
        [farm.climate, farm.climate.shifted(1.5), farm.climate.shifted(SPRINGS)],
    )
    for row, (reliability, plan, uncovered, climate) in zip(found.rows, by_hand, strict=True):
        plan = plan.without_cover(place) if uncovered else plan
        same_as_single_calls(row, plan, climate, reliability)


def test_changes_of_places_and_crops_are_what_single_calls_give(documented):
    plan, climate = documented.plan, documented.climate
    axes = {
        "bench": [Change.none(), Change.plan("warm", lambda p: p.with_place(
            "bench", day=22.0, night=18.0))],
        "limit": [Change.none(),
                  Change.plan("tender", lambda p: p.with_crop(
                      "lettuce", limit_tender=2.0, limit_hardened=2.0))],
        "any": [Change.plan("not before May", lambda p: p.with_not_before(
            "lettuce 1", transplant=date(2027, 5, 1)))],
    }  # fmt: skip
    found = epicotyl.sweep(plan, climate, axes)
    assert [row.choice[0] for row in found.rows] == ["as it is"] * 2 + ["warm"] * 2
    later = plan.with_not_before("lettuce 1", transplant=date(2027, 5, 1))
    warm = later.with_place("bench", day=22.0, night=18.0)
    for row, one in zip(
        found.rows,
        (
            later,
            later.with_crop("lettuce", limit_tender=2.0, limit_hardened=2.0),
            warm,
            warm.with_crop("lettuce", limit_tender=2.0, limit_hardened=2.0),
        ),
        strict=True,
    ):
        same_as_single_calls(row, one, climate)


def test_rows_do_not_depend_on_threads_and_stand_in_the_order_of_the_grid(documented):
    axes = {
        "reliability": [Change.reliability(share) for share in np.linspace(0.5, 1.0, 6)],
        "years": [Change.warmer(by) for by in range(-3, 4)],
    }
    one, three = (
        epicotyl.sweep(documented.plan, documented.climate, axes, threads=threads)
        for threads in (1, 3)
    )
    assert one.rows == three.rows
    assert [row.cell for row in one.rows] == list(range(42))
    assert [row.choice for row in one.rows] == list(
        itertools.product(one.axes["reliability"], one.axes["years"])
    )


def test_quantiles_of_another_event_are_of_that_event_or_the_target(documented):
    found = epicotyl.sweep(documented.plan, documented.climate, {}, event="emerge")
    assert [one.event for one in found.rows[0].successions] == ["transplant", "first_harvest"]
    assert found.shape == ()
    same_as_single_calls(found.rows[0], documented.plan, documented.climate, event="emerge")


def test_what_cannot_be_made_is_a_row_that_says_so(documented):
    axes = {
        "heater": [Change.none(), UNHEATED],
        "season": [
            Change.none(),
            Change.climate("short", lambda c: epicotyl.Climate(
                c.record, latitude=c.latitude, season_days=300)),
        ],
    }  # fmt: skip
    found = epicotyl.sweep(documented.plan, documented.climate, axes)
    assert found.complete
    assert [bool(row.refused) for row in found.rows] == [False, True, True, True]
    assert "bench" in found.row("bench unheated", "as it is").refused
    assert "season_days" in found.row("as it is", "short").refused
    assert np.isnat(found.grid("lettuce 1", "sowing")).tolist() == [[False, True], [True, True]]
    assert np.isnan(found.grid("lettuce 1", "good")[1, 1])


def test_grids_hold_what_the_rows_hold(documented):
    axes = {
        "reliability": [Change.reliability(share) for share in (0.6, 1.0)],
        "years": [Change.none(), Change.warmer(2.0)],
    }
    found = epicotyl.sweep(documented.plan, documented.climate, axes, levels=[0.25, 0.75])
    for k, row in enumerate(found.rows):
        one = row["lettuce 2"]
        at = np.unravel_index(k, (2, 2))
        assert found.grid("lettuce 2", "sowing")[at] == np.datetime64(one.sowing)
        assert found.grid("lettuce 2", "target")[at] == np.datetime64(one.target)
        late = found.grid("lettuce 2", "quantile", level=0.75)
        assert late[at] == np.datetime64(one.quantiles[1])
        assert found.grid("lettuce 2", "good")[at] == one.good / 12
        assert row["lettuce 2"] is one
    with pytest.raises(KeyError):
        found.rows[0]["lettuce 3"]
    with pytest.raises(KeyError):
        found.row("0.6", "+3 K")
    for words in (("lettuce 2", "colour"), ("lettuce 3", "sowing"), ("lettuce 2", "quantile")):
        with pytest.raises(epicotyl.InvalidInput):
            found.grid(*words)


def test_frame_has_a_line_for_every_cell_and_succession(documented):
    pytest.importorskip("pandas")
    axes = {"bench": [Change.none(), UNHEATED], "years": [Change.warmer(1.0)]}
    frame = epicotyl.sweep(documented.plan, documented.climate, axes).to_frame()
    assert frame.shape[0] == 3
    assert {"bench", "years", "refused", "succession", "damaged"} <= set(frame.columns)
    assert frame["sowing"].dtype.kind == "M"
    assert frame["q0.5"].isna().tolist() == [False, False, True]


# ---- Progress and stopping ----------------------------------------------------------------------


def grid(count):
    return {"years": [Change.warmer(k / 100.0) for k in range(count)]}


def test_progress_is_told_in_order_and_to_the_end(documented):
    told = []
    epicotyl.sweep(
        documented.plan,
        documented.climate,
        grid(40),
        threads=2,
        progress=lambda done, cells: told.append((done, cells)),
    )
    assert told[-1] == (40, 40)
    assert told == sorted(told)
    told.clear()
    epicotyl.sweep(
        documented.plan,
        documented.climate,
        {"heater": [UNHEATED]},
        progress=lambda done, cells: told.append((done, cells)),
    )
    assert told == [(1, 1)]


def test_a_sweep_that_is_told_to_stop_gives_what_is_done(documented):
    found = epicotyl.sweep(
        documented.plan,
        documented.climate,
        grid(60),
        threads=1,
        progress=lambda done, _: done < 11,
    )
    assert not found.complete
    assert len(found) == 11
    assert repr(found) == "<Sweep years: 60 cells, 11 done>"
    whole = epicotyl.sweep(documented.plan, documented.climate, grid(60))
    assert found.rows == whole.rows[:11]
    assert np.isnat(found.grid("lettuce 1", "sowing")).sum() == 49


@pytest.mark.parametrize("threads", [1, 2])
def test_an_interrupt_carries_what_is_done(documented, threads):
    def tell(done, _):
        if done >= 20:
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt) as raised:
        epicotyl.sweep(
            documented.plan, documented.climate, grid(60), threads=threads, progress=tell
        )
    assert 20 <= len(raised.value.sweep) < 60
    assert "of 60 cells are done" in raised.value.__notes__[0]


INTERRUPTED = """
import os, signal, threading, epicotyl
# Whoever runs the tests in the background may have told them to ignore it.
signal.signal(signal.SIGINT, signal.default_int_handler)
farm = epicotyl.open_season({farm!r})
axis = [epicotyl.Change.warmer(k / 1000) for k in range(2000)]
threading.Timer(0.6, os.kill, (os.getpid(), signal.SIGINT)).start()
try:
    epicotyl.sweep(farm.plan, farm.climate, {{"years": axis}}, threads=1, progress=False)
except KeyboardInterrupt as fault:
    print(0 <= len(fault.sweep) < 2000)
"""


def test_a_sweep_ends_at_once_when_the_user_asks_for_it():
    done = subprocess.run(
        [sys.executable, "-c", INTERRUPTED.format(farm=str(FARM))],
        capture_output=True,
        text=True,
        check=False,
        timeout=60,
    )
    assert done.stdout == "True\n", done.stderr


def test_what_the_progress_function_raises_is_raised(documented):
    def tell(*_):
        raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        epicotyl.sweep(documented.plan, documented.climate, grid(3), progress=tell)


def test_bar_is_drawn_where_a_person_waits_and_nowhere_else(documented, capsys, monkeypatch):
    epicotyl.sweep(documented.plan, documented.climate, grid(3))
    assert capsys.readouterr().err == ""  # no terminal
    epicotyl.sweep(documented.plan, documented.climate, grid(3), progress=True)
    drawn = capsys.readouterr().err
    assert drawn.rstrip().split("\r")[-1].startswith(f"[{'#' * 30}] 3 of 3, ")
    assert drawn.endswith("\n")
    monkeypatch.setattr("sys.stderr.isatty", lambda: True)
    epicotyl.sweep(documented.plan, documented.climate, grid(3))
    assert "3 of 3" in capsys.readouterr().err
    epicotyl.sweep(documented.plan, documented.climate, grid(3), progress=False)
    assert capsys.readouterr().err == ""


def test_bar_says_how_long_it_will_take(capsys, monkeypatch):
    now = iter([0.0, 10.0, 10.05, 20.0])
    monkeypatch.setattr(_progress.time, "monotonic", lambda: next(now))
    bar = _progress.Bar(sys.stderr)
    for done in (25, 26, 100):
        bar(done, 100)
    lines = capsys.readouterr().err.split("\r")[1:]
    assert [line.rstrip() for line in lines] == [
        "[#######.......................] 25 of 100, 10 s, about 30 s to go",
        "[##############################] 100 of 100, 20 s",
    ]


# ---- What is refused ----------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("changes", "options", "error"),
    [
        ([Change.none()], {}, TypeError),
        ({"a": ["b"]}, {}, TypeError),
        ({"a": []}, {}, epicotyl.InvalidInput),
        ({"a": [Change.none(), Change.none()]}, {}, epicotyl.InvalidInput),
        ({k: [Change.none(str(n)) for n in range(101)] for k in "abc"}, {}, epicotyl.InvalidInput),
        ({}, {"levels": [1.5]}, epicotyl.InvalidInput),
        ({}, {"event": "harvest"}, epicotyl.InvalidInput),
        ({}, {"threads": -1}, epicotyl.InvalidInput),
        ({}, {"progress": 3}, TypeError),
    ],
)
def test_what_is_no_grid_is_refused(documented, changes, options, error):
    with pytest.raises(error):
        epicotyl.sweep(documented.plan, documented.climate, changes, **options)


def test_a_change_gives_a_plan_or_a_climate(documented):
    for change in (Change.plan("none", lambda _: None), Change.climate("none", lambda _: 3)):
        with pytest.raises(TypeError):
            epicotyl.sweep(documented.plan, documented.climate, {"a": [change]})
    for make in (Change.plan, Change.climate):
        with pytest.raises(TypeError):
            make("name", 3)


def test_later_targets_give_later_sowings(documented):
    """Asked for from 14 March on, held to 19 March by frost, and 28 days on the bench before."""
    days = range(0, 30, 3)
    axes = {"target": [moved("lettuce 1", k) for k in days]}
    sown = epicotyl.sweep(documented.plan, documented.climate, axes).grid("lettuce 1", "sowing")
    planted = [max(date(2027, 3, 14) + timedelta(days=k), date(2027, 3, 19)) for k in days]
    assert sown.tolist() == [one - timedelta(days=28) for one in planted]
