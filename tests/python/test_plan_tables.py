"""Plans from tables: the same door as plan files."""

import copy
import datetime
import pickle
import tomllib
from collections import OrderedDict
from datetime import date
from types import MappingProxyType

import numpy as np
import pytest

epicotyl = pytest.importorskip("epicotyl")


def test_tables_and_file_make_equal_plans(known, tmp_path):
    path = tmp_path / "plan.toml"
    path.write_text(known.plan.to_toml(), encoding="utf-8")
    assert epicotyl.read_plan(path) == known.plan
    assert epicotyl.plan(tomllib.loads(known.plan.to_toml())) == known.plan
    assert epicotyl.plan(known.plan.to_dict()) == known.plan


def test_mapping_and_keywords_are_one(tables):
    whole = epicotyl.plan(tables)
    assert epicotyl.plan(**tables) == whole
    title = tables["title"]
    rest = {key: value for key, value in tables.items() if key != "title"}
    assert epicotyl.plan(rest, title=title) == whole
    assert epicotyl.plan(MappingProxyType(tables)) == whole
    assert epicotyl.plan(OrderedDict(tables)) == whole
    with pytest.raises(TypeError, match="title"):
        epicotyl.plan(tables, title=title)
    with pytest.raises(TypeError, match="mapping"):
        epicotyl.plan([tables])


def test_plan_says_what_it_is_made_of(known):
    plan = known.plan
    assert (plan.title, plan.units, plan.latitude) == ("Quoin Close 2027", "metric", 51.9)
    assert (plan.season_start, plan.season_days) == (date(2027, 1, 1), 365)
    assert plan.places == ["bench", "beds", "tunnel"]
    assert plan.crops == ["chard"]
    assert plan.containers == []
    assert plan.weather == ""
    assert plan.events("chard 1") == ["sow", "transplant", "first_harvest", "clear"]
    assert "3 successions" in repr(plan)


def test_order_of_tables_is_kept(tables):
    turned = dict(reversed(tables["places"].items()))
    plan = epicotyl.plan(tables | {"places": turned})
    assert plan.places == ["tunnel", "beds", "bench"]
    assert list(plan.to_dict()["places"]) == ["tunnel", "beds", "bench"]


def test_days_numbers_and_texts_keep_their_kind(known):
    tables = known.plan.to_dict()
    assert type(tables["site"]["season_start"]) is date
    assert type(tables["format"]) is int
    assert type(tables["places"]["bench"]["day"]) is float
    assert tables["places"]["beds"]["for"] == ["field"]
    assert tables["succession"][0]["target"]["on"] == date(2027, 4, 1)


def test_numbers_of_numpy_and_tuples_are_taken(tables):
    changed = copy.deepcopy(tables)
    changed["format"] = np.int64(1)
    changed["site"]["latitude"] = np.float32(51.5)
    changed["site"]["season_start"] = np.datetime64("2027-01-01")
    changed["places"]["beds"]["for"] = ("field",)
    changed["defaults"] = {"risk": np.bool_(False)}
    plan = epicotyl.plan(changed)
    assert plan.latitude == 51.5
    assert plan.to_dict()["defaults"]["risk"] is False


@pytest.mark.parametrize(
    "wrong",
    [
        None,
        datetime.datetime(2027, 1, 1, tzinfo=datetime.UTC),
        np.datetime64("2027-01-01T12"),
        {1, 2},
        b"text",
        1j,
        np.array([1.0]),
        datetime.time(12),
        object(),
    ],
    ids=lambda wrong: type(wrong).__name__,
)
def test_what_no_plan_holds_is_of_the_wrong_kind_and_named_by_its_path(wrong, tables):
    changed = copy.deepcopy(tables)
    changed["succession"][1]["target"]["by"] = wrong
    with pytest.raises(TypeError, match=r"succession\[2\]\.target\.by"):
        epicotyl.plan(changed)


def test_keys_that_are_no_text_are_refused(tables):
    changed = copy.deepcopy(tables)
    changed["places"][7] = {"for": ["grow"]}
    with pytest.raises(TypeError, match="places"):
        epicotyl.plan(changed)


def test_table_that_holds_itself_is_refused(tables):
    changed = copy.deepcopy(tables)
    changed["places"]["bench"]["bench"] = changed["places"]["bench"]
    with pytest.raises(ValueError, match="nested"):
        epicotyl.plan(changed)


def test_number_too_large_for_a_plan_is_refused(tables):
    with pytest.raises(epicotyl.InvalidInput, match="format"):
        epicotyl.plan(tables | {"format": 10**30})


def test_unknown_names_are_refused_with_the_nearest_and_the_field(tables):
    changed = copy.deepcopy(tables)
    changed["succession"][0]["crop"] = "chart"
    with pytest.raises(epicotyl.InvalidInput, match="chard") as raised:
        epicotyl.plan(changed)
    assert raised.value.field == "succession[1].crop"
    assert (raised.value.file, raised.value.line) == ("", 0)
    with pytest.raises(epicotyl.InvalidInput, match="title"):
        epicotyl.plan(tables | {"titel": "Quoin"})


def test_a_value_of_the_wrong_kind_for_its_key_is_refused_like_in_a_file(tables):
    with pytest.raises(epicotyl.InvalidInput, match="title"):
        epicotyl.plan(tables | {"title": 5})


def test_fault_in_a_file_has_file_line_field_value_and_bound(known, tmp_path):
    path = tmp_path / "plan.toml"
    text = known.plan.to_toml().replace("reliability = 0.8", "reliability = 0.3")
    path.write_text(text, encoding="utf-8")
    with pytest.raises(epicotyl.InvalidInput) as raised:
        epicotyl.read_plan(path)
    fault = raised.value
    line = next(i for i, one in enumerate(text.splitlines(), 1) if "reliability" in one)
    assert (fault.file, fault.line) == (str(path), line)
    assert fault.field == "defaults.reliability"
    assert (fault.value, fault.bound) == ("0.3", "0.5 to 1")
    assert fault.code == "reliability.out_of_range"


def test_missing_file_is_refused_by_its_path(tmp_path):
    for read in (epicotyl.read_plan, epicotyl.files.expand, epicotyl.open_season):
        with pytest.raises(epicotyl.InvalidInput, match=r"nowhere\.toml") as raised:
            read(tmp_path / "nowhere.toml")
        assert raised.value.code == "file.missing"


def test_long_form_says_every_value_and_reads_back(known, tmp_path):
    path = tmp_path / "plan.toml"
    path.write_text(known.plan.to_toml(), encoding="utf-8")
    long = epicotyl.files.expand(path)
    assert "season_days = 365" in long
    assert "#" in long
    again = tmp_path / "long.toml"
    again.write_text(long, encoding="utf-8")
    assert epicotyl.read_plan(again).successions == known.plan.successions


def test_a_plan_is_pickled_whole_in_every_protocol(known):
    for protocol in range(2, pickle.HIGHEST_PROTOCOL + 1):
        again = pickle.loads(pickle.dumps(known.plan, protocol))
        assert again == known.plan
        assert again.to_toml() == known.plan.to_toml()


def test_a_pickled_plan_that_was_changed_is_refused(known):
    version, kept = known.plan.__getstate__()
    assert version == 2
    for at in range(0, len(kept), 7):
        changed = kept[:at] + bytes([kept[at] ^ 1 << at % 8]) + kept[at + 1 :]
        for broken in (changed, kept[:at]):
            with pytest.raises(epicotyl.InvalidInput) as refused:
                epicotyl.Plan.__new__(epicotyl.Plan).__setstate__((version, broken))
            assert str(refused.value) == (
                "bytes: these bytes are no plan, or were changed on the way; "
                "make the plan again from its file"
            )
            assert refused.value.code == "plan.bytes"


def test_a_pickled_plan_that_is_no_bytes_is_of_the_wrong_kind():
    with pytest.raises(TypeError):
        epicotyl.Plan.__new__(epicotyl.Plan).__setstate__((2, 3.5))
