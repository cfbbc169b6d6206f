"""Threads: the core runs without the interpreter's lock, and the answer does not depend on it.

Nor does a process that is forked off after others have run.
"""

import multiprocessing
import threading
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import numpy as np
import pytest

from random_farms import random_farm

epicotyl = pytest.importorskip("epicotyl")

WORKERS = 8
FARM = Path(__file__).resolve().parents[2] / "examples" / "quillet_hollow" / "farm.toml"


@pytest.fixture(scope="module")
def demo():
    return epicotyl.open_season(FARM)


def answered(prospect):
    """What a prospect and its calendar say, to the last bit."""
    said = [prospect.days_all.tobytes(), str(prospect), str(prospect.calendar)]
    for succession in sorted({name for name, _ in prospect.events}):
        for report in (prospect.damage(succession), prospect.too_hot(succession)):
            said += [report.first.tobytes(), report.margin.tobytes()]
            said += [report.damaged, report.damaged_heater_off, report.damaged_cover_off]
        said.append(prospect.overheld(succession).longest.tobytes())
        said.append(prospect.nights_to_act(succession=succession).tobytes())
    return said


def at_once(work):
    """Runs `work` in eight threads that start together; the results."""
    start = threading.Barrier(WORKERS)

    def run(number):
        start.wait()
        return work(number)

    with ThreadPoolExecutor(WORKERS) as pool:
        return list(pool.map(run, range(WORKERS)))


def test_eight_simulations_at_once_agree(known):
    tables = at_once(
        lambda number: epicotyl.simulate(known.calendar, known.climate, threads=number % 4).days_all
    )
    for table in tables:
        np.testing.assert_array_equal(table, known.prospect.days_all)


def test_eight_schedules_at_once_agree(known):
    def planned(_):
        calendar = epicotyl.schedule(known.plan, known.climate)
        return [calendar.date(*event) for event in calendar.events]

    wanted = [known.calendar.date(*event) for event in known.calendar.events]
    assert at_once(planned) == [wanted] * WORKERS


def test_one_prospect_answers_eight_threads_at_once(known):
    def asked(_):
        return (
            known.prospect.damage("chard 1").margin.tolist(),
            known.prospect.nights_to_act().tolist(),
            str(known.prospect),
            epicotyl.explain(known.calendar, "chard 2", "sow"),
        )

    assert at_once(asked) == [asked(0)] * WORKERS


def test_eight_readings_at_once_agree(farm):
    seasons = at_once(lambda _: epicotyl.open_season(farm / "marlpit.toml"))
    assert all(season == seasons[0] for season in seasons)


def test_errors_in_threads_reach_their_own_thread(known):
    def refused(number):
        with pytest.raises(epicotyl.InvalidInput) as raised:
            epicotyl.schedule(known.plan, known.climate, reliability=2.0 + number)
        return raised.value.value

    assert at_once(refused) == [str(2 + number) for number in range(WORKERS)]


@pytest.mark.parametrize("threads", [1, 2, 3, 5, 8, 29, 64, 1000])
def test_number_of_threads_does_not_change_one_bit_of_the_answer(threads, demo):
    prospect = epicotyl.simulate(demo.calendar, demo.climate, threads=threads)
    assert answered(prospect) == answered(demo.prospect)


def test_eight_plans_at_once_answer_as_one_after_the_other():
    """Each thread has a farm of its own, and all of them share one more."""
    drawn = [random_farm(seed, small=True) for seed in range(WORKERS + 1)]

    def climate_of(farm):
        site = farm.document["site"]
        record = epicotyl.DailyRecord(farm.record.first, farm.record.low, farm.record.high)
        return epicotyl.Climate(
            record,
            latitude=site["latitude"],
            season_start=site["season_start"],
            season_days=site["season_days"],
        )

    farms = [(epicotyl.plan(one.document), climate_of(one)) for one in drawn]

    def reckoned(number):
        said = []
        for plan, climate in (farms[number], farms[WORKERS]):
            calendar = epicotyl.schedule(plan, climate)
            said.append(answered(epicotyl.simulate(calendar, climate, threads=number % 4)))
        return said

    assert at_once(reckoned) == [reckoned(number) for number in range(WORKERS)]


def put_answer(demo, threads, queue):
    calendar = epicotyl.schedule(demo.plan, demo.climate)
    queue.put(answered(epicotyl.simulate(calendar, demo.climate, threads=threads)))


@pytest.mark.skipif(
    "fork" not in multiprocessing.get_all_start_methods(), reason="there is no fork here"
)
@pytest.mark.filterwarnings("ignore:.*multi-threaded, use of fork:DeprecationWarning")
@pytest.mark.parametrize("threads", [1, 4])
def test_a_process_forked_off_after_threads_have_run_answers_alike(threads, demo):
    at_once(lambda _: epicotyl.simulate(demo.calendar, demo.climate, threads=4).years)
    forked = multiprocessing.get_context("fork")
    queue = forked.Queue()
    processes = [forked.Process(target=put_answer, args=(demo, threads, queue)) for _ in range(2)]
    for process in processes:
        process.start()
    try:
        found = [queue.get(timeout=60) for _ in processes]
    finally:
        for process in processes:
            process.join(timeout=10)
            process.kill()
    assert found == [answered(demo.prospect)] * 2
    assert [process.exitcode for process in processes] == [0, 0]
