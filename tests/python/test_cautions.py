"""Every caution stands in the output of the function whose number it belongs to.

The library has one list of cautions, each with the functions that print it. Here is, beside it and
written by hand, what belongs to what; and what each function prints is looked at.
"""

import datetime
from pathlib import Path

import pytest

epicotyl = pytest.importorskip("epicotyl")

FARM = Path(__file__).resolve().parents[2] / "examples" / "quillet_hollow" / "farm.toml"
FIRST, LAST = datetime.date(2027, 2, 1), datetime.date(2027, 2, 10)
HOUSE = epicotyl.heat.Structure([epicotyl.heat.Surface("glass", 40.0, 6.4)], volume=30.0)

#: Chosen, run or relied upon: heaters.
HEATERS = {
    "heat_loss", "coldest_outdoors", "lift_of", "watts_for", "heat_of_season", "heat_curve",
}  # fmt: skip
NIGHTS = {"nights_to_act", "prospect"}
FROST = {"freeze_answer", "freeze_table"}
COLD = {"coldest_outdoors", "coldest_night", "fit_air", "guess_night_gain"} | NIGHTS | FROST

#: A few words of each caution, and the functions whose numbers it belongs to.
BELONGS = {
    "rated for damp places": HEATERS,
    "3 kW is 25 A at 120 V": HEATERS,
    "80 % of its circuit's rating": HEATERS,
    "clear of film, fabric and dry medium": HEATERS,
    "carbon monoxide kills": HEATERS,
    "carbon monoxide alarm": HEATERS,
    "can fail on the night it is needed": HEATERS | NIGHTS,
    "Mats and lamps stand near water": HEATERS | NIGHTS,
    "large enough on paper is too small": HEATERS | {"loss_per_kelvin"},
    "Lift covers in the morning": NIGHTS | {"guess_night_gain"},
    "Heavy fabric lets only some 30 to 50 %": NIGHTS | {"guess_night_gain"},
    "Wind takes most of what a cover gains": NIGHTS | {"guess_night_gain"},
    "for nights like those it comes from": {"fit_air", "guess_night_gain"},
    "Snow and wind loads on film": HEATERS | {"loss_per_kelvin", "guess_night_gain"},
    "leaves are 1 to 3 °C colder": COLD,
    "garden may be colder than the station": COLD,
    "Counts of past years are no forecast": NIGHTS
    | FROST
    | {"coldest_night", "heat_of_season", "heat_curve"},
    "Licensed electricians and local codes": HEATERS | NIGHTS | {"loss_per_kelvin"},
}


@pytest.fixture(scope="module")
def demo():
    return epicotyl.open_season(FARM)


@pytest.fixture(scope="module")
def printed(demo):
    """What every function with such numbers prints, by its name."""
    heat = epicotyl.heat
    record = demo.climate.record
    risk = epicotyl.FreezeRisk(record, 0.0, latitude=45.0)
    return {
        "loss_per_kelvin": heat.loss_per_kelvin(HOUSE),
        "heat_loss": heat.heat_loss(HOUSE, 5.0, -8.0),
        "coldest_outdoors": heat.coldest_outdoors(HOUSE, 5.0, 3000.0),
        "lift_of": heat.lift_of(HOUSE, 3000.0),
        "watts_for": heat.watts_for(HOUSE, 10.0),
        "heat_of_season": heat.heat_of_season(
            HOUSE, demo.plan, demo.climate, "glasshouse", FIRST, LAST
        ),
        "heat_curve": heat.heat_curve(
            demo.plan, demo.climate, "glasshouse", HOUSE, [5.0], FIRST, LAST
        ),
        "coldest_night": heat.coldest_night(record, latitude=45.0, in_years=10),
        "fit_air": heat.fit_air([1.0, 2.0, 5.0], [0.0, -1.0, 1.0]),
        "guess_night_gain": heat.guess_night_gain(["heavy_fabric"]),
        "nights_to_act": demo.prospect.nights_to_act_text(),
        "prospect": demo.prospect,
        "freeze_answer": risk.last_freeze_answer(0.5),
        "freeze_table": epicotyl.frost.FreezeTable(record, thresholds=[0.0], chances=[0.5]),
    }


def listed():
    """The library's own list: code of each caution -> functions."""
    return dict(epicotyl._core.caution_table())


def test_the_list_is_what_is_said_here():
    table = listed()
    assert len(table) == len(BELONGS)
    for functions, wanted in zip(table.values(), BELONGS.values(), strict=True):
        assert set(functions) == wanted
        assert len(functions) == len(wanted)


def test_no_caution_is_without_a_function_and_no_function_without_its_test(printed):
    assert all(listed().values())
    assert {one for functions in listed().values() for one in functions} == set(printed)


@pytest.mark.parametrize("words", BELONGS)
def test_a_caution_stands_in_the_output_of_its_functions_and_nowhere_else(words, printed):
    assert {name for name, result in printed.items() if words in str(result)} == BELONGS[words]


def test_cautions_stand_below_the_number_one_a_line(printed):
    for name, result in printed.items():
        lines = str(result).rstrip("\n").splitlines()
        told = epicotyl.heat.heat_cautions(name)
        assert lines[-len(told) :] == [f"caution: {one}" for one in told], name
        assert not any(line.startswith("caution: ") for line in lines[: -len(told)]), name
        assert max(map(len, lines[-len(told) :])) <= 100, name


def test_a_us_plan_is_told_in_its_units():
    us = epicotyl.heat.heat_cautions("prospect", units="us")
    assert len(us) == len(epicotyl.heat.heat_cautions("prospect"))
    told = [one for one in us if "leaves" in one]
    assert told == [
        "Under a clear sky leaves are 2 to 5 °F colder than a station's shelter, 4 ft up, tells."
    ]
    # 1 and 3 K are 1.8 and 5.4 °F; 1.2 m are 3.9 feet.
    assert (round(1.0 * 1.8), round(3.0 * 1.8), round(1.2 / 0.3048)) == (2, 5, 4)
    assert max(map(len, us)) <= 100 - len("caution: ")


def test_three_kilowatts_are_25_amperes():
    assert (3000 / 120, round(3000 / 230)) == (25, 13)


def test_a_plan_without_heaters_and_covers_is_not_told_of_them(demo):
    plan = demo.plan.without_heater("glasshouse")
    for name in plan.places:
        if "cold_nights" in plan.to_dict()["places"][name]:
            plan = plan.without_cover(name)
    calendar = epicotyl.schedule(plan, demo.climate)
    text = epicotyl.simulate(calendar, demo.climate).nights_to_act_text()
    assert "A heater can fail" not in text
    assert "Lift covers" not in text
    assert "Mats and lamps" in text
    assert "garden may be colder" in text


def test_other_functions_have_no_cautions():
    with pytest.raises(epicotyl.InvalidInput, match="heat_loss"):
        epicotyl.heat.heat_cautions("heat_los")
