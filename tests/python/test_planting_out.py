"""What the default bound does to planting-out days at two real stations."""

import datetime
import os
from pathlib import Path

import numpy as np
import pytest

import planting_out


@pytest.fixture(scope="module")
def table():
    where = os.environ.get("EPICOTYL_REFERENCE_DATA")
    if not where:
        pytest.skip("EPICOTYL_REFERENCE_DATA is not set")
    rows = planting_out.rows(Path(where))
    print("\n" + planting_out.text(rows))
    return rows


def last_frost(row):
    """The usual last frost: the free plan has exactly the day that its frost rule asks for."""
    after = planting_out.CROPS[row.crop].after_last_frost
    return row.day(row.free) - datetime.timedelta(days=after)


def test_every_crop_is_planted_out_with_and_without_the_bound(table):
    assert len(table) == 14
    for row in table:
        assert row.day(row.free) is not None, row.text()
        assert row.day(row.bounded) >= row.day(row.free), row.text()


def test_hardy_crops_go_out_before_or_about_the_usual_last_frost(table):
    """Purdue HO-203 has frost-tolerant crops 2-3 weeks before it, half-hardy ones about it."""
    for row in table:
        days = (row.day(row.bounded) - last_frost(row)).days
        if row.crop in ("onion", "lettuce", "broccoli"):
            assert days <= 0, row.text()
        if row.crop == "snapdragon":
            assert days <= 7, row.text()


def test_tender_crops_go_out_within_a_month_of_the_usual_last_frost(table):
    for row in table:
        if row.crop in ("tomato", "zinnia", "basil"):
            days = (row.day(row.bounded) - last_frost(row)).days
            assert 0 < days <= 31, row.text()


def test_a_protected_planting_is_damaged_in_at_most_one_year_of_ten(table):
    for row in table:
        report = row.bounded.damage(row.crop, "transplant")
        spring = report.first[report.first < np.datetime64("2027-08-01")]
        assert len(spring) <= report.years // 10, row.text()


def test_the_bound_never_makes_damage_more_frequent(table):
    for row in table:
        assert row.bounded.damage(row.crop).damaged <= row.free.damage(row.crop).damaged, row.text()
