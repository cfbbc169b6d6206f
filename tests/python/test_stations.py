"""The example of many stations: a cluster answers as one process does, also if a worker dies."""

import os
import signal
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest

epicotyl = pytest.importorskip("epicotyl")
pytest.importorskip("distributed")

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
COUNT = 20
BATCH = "tomato 1"


@pytest.fixture(scope="module")
def example():
    """The example as a module, which the workers find where this process finds it."""
    with pytest.MonkeyPatch.context() as patch:
        patch.syspath_prepend(str(EXAMPLES))
        import stations

        yield stations


@pytest.fixture(scope="module")
def question(example):
    farm = epicotyl.open_season(example.FARM)
    return example.Question(
        farm.plan, epicotyl.weather.fit_weather_model(farm.climate.record), BATCH
    )


@pytest.fixture(scope="module")
def places(example, question):
    return example.make_stations(COUNT, question.plan.latitude)


@pytest.fixture(scope="module")
def answers(question, places):
    return question.one_by_one(places)


def test_a_worker_killed_half_way_changes_nothing(example, question, places, answers):
    killed = []

    def kill_one(cluster, done):
        if done == COUNT // 2:
            killed.append(cluster.workers[0].pid)
            os.kill(killed[0], signal.SIGKILL)

    assert example.on_cluster(question, places, 2, kill_one) == answers
    assert killed[0] not in {None, os.getpid()}


def test_colder_stations_are_planted_later(question, places):
    low = places[0]
    slope = [replace(low, height=low.height + up) for up in (0.0, 150.0, 300.0, 450.0)]
    found = question.one_by_one(slope)
    days = [one.planted_out for one in found if one.planted_out]
    assert len(days) >= 3
    assert days == sorted(set(days))


def test_the_example_prints_a_table_and_draws_a_map(tmp_path, answers, example):
    picture, table = tmp_path / "map.png", tmp_path / "table.txt"
    options = ["--stations", str(COUNT), "--picture", str(picture), "--table", str(table)]
    told = subprocess.run(
        [sys.executable, str(EXAMPLES / "stations.py"), *options],
        capture_output=True,
        text=True,
        check=False,
    )
    assert told.returncode == 0, told.stderr
    assert told.stdout.splitlines() == list(example.summary(answers, BATCH))
    assert table.read_text(encoding="utf-8").splitlines() == list(example.table(answers))
    assert picture.read_bytes().startswith(b"\x89PNG")
    assert "invented" in told.stdout


def test_the_readme_shows_what_the_example_prints(answers, example):
    readme = (EXAMPLES.parent / "README.md").read_text(encoding="utf-8")
    assert "\n".join(["```text", *example.summary(answers, BATCH), "```"]) in readme
