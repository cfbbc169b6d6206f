"""Values: equality, hash, copy and pickle; and what errors carry."""

import copy
import gzip
import pickle
from pathlib import Path

import numpy as np
import pytest

epicotyl = pytest.importorskip("epicotyl")

PICKLES = Path(__file__).parent / "pickles"
NAMES = ["record", "climate", "plan", "calendar", "prospect"]
PROTOCOLS = range(2, pickle.HIGHEST_PROTOCOL + 1)


@pytest.fixture(scope="module")
def values(known):
    risk = epicotyl.FreezeRisk(known.record, 0.0, estimator="empirical", latitude=51.9)
    return vars(known) | {"risk": risk}


@pytest.mark.parametrize("name", [*NAMES, "risk"])
@pytest.mark.parametrize("protocol", PROTOCOLS)
def test_pickled_value_comes_back_equal(name, protocol, values):
    again = pickle.loads(pickle.dumps(values[name], protocol))
    assert again == values[name]
    assert hash(again) == hash(values[name])
    assert type(again) is type(values[name])
    assert str(again) == str(values[name])


@pytest.mark.parametrize("name", [*NAMES, "risk"])
def test_copy_of_an_immutable_value_is_itself(name, values):
    assert copy.copy(values[name]) is values[name]
    assert copy.deepcopy(values[name]) is values[name]


@pytest.mark.parametrize("name", [*NAMES, "risk"])
def test_values_are_equal_by_what_they_hold_and_differ_from_all_else(name, values):
    value = values[name]
    assert value == value
    assert value != "value"
    assert value not in [values[other] for other in values if other != name]


@pytest.mark.parametrize("name", [*NAMES, "risk"])
def test_values_have_no_attribute_that_can_be_set(name, values):
    with pytest.raises(AttributeError):
        values[name].title = "other"


def test_pickled_results_are_made_again_and_are_the_same(known):
    again = pickle.loads(pickle.dumps(known.prospect))
    np.testing.assert_array_equal(again.days_all, known.prospect.days_all)
    assert [again.calendar.date(*event) for event in again.events] == [
        known.calendar.date(*event) for event in known.calendar.events
    ]


def test_prospect_under_another_climate_is_pickled_with_it(known):
    warm = epicotyl.Climate(known.record, latitude=51.9, season_days=365, years=(2005, 2005))
    prospect = epicotyl.simulate(known.calendar, warm)
    again = pickle.loads(pickle.dumps(prospect))
    assert again == prospect
    assert again != known.prospect
    assert again.climate == warm


def test_climate_with_years_left_out_is_pickled_with_them(known):
    low = np.array(known.record.tmin)
    low[370:380] = np.nan
    record = epicotyl.DailyRecord(known.record.start, low, known.record.tmax)
    for years in (5, (1999, 2004), "all"):
        climate = epicotyl.Climate(record, latitude=51.9, season_days=365, years=years)
        again = pickle.loads(pickle.dumps(climate))
        assert again == climate
        assert again.left_out == climate.left_out


def test_season_is_pickled_and_unpacked(farm):
    season = epicotyl.open_season(farm / "marlpit.toml")
    again = pickle.loads(pickle.dumps(season))
    assert again == season
    assert again.plan == season.plan


def test_pickle_of_another_version_is_refused(known):
    state = known.record.__getstate__()
    record = epicotyl.DailyRecord.__new__(epicotyl.DailyRecord)
    with pytest.raises(epicotyl.InvalidInput, match="version 99") as raised:
        record.__setstate__((99, *state[1:]))
    assert raised.value.code == "pickle.version"


@pytest.mark.parametrize("path", sorted(PICKLES.glob("*.gz")), ids=lambda path: path.name)
def test_pickles_of_earlier_releases_are_read(path):
    """Each was written once from the `known` values of conftest, and is never written again."""
    held = pickle.loads(gzip.decompress(path.read_bytes()))
    assert held.keys() == {*NAMES, "risk"}
    assert isinstance(held["prospect"], epicotyl.Prospect)
    assert held["prospect"].calendar == held["calendar"]
    assert held["calendar"].plan == held["plan"]
    assert held["calendar"].climate.record == held["record"]
    assert held["risk"].record == held["record"]
    assert str(held["calendar"].date("chard 1", "sow")) == "2027-03-12"


def test_there_are_pickles_of_earlier_releases():
    assert {"release_0_1_0.pickle.gz"} <= {path.name for path in PICKLES.iterdir()}


def test_reports_and_reasons_are_plain_values(known):
    reason = epicotyl.explain(known.calendar, "chard 1", "sow")[0]
    assert pickle.loads(pickle.dumps(reason)) == reason
    assert hash(reason) == hash(copy.copy(reason))
    assert repr(known.prospect.damage("chard 1")) == "<DamageReport 1 of 10 years>"
    assert repr(known.prospect.overheld("chard 1")) == "<OverheldReport 0 of 10 years>"
    claim = known.calendar.claim("chard 1")
    assert copy.deepcopy(claim) == claim
    report = pickle.loads(pickle.dumps(known.prospect.damage("chard 1")))
    np.testing.assert_array_equal(report.first, known.prospect.damage("chard 1").first)


def test_errors_are_values_errors_under_one_base():
    assert issubclass(epicotyl.InvalidInput, ValueError)
    assert issubclass(epicotyl.InvalidInput, epicotyl.Error)
    assert issubclass(epicotyl.Unresolved, ValueError)
    assert issubclass(epicotyl.Unresolved, epicotyl.Error)


def test_errors_survive_a_pickle_with_all_their_parts():
    with pytest.raises(epicotyl.InvalidInput) as raised:
        epicotyl.day_length(99.0, np.datetime64("2027-06-21"))
    fault = raised.value
    again = pickle.loads(pickle.dumps(fault))
    assert type(again) is epicotyl.InvalidInput
    assert vars(again) == vars(fault)
    assert str(again) == str(fault)
    assert (fault.code, fault.field, fault.value) == ("latitude.out_of_range", "latitude", "99")
    assert (fault.bound, fault.unit) == ("-90 to 90", "degrees north")
    assert fault.problem in str(fault)
    assert fault.remedy in str(fault)
    obstacle = epicotyl.season.Obstacle("chard 1", "sow.never", "there is no such day", "sow later")
    trouble = epicotyl.Unresolved("no answer", [obstacle])
    copied = pickle.loads(pickle.dumps(trouble))
    assert copied.obstacles == [obstacle]
    assert copied.code == "plan.unresolved"
