"""Lift, structure and watts are one thing: P = (UA + 0.33 n V) dT, by hand."""

import datetime
import pickle

import numpy as np
import pytest

epicotyl = pytest.importorskip("epicotyl")

FIRST, LAST = datetime.date(2027, 1, 10), datetime.date(2027, 4, 30)

#: 60 m2 of 4 W/(m2 K) and 100 m3 changed once an hour: 60 * 4 + 0.33 * 1 * 100 = 273 W/K.
HOUSE = epicotyl.heat.Structure(
    [epicotyl.heat.Surface("film", 60.0, 4.0)], volume=100.0, air_changes=1.0
)
LOSS = 60.0 * 4.0 + 0.33 * 1.0 * 100.0


def farm(units="metric", **air):
    """A heated house and one crop, in a plan of these units."""
    return epicotyl.plan(
        format=1,
        units=units,
        site={"latitude": 51.9, "season_start": datetime.date(2027, 1, 1), "season_days": 365},
        places={"house": {"for": ["grow"], **air}, "beds": {"for": ["field"]}},
        crops={
            "stock": {
                "stages": [
                    {"begins": "sow", "where": "house", "takes": {"days": 30}},
                    {"begins": "transplant", "where": "beds", "takes": {"days": 40}},
                    {"begins": "first_harvest", "where": "beds", "takes": {"days": 10}},
                ]
            }
        },
        succession=[
            {
                "crop": "stock",
                "plants": 100,
                "target": {"event": "transplant", "on": datetime.date(2027, 4, 1)},
            }
        ],
    )


@pytest.fixture(scope="module")
def climate():
    """Eleven years of -10 to -10 °C: a heater that holds 5 °C lifts 15 K on every day."""
    dates = np.arange("2000-01-01", "2012-01-01", dtype="datetime64[D]")
    cold = np.full(dates.size, -10.0)
    record = epicotyl.DailyRecord(dates[0], cold, cold)
    return epicotyl.Climate(record, latitude=51.9, season_days=365, years="all")


def test_a_heater_in_a_house_is_a_lift_by_the_heat_balance():
    assert epicotyl.heat.loss_per_kelvin(HOUSE) == pytest.approx(LOSS)
    assert epicotyl.heat.watts_for(HOUSE, 12.0) == pytest.approx(LOSS * 12.0)
    assert epicotyl.heat.lift_of(HOUSE, LOSS * 12.0) == pytest.approx(12.0)
    with pytest.raises(epicotyl.InvalidInput, match="-1 is no lift"):
        epicotyl.heat.watts_for(HOUSE, -1.0)


@pytest.mark.parametrize(
    ("watts", "agrees", "sentence"),
    [
        (None, True, "the plan counts on a lift of 12.0 °C, which takes 3.28 kW here"),
        (3276.0, True, "3.28 kW lift it 12.0 °C, as the plan counts on"),
        # 2 in 100 of a heater's plate is rounding ...
        (3340.0, True, "3.34 kW lift it 12.2 °C, as the plan counts on"),
        # ... 3 in 100 are not.
        (
            3375.0,
            False,
            (
                "note: the plan counts on a lift of 12.0 °C, which takes 3.28 kW here; 3.38 kW "
                "lift it 12.4 °C: set heat_lift = 12.4 in the plan (with_heater does), or take a "
                "heater of 3.28 kW"
            ),
        ),
        (
            2000.0,
            False,
            (
                "note: the plan counts on a lift of 12.0 °C, which takes 3.28 kW here; 2.00 kW "
                "lift it 7.3 °C: set heat_lift = 7.3 in the plan (with_heater does), or take a "
                "heater of 3.28 kW"
            ),
        ),
    ],
)
def test_a_contradiction_is_told_with_what_to_do(watts, agrees, sentence, climate):
    plan = farm(heat_to=5.0, heat_lift=12.0)
    found = epicotyl.heat.match_heater(plan, "house", HOUSE, watts=watts)
    assert found.agrees == agrees
    assert found.needs == pytest.approx(LOSS * 12.0)
    assert str(found) == sentence
    season = epicotyl.heat.heat_of_season(HOUSE, plan, climate, "house", FIRST, LAST, watts=watts)
    curve = epicotyl.heat.heat_curve(
        plan, climate, "house", HOUSE, [3.0, 5.0], FIRST, LAST, watts=watts
    )
    for result in (season, curve):
        assert result.heater == found
        assert sentence in " ".join(str(result).split())
    # The bill goes by the plan's lift, whatever the watts: 12 K of the 15 on 111 days.
    assert season.usual[0] == pytest.approx(LOSS * 12.0 * 24.0 * 111 / 1000.0)
    assert season.peak == pytest.approx(LOSS * 12.0)


@pytest.mark.parametrize("followed", ["lift", "watts"])
@pytest.mark.parametrize("watts", [450.0, 1234.0, 2000.0, 7777.0])
@pytest.mark.parametrize("units", ["metric", "us"])
def test_what_the_note_says_makes_them_agree(followed, watts, units):
    plan = farm(units, heat_to=45.0 if units == "us" else 7.0, heat_lift=22.0)
    said = str(epicotyl.heat.match_heater(plan, "house", HOUSE, watts=watts))
    assert said.startswith("note: ")
    if followed == "lift":
        lift = float(said.partition("heat_lift = ")[2].split()[0])
        plan = plan.with_place("house", heat_lift=lift)
    else:
        number, unit = said.rpartition("a heater of ")[2].split()
        watts = float(number) * (1000.0 if unit == "kW" else 1.0)
    assert epicotyl.heat.match_heater(plan, "house", HOUSE, watts=watts).agrees


def test_a_heater_without_a_bound_is_told_what_its_nights_ask(climate):
    plan = farm(heat_to=5.0)
    season = epicotyl.heat.heat_of_season(HOUSE, plan, climate, "house", FIRST, LAST)
    assert season.peak == pytest.approx(LOSS * 15.0)
    assert "the coldest of these nights asks the heater for 4.09 kW\n" in str(season)
    assert "strong enough on every night: it has no heat_lift\n" in str(season)
    season = epicotyl.heat.heat_of_season(HOUSE, plan, climate, "house", FIRST, LAST, watts=2000.0)
    assert not season.heater.agrees
    assert (
        "note: the plan counts on a heater that is strong enough on every night (no heat_lift); "
        "2.00 kW lift it 7.3 °C: set heat_lift = 7.3 in the plan (with_heater does)"
    ) in " ".join(str(season).split())


def test_the_plan_with_a_heater_agrees_with_it_by_construction(climate):
    plan = farm(heat_to=5.0, heat_lift=12.0)
    weaker = plan.with_heater("house", HOUSE, 2000.0)
    assert weaker.to_dict()["places"]["house"]["heat_lift"] == round(2000.0 / LOSS, 2) == 7.33
    assert weaker == plan.with_place("house", heat_lift=7.33)
    assert epicotyl.heat.match_heater(weaker, "house", HOUSE, watts=2000.0).agrees
    season = epicotyl.heat.heat_of_season(HOUSE, weaker, climate, "house", FIRST, LAST)
    assert season.peak == pytest.approx(2000.0, rel=1e-3)


def test_a_us_plan_has_the_lift_in_its_units():
    plan = farm("us", heat_to=45.0).with_heater("house", HOUSE, 2000.0)
    assert plan.to_dict()["places"]["house"]["heat_lift"] == round(2000.0 / LOSS * 1.8, 2) == 13.19
    found = epicotyl.heat.match_heater(plan, "house", HOUSE, watts=1000.0)
    assert str(found) == (
        "note: the plan counts on a lift of 13.2 °F, which takes 2.00 kW here; 1.00 kW lift it "
        "6.6 °F: set heat_lift = 6.6 in the plan (with_heater does), or take a heater of 2.00 kW"
    )


@pytest.mark.parametrize(
    ("edit", "said"),
    [
        (lambda p: p.with_heater("house", HOUSE, 2000.0), "heat_lift is given without heat_to"),
        (lambda p: p.with_heater("huose", HOUSE, 2000.0), '"house"'),
        (
            lambda p: p.with_place("house", heat_to=5.0).with_heater("house", HOUSE, 0.0),
            "0 is not above 0",
        ),
        (
            lambda p: p.with_place("house", heat_to=5.0).with_heater("house", HOUSE, -5.0),
            "-5 is no output of a heater",
        ),
        (
            lambda p: p.with_place("house", day=20.0, night=15.0).with_heater("house", HOUSE, 50.0),
            "heat_lift",
        ),
        (
            lambda p: epicotyl.heat.match_heater(p, "house", HOUSE),
            '"house" has no heater',
        ),
    ],
)
def test_heaters_that_cannot_be_are_refused(edit, said):
    with pytest.raises(epicotyl.InvalidInput, match=said):
        edit(farm())


def test_a_figure_is_a_number_that_says_its_cautions():
    cold = epicotyl.heat.coldest_outdoors(HOUSE, 5.0, LOSS * 12.0)
    assert isinstance(cold, float)
    assert cold == pytest.approx(-7.0)
    assert type(cold + 1.0) is float
    assert f"{cold:.1f}" == "-7.0"
    assert cold.text == "3.28 kW hold 5.0 °C inside down to -7.0 °C outdoors"
    assert str(cold).splitlines() == [cold.text, *(f"caution: {one}" for one in cold.cautions)]
    again = pickle.loads(pickle.dumps(cold))
    assert (again, str(again)) == (cold, str(cold))
    assert np.asarray([cold]).dtype == np.float64
    assert epicotyl.heat.heat_loss(HOUSE, 5.0, -7.0).text == (
        "holding 5.0 °C inside takes 3.28 kW while it is -7.0 °C outdoors"
    )
    assert epicotyl.heat.lift_of(HOUSE, 300.0).text == (
        "300 W make it 1.1 °C warmer than it would be without"
    )
    assert epicotyl.heat.watts_for(HOUSE, 2.0).text == "making it 2.0 °C warmer takes 546 W"
    assert epicotyl.heat.loss_per_kelvin(HOUSE).text == (
        "it loses 273 W for each °C that it is warmer inside than outdoors"
    )
    assert str(epicotyl.heat.heat_loss(HOUSE, 5.0, float("nan"))).startswith("not known")


def test_texts_of_heat_fit_a_sheet(climate):
    for units, warm, points in (("metric", 5.0, [3.0, 5.0]), ("us", 41.0, [38.0, 41.0])):
        plan = farm(units, heat_to=warm, heat_lift=22.0)
        season = epicotyl.heat.heat_of_season(
            HOUSE, plan, climate, "house", FIRST, LAST, watts=2000.0, per_kwh=0.3, currency="EUR"
        )
        curve = epicotyl.heat.heat_curve(
            plan, climate, "house", HOUSE, points, FIRST, LAST, watts=2000.0
        )
        for text in (str(season), str(curve)):
            assert max(map(len, text.splitlines())) <= 100
