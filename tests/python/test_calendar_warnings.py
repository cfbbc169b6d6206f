"""What calendars say beside their days: the demo farm on its own weather and on stations'."""

import os
from pathlib import Path

import numpy as np
import pytest

epicotyl = pytest.importorskip("epicotyl")

DEMO = Path(__file__).parents[2] / "examples" / "quillet_hollow" / "farm.toml"
FEW = (
    "8 season years only: chances counted in so few years are rough; 10 or more are wanted, "
    "30 are usual"
)


def station(name):
    where = os.environ.get("EPICOTYL_REFERENCE_DATA")
    if where is None:
        pytest.skip("EPICOTYL_REFERENCE_DATA is not set")
    return str(Path(where) / name)


def warnings_at(name, latitude, plan=DEMO):
    season = epicotyl.open_season(str(plan), weather=station(name), latitude=latitude)
    return season.calendar.warnings


def written(folder, *changes):
    """The demo farm with other words in its file."""
    text = DEMO.read_text(encoding="utf-8")
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    text = text.replace('"weather.csv"', f'"{DEMO.parent / "weather.csv"}"')
    file = folder / "farm.toml"
    file.write_text(text, encoding="utf-8")
    return file


def test_the_demo_farm_has_no_warnings():
    assert epicotyl.open_season(str(DEMO)).calendar.warnings == []


def test_central_park_has_none():
    assert warnings_at("USW00094728_TMAX_TMIN_1869-2020.dly.gz", 40.78) == []


def test_a_dahlia_that_freezes_on_the_dubois_record_is_told():
    assert warnings_at("USC00102707_TMAX_TMIN_1925-2019.dly.gz", 44.24) == [
        (
            "dahlia 2 seldom ripens here: first harvest comes in 6 of 27 years (in 21 it is lost "
            "to cold before); give it a warmer place or a cover, or grow what ripens earlier"
        )
    ]


def test_state_college_keeps_a_year_with_a_shorter_season(tmp_path):
    name = "USC00368449_2000-2009.dly.gz"
    assert warnings_at(name, 40.79) == [
        FEW,
        (
            "a season of 550 days leaves 8 season years; season_days = 365 is enough for this plan "
            "and leaves 9 (2009 as well)"
        ),
    ]
    shorter = written(tmp_path, ("season_days = 550", "season_days = 365"))
    season = epicotyl.open_season(str(shorter), weather=station(name), latitude=40.79)
    assert len(season.climate.years) == 9
    assert season.calendar.warnings == [FEW.replace("8 ", "9 ")]
    # Dates that wait for another year's weather may move; which batches have days does not.
    longer = epicotyl.open_season(str(DEMO), weather=station(name), latitude=40.79)
    assert [one.succession for one in season.calendar.unresolved] == [
        one.succession for one in longer.calendar.unresolved
    ]


@pytest.mark.parametrize(
    ("latitude", "note"),
    [
        (
            -77.86,
            (
                "site.latitude is -77.86, south of the equator, but in the weather December to "
                "February are 22.7 °C colder than June to August; give degrees north, negative "
                "south of the equator - or is that the longitude?"
            ),
        ),
        (
            77.86,
            (
                "site.latitude is 77.86, where the mean of a year is 9 °C at most, but that of the "
                "weather is 10.2 °C; give degrees north, negative south of the equator - or is "
                "that the longitude?"
            ),
        ),
        (
            15.0,
            (
                "site.latitude is 15, where the quarters of a year differ by 16 °C at most, but "
                "those of the weather differ by 22.7 °C; give degrees north, negative south of the "
                "equator - or is that the longitude?"
            ),
        ),
    ],
)
def test_the_longitude_of_state_college_is_no_latitude(latitude, note):
    record = epicotyl.read_ghcn_daily(station("USC00368449_2000-2009.dly.gz"))
    middle = (np.asarray(record.tmin) + np.asarray(record.tmax)) / 2.0
    quarter = record.dates.astype("datetime64[M]").astype(int) % 12
    quarter = (quarter + 1) % 12 // 3
    means = [np.nanmean(middle[quarter == k]) for k in range(4)]
    assert (round(means[2] - means[0], 1), round(np.mean(means), 1)) == (22.7, 10.2)
    assert note in warnings_at("USC00368449_2000-2009.dly.gz", latitude)


def test_a_demo_farm_that_says_it_is_in_us_units_is_asked_once(tmp_path):
    file = written(tmp_path, ('units = "metric"', 'units = "us"'))
    asked = [
        one for one in epicotyl.open_season(str(file)).calendar.warnings if "did you mean" in one
    ]
    assert len(asked) == 1
    assert asked[0].endswith(
        "numbers are unusual in °F and would be usual in °C (site.frost.at is 0 °F, less than "
        '15.8 °F; places."heat mat".day is 22 °F, less than 28.4 °F; …): did you mean units = '
        '"metric"? Else give each in °F'
    )


def test_a_crop_that_is_to_ripen_where_it_cannot_is_unresolved_in_one_sentence():
    name = "USC00102707_TMAX_TMIN_1925-2019.dly.gz"
    calendar = epicotyl.open_season(str(DEMO), weather=station(name), latitude=44.24).calendar
    told = {one.succession: one.sentence for one in calendar.unresolved}
    assert told["sunflower 1"] == (
        "first harvest by 25 Jul is met in none of 27 years, even sown on 9 May; 22 are wanted"
    )
    assert {calendar.date(name, "first_harvest") for name in told} == {None}
