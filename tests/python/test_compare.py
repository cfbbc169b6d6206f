"""Two calendars side by side."""

import datetime

import pytest

epicotyl = pytest.importorskip("epicotyl")


def asked_from(documented, day):
    tables = documented.plan.to_dict()
    tables["succession"][0]["target"]["from"] = day
    return epicotyl.schedule(epicotyl.plan(tables), documented.climate)


def test_what_moved_and_by_which_input(documented):
    found = epicotyl.compare(
        documented.calendar, asked_from(documented, datetime.date(2027, 3, 22))
    )
    assert [one.field for one in found.inputs] == ['succession."lettuce 1".target']
    assert found.inputs[0].stands_alone
    assert found.inputs[0].moves == found.moved
    assert found.together == []
    days = {one.event: one.days for one in found.moved}
    assert days["transplant"] == 3
    assert {one.succession for one in found.moved} == {"lettuce 1"}
    assert "transplant 19 Mar to 22 Mar: 3 days later" in str(found)


def test_equal_calendars(documented):
    found = epicotyl.compare(documented.calendar, documented.calendar)
    assert (found.moved, found.inputs, found.together) == ([], [], [])
    assert str(found) == "Nothing differs.\n"


def test_only_calendars_are_compared(documented):
    with pytest.raises(TypeError, match="after: a Calendar is wanted"):
        epicotyl.compare(documented.calendar, documented.plan)
