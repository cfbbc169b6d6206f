"""Planting windows, against a graph library and a worked example of a textbook."""

import datetime
import os
import pickle

import numpy as np
import pytest

epicotyl = pytest.importorskip("epicotyl")
networkx = pytest.importorskip("networkx")

from random_farms import random_farm  # noqa: E402
from reckoned_twice import reckoned_twice  # noqa: E402

START = datetime.date(2027, 1, 1)


def day(offset):
    return START + datetime.timedelta(days=offset)


def project(days, pairs, finish, season_days):
    """A plan in which every activity is a succession of one stage, and each waits for others.

    `days` gives how long each activity takes, `pairs` are (before, after, lag in days).
    """
    lengths = sorted(set(days.values()))
    return epicotyl.plan(
        {
            "format": 1,
            "units": "metric",
            "site": {"latitude": 45.0, "season_start": START, "season_days": season_days},
            "defaults": {"risk": False, "reliability": 0.5},
            "places": {"beds": {"for": ["field"]}},
            "crops": {
                f"{length} days": {
                    "stages": [{"begins": "sow", "where": "field", "takes": {"days": length}}]
                }
                for length in lengths
            },
            "succession": [
                {
                    "name": name,
                    "crop": f"{length} days",
                    "plants": 1,
                    "target": {"event": "clear", "by": day(finish)},
                }
                for name, length in days.items()
            ],
            "link": [
                {
                    "first": {"succession": before, "event": "clear"},
                    "then": {"succession": after, "event": "sow"},
                    "after": {"days": lag},
                }
                for before, after, lag in pairs
            ],
        }
    )


def one_year(season_days):
    days = np.zeros(season_days + 2)
    record = epicotyl.DailyRecord(datetime.date(2001, 1, 1), days, days + 10)
    return epicotyl.Climate(record, latitude=45.0, season_days=season_days)


def offset(when):
    return (when - START).days


# Hillier and Lieberman, Introduction to Operations Research, chapter on project management, the
# example of a construction project (activities A to N; weeks there, days here). From memory.
LENGTHS = dict(zip("ABCDEFGHIJKLMN", (2, 4, 10, 6, 4, 5, 7, 9, 7, 8, 4, 5, 2, 6), strict=True))
BEFORE = ["AB", "BC", "CD", "CE", "CI", "EF", "DG", "EH", "GH", "FJ", "IJ", "JK", "JL", "HM"]
BEFORE += ["KN", "LN"]
SLACK = dict(zip("ABCDEFGHIJKLMN", (0, 0, 0, 4, 0, 0, 4, 4, 2, 0, 1, 0, 4, 0), strict=True))


def test_textbook_project_has_its_length_its_slack_and_its_tightest_chain():
    plan = project(LENGTHS, [(*pair, 0) for pair in BEFORE], finish=44, season_days=60)
    windows = epicotyl.planting_windows(plan, one_year(60), 2001)
    assert windows.feasible
    assert offset(windows.earliest("N", "clear")) == 44
    assert {name: windows.slack(name, "sow") for name in LENGTHS} == SLACK
    chain = windows.tightest_chains()[0]
    assert chain.slack == 0
    path = [link.succession for link in chain.events if link.event == "sow"]
    assert path == list("ABCEFJLN")


def test_textbook_project_one_day_short_is_impossible_along_its_tightest_chain():
    plan = project(LENGTHS, [(*pair, 0) for pair in BEFORE], finish=43, season_days=60)
    windows = epicotyl.planting_windows(plan, one_year(60), 2001)
    assert not windows.feasible
    assert windows.earliest("A", "sow") is None
    assert windows.conflict is not None
    assert windows.conflict.successions == tuple("ABCEFJLN")
    cures = windows.cures(windows.conflict)
    # Any activity of the path a day shorter, or the end a day later; no zero lag can be shorter.
    assert {cure.days for cure in cures} == {1}
    assert {cure.what.succession for cure in cures if cure.what.kind == "stage"} == set("ABCEFJLN")
    assert {cure.what.kind for cure in cures} <= {"stage", "target", "season_start"}
    assert "target" in {cure.what.kind for cure in cures}


def test_two_ties_across_links_come_before_a_chain_with_less_room():
    # B and C wait for A and end 14 days before they must: A is cleared on day 10, they on day 30,
    # by day 44. D, alone, has 5 days; it crosses no link.
    plan = project({"A": 10, "B": 20, "C": 20, "D": 20}, [("A", "B", 0), ("A", "C", 0)], 44, 60)
    plan = plan.with_target("D", event="clear", by=day(25))
    windows = epicotyl.planting_windows(plan, one_year(60), 2001)
    chains = windows.tightest_chains()
    told = [[(one.succession, one.event) for one in chain.events] for chain in chains]
    first = [("A", "sow"), ("A", "clear")]
    assert told[:2] == [
        [*first, ("B", "sow"), ("B", "clear")],
        [*first, ("C", "sow"), ("C", "clear")],
    ]
    assert [chain.slack for chain in chains] == [14, 14, 5]
    assert [chain.crosses_links for chain in chains] == [True, True, False]
    assert told[2] == [("D", "sow"), ("D", "clear")]
    # Of A none of the 14 days is its own, which are those of B and C; of D all five are.
    assert [chain.free_slack for chain in chains] == [0, 0, 5]
    # Over years the same, each tight in the only one.
    room = epicotyl.windows.window_years(epicotyl.schedule(plan, one_year(60)))
    assert [one.usual_slack for one in room.tightest_chains()] == [14, 14, 5]
    text = str(room)
    assert text[text.index("Tightest chains") :] == (
        "Tightest chains\n"
        "  sow of A: tight in 1 of 1 years, usually with 14 days of room; crosses links\n"
        "    A: sow, clear; B: sow, clear\n"
        "    until: no later than 14 Feb\n"
        "  sow of A: tight in 1 of 1 years, usually with 14 days of room; crosses links\n"
        "    A: sow, clear; C: sow, clear\n"
        "    until: no later than 14 Feb\n"
        "  sow of D: tight in 1 of 1 years, usually with 5 days of room\n"
        "    D: sow, clear\n"
        "    until: no later than 26 Jan\n"
    )


def zero_paths(days, pairs):
    """All critical paths, by networkx: every path of the longest length through the project."""
    graph = networkx.DiGraph()
    for name, length in days.items():
        graph.add_edge("start", (name, "sow"), weight=0)
        graph.add_edge((name, "sow"), (name, "clear"), weight=length)
        graph.add_edge((name, "clear"), "finish", weight=0)
    for before, after, lag in pairs:
        graph.add_edge((before, "clear"), (after, "sow"), weight=lag)
    whole = networkx.dag_longest_path_length(graph)
    paths = networkx.all_simple_paths(graph, "start", "finish")
    found = {
        tuple(path[1:-1])
        for path in paths
        if sum(graph.edges[a, b]["weight"] for a, b in networkx.utils.pairwise(path)) == whole
    }
    return found, whole


def test_chains_without_slack_are_all_the_critical_paths_of_networkx():
    draw = np.random.default_rng(1961)
    ties = 0
    for _ in range(150):
        count = int(draw.integers(2, 9))
        # No activity of no days: it would be tied with whatever stands beside it.
        days = {f"n{k}": int(draw.integers(1, 4)) for k in range(count)}
        pairs = [
            (f"n{a}", f"n{b}", int(draw.integers(0, 2)))
            for a in range(count)
            for b in range(a + 1, count)
            if draw.random() < 0.35
        ]
        wanted, whole = zero_paths(days, pairs)
        season_days = whole + 5
        plan = project(days, pairs, finish=whole, season_days=season_days)
        windows = epicotyl.planting_windows(plan, one_year(season_days), 2001)
        chains = [one for one in windows.tightest_chains() if one.slack == 0]
        found = [tuple((link.succession, link.event) for link in one.events) for one in chains]
        assert len(found) == len(set(found))
        assert set(found) == wanted
        crosses = [one.crosses_links for one in windows.tightest_chains()]
        assert crosses == sorted(crosses, reverse=True)
        ties += len(wanted) > 1
    assert ties > 20


def random_project(draw):
    count = int(np.exp(draw.uniform(np.log(2), np.log(2000))))
    return random_project_of(draw, count)


def random_project_of(draw, count):
    days = {f"n{k}": int(draw.integers(0, 4)) for k in range(count)}
    pairs = set()
    for _ in range(int(draw.integers(count // 2, 2 * count + 1))):
        # Near ones, so that paths do not grow beyond every season.
        a = int(draw.integers(0, count))
        b = a + int(draw.integers(1, max(2, count // 20 + 2)))
        if b < count:
            pairs.add((f"n{a}", f"n{b}"))
    return days, [(*pair, int(draw.integers(0, 3))) for pair in sorted(pairs)]


def longest_paths(days, pairs):
    """Earliest finish of every activity: the longest path to it, by networkx."""
    graph = networkx.DiGraph()
    for name, length in days.items():
        graph.add_edge("start", (name, "sow"), weight=0)
        graph.add_edge((name, "sow"), (name, "clear"), weight=length)
    for before, after, lag in pairs:
        graph.add_edge((before, "clear"), (after, "sow"), weight=lag)
    finish = {"start": 0}
    for node in networkx.topological_sort(graph):
        for _, to, weight in graph.out_edges(node, data="weight"):
            finish[to] = max(finish.get(to, 0), finish[node] + weight)
    whole = networkx.dag_longest_path_length(graph)
    assert max(finish.values()) == whole
    return {name: finish[(name, "clear")] for name in days}, whole


def assert_agrees(days, pairs):
    wanted, whole = longest_paths(days, pairs)
    if whole > 1490:
        return False
    season_days = max(whole + 5, 10)
    plan = project(days, pairs, finish=season_days - 1, season_days=season_days)
    windows = epicotyl.planting_windows(plan, one_year(season_days), 2001)
    assert windows.feasible
    found = {name: offset(windows.earliest(name, "clear")) for name in days}
    assert found == wanted
    return True


def test_earliest_finish_is_the_longest_path_of_networkx():
    draw = np.random.default_rng(1957)
    assert sum(assert_agrees(*random_project(draw)) for _ in range(500)) > 450


def test_earliest_finish_is_the_longest_path_in_large_projects():
    draw = np.random.default_rng(1958)
    for _ in range(4):
        assert assert_agrees(*random_project_of(draw, 2000))


@pytest.fixture
def windows(documented):
    return epicotyl.planting_windows(
        documented.plan, documented.climate, documented.climate.years[0]
    )


def test_windows_are_pickled_and_equal(windows, documented):
    again = pickle.loads(pickle.dumps(windows))
    assert again == windows
    assert hash(again) == hash(windows)
    assert str(again) == str(windows)
    other = epicotyl.planting_windows(
        documented.plan, documented.climate, documented.climate.years[1]
    )
    assert other != windows
    room = epicotyl.windows.window_years(documented.calendar)
    assert pickle.loads(pickle.dumps(room)) == room
    assert repr(windows).startswith("<PlantingWindows 'Marlpit 2027': season year ")


def test_all_years_are_those_of_each_year(documented):
    room = epicotyl.windows.window_years(documented.calendar)
    for k, year in enumerate(room.years):
        windows = epicotyl.planting_windows(documented.plan, documented.climate, year)
        for event in documented.calendar.events:
            found = windows.earliest(*event)
            assert room.earliest(*event)[k] == np.datetime64(found or "NaT", "D") or found is None
            slack = windows.slack(*event)
            ours = room.slack(*event)[k]
            assert np.isnan(ours) if slack is None else ours == slack


def test_tightest_chains_of_all_years_are_those_of_each_year(documented):
    room = epicotyl.windows.window_years(documented.calendar)
    all_years = room.tightest_chains()
    for year in room.years:
        windows = epicotyl.planting_windows(documented.plan, documented.climate, year)
        ours = sorted(one.slacks[one.years.index(year)] for one in all_years if year in one.years)
        assert ours == sorted(one.slack for one in windows.tightest_chains())
    for one in all_years:
        assert one.usual_slack == sorted(one.slacks)[(len(one.slacks) - 1) // 2]
    text = str(windows)
    assert "Tightest chains" in text
    chains = text[text.index("Tightest chains") :]
    assert max(len(line) for line in chains.splitlines()) <= 100


def test_the_planned_sowing_lies_within_the_windows_of_the_good_years(documented):
    calendar = documented.calendar
    room = epicotyl.windows.window_years(calendar)
    for name in documented.plan.successions:
        sown = np.datetime64(calendar.date(name, "sow"), "D")
        inside = (room.earliest(name, "sow") <= sown) & (sown <= room.latest(name, "sow"))
        # A year is good when the target is met; windows ask for holds as well.
        assert inside.sum() <= calendar.claim(name).good
        assert inside.sum() > 0


def test_what_is_wrong_is_refused(documented):
    plan, climate = documented.plan, documented.climate
    with pytest.raises(epicotyl.InvalidInput, match="has no season year 1066"):
        epicotyl.planting_windows(plan, climate, 1066)
    with pytest.raises(TypeError, match="year: a whole number is wanted"):
        epicotyl.planting_windows(plan, climate, "2012")
    with pytest.raises(TypeError, match="calendar: a Calendar is wanted"):
        epicotyl.windows.window_years(plan)
    with pytest.raises(epicotyl.InvalidInput, match="-1 threads cannot be started"):
        epicotyl.windows.window_years(documented.calendar, threads=-1)
    with pytest.raises(TypeError, match="made by planting_windows"):
        epicotyl.windows.PlantingWindows()
    windows = epicotyl.planting_windows(plan, climate, climate.years[0])
    with pytest.raises(TypeError, match="conflict: a SeasonConflict is wanted"):
        windows.cures("all")
    with pytest.raises(epicotyl.InvalidInput, match="most: 0 chains are none"):
        windows.tightest_chains(most=0)


def linked_with(plan, name):
    """A succession and all that links tie it to, of the reference's plan."""
    found = {name}
    while True:
        more = set(found)
        for link in plan.links:
            for then in link.then:
                if found & {then, *link.first}:
                    more |= {then, *link.first}
        if more == found:
            return found
        found = more


def is_kept(pair, names, year):
    """Whether all that is asked of these successions is so in a season year, as the day-by-day
    reckoning follows the calendar: targets, bounds, longest waits, and no plant held too long."""
    season, plan = pair.season, pair.plan
    for name in names:
        succession = plan.successions[name]
        days = [by_year[year] for by_year in pair.days[name]]
        if not season.is_good(succession, days, pair.wanted[name], pair.bound[name], year):
            return False
        for event, stage in enumerate(succession.stages):
            ready = season.ready(succession, event, year, days[event])
            if stage.hold is not None and days[event + 1] - ready > stage.hold:
                return False
    return all(
        season.within_kept(link, then, year, pair.days)
        for link in plan.links
        for then in link.then
        if then in names and link.within is not None
    )


FARMS = int(os.environ.get("EPICOTYL_RANDOM_FARMS", "40"))


def test_a_year_in_which_everything_asked_came_to_pass_has_windows():
    kept = linked = 0
    for seed in range(1, FARMS + 1):
        farm = random_farm(seed, small=seed % 4 < 2)
        pair = reckoned_twice(farm.document, farm.record, farm.years, own_calendar=False)
        room = epicotyl.windows.window_years(pair.calendar)
        for name in pair.resolved:
            names = linked_with(pair.plan, name)
            if not names <= set(pair.resolved):
                continue
            years = sum(is_kept(pair, names, year) for year in range(pair.season.n))
            assert room.feasible_years(name) >= years, (seed, name)
            kept += years
            linked += years * (len(names) > 1)
    assert kept > 5 * FARMS
    assert linked > FARMS / 2, linked
