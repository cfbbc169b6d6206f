"""The invented weather of the demo farm: reproducible, whole, and of the character it claims."""

import csv
import datetime
import itertools
import statistics
import subprocess
import sys
from pathlib import Path

import pytest

FOLDER = Path(__file__).resolve().parents[2] / "examples" / "quillet_hollow"
DAY = datetime.timedelta(days=1)


@pytest.fixture(scope="module")
def days():
    """The record as (date, minimum, maximum) a day."""
    lines = (FOLDER / "weather.csv").read_text(encoding="ascii").splitlines()
    rows = csv.DictReader(line for line in lines if not line.startswith("#"))
    assert rows.fieldnames == ["date", "tmin_c", "tmax_c"]
    return [
        (datetime.date.fromisoformat(row["date"]), float(row["tmin_c"]), float(row["tmax_c"]))
        for row in rows
    ]


def test_generator_reproduces_the_file_byte_for_byte(tmp_path):
    path = tmp_path / "weather.csv"
    subprocess.run([sys.executable, str(FOLDER / "make_weather.py"), str(path)], check=True)
    assert path.read_bytes() == (FOLDER / "weather.csv").read_bytes()


def test_comments_before_the_header_say_the_weather_is_invented_and_by_what():
    first, second = (FOLDER / "weather.csv").read_text(encoding="ascii").splitlines()[:2]
    assert first.startswith("# Invented weather")
    assert second.startswith("# Written by make_weather.py with seed ")


def test_record_is_31_whole_years_without_a_gap(days):
    first, last = days[0][0], days[-1][0]
    assert (first.month, first.day) == (1, 1)
    assert (last.month, last.day) == (12, 31)
    assert last.year - first.year + 1 == 31
    assert all(b[0] - a[0] == DAY for a, b in itertools.pairwise(days))


def test_exactly_30_seasons_of_550_days_fit(days):
    first, last = days[0][0], days[-1][0]
    starts = [datetime.date(year, 1, 1) for year in range(first.year, last.year + 1)]
    assert sum(start + 550 * DAY <= last for start in starts) == 30


def test_minimum_is_never_above_maximum(days):
    assert [day for day, low, high in days if low > high] == []


def test_every_value_has_one_decimal():
    lines = (FOLDER / "weather.csv").read_text(encoding="ascii").splitlines()[4:]
    for line in lines:
        for value in line.split(",")[1:]:
            assert f"{float(value):.1f}" == value
            assert value != "-0.0"


def test_character_is_temperate_and_inland(days):
    def mean(month, column):
        return statistics.mean(row[column] for row in days if row[0].month == month)

    assert mean(1, 2) == pytest.approx(4, abs=1)
    assert mean(1, 1) == pytest.approx(-5, abs=1)
    assert mean(7, 2) == pytest.approx(29, abs=1)
    assert mean(7, 1) == pytest.approx(17, abs=1)


def test_usual_frosts_fall_in_the_middle_or_end_of_april_and_october(days):
    years = sorted({day.year for day, _, _ in days})
    frosts = [day for day, low, _ in days if low <= 0.0]
    last = [max(d for d in frosts if d.year == y and d.month <= 7) for y in years]
    first = [min(d for d in frosts if d.year == y and d.month >= 8) for y in years]

    def as_of_2027(dates, position):
        return sorted(day.replace(year=2027) for day in dates)[position]

    middle = len(years) // 2
    assert datetime.date(2027, 4, 11) <= as_of_2027(last, middle) <= datetime.date(2027, 4, 30)
    assert datetime.date(2027, 10, 11) <= as_of_2027(first, middle) <= datetime.date(2027, 10, 31)
    assert as_of_2027(last, 0) >= datetime.date(2027, 3, 20)
    assert as_of_2027(last, -1) <= datetime.date(2027, 5, 20)
