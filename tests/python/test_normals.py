"""Season years without a station's file, and what a plan says of how its file is read."""

import copy
import datetime
import gzip
import pickle

import numpy as np
import pytest

epicotyl = pytest.importorskip("epicotyl")

# An invented lowland place, °C.
LOW = [1, 1, 2.5, 4.5, 7.5, 10.5, 12.5, 12.5, 10, 7, 3.5, 1.5]
HIGH = [7, 7.5, 10.5, 13.5, 17, 20, 22.5, 22, 19, 14.5, 10, 7.5]


@pytest.fixture
def made(tables):
    """The tables of a plan with normals."""
    tables = copy.deepcopy(tables)
    tables["site"] |= {"monthly_low": LOW, "monthly_high": HIGH}
    return tables


def by_year(*stations):
    """Two years of the form by year; a station is its name, its low and its high in tenths."""
    days = np.arange("2001-01-01", "2003-01-01", dtype="datetime64[D]").astype(str)
    return "".join(
        f"{name},{day.replace('-', '')},{element},{tenths},,,W,\n"
        for day in days
        for name, low, high in stations
        for element, tenths in (("TMIN", low), ("TMAX", high))
    )


def line(month, element, tenths):
    """A month of a station's file with the same value on each of its days."""
    first = np.datetime64(month, "M")
    length = int(((first + 1).astype("datetime64[D]") - first.astype("datetime64[D]")).astype(int))
    values = "".join(f"{tenths if k < length else -9999:5}   " for k in range(31))
    return f"USW00000001{month.replace('-', '')}{element}{values}\n"


STATIONS = (("USW00000001", -22, 100), ("USC00000002", 50, 150))


def test_normals_go_through_tables_and_file_unchanged(made):
    plan = epicotyl.plan(made)
    site = plan.to_dict()["site"]
    assert site["monthly_low"] == LOW
    assert site["monthly_high"] == HIGH
    assert (site["normal_years"], site["normal_seed"]) == (30, 1)
    assert epicotyl.plan(plan.to_dict()) == plan
    made["site"] |= {"normal_years": 12, "normal_seed": 7}
    other = epicotyl.plan(made)
    assert other != plan
    assert epicotyl.plan(other.to_dict()) == other
    assert pickle.loads(pickle.dumps(other)) == other


def test_normals_in_fahrenheit_are_written_as_they_were(made):
    made = copy.deepcopy(made)
    low = [27, 29, 35, 44, 54, 63, 69, 68, 61, 50, 41, 32]
    made |= {"units": "us", "places": {"bench": {"for": ["germinate", "field"]}}}
    made["site"] |= {"monthly_low": low, "monthly_high": [mean + 15 for mean in low]}
    made["crops"]["chard"] = {
        "stages": [{"begins": "sow", "where": "bench", "takes": {"days": 20}}]
    }
    made["succession"] = []
    plan = epicotyl.plan(made)
    assert plan.to_dict()["site"]["monthly_low"] == low
    assert epicotyl.plan(plan.to_dict()) == plan


def test_what_is_wrong_with_normals_is_said_by_field(made):
    made["site"]["monthly_low"] = LOW[:11]
    with pytest.raises(epicotyl.InvalidInput, match="11 values are not twelve months") as caught:
        epicotyl.plan(made)
    assert caught.value.field == "site.monthly_low"
    made["site"]["monthly_low"] = [*LOW[:11], 11.5]
    with pytest.raises(epicotyl.InvalidInput) as caught:
        epicotyl.plan(made)
    assert caught.value.field == "site.monthly_low[12]"
    assert caught.value.unit == "°C"
    del made["site"]["monthly_low"]
    with pytest.raises(epicotyl.InvalidInput, match='"monthly_low" is missing'):
        epicotyl.plan(made)


def test_calendar_and_prospect_say_made_from_normals(made, tmp_path):
    plan = epicotyl.plan(made)
    file = tmp_path / "plan.toml"
    file.write_text(plan.to_toml(), encoding="utf-8")

    season = epicotyl.open_season(file)

    assert season.plan == plan
    assert season.climate == epicotyl.weather.climate_from_normals(plan)
    assert season.climate.years == list(range(1, 31))
    assert season.calendar.origin == season.prospect.origin == "made from normals"
    for sheet in (str(season.calendar), str(season.prospect)):
        assert "30 season years, 1 – 30; none left out; made from normals.\n" in sheet
    last = epicotyl.explain(season.calendar, "chard 1", "sow")[-1]
    assert last.code == "years.origin"
    assert last.values == {"origin": "made from normals"}
    assert "made from normals" in str(last)


def test_years_from_normals_are_the_same_on_every_call_and_others_by_seed(made):
    plan = epicotyl.plan(made)
    climate = epicotyl.weather.climate_from_normals(plan)
    assert epicotyl.weather.climate_from_normals(plan) == climate
    made["site"]["normal_seed"] = 2
    other = epicotyl.weather.climate_from_normals(epicotyl.plan(made))
    assert not np.array_equal(other.tmin, climate.tmin)
    # Means over all days of the year: 30 years stray by some tenths of a kelvin.
    for one in (climate, other):
        assert one.tmin.mean() == pytest.approx(np.mean(LOW), abs=0.6)
        assert one.tmax.mean() == pytest.approx(np.mean(HIGH), abs=0.6)


def test_weather_file_wins_over_normals_and_names_itself(made, farm, tmp_path):
    file = tmp_path / "plan.toml"
    file.write_text(epicotyl.plan(made).to_toml(), encoding="utf-8")
    season = epicotyl.open_season(file, weather=farm / "marlpit.csv")
    assert season.calendar.origin == season.prospect.origin == ""
    assert "marlpit: 12 season years" in str(season.calendar)
    assert "made from normals" not in str(season.prospect)


def test_plan_with_neither_weather_nor_normals_is_refused(tables, tmp_path):
    file = tmp_path / "plan.toml"
    file.write_text(epicotyl.plan(tables).to_toml(), encoding="utf-8")
    with pytest.raises(epicotyl.InvalidInput, match="neither a weather file nor normals"):
        epicotyl.open_season(file)
    with pytest.raises(epicotyl.InvalidInput, match="no normals"):
        epicotyl.weather.climate_from_normals(epicotyl.plan(tables))
    with pytest.raises(TypeError, match="plan: a Plan is wanted, not dict"):
        epicotyl.weather.climate_from_normals(tables)


@pytest.mark.parametrize("packed", [False, True], ids=["plain", "gzip"])
def test_station_of_a_file_by_year_is_named_by_caller_or_plan(packed, tables, tmp_path):
    name = "2001.csv.gz" if packed else "2001.csv"
    text = by_year(*STATIONS).encode()
    (tmp_path / name).write_bytes(gzip.compress(text) if packed else text)
    tables = copy.deepcopy(tables)
    tables["site"]["weather"] = name
    file = tmp_path / "plan.toml"
    file.write_text(epicotyl.plan(tables).to_toml(), encoding="utf-8")

    with pytest.raises(epicotyl.InvalidInput, match="several stations") as caught:
        epicotyl.open_season(file)
    assert caught.value.code == "ghcn_daily.several_stations"
    season = epicotyl.open_season(file, station="USC00000002")
    assert season.climate.record.name == "USC00000002"
    assert season.climate.tmin.max() == 5.0

    tables["site"]["station"] = "USW00000001"
    said = epicotyl.plan(tables)
    assert epicotyl.plan(said.to_dict()) == said
    file.write_text(said.to_toml(), encoding="utf-8")
    assert epicotyl.open_season(file).climate.record.name == "USW00000001"


@pytest.mark.parametrize("packed", [False, True], ids=["plain", "gzip"])
@pytest.mark.parametrize("form", ["dly", "csv"])
def test_weather_of_every_form_is_read_packed_or_not(form, packed, tables, tmp_path):
    days = np.arange("2001-01-01", "2003-01-01", dtype="datetime64[D]")
    if form == "csv":
        text = "date,tmin_c,tmax_c\n" + "".join(f"{day},5,15\n" for day in days)
    else:
        months = np.unique(days.astype("datetime64[M]")).astype(str)
        text = "".join(
            line(month, element, tenths)
            for month in months
            for element, tenths in (("TMIN", 50), ("TMAX", 150))
        )
    name = f"station.{form}{'.gz' if packed else ''}"
    (tmp_path / name).write_bytes(gzip.compress(text.encode()) if packed else text.encode())
    tables = copy.deepcopy(tables)
    tables["site"]["weather"] = name
    (tmp_path / "plan.toml").write_text(epicotyl.plan(tables).to_toml(), encoding="utf-8")
    season = epicotyl.open_season(tmp_path / "plan.toml")
    assert season.climate.years == [2001, 2002]
    assert season.climate.tmin.max() == 5.0


def test_whole_fahrenheit_is_asked_by_caller_or_plan(tables, tmp_path):
    (tmp_path / "2001.csv").write_text(by_year(STATIONS[0]), encoding="ascii")
    tables = copy.deepcopy(tables)
    tables["site"]["weather"] = "2001.csv"
    file = tmp_path / "plan.toml"
    file.write_text(epicotyl.plan(tables).to_toml(), encoding="utf-8")
    limit = (28.0 - 32.0) / 1.8
    assert (epicotyl.open_season(file).climate.tmin > limit).all()
    season = epicotyl.open_season(file, whole_fahrenheit=True)
    assert (season.climate.tmin == limit).all()
    assert season.calendar.origin == "in whole °F"

    tables["site"]["whole_fahrenheit"] = True
    said = epicotyl.plan(tables)
    assert epicotyl.plan(said.to_dict()) == said
    file.write_text(said.to_toml(), encoding="utf-8")
    assert epicotyl.open_season(file).prospect.origin == "in whole °F"
    assert epicotyl.open_season(file, whole_fahrenheit=False).prospect.origin == ""
    with pytest.raises(TypeError, match="whole_fahrenheit: True or False is wanted"):
        epicotyl.open_season(file, whole_fahrenheit=1)
    with pytest.raises(TypeError, match="station: a str is wanted"):
        epicotyl.open_season(file, station=1)


def test_season_from_normals_is_pickled_whole(made):
    plan = epicotyl.plan(made)
    calendar = epicotyl.schedule(plan, epicotyl.weather.climate_from_normals(plan))
    again = pickle.loads(pickle.dumps(calendar))
    assert again == calendar
    assert again.origin == "made from normals"
    assert again.date("chard 1", "sow") == datetime.date(2027, 3, 12)
