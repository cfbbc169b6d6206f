"""Calendars and prospects in a climate in which every day is reckoned by hand (see conftest)."""

import datetime
from datetime import date

import numpy as np
import pytest

epicotyl = pytest.importorskip("epicotyl")

EVENTS = ["sow", "transplant", "first_harvest", "clear"]
ODD_YEARS = {2003: 1, 2005: -5}
"""Days by which the first harvest is later than usual."""


def test_planned_days_are_those_reckoned_by_hand(known):
    planned = [known.calendar.date("chard 1", event) for event in EVENTS]
    assert planned == [date(2027, 3, 12), date(2027, 4, 1), date(2027, 4, 11), date(2027, 4, 18)]


def test_sowing_for_a_harvest_is_the_latest_day_good_in_enough_years(known):
    # In nine years of ten the beds take ten days.
    assert known.calendar.date("chard 2", "sow") == date(2027, 5, 11)
    claim = known.calendar.claim("chard 2")
    assert (claim.years, claim.needed, claim.good) == (10, 8, 10)
    assert claim.good_one_day_later == 1  # 2005, the warm year
    assert (claim.broken, claim.broken_claim) == ("chard 2", "target")
    assert known.calendar.claims["chard 2"] == claim


def test_events_are_those_of_the_plan_in_its_order(known):
    names = ["chard 1", "chard 2", "chard 3"]
    wanted = [(name, event) for name in names for event in EVENTS]
    assert known.calendar.events == wanted
    assert known.prospect.events == wanted
    assert known.plan.successions == names


def test_a_name_or_event_that_is_not_there_is_refused_with_the_nearest(known):
    with pytest.raises(epicotyl.InvalidInput, match="chard 1"):
        known.calendar.date("chard1", "sow")
    with pytest.raises(epicotyl.InvalidInput, match="transplant"):
        known.prospect.days("chard 1", "transplnat")
    with pytest.raises(epicotyl.InvalidInput, match="beds"):
        known.prospect.nights_to_act("bed")


def test_days_of_an_event_are_one_a_season_year_on_the_plans_dates(known):
    assert known.prospect.years == list(range(2001, 2011))
    days = known.prospect.days("chard 1", "first_harvest")
    assert days.dtype == np.dtype("datetime64[D]")
    usual = np.datetime64("2027-04-11")
    # 2003 would be a day late, but the night of 5 April has killed the plants.
    assert days.tolist() == [
        None if year == 2003 else (usual + ODD_YEARS.get(year, 0)).astype(datetime.date)
        for year in known.prospect.years
    ]
    lost = known.prospect.lost("chard 1")
    assert lost.dtype == np.dtype("datetime64[D]")
    assert lost.tolist() == [
        date(2027, 4, 5) if year == 2003 else None for year in known.prospect.years
    ]
    # In the tunnel that night is at -1 °C, above the limit.
    assert np.isnat(known.prospect.lost("chard 3")).all()


def test_of_a_lost_batch_the_days_before_its_harvest_stay(known):
    assert known.prospect.days("chard 1", "transplant").tolist() == [date(2027, 4, 1)] * 10
    assert np.isnat(known.prospect.days("chard 1", "clear")).tolist() == [
        year == 2003 for year in known.prospect.years
    ]
    with pytest.raises(epicotyl.InvalidInput, match="chard 1"):
        known.prospect.lost("chard 11")


def test_the_place_of_a_lost_batch_is_free_from_the_next_day(tables):
    # The night of 5 April 2003 loses what stands in the beds; the year after it stands to the end.
    stages = [dict(stage) for stage in tables["crops"]["chard"]["stages"]]
    for stage in stages[1:]:
        stage["container"] = "pot"
    crops = {"chard": tables["crops"]["chard"] | {"stages": stages}}
    plan = epicotyl.plan(
        tables
        | {
            "containers": {"pot": {"cells": 10}},
            "crops": crops,
            "succession": tables["succession"][:1],
        }
    )
    dates = np.arange("2001-01-01", "2011-01-01", dtype="datetime64[D]")
    low = np.where(dates == np.datetime64("2003-04-05"), -3.0, 5.0)
    record = epicotyl.DailyRecord(dates[0], low, np.full(dates.size, 15.0))
    climate = epicotyl.Climate(record, latitude=51.9, season_days=365)
    prospect = epicotyl.simulate(epicotyl.schedule(plan, climate), climate)
    days, trays = prospect.space("beds")
    stood = [days[row > 0.0] for row in trays]
    assert [row.max() for row in trays] == [4.0] * 10
    for year, of_year in zip(prospect.years, stood, strict=True):
        last = date(2027, 4, 5) if year == 2003 else date(2027, 4, 17)
        assert (of_year[0], of_year[-1]) == (date(2027, 4, 1), last)


def test_hurt_and_never_lost_where_the_crop_says_so(known, tables):
    for lost_at, nights in ((False, 0), (-3.5, 0), (-3.0, 1), (-2.0, 1)):
        crops = {"chard": tables["crops"]["chard"] | {"lost_at": lost_at}}
        plan = epicotyl.plan(tables | {"crops": crops})
        assert plan.to_dict()["crops"]["chard"]["lost_at"] == lost_at
        prospect = epicotyl.simulate(epicotyl.schedule(plan, known.climate), known.climate)
        assert np.count_nonzero(~np.isnat(prospect.lost("chard 1"))) == nights
        assert prospect.damage("chard 1").damaged == 1
        for stage in plan.to_dict()["crops"]["chard"]["stages"]:
            assert "lost_at" not in stage
        # A stage's own setting wins.
        one = plan.with_stage_change("chard 1", "transplant", lost_at=-2.5)
        prospect = epicotyl.simulate(epicotyl.schedule(one, known.climate), known.climate)
        assert np.count_nonzero(~np.isnat(prospect.lost("chard 1"))) == 1


def test_calendar_and_prospect_say_how_often_a_batch_is_lost(known):
    sheet = str(known.prospect)
    assert "  lost to cold in 1 of 10 years; harvest days are those of the other years\n" in sheet
    row = next(line for line in sheet.splitlines() if line.startswith("  first harvest "))
    assert row.split() == ["first", "harvest", *["6", "Apr", "11", "Apr", "11", "Apr"]]
    assert (
        "  Sun 11 Apr  first harvest  chard 1  beds, usually; lost to cold in 1 of 10 years\n"
        in (str(known.calendar))
    )
    # What is planned does not look at it.
    assert known.calendar.date("chard 1", "first_harvest") == date(2027, 4, 11)
    hurt = epicotyl.plan(
        known.plan.to_dict()
        | {"crops": {"chard": known.plan.to_dict()["crops"]["chard"] | {"lost_at": False}}}
    )
    planned = epicotyl.schedule(hurt, known.climate)
    for event in known.calendar.events:
        assert planned.date(*event) == known.calendar.date(*event)
    assert "lost" not in str(planned)


def test_rows_of_all_days_are_the_events_in_order(known):
    table = known.prospect.days_all
    assert table.shape == (12, 10)
    assert table.dtype == np.dtype("datetime64[D]")
    for row, event in zip(table, known.prospect.events, strict=True):
        np.testing.assert_array_equal(row, known.prospect.days(*event))


def test_quantile_is_the_kth_smallest_day_without_averaging(known):
    of = [known.prospect.quantile("chard 1", "first_harvest", q) for q in (0.1, 0.2, 0.9, 1.0)]
    # Over all years: that of the one in which the plants are lost is never, and comes last.
    assert of == [date(2027, 4, 6), date(2027, 4, 11), date(2027, 4, 11), None]


def test_chance_by_a_day_is_the_share_of_years(known):
    days = [5, 6, 10, 11, 12]
    chances = [
        known.prospect.chance_by("chard 1", "first_harvest", date(2027, 4, day)) for day in days
    ]
    assert chances == [0.0, 0.1, 0.1, 0.9, 0.9]


def test_damage_is_counted_with_its_first_night_and_its_margin(known):
    report = known.prospect.damage("chard 1")
    assert (report.years, report.damaged, report.share) == (10, 1, 0.1)
    assert report.first.dtype == np.dtype("datetime64[D]")
    assert np.flatnonzero(~np.isnat(report.first)).tolist() == [2]
    assert report.first[2] == np.datetime64("2027-04-05")
    # Lowest minimum less the limit of -2 °C.
    assert report.margin.tolist() == [7, 7, -1, 7, 13, 7, 7, 7, 7, 7]
    assert known.prospect.damage("chard 1", "sow").damaged == 0
    assert known.prospect.damage("chard 1", "transplant").damaged == 1


def test_cover_that_is_drawn_on_cold_nights_counts_as_a_night_to_act(known):
    report = known.prospect.damage("chard 3")
    assert (report.damaged, report.damaged_cover_off, report.damaged_heater_off) == (0, 1, 0)
    # -3 °C on 5 April 2003: 2 K more under cover, a limit of -2 °C.
    assert np.isnat(report.first).all()
    assert report.first_cover_off[2] == np.datetime64("2027-04-05")
    assert (report.margin[2], report.margin_cover_off[2]) == (1.0, -1.0)
    assert report.margin_heater_off.tolist() == report.margin.tolist()
    only_2003 = [0, 0, 1, 0, 0, 0, 0, 0, 0, 0]
    assert known.prospect.nights_to_act().tolist() == only_2003
    assert known.prospect.nights_to_act("tunnel").tolist() == only_2003
    assert known.prospect.nights_to_act(succession="chard 3").tolist() == only_2003
    assert known.prospect.nights_to_act("beds").tolist() == [0] * 10


def test_what_has_no_limit_is_neither_too_hot_nor_overheld(known):
    report = known.prospect.too_hot("chard 1")
    assert report.damaged == 0
    assert np.isnat(report.first).all()
    assert np.isnan(report.margin).all()
    assert known.prospect.overheld("chard 1").longest.tolist() == [0] * 10


def test_never_is_none_and_not_a_time(known, tables):
    late = dict(tables["succession"][0], target={"event": "transplant", "on": date(2027, 12, 25)})
    plan = epicotyl.plan(tables | {"succession": [late]})
    calendar = epicotyl.schedule(plan, known.climate)
    assert calendar.date("chard 1", "transplant") == date(2027, 12, 25)
    assert calendar.date("chard 1", "first_harvest") is None
    prospect = epicotyl.simulate(calendar, known.climate)
    days = prospect.days("chard 1", "first_harvest")
    # Only the warm year's five days end before 1 January.
    assert np.isnat(days).tolist() == [year != 2005 for year in prospect.years]
    assert prospect.quantile("chard 1", "first_harvest", 0.1) == date(2027, 12, 30)
    assert prospect.quantile("chard 1", "first_harvest", 0.5) is None
    assert prospect.chance_by("chard 1", "first_harvest", date(2028, 1, 1)) == 0.1
    assert np.isnat(prospect.days_all[2]).sum() == 9


@pytest.fixture(scope="module")
def impossible(known, tables):
    early = dict(
        tables["succession"][1], target={"event": "first_harvest", "by": date(2027, 1, 10)}
    )
    plan = epicotyl.plan(tables | {"succession": [tables["succession"][0], early]})
    return epicotyl.schedule(plan, known.climate)


def test_a_succession_without_an_answer_is_a_result_and_stops_no_other(impossible):
    (obstacle,) = impossible.unresolved
    assert obstacle.succession == "chard 2"
    assert obstacle.code
    assert obstacle.sentence
    assert str(obstacle).startswith("chard 2: ")
    assert impossible.date("chard 2", "sow") is None
    assert impossible.claim("chard 2") is None
    assert impossible.date("chard 1", "sow") == date(2027, 3, 12)
    assert "1 unresolved" in repr(impossible)


def test_require_raises_with_every_obstacle(impossible, known):
    with pytest.raises(epicotyl.Unresolved) as raised:
        impossible.require()
    assert raised.value.obstacles == impossible.unresolved
    assert raised.value.code == "plan.unresolved"
    assert "chard 2" in str(raised.value)
    known.calendar.require()


def test_explain_gives_reasons_with_code_values_and_sentence(known):
    reasons = epicotyl.explain(known.calendar, "chard 2", "sow")
    first = reasons[0]
    assert (first.succession, first.event) == ("chard 2", "sow")
    assert first.code == "sow.latest"
    assert first.values["day"] == date(2027, 5, 11)
    assert first.values["good_years"] == 10
    assert first.values["needed_years"] == 8
    assert str(first) == first.sentence
    assert "11 May" in first.sentence
    assert any(reason.event == "first_harvest" for reason in reasons)


def test_reliability_replaces_the_plans(known):
    sure = epicotyl.schedule(known.plan, known.climate, reliability=1.0)
    assert known.calendar.reliability == known.plan.reliability == 0.8
    assert sure.reliability == 1.0
    assert sure.claim("chard 2").needed == 10


def test_simulation_under_another_climate_keeps_the_calendars_days(known):
    warm = epicotyl.Climate(known.record, latitude=51.9, season_days=365, years=(2005, 2005))
    prospect = epicotyl.simulate(known.calendar, warm)
    assert prospect.climate == warm
    assert prospect.calendar == known.calendar
    assert prospect.days("chard 1", "sow").tolist() == [date(2027, 3, 12)]
    assert prospect.days("chard 1", "first_harvest").tolist() == [date(2027, 4, 6)]


def test_a_climate_that_does_not_fit_the_plan_is_refused(known):
    other = epicotyl.Climate(known.record, latitude=51.9, season_days=300)
    with pytest.raises(epicotyl.InvalidInput, match="season_days") as raised:
        epicotyl.schedule(known.plan, other)
    assert raised.value.code == "season.climate_differs"


def test_sheet_says_week_by_week_what_is_to_be_done(known):
    sheet = str(known.calendar)
    assert sheet.startswith("Quoin Close 2027\n")
    assert "week of Mon 8 Mar (week 10)" in sheet
    assert "Fri 12 Mar" in sheet
    assert "chard 1" in str(known.prospect)


def test_table_of_planned_days(known):
    pandas = pytest.importorskip("pandas")
    frame = known.calendar.to_frame()
    assert list(frame.columns) == ["succession", "event", "day"]
    assert len(frame) == 12
    assert frame["day"][0] == pandas.Timestamp("2027-03-12")
    assert frame["event"].tolist()[:4] == EVENTS


def test_table_holds_not_a_time_for_events_without_a_day(impossible):
    pytest.importorskip("pandas")
    frame = impossible.to_frame()
    assert frame.loc[frame["succession"] == "chard 2", "day"].isna().all()


def test_open_season_reads_the_plans_weather_from_the_plans_folder(farm, documented):
    season = epicotyl.open_season(farm / "marlpit.toml")
    plan, climate, calendar, prospect = season
    assert plan == documented.plan
    assert climate.years == documented.climate.years
    np.testing.assert_array_equal(climate.tmin, documented.climate.tmin)
    assert [calendar.date(*event) for event in calendar.events] == [
        documented.calendar.date(*event) for event in calendar.events
    ]
    np.testing.assert_array_equal(prospect.days_all, documented.prospect.days_all)
    assert season.calendar.plan == season.plan


def test_open_season_takes_other_weather_latitude_and_reliability(farm, tmp_path):
    lines = ["date,tmin_f,tmax_f"]
    days = np.arange("2001-01-01", "2004-01-01", dtype="datetime64[D]")
    lines += [f"{day},50,68" for day in days.astype(str)]
    other = tmp_path / "other.csv"
    other.write_text("\n".join(lines) + "\n", encoding="utf-8")
    season = epicotyl.open_season(
        farm / "marlpit.toml", weather=other, latitude=40.0, reliability=0.9
    )
    assert season.plan.latitude == 40.0
    assert season.climate.latitude == 40.0
    assert season.climate.record.name == "other"
    assert season.climate.years == [2001, 2002, 2003]
    assert season.climate.tmin[0, 0] == pytest.approx(10.0)
    assert season.calendar.reliability == 0.9


def test_open_season_without_weather_says_which_file_and_field(tmp_path, known):
    path = tmp_path / "plan.toml"
    path.write_text(known.plan.to_toml(), encoding="utf-8")
    with pytest.raises(epicotyl.InvalidInput, match=r"site\.weather") as raised:
        epicotyl.open_season(path)
    assert raised.value.code == "plan.no_weather"
    assert raised.value.file == str(path)
    assert raised.value.line > 0


def test_open_season_names_a_weather_file_that_is_not_there(tmp_path, documented):
    path = tmp_path / "plan.toml"
    text = documented.plan.to_toml()
    path.write_text(text, encoding="utf-8")
    with pytest.raises(epicotyl.InvalidInput, match=r"marlpit\.csv") as raised:
        epicotyl.open_season(path)
    assert raised.value.code == "file.missing"
    line = next(i for i, one in enumerate(text.splitlines(), 1) if one.startswith("weather"))
    assert raised.value.line == line


def test_threads_below_zero_are_refused(known):
    with pytest.raises(epicotyl.InvalidInput, match="threads"):
        epicotyl.simulate(known.calendar, known.climate, threads=-1)


def test_results_are_made_by_functions_only():
    for kind in (epicotyl.Plan, epicotyl.Calendar, epicotyl.Prospect):
        with pytest.raises(TypeError, match="is made by"):
            kind()
