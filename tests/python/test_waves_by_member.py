"""A link from a wave says what links from each of its members say, and takes no longer to say."""

import datetime
import random

import numpy as np
import pytest

epicotyl = pytest.importorskip("epicotyl")

START = datetime.date(2027, 1, 1)
SEASON_DAYS = 1000
YEARS = 4


def day(offset):
    return START + datetime.timedelta(days=offset)


def weather():
    """Invented: a warm and a cold half, from a fixed seed."""
    days = np.arange(365 * (YEARS + 4))
    noise = np.random.default_rng(20270207).normal(0.0, 2.5, days.size)
    mean = 11.0 - 9.0 * np.cos(2.0 * np.pi * days / 365.25) + noise
    record = epicotyl.DailyRecord(datetime.date(2001, 1, 1), mean - 4.0, mean + 4.0)
    return epicotyl.Climate(record, latitude=45.0, season_days=SEASON_DAYS, years=YEARS)


def farm(successions, links):
    stages = [
        {"begins": "sow", "where": "grow", "takes": {"heat": 400.0, "base": 0.0}, "hold": 200},
        {"begins": "transplant", "where": "field", "takes": {"heat": 700.0, "base": 0.0}},
    ]
    return epicotyl.plan(
        {
            "format": 1,
            "units": "metric",
            "site": {"latitude": 45.0, "season_start": START, "season_days": SEASON_DAYS},
            "defaults": {"risk": False, "reliability": 0.5},
            "places": {"house": {"for": ["grow"]}, "beds": {"for": ["field"]}},
            "crops": {"leek": {"stages": stages}},
            "succession": [{"crop": "leek", "plants": 1, **one} for one in successions],
            "link": links,
        }
    )


def random_waves(seed):
    """Three waves, each waiting for all of one before it, and bounds that may be too narrow."""
    dice = random.Random(seed)
    successions = []
    for wave in range(3):
        for k in range(dice.randint(2, 5)):
            one = {
                "name": f"{wave}.{k}",
                "wave": f"wave {wave}",
                "target": {
                    "event": "clear",
                    "by": day(min(990, 330 + 240 * wave + dice.randint(0, 70))),
                },
            }
            if dice.random() < 0.3:
                one["not_before"] = {"transplant": day(120 + 220 * wave + dice.randint(0, 200))}
            if dice.random() < 0.3:
                one["not_after"] = {"sow": day(110 + 230 * wave + dice.randint(0, 150))}
            successions.append(one)
    links = [
        {
            "first": {
                "wave": f"wave {dice.randrange(wave)}",
                "event": dice.choice(["sow", "transplant", "clear"]),
            },
            "then": {"wave": f"wave {wave}", "event": dice.choice(["sow", "transplant"])},
            "after": {"days": dice.randint(0, 30)},
        }
        for wave in (1, 2)
    ]
    return successions, links


def member_by_member(successions, links):
    """The same links, each from one member to one."""
    return [
        {
            **link,
            "first": {"succession": one["name"], "event": link["first"]["event"]},
            "then": {"succession": other["name"], "event": link["then"]["event"]},
        }
        for link in links
        for one in successions
        for other in successions
        if (one["wave"], other["wave"]) == (link["first"]["wave"], link["then"]["wave"])
    ]


def told_of(plan, climate, year):
    """Windows, slacks and what holds them; of conflicts, who is in them."""
    windows = epicotyl.planting_windows(plan, climate, year)
    told = {
        (name, event): (
            windows.earliest(name, event),
            windows.latest(name, event),
            windows.slack(name, event),
            windows.free_slack(name, event),
        )
        for name, event in windows.calendar.events
    }
    held = {
        (name, event): (
            [(e.succession, e.event) for e in chain.events],
            [e.tie.sentence for e in chain.events],
        )
        for name, event in windows.calendar.events
        for chain in [windows.chain_of(name, event)]
    }
    return told, held, [conflict.steps for conflict in windows.conflicts]


@pytest.mark.parametrize("seed", range(60))
def test_windows_of_a_wave_are_those_of_its_members_linked_one_by_one(seed):
    climate = weather()
    successions, links = random_waves(seed)
    by_wave = farm(successions, links)
    by_member = farm(successions, member_by_member(successions, links))
    for year in map(int, climate.years[::2]):
        told, held, conflicts = told_of(by_wave, climate, year)
        told_by_member, held_by_member, conflicts_by_member = told_of(by_member, climate, year)
        assert told == told_by_member
        assert held == held_by_member
        assert len(conflicts) == len(conflicts_by_member)
        for steps in conflicts:
            # From one event to the next: nobody reads of what stands for a wave.
            ends = [(s.because.from_succession, s.because.from_event) for s in steps[1:]]
            assert all(name for name, _ in ends)
            met = [(s.succession, s.event) for s in steps[:-1]]
            for before, step, end in zip(met, steps[1:], ends, strict=True):
                assert before in (end, (step.because.succession, step.because.event))


def test_some_of_these_waves_have_no_windows():
    climate = weather()
    year = int(climate.years[0])
    plans = [farm(*random_waves(seed)) for seed in range(60)]
    conflicts = [epicotyl.planting_windows(plan, climate, year).conflicts for plan in plans]
    assert 5 < sum(map(bool, conflicts)) < 55


@pytest.mark.parametrize("spelled", [False, True])
def test_a_circle_through_a_wave_is_told_from_member_to_who_waits(spelled):
    successions = [
        {"name": f"early {k}", "wave": "early", "target": {"event": "clear", "by": day(400 + k)}}
        for k in range(3)
    ]
    successions.append(
        {"name": "late", "wave": "late", "target": {"event": "clear", "by": day(900)}}
    )
    # Thirty days after all of the wave, and ten after one of it: each turn gains twenty.
    sow = {"wave": "late", "event": "sow"}
    links = [
        {"first": {"wave": "early", "event": "transplant"}, "then": sow, "after": {"days": 30}}
    ]
    narrow = {
        "first": {"succession": "early 1", "event": "transplant"},
        "then": {"succession": "late", "event": "sow"},
        "within": {"days": 10},
    }
    links = member_by_member(successions, links) if spelled else links
    climate = weather()
    windows = epicotyl.planting_windows(
        farm(successions, [*links, narrow]), climate, int(climate.years[0])
    )
    (conflict,) = windows.conflicts
    assert list(conflict.successions) == ["early 1", "late"]
    assert conflict.sentence.startswith(
        'transplant of "early 1" not before 1 Jan (the season starts on 1 Jan 2027); '
        'sow of "late" not before '
    )
    assert [one.sentence for one in windows.cures(conflict)] == [
        'let sow of "late" follow transplant of "early 1" 20 days earlier',
        'let 20 days more pass between transplant of "early 1" and sow of "late"',
    ]
    turns = [step.turns for step in conflict.steps]
    assert max(turns) > 10
    assert all(step.when is not None for step in conflict.steps)


def test_two_waves_of_five_thousand_are_planned_and_have_windows_and_reasons():
    climate = weather()
    successions = [
        {"name": f"{wave} {k}", "wave": wave, "target": {"event": "clear", "by": day(by)}}
        for wave, by in (("early", 400), ("late", 900))
        for k in range(5000)
    ]
    link = {"first": {"wave": "early", "event": "clear"}, "then": {"wave": "late", "event": "sow"}}
    plan = farm(successions, [link])
    calendar = epicotyl.schedule(plan, climate)
    assert not calendar.unresolved
    year = int(climate.years[0])
    windows = epicotyl.planting_windows(plan, climate, year)
    assert windows.feasible
    # All of a wave wait for its last, so none of it may clear later than the others' sowing allows.
    assert windows.latest("early 17", "clear") <= windows.latest("late 4711", "sow")
    assert windows.earliest("late 4711", "sow") == windows.earliest("early 17", "clear")
    assert epicotyl.explain(calendar, "late 4711", "transplant")
