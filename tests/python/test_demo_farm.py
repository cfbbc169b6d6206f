"""The demo farm, on its invented weather and on a real station's."""

import gzip
import math
import os
import tomllib
from pathlib import Path

import numpy as np
import pytest

import epicotyl

TOP = Path(__file__).resolve().parents[2]
FARM = TOP / "examples" / "quillet_hollow" / "farm.toml"


def central_park(folder):
    where = os.environ.get("EPICOTYL_REFERENCE_DATA")
    if not where:
        pytest.skip("EPICOTYL_REFERENCE_DATA is not set")
    packed = Path(where) / "USW00094728_TMAX_TMIN_1869-2020.dly.gz"
    station = folder / "station.dly"
    station.write_bytes(gzip.decompress(packed.read_bytes()))
    return epicotyl.open_season(FARM, weather=station, latitude=40.78)


@pytest.fixture(scope="module", params=["invented weather", "Central Park"])
def season(request, tmp_path_factory):
    if request.param == "Central Park":
        return central_park(tmp_path_factory.mktemp("station"))
    return epicotyl.open_season(FARM)


def risks():
    """The risk of each succession by its own table, its crop's, or the plan's: plain look-ups."""
    document = tomllib.loads(FARM.read_text(encoding="utf-8"))
    found = {}
    for table in document["succession"]:
        crop = document["crops"][table["crop"]]
        risk = table.get("risk", crop.get("risk", document["defaults"]["risk"]))
        name = table.get("name", table["crop"])
        times = table.get("repeat", {}).get("times")
        for member in [f"{name} {k + 1}" for k in range(times)] if times else [name]:
            found[member] = risk
    return found


def test_the_farm_is_what_it_is_said_to_be():
    document = tomllib.loads(FARM.read_text(encoding="utf-8"))
    season = epicotyl.open_season(FARM)
    assert len(document["crops"]) >= 12
    assert len(season.plan.successions) == 30
    assert len(document["places"]) == 5
    assert len(season.prospect.years) == 30
    waves = {table.get("wave") for table in document["succession"]} - {None}
    assert len(waves) == 2
    assert any("follows" in table for table in document["succession"])


def test_either_wave_fits_by_itself_and_both_do_not():
    season = epicotyl.open_season(FARM)
    document = season.plan.to_dict()
    rows = document["succession"]
    for wave in ("cool", "warm"):
        alone = [row for row in rows if row.get("wave") == wave]
        left = {key: part for key, part in document.items() if key != "link"}
        calendar = epicotyl.schedule(epicotyl.plan(left | {"succession": alone}), season.climate)
        assert epicotyl.occupancy(calendar).overflows == [], wave
    (over,) = epicotyl.occupancy(season.calendar).overflows
    assert over.place == "glasshouse"
    assert {"tomato 1", "snapdragon 3"} <= set(over.last_in)


def test_every_succession_has_its_days(season):
    season.calendar.require()
    assert season.calendar.unresolved == []


def test_a_stage_damaged_beyond_the_risk_says_so_with_its_first_night(season):
    share = risks()
    for succession, event in season.calendar.events:
        if event == "clear":
            continue
        report = season.prospect.damage(succession, event)
        said = [
            reason
            for reason in epicotyl.explain(season.calendar, succession, event)
            if reason.code == "damage.beyond_risk" and reason.succession == succession
        ]
        allowed = math.floor(share[succession] * report.years + 1e-9)
        if share[succession] is False or report.damaged <= allowed:
            assert said == [], (succession, event)
            continue
        assert len(said) == 1, (succession, event)
        assert said[0].event == event
        first = np.min(report.first[~np.isnat(report.first)])
        assert np.datetime64(said[0].values["first_night"]) == first
        assert said[0].values["damaged_years"] == report.damaged


def test_no_printed_line_has_more_than_100_columns(season):
    printed = [
        season.calendar,
        season.prospect,
        epicotyl.fit_to_space(season.plan, season.climate),
        epicotyl.windows.window_years(season.calendar),
        epicotyl.planting_windows(season.plan, season.climate, 2012),
    ]
    for sheet in printed:
        lines = str(sheet).splitlines()
        assert len(lines) > 5
        assert [line for line in lines if len(line) > 100] == []


def test_the_same_input_gives_the_same_output(season):
    again = epicotyl.schedule(season.plan, season.climate)
    assert str(again) == str(season.calendar)
    one = epicotyl.simulate(again, season.climate, threads=1)
    many = epicotyl.simulate(again, season.climate, threads=7)
    assert np.array_equal(one.days_all, season.prospect.days_all, equal_nan=True)
    assert np.array_equal(many.days_all, season.prospect.days_all, equal_nan=True)
    assert str(one) == str(season.prospect)


def test_every_planned_day_has_a_reason(season):
    for succession, event in season.calendar.events:
        reasons = epicotyl.explain(season.calendar, succession, event)
        assert reasons, (succession, event)
        assert all(reason.sentence and reason.code for reason in reasons)


def test_events_of_a_succession_come_in_order_in_every_year(season):
    rows = season.prospect.days_all
    events = season.prospect.events
    for k in range(1, len(events)):
        if events[k][0] != events[k - 1][0]:
            continue
        reached = ~np.isnat(rows[k])
        assert not np.isnat(rows[k - 1][reached]).any()
        assert (rows[k - 1][reached] <= rows[k][reached]).all()


@pytest.mark.parametrize(
    ("batches", "least", "most"),
    [
        # Iowa State University, annual flower seed germination guide.
        (["snapdragon 1", "snapdragon 2", "snapdragon 3"], 8, 10),
        # University of Delaware, weekly crop update, transplants.
        (["onion 1"], 9, 12),
        (["lettuce 1", "lettuce 2", "lettuce 3"], 4, 6),
        # Utah State University: not more than 4 weeks, or doubles may revert to singles.
        (["zinnia 1", "zinnia 2", "zinnia 3"], 0, 4),
    ],
)
def test_weeks_from_sowing_to_planting_out_are_the_published_ones(batches, least, most):
    calendar = epicotyl.open_season(FARM).calendar
    for name in batches:
        days = (calendar.date(name, "transplant") - calendar.date(name, "sow")).days
        assert 7 * least <= days <= 7 * most, name
