"""What is made of records: read by year, looked over, joined, moved."""

import gzip
import pickle
from datetime import date

import numpy as np
import pytest

epicotyl = pytest.importorskip("epicotyl")

GONE = float("nan")
TWO_DAYS = (
    "USW00094728,20240101,TMAX,-17,,,W,2400\n"
    "USW00094728,20240101,TMIN,-72,,,W,2400\n"
    "USW00094728,20240101,PRCP,3,,,W,2400\n"
    "USW00094728,20240102,TMAX,-28,,,W,2400\n"
    "USW00094728,20240102,TMIN,-61,,,W,2400\n"
)
OTHER = "USC00102707,20240101,TMAX,50,,,7,0700\n"


# ---- Readers -----------------------------------------------------------------------------


def test_a_file_by_year_is_read_packed_or_not(tmp_path):
    plain, packed = tmp_path / "2024.csv", tmp_path / "2024.csv.gz"
    plain.write_text(TWO_DAYS, encoding="ascii")
    packed.write_bytes(gzip.compress(TWO_DAYS.encode()))
    record = epicotyl.read_ghcn_daily(plain)
    assert record.tmin.tolist() == [-7.2, -6.1]
    assert record.tmax.tolist() == [-1.7, -2.8]
    assert (record.name, record.start) == ("USW00094728", date(2024, 1, 1))
    assert epicotyl.read_ghcn_daily(packed) == record


def test_of_several_stations_one_is_named(tmp_path):
    path = tmp_path / "2024.csv"
    path.write_text(TWO_DAYS + OTHER, encoding="ascii")
    assert epicotyl.read_ghcn_daily(path, station="USC00102707").tmax.tolist() == [5.0]
    assert len(epicotyl.read_ghcn_daily(path, station="USW00094728")) == 2
    with pytest.raises(epicotyl.InvalidInput, match="USC00102707"):
        epicotyl.read_ghcn_daily(path)
    with pytest.raises(epicotyl.InvalidInput, match="USW00000001"):
        epicotyl.read_ghcn_daily(path, station="USW00000001")
    with pytest.raises(TypeError, match="station"):
        epicotyl.read_ghcn_daily(path, station=94728)


def test_whole_fahrenheit_is_taken_back(tmp_path):
    # 28 °F is filed as -2.2, 50 °F as 10.0, 41 °F as 5.0.
    lines = "".join(
        f"USW00094728,202401{day:02},{name},{tenths},,,W,2400\n"
        for day, low, high in ((1, -22, 100), (2, 50, 100))
        for name, tenths in (("TMIN", low), ("TMAX", high))
    )
    path = tmp_path / "2024.csv"
    path.write_text(lines, encoding="ascii")
    back = epicotyl.read_ghcn_daily(path, whole_fahrenheit=True)
    np.testing.assert_allclose(back.tmin, [(28 - 32) / 1.8, 5.0])
    assert back.origin
    filed = epicotyl.read_ghcn_daily(path)
    assert filed.tmin[0] == -2.2
    assert filed.origin == ""
    with pytest.raises(TypeError, match="whole_fahrenheit"):
        epicotyl.read_ghcn_daily(path, whole_fahrenheit=1)


def test_a_packed_station_file_and_table_are_read(farm, tmp_path):
    for name, read in (
        ("station.dly", epicotyl.read_ghcn_daily),
        ("marlpit.csv", lambda path: epicotyl.read_daily_csv(path, name="Marlpit")),
    ):
        packed = tmp_path / f"{name}.gz"
        packed.write_bytes(gzip.compress((farm / name).read_bytes()))
        assert read(packed) == read(farm / name)
    cut = tmp_path / "cut.dly.gz"
    cut.write_bytes(packed.read_bytes()[:200])
    with pytest.raises(epicotyl.InvalidInput) as raised:
        epicotyl.read_ghcn_daily(cut)
    assert raised.value.file == str(cut)


def test_a_table_is_named_by_its_file_or_as_asked(farm):
    assert epicotyl.read_daily_csv(farm / "marlpit.csv").name == "marlpit"
    assert epicotyl.read_daily_csv(farm / "marlpit.csv", name="Pond").name == "Pond"


# ---- Quality -----------------------------------------------------------------------------


@pytest.fixture(scope="module")
def ten():
    """Ten days by hand, from 25 February 2024."""
    low = [1.0, GONE, GONE, 2.0, 9.0, 3.0, GONE, GONE, 4.0, 5.0]
    high = [6.0, 7.0, GONE, 8.0, 8.0, GONE, GONE, 9.0, 9.5, GONE]
    return epicotyl.DailyRecord(date(2024, 2, 25), low, high, "Marlpit")


def test_quality_counts_what_a_record_lacks(ten):
    found = epicotyl.weather.quality(ten)
    low, high = np.isnan(ten.tmin), np.isnan(ten.tmax)
    assert (found.first, found.last, found.size) == (date(2024, 2, 25), date(2024, 3, 5), 10)
    assert found.missing_minima == low.sum() == 4
    assert found.missing_maxima == high.sum() == 4
    assert found.missing_both == (low & high).sum() == 2
    assert (found.runs, found.longest_run) == (3, (date(2024, 3, 1), 3))
    assert found.longest_run.length == 3
    assert found.inverted == 1
    assert (found.leap_days, found.missing_leap_days) == (1, 0)
    assert found.share(found.missing_minima) == 0.4
    # Filled: minima of days 1, 2, 4, 6, 7; maxima of days 2, 4, 5, 6; day 9 is at the edge.
    assert (found.filled_minima, found.unfilled_minima) == (5, 0)
    assert (found.filled_maxima, found.unfilled_maxima) == (4, 1)
    assert epicotyl.weather.quality(ten, max_gap=1).unfilled_minima == 4
    assert str(found).startswith("Marlpit, 25 Feb 2024 – 5 Mar 2024: 10 days, 0 whole years\n")
    assert repr(found) == (
        "<RecordQuality Marlpit, 25 Feb 2024 – 5 Mar 2024: 10 days, 0 whole years>"
    )


def test_quality_is_a_plain_value_and_checks_what_it_is_asked(ten):
    found = epicotyl.weather.quality(ten)
    assert pickle.loads(pickle.dumps(found)) == found
    assert found != epicotyl.weather.quality(ten, max_gap=0)
    with pytest.raises(AttributeError):
        found.runs = 0
    with pytest.raises(epicotyl.InvalidInput, match="max_gap"):
        epicotyl.weather.quality(ten, max_gap=32)
    with pytest.raises(TypeError, match="max_gap"):
        epicotyl.weather.quality(ten, max_gap=3.0)
    with pytest.raises(TypeError, match="record"):
        epicotyl.weather.quality([1.0])
    whole = epicotyl.DailyRecord(date(2026, 5, 1), [1.0], [3.0])
    assert epicotyl.weather.quality(whole).longest_run is None


# ---- Splice ------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def pair():
    return (
        epicotyl.DailyRecord(
            date(2026, 5, 1), [3.0, GONE, 4.0, 5.0], [10.0, 11.0, GONE, 13.0], "Marlpit"
        ),
        epicotyl.DailyRecord(
            date(2026, 5, 2), [2.5, 3.5, GONE, 4.5, GONE], [9.0, 2.0, 12.0, 14.0, 15.0], "Pond Lane"
        ),
    )


def test_a_splice_has_the_firsts_values_and_the_seconds_where_the_first_has_none(pair):
    joined = epicotyl.weather.splice(*pair)
    assert joined.record == epicotyl.DailyRecord(
        date(2026, 5, 1),
        [3.0, 2.5, 4.0, 5.0, 4.5, GONE],
        [10.0, 11.0, 2.0, 13.0, 14.0, 15.0],
        "Marlpit",
        origin="spliced from Marlpit and Pond Lane",
    )
    report = joined.report
    assert report.minimum == (3, 2, 1, 1, 0.5, 0.0)
    assert report.maximum.overlap == 2
    assert report.maximum.mean_difference == 1.5
    assert (report.first, report.second) == ("Marlpit", "Pond Lane")
    assert (report.mixed, report.mixed_inverted) == (2, 1)
    assert str(report).endswith("1 of them with the minimum above the maximum")
    again = pickle.loads(pickle.dumps(joined))
    assert again == joined
    assert again.record.origin == joined.record.origin


def test_the_second_station_is_brought_to_the_level_of_the_first_when_asked():
    def steady(count, low, high, name):
        return epicotyl.DailyRecord(date(2024, 1, 1), [low] * count, [high] * count, name)

    first, second = steady(365, 2.0, 9.0, "Marlpit"), steady(367, 3.5, 8.75, "Pond Lane")
    joined, report = epicotyl.weather.splice(first, second, match_means=True)
    assert (report.minimum.added, report.maximum.added) == (-1.5, 0.25)
    assert (joined.tmin[366], joined.tmax[366]) == (2.0, 9.0)
    assert epicotyl.weather.splice(first, second).record.tmin[366] == 3.5
    with pytest.raises(epicotyl.InvalidInput) as raised:
        epicotyl.weather.splice(steady(364, 2.0, 9.0, ""), second, match_means=True)
    assert raised.value.code == "splice.overlap"
    apart = epicotyl.DailyRecord(date(2023, 1, 1), [1.0], [2.0])
    assert epicotyl.weather.splice(first, apart).report.minimum.mean_difference is None
    with pytest.raises(TypeError, match="second"):
        epicotyl.weather.splice(first, None)
    with pytest.raises(TypeError, match="match_means"):
        epicotyl.weather.splice(first, second, match_means="yes")


# ---- Moved -------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def three():
    return epicotyl.DailyRecord(date(2026, 5, 1), [1.0, GONE, 3.0], [11.0, 12.0, GONE], "Marlpit")


def test_a_higher_place_is_colder_by_the_lapse_rate(three):
    up = epicotyl.weather.with_elevation_difference(three, 300.0)
    np.testing.assert_allclose(up.tmin, np.array(three.tmin) - 0.3 * 6.5)
    np.testing.assert_allclose(up.tmax, np.array(three.tmax) - 0.3 * 6.5)
    assert up.origin == "moved 300 m up at 6.5 K/km"
    assert up.name == "Marlpit"
    down = epicotyl.weather.with_elevation_difference(three, -200, lapse_rate=10)
    assert down.tmin[0] == pytest.approx(3.0)
    for metres in (5001.0, GONE):
        with pytest.raises(epicotyl.InvalidInput, match="metres"):
            epicotyl.weather.with_elevation_difference(three, metres)
    with pytest.raises(epicotyl.InvalidInput, match="lapse_rate"):
        epicotyl.weather.with_elevation_difference(three, 100.0, lapse_rate=21.0)
    with pytest.raises(TypeError, match="metres"):
        epicotyl.weather.with_elevation_difference(three, "300")


def test_a_morning_readers_maximum_belongs_to_the_day_before(three):
    read = epicotyl.weather.morning_reader(three)
    assert read == epicotyl.DailyRecord(
        date(2026, 4, 30),
        [GONE, 1.0, GONE, 3.0],
        [11.0, 12.0, GONE, GONE],
        "Marlpit",
        origin="maxima moved to the day before",
    )
    with pytest.raises(TypeError, match="record"):
        epicotyl.weather.morning_reader(3)


# ---- Values ------------------------------------------------------------------------------


@pytest.mark.parametrize("protocol", range(2, pickle.HIGHEST_PROTOCOL + 1))
def test_the_origin_of_a_record_is_part_of_it(protocol):
    made = epicotyl.DailyRecord(date(2026, 5, 1), [1.0], [2.0], "Pond", origin="made up")
    plain = epicotyl.DailyRecord(date(2026, 5, 1), [1.0], [2.0], "Pond")
    assert made != plain
    assert plain.origin == ""
    assert repr(made) == "<DailyRecord Pond, 1 May 2026 – 1 May 2026, no gaps; made up>"
    again = pickle.loads(pickle.dumps(made, protocol))
    assert again == made
    assert again.origin == "made up"
    with pytest.raises(TypeError, match="origin"):
        epicotyl.DailyRecord(date(2026, 5, 1), [1.0], [2.0], origin=None)


def test_a_record_pickled_before_there_were_origins_has_none():
    values = np.array([1.0]).tobytes()
    old = epicotyl.DailyRecord.__new__(epicotyl.DailyRecord)
    old.__setstate__((1, date(2026, 5, 1), values, values, "Pond"))
    assert old == epicotyl.DailyRecord(date(2026, 5, 1), [1.0], [1.0], "Pond")
