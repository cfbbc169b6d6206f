"""The questions that one asks first: result[succession], season.explain, season.windows."""

import pickle
from datetime import date

import numpy as np
import pytest

epicotyl = pytest.importorskip("epicotyl")

EVENTS = ["sow", "transplant", "first_harvest", "clear"]


@pytest.fixture(scope="module")
def results(known):
    year = known.climate.years[0]
    windows = epicotyl.planting_windows(known.plan, known.climate, year)
    return {"calendar": known.calendar, "prospect": known.prospect, "windows": windows}


def test_a_calendar_has_the_planned_day_of_every_event_of_a_succession(known):
    # 20 days on the bench, 10 in the beds and 7 in harvest, around 1 April.
    assert known.calendar["chard 1"] == {
        "sow": date(2027, 3, 12),
        "transplant": date(2027, 4, 1),
        "first_harvest": date(2027, 4, 11),
        "clear": date(2027, 4, 18),
    }


def test_days_of_a_succession_without_an_answer_are_none(known):
    hasty = known.plan.with_not_before("chard 2", transplant=date(2027, 6, 5))
    assert epicotyl.schedule(hasty, known.climate)["chard 2"] == dict.fromkeys(EVENTS)


def test_a_prospect_has_the_days_of_every_event_of_a_succession(known):
    days = known.prospect["chard 1"]
    assert list(days) == EVENTS
    for event, found in days.items():
        np.testing.assert_array_equal(found, known.prospect.days("chard 1", event))
    # 2005 is the warm year: 5 days in the beds in place of 10.
    assert days["first_harvest"][4] == np.datetime64("2027-04-06")


def test_windows_have_the_first_and_last_day_of_every_event_of_a_succession(results):
    windows = results["windows"]
    assert windows["chard 2"] == {
        event: (windows.earliest("chard 2", event), windows.latest("chard 2", event))
        for event in EVENTS
    }
    # In the beds by 31 May, 10 days before 10 June, and 20 days on the bench before that.
    assert windows["chard 2"]["sow"] == (date(2027, 1, 1), date(2027, 5, 11))


@pytest.mark.parametrize("name", ["calendar", "prospect", "windows"])
def test_a_result_goes_through_its_successions_and_completes_their_names(name, results):
    result = results[name]
    assert list(result) == ["chard 1", "chard 2", "chard 3"]
    assert result._ipython_key_completions_() == list(result)
    assert all(one in result for one in result)
    assert "chard 4" not in result
    assert 1 not in result
    assert bool(result)
    with pytest.raises(epicotyl.InvalidInput, match='nearest is "chard 1"'):
        result["chard1"]
    with pytest.raises(TypeError, match="succession"):
        result[0]


def test_an_id_serves_as_a_name_does(known, tables):
    first, *others = tables["succession"]
    plan = epicotyl.plan(tables | {"succession": [first | {"id": "A-7"}, *others]})
    calendar = epicotyl.schedule(plan, known.climate)
    assert "A-7" in calendar
    assert calendar["A-7"] == calendar["chard 1"] == known.calendar["chard 1"]
    assert list(calendar) == plan.successions


def test_a_row_of_a_sweep_completes_the_names_of_its_successions(known):
    (row,) = epicotyl.sweep(known.plan, known.climate, {}, progress=False).rows
    assert row._ipython_key_completions_() == known.plan.successions


def test_a_season_explains_a_succession_from_its_first_event(farm):
    season = epicotyl.open_season(farm / "marlpit.toml")
    wanted = epicotyl.explain(season.calendar, "lettuce 2", "sow")
    assert season.explain("lettuce 2") == wanted
    assert str(season.explain("lettuce 2")[0]) == (
        "sow 24 Apr: first harvest by 1 Jul in 12 of 12 years; sown a day later, in 9, and 10 are "
        "wanted"
    )
    assert season.explain("lettuce 2", "transplant") == epicotyl.explain(
        season.calendar, "lettuce 2", "transplant"
    )
    with pytest.raises(epicotyl.InvalidInput, match='nearest is "lettuce 2"'):
        season.explain("lettuce2")
    with pytest.raises(TypeError, match="event"):
        season.explain("lettuce 2", 3)


def test_windows_of_a_season_are_those_of_its_own_calendar(farm):
    """Opened with a reliability of its own, whose target days differ from the plan's."""
    season = epicotyl.open_season(farm / "marlpit.toml", reliability=1.0)
    windows = season.windows(2015)
    assert windows.calendar == season.calendar
    assert windows == epicotyl.planting_windows(season.plan, season.climate, 2015, reliability=1.0)
    assert windows != epicotyl.planting_windows(season.plan, season.climate, 2015)
    with pytest.raises(epicotyl.InvalidInput, match="1999"):
        season.windows(1999)


def test_a_season_is_still_a_tuple_and_pickles(farm):
    season = epicotyl.open_season(farm / "marlpit.toml")
    plan, climate, calendar, prospect = season
    assert (plan, climate, calendar, prospect) == season
    assert pickle.loads(pickle.dumps(season)) == season
    older = pickle.dumps(season, 0).replace(b"epicotyl.season", b"epicotyl")
    assert pickle.loads(older) == season
