"""Threads: the core runs without the interpreter's lock, and the answer does not depend on it."""

import threading
from concurrent.futures import ThreadPoolExecutor

import numpy as np
import pytest

epicotyl = pytest.importorskip("epicotyl")

WORKERS = 8


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


@pytest.mark.parametrize("threads", [1, 2, 3, 8, 64])
def test_number_of_threads_does_not_change_the_answer(threads, known):
    prospect = epicotyl.simulate(known.calendar, known.climate, threads=threads)
    np.testing.assert_array_equal(prospect.days_all, known.prospect.days_all)
