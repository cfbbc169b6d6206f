"""As early as it may be: `prefer` of crop and succession, and who is sown early without a word.

Weather and crops are invented; both reckonings must agree on each plan."""

import datetime
import math
from pathlib import Path

import pytest

from random_farms import random_farm
from reckoned_twice import differences, reckoned_twice
from reference_season import Season, read_plan, read_weather, record_from_days, season_years

epicotyl = pytest.importorskip("epicotyl")

FARM = Path(__file__).resolve().parents[2] / "examples" / "quillet_hollow" / "farm.toml"
date = datetime.date


def weather():
    """A year's wave, every night 10 K colder than the day; each year a little other."""
    days = {}
    for year in range(2000, 2014):
        day = date(year, 1, 1)
        while day.year == year:
            number = day.timetuple().tm_yday
            middle = 10.0 - 12.0 * math.cos((number - 20) / 365.25 * 2.0 * math.pi)
            middle += 3.0 * math.sin(number * 1.7 + year * 2.3)
            days[day] = (round(middle - 5.0, 1), round(middle + 5.0, 1))
            day += datetime.timedelta(days=1)
    return record_from_days(days)


NEW_YEAR = date(2027, 1, 1)


def document(*successions, season_start=NEW_YEAR, links=(), **crop):
    """Sown in the field, picked when 500 degree-days have passed, for 30 days."""
    grown = {
        "limit_hardened": -1.0,
        "lost_at": False,
        "stages": [
            {"begins": "sow", "where": "field", "takes": {"heat": 60.0, "base": 3.0}},
            {"begins": "emerge", "where": "field", "takes": {"heat": 440.0, "base": 3.0}},
            {
                "begins": "first_harvest",
                "where": "field",
                "takes": {"days": 30},
                "too_hot": 28.0,
                "limit": -8.0,
            },
        ],
        **crop,
    }
    return {
        "format": 1,
        "units": "metric",
        "title": "Invented",
        "site": {"latitude": 45.0, "season_start": season_start, "season_days": 550},
        "places": {
            "house": {"for": ["grow"], "day": 20.0, "night": 15.0},
            "beds": {"for": ["field"]},
        },
        "crops": {"pea": grown},
        "succession": [
            {"name": f"pea {k}", "crop": "pea", "plants": 10, **one}
            for k, one in enumerate(successions, start=1)
        ],
        **({"link": list(links)} if links else {}),
    }


def harvest(day, rule="by"):
    return {"target": {"event": "first_harvest", rule: day}}


JULY = harvest(date(2027, 7, 10))


def planned(plan):
    pair = reckoned_twice(plan, weather(), 10)
    assert differences(pair) == {}
    return pair.calendar


def sown(calendar, name="pea 1"):
    return calendar.date(name, "sow")


def test_a_pea_for_july_is_sown_in_march_and_meets_the_heat_in_26_years_instead_of_28():
    """The second peas of the demo farm, picked from the end of June on."""
    farm = epicotyl.open_season(FARM)
    assert sown(farm.calendar, "pea 2") == date(2027, 3, 15)
    assert farm.prospect.too_hot("pea 2").damaged == 26
    late = farm.plan.with_succession("pea 2", prefer="late")
    calendar = epicotyl.schedule(late, farm.climate)
    assert sown(calendar, "pea 2") == date(2027, 4, 26)
    assert epicotyl.simulate(calendar, farm.climate).too_hot("pea 2").damaged == 28
    # and the same day by the second reckoning, of the peas and what follows them
    plan = read_plan(FARM)
    names = ("pea 2", "cabbage 2")
    plan.successions = {name: plan.successions[name] for name in names}
    plan.links = [link for link in plan.links if set(link.first) <= set(names)]
    years = season_years(
        read_weather(FARM.parent / plan.weather), plan.season_start, plan.season_days
    )
    mine = Season(plan, years)
    found, aims, bounds = mine.reckon()
    assert plan.date(found["pea 2"]) == date(2027, 3, 15)
    days = mine.simulate(found, aims, bounds)
    assert mine.damage("pea 2", days, hot=True).damaged == 26


def test_early_is_the_first_day_that_bounds_allow_and_late_the_last():
    early, late = planned(document(JULY)), planned(document({**JULY, "prefer": "late"}))
    bound = date(2027, 3, 20)
    both = planned(document({**JULY, "not_before": {"sow": bound}}))
    assert sown(early) < sown(both) == bound < sown(late)
    assert early.claim("pea 1").good == 10
    assert late.claim("pea 1").good >= 8


def test_who_is_sown_early_without_a_word():
    def day(*successions, **crop):
        return sown(planned(document(*successions, **crop)))

    stages = document(JULY)["crops"]["pea"]["stages"]
    early, late = day(JULY), day({**JULY, "prefer": "late"})
    cool = [*stages[:2], {**stages[2]}]
    del cool[2]["too_hot"]
    assert day(JULY, stages=cool) == late
    assert day({**JULY, "prefer": "early"}, stages=cool) == early
    assert day(JULY, prefer="late") == late
    assert day({**JULY, "prefer": "early"}, prefer="late") == early
    raised = [{**stages[0], "where": "grow"}, *stages[1:]]
    assert day(JULY, stages=raised) == day({**JULY, "prefer": "late"}, stages=raised)
    # in the autumn it would be picked before the summer
    october = harvest(date(2027, 10, 10))
    assert day(october) == day({**october, "prefer": "late"}) > date(2027, 7, 1)


def test_a_season_that_begins_the_summer_before_sows_in_the_spring_that_is_meant():
    plan = document(JULY, season_start=date(2026, 7, 1))
    assert date(2027, 1, 1) <= sown(planned(plan)) < date(2027, 4, 15)
    # where nothing can freeze, from the first day of that spring on
    calendar = planned(document({**JULY, "risk": False}, season_start=date(2026, 7, 1)))
    assert sown(calendar) == date(2027, 1, 1)
    reasons = epicotyl.explain(calendar, "pea 1", "sow")
    latest = sown(planned(document({**JULY, "risk": False, "prefer": "late"})))
    assert reasons[1].code == "sow.spring"
    assert reasons[1].sentence == (
        'sow of "pea 1" no earlier than 1 Jan 2027: the spring begins in which it could be sown '
        f"last, on {latest.day} {latest:%b} 2027"
    )


def test_a_day_aimed_at_is_aimed_at_and_members_of_a_repeat_stay_spaced():
    on = harvest(date(2027, 7, 10), "on")
    assert sown(planned(document({**on, "prefer": "early"}))) == sown(planned(document(on)))
    calendar = planned(document({**JULY, "repeat": {"times": 3, "harvest_every": 14}}))
    first = calendar.date("pea 1 1", "first_harvest")
    assert sown(calendar, "pea 1 1") == sown(planned(document(JULY)))
    for k in (2, 3):
        wanted = first + datetime.timedelta(days=14 * (k - 1))
        usual = calendar.date(f"pea 1 {k}", "first_harvest")
        assert abs((usual - wanted).days) <= 2
    assert sown(calendar, "pea 1 1") < sown(calendar, "pea 1 2") < sown(calendar, "pea 1 3")


def test_a_harvest_in_a_window_is_sown_on_the_first_day_with_the_most_good_years():
    window = {"from": date(2027, 7, 10), "until": date(2027, 7, 14), "chance": 0.5}
    aim = {"target": {"event": "first_harvest", "in_harvest": window}}
    early = planned(document(aim))
    late = planned(document({**aim, "prefer": "late"}))
    assert sown(early) < sown(late)
    assert early.claim("pea 1").good == late.claim("pea 1").good
    (reason, *_) = epicotyl.explain(early, "pea 1", "sow")
    assert reason.code == "sow.earliest_in_harvest"
    good = early.claim("pea 1").good
    assert reason.sentence == (
        f"sow {sown(early).day} {sown(early):%b}, as early as it can be, because it stays there "
        f"and heat stops its harvest: in harvest from 10 Jul until 14 Jul in {good} of 10 years, "
        "the most there are, and 5 are wanted; its target would let it wait until "
        f"{sown(late).day} {sown(late):%b}"
    )


def test_explain_tells_what_it_prefers_how_long_it_could_wait_and_what_holds_it():
    calendar = planned(document(JULY, {**JULY, "prefer": "early", "risk": False}))
    late = sown(planned(document({**JULY, "prefer": "late"})))
    first, held, *_ = epicotyl.explain(calendar, "pea 1", "sow")
    day = sown(calendar)
    assert first.code == "sow.earliest"
    assert first.sentence == (
        f"sow {day.day} {day:%b}, as early as it can be, because it stays there and heat stops "
        "its harvest: first harvest by 10 Jul in 10 of 10 years, and 8 are wanted; its target "
        f"would let it wait until {late.day} {late:%b}"
    )
    assert first.values["latest"] == late
    assert held.code.startswith("bound.risk")
    assert held.values["no_sooner"] == day
    assert held.sentence.startswith(f'sow of "pea 1" no earlier than {day.day} {day:%b}: ')
    said, start, *_ = epicotyl.explain(calendar, "pea 2", "sow")
    assert said.sentence == (
        "sow 1 Jan, as early as it can be: first harvest by 10 Jul in 10 of 10 years, and 8 are "
        f"wanted; its target would let it wait until {late.day} {late:%b}"
    )
    assert start.code == "season.start"
    assert start.sentence == "sow no earlier: the season starts on 1 Jan"


def test_what_an_early_sowing_waits_for_holds_it_and_is_not_raised_over_it():
    """The second peas wait for the first to be cleared; both are sown as early as may be."""
    link = {
        "first": {"succession": "pea 1", "event": "clear"},
        "then": {"succession": "pea 2", "event": "sow"},
        "after": {"days": 5},
    }
    autumn = {**harvest(date(2027, 10, 1)), "prefer": "early"}
    calendar = planned(document(JULY, autumn, links=[link]))
    assert sown(calendar) == sown(planned(document(JULY)))
    assert calendar.date("pea 1", "clear") < sown(calendar, "pea 2")
    codes = [reason.code for reason in epicotyl.explain(calendar, "pea 2", "sow")]
    assert codes[:2] == ["sow.earliest", "link.waits"]
    late = planned(document({**JULY, "prefer": "late"}, {**autumn, "prefer": "late"}, links=[link]))
    assert sown(calendar, "pea 2") < sown(late, "pea 2")


def test_the_key_is_read_written_expanded_and_edited(tmp_path):
    plan = epicotyl.plan(document({**JULY, "prefer": "late"}, JULY, prefer="early"))
    assert plan.to_dict()["crops"]["pea"]["prefer"] == "early"
    assert plan.to_dict()["succession"][0]["prefer"] == "late"
    assert "prefer" not in plan.to_dict()["succession"][1]
    assert 'prefer = "early"' in plan.to_toml()
    assert epicotyl.plan(plan.to_dict()) == plan
    file = tmp_path / "farm.toml"
    file.write_text(plan.to_toml(), encoding="utf-8")
    assert epicotyl.read_plan(file) == plan
    edited = plan.with_succession("pea 2", prefer="late")
    assert edited.to_dict()["succession"][1]["prefer"] == "late"
    assert edited.with_succession("pea 2", prefer=None) == plan
    assert plan.with_crop("pea", prefer=None) == epicotyl.plan(
        document({**JULY, "prefer": "late"}, JULY)
    )


def test_the_long_form_says_where_the_word_comes_from(tmp_path):
    def long_form(plan):
        file = tmp_path / "farm.toml"
        file.write_text(epicotyl.plan(plan).to_toml(), encoding="utf-8")
        lines = epicotyl.files.expand(file).splitlines()
        (line,) = (one for one in lines if one.startswith("prefer ="))
        return " ".join(line.split())

    assert long_form(document(JULY)) == (
        'prefer = "early" # default for a spring harvest that heat stops, of what is sown where it '
        "stays"
    )
    assert long_form(document(harvest(date(2027, 10, 10)))) == 'prefer = "late" # default'
    assert long_form(document({**JULY, "prefer": "late"})).startswith('prefer = "late" # line ')


def test_another_word_is_refused():
    with pytest.raises(epicotyl.InvalidInput) as caught:
        epicotyl.plan(document({**JULY, "prefer": "erly"}))
    assert str(caught.value) == (
        'succession[1].prefer: there is no preference "erly" (allowed: "late", "early"); the '
        'nearest is "early"'
    )


def test_a_calendar_in_json_has_the_days_of_its_plan():
    calendar = planned(document(JULY))
    assert sown(epicotyl.files.from_json(epicotyl.files.to_json(calendar))) == sown(calendar)


@pytest.mark.parametrize("seed", range(60))
def test_early_is_no_later_and_no_less_often_in_time_than_late(seed):
    """Farms without links and default bounds, which would look into the spring of either day."""
    farm = random_farm(seed, small=True)
    farm.document.pop("link", None)
    for table in farm.document["crops"].values():
        table.pop("risk", None)
    calendars = {}
    for prefer in ("early", "late"):
        for batch in farm.document["succession"]:
            batch |= {"prefer": prefer, "risk": False}
            for key in ("follows", "gap", "repeat"):
                batch.pop(key, None)
        pair = reckoned_twice(farm.document, farm.record, farm.years)
        calendars[prefer] = pair.calendar
    early, late = calendars["early"], calendars["late"]
    assert {one.succession for one in early.unresolved} == {o.succession for o in late.unresolved}
    for name in pair.resolved:
        assert early.date(name, pair.plan.successions[name].events[0]) <= late.date(
            name, pair.plan.successions[name].events[0]
        )
        assert early.claim(name).good >= late.claim(name).good


@pytest.mark.parametrize("seed", range(60))
def test_what_holds_an_early_sowing_is_its_bound_its_spring_or_the_season(seed):
    farm = random_farm(seed, small=True)
    farm.document.pop("link", None)
    for batch in farm.document["succession"]:
        batch["prefer"] = "early"
        for key in ("follows", "gap", "repeat"):
            batch.pop(key, None)
        if seed % 2:  # no bound by default, so that other bounds hold
            batch["risk"] = False
    pair = reckoned_twice(farm.document, farm.record, farm.years)
    for name in pair.resolved:
        succession = pair.plan.successions[name]
        if not succession.has_choice or succession.target.kind == "in_harvest":
            continue
        bounds, aim = pair.bound[name], pair.wanted[name]
        latest = pair.planning.latest_sowing(succession, aim, bounds)
        bound, spring = bounds.before[0], pair.planning.spring_start(latest)
        reasons = epicotyl.explain(pair.calendar, name, succession.events[0])
        assert reasons[0].code == "sow.earliest"
        assert pair.plan.day(reasons[0].values["latest"]) == latest
        held = set()
        for reason in reasons[1:]:
            if reason.event != succession.events[0] or "asked" in reason.values:
                break
            held.add(reason.code)
            if reason.code != "season.start":
                assert pair.plan.day(reason.values["no_sooner"]) == pair.planned[name]
        if pair.planned[name] == 0:
            assert held == {"season.start"}
        elif bound > spring:
            assert held
            assert "sow.spring" not in held
        elif spring > bound:
            assert held == {"sow.spring"}
        else:
            assert {"sow.spring"} < held
