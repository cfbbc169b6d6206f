"""Records, their readers, climates and freeze dates."""

from datetime import date

import numpy as np
import pytest

epicotyl = pytest.importorskip("epicotyl")


def test_record_holds_what_it_was_given_and_shares_nothing_with_the_caller():
    low, high = np.array([1.0, np.nan]), np.array([2.0, 3.0])
    record = epicotyl.DailyRecord(date(2027, 1, 1), low, high, name="Quoin")
    low[0] = 99.0
    assert record.tmin[0] == 1.0
    np.testing.assert_array_equal(record.tmin, [1.0, np.nan])
    np.testing.assert_array_equal(record.tmax, [2.0, 3.0])
    assert (record.name, record.gaps, len(record)) == ("Quoin", 1, 2)
    assert repr(record) == "<DailyRecord Quoin, 1 Jan 2027 – 2 Jan 2027, 1 gap>"


def test_arrays_of_a_record_cannot_be_written_and_outlive_it():
    record = epicotyl.DailyRecord(date(2027, 1, 1), [1.0] * 1000, [2.0] * 1000)
    view = record.tmax
    with pytest.raises(ValueError, match="read-only"):
        view[0] = 5.0
    del record
    assert (view == 2.0).all()


def test_record_refuses_unequal_lengths_shapes_and_kinds():
    with pytest.raises(epicotyl.InvalidInput, match="2 minima stand against 1 maxima"):
        epicotyl.DailyRecord(date(2027, 1, 1), [1.0, 2.0], [3.0])
    with pytest.raises(epicotyl.InvalidInput, match=r"\(1, 2\)"):
        epicotyl.DailyRecord(date(2027, 1, 1), [[1.0, 2.0]], [[3.0, 4.0]])
    with pytest.raises(epicotyl.InvalidInput, match="no day"):
        epicotyl.DailyRecord(date(2027, 1, 1), [], [])
    with pytest.raises(epicotyl.InvalidInput, match="inf on 2027-01-02"):
        epicotyl.DailyRecord(date(2027, 1, 1), [1.0, -np.inf], [3.0, 4.0])
    with pytest.raises(TypeError, match="tmax"):
        epicotyl.DailyRecord(date(2027, 1, 1), [1.0], ["3"])
    with pytest.raises(TypeError, match="name"):
        epicotyl.DailyRecord(date(2027, 1, 1), [1.0], [3.0], name=None)


def test_station_file_is_read(farm):
    record = epicotyl.read_ghcn_daily(farm / "station.dly")
    assert (record.start, record.end) == (date(2027, 1, 1), date(2027, 2, 1))
    assert (record.tmin == -1.5).all()
    assert (record.tmax == 4.0).all()
    assert record.name == "USC00000001"
    assert record == epicotyl.read_ghcn_daily(str(farm / "station.dly"))


def test_table_columns_and_unit_are_named(tmp_path):
    path = tmp_path / "pond.csv"
    path.write_text("day,cold,warm\n2027-01-01,23,50\n2027-01-02,,41\n", encoding="utf-8")
    record = epicotyl.read_daily_csv(path, date="day", tmin="cold", tmax="warm", units="us")
    np.testing.assert_allclose(record.tmin, [-5.0, np.nan])
    np.testing.assert_allclose(record.tmax, [10.0, 5.0])
    assert record.name == "pond"


def test_table_unit_is_never_guessed(tmp_path):
    path = tmp_path / "pond.csv"
    path.write_text("date,tmin,tmax\n2027-01-01,23,50\n", encoding="utf-8")
    with pytest.raises(epicotyl.InvalidInput, match="unit") as raised:
        epicotyl.read_daily_csv(path)
    assert raised.value.file == str(path)
    with pytest.raises(epicotyl.InvalidInput, match="metric, us"):
        epicotyl.read_daily_csv(path, units="celcius")
    with pytest.raises(TypeError, match="unit"):
        epicotyl.read_daily_csv(path, units=1)


def test_fault_in_a_file_says_the_line(tmp_path):
    path = tmp_path / "pond.csv"
    path.write_text("date,tmin_c,tmax_c\n2027-01-01,1,2\n2027-01-02,x,2\n", encoding="utf-8")
    with pytest.raises(epicotyl.InvalidInput) as raised:
        epicotyl.read_daily_csv(path)
    assert (raised.value.file, raised.value.line, raised.value.value) == (str(path), 3, "x")


@pytest.mark.parametrize("wrong", [None, 3, b"pond.csv", ["pond.csv"]])
def test_what_is_no_path_is_of_the_wrong_kind(wrong):
    for read in (epicotyl.read_ghcn_daily, epicotyl.read_daily_csv, epicotyl.read_plan):
        with pytest.raises(TypeError, match="path"):
            read(wrong)


def test_season_years_are_rows_of_the_record(known):
    climate = known.climate
    assert climate.years == list(range(2001, 2011))
    assert climate.tmin.shape == climate.tmax.shape == (10, 365)
    np.testing.assert_array_equal(climate.tmin[1], known.record.tmin[365:730])
    # 2004 is a leap year: its 365 days end on 30 December.
    np.testing.assert_array_equal(climate.tmax[3], known.record.tmax[1095 : 1095 + 365])
    assert len(climate) == 10
    assert climate.record == known.record
    with pytest.raises(ValueError, match="read-only"):
        climate.tmin[0, 0] = 0.0


@pytest.mark.parametrize("start", [(3, 1), "03-01", date(1999, 3, 1)], ids=["pair", "text", "date"])
def test_season_start_can_be_written_in_three_ways(start, known):
    climate = epicotyl.Climate(known.record, latitude=51.9, season_start=start, season_days=300)
    assert climate.season_start == (3, 1)


def test_season_start_depends_on_the_hemisphere(known):
    assert epicotyl.Climate(known.record, latitude=0.0).season_start == (1, 1)
    assert epicotyl.Climate(known.record, latitude=-0.1).season_start == (7, 1)


@pytest.mark.parametrize("start", [(13, 1), (0, 1), (2, 30), (2, 29), "3-1", "03/01", "02-29"])
def test_season_start_that_no_year_or_not_every_year_has_is_refused(start, known):
    with pytest.raises(epicotyl.InvalidInput, match="season_start"):
        epicotyl.Climate(known.record, latitude=51.9, season_start=start)


@pytest.mark.parametrize("start", [3, (3,), (3.0, 1), ["03", "01"], np.datetime64("2027-03-01")])
def test_season_start_of_the_wrong_kind(start, known):
    with pytest.raises(TypeError, match="season_start"):
        epicotyl.Climate(known.record, latitude=51.9, season_start=start)


@pytest.mark.parametrize(
    ("years", "first", "count"),
    [(3, 2008, 3), ((2002, 2005), 2002, 4), ([2002, 2005], 2002, 4), ("all", 2001, 10)],
)
def test_years_can_be_a_number_a_pair_or_all(years, first, count, known):
    climate = epicotyl.Climate(known.record, latitude=51.9, season_days=365, years=years)
    assert climate.years == list(range(first, first + count))
    assert len(climate) == count


def test_years_that_cannot_be_used_are_told(known):
    low = np.array(known.record.tmin)
    low[370:380] = np.nan
    record = epicotyl.DailyRecord(known.record.start, low, known.record.tmax)
    climate = epicotyl.Climate(record, latitude=51.9, season_days=365, years=(2001, 2003))
    (left_out,) = climate.left_out
    assert (left_out.year, left_out.element, left_out.length) == (2002, "minimum", 10)
    assert left_out.first == date(2002, 1, 6)
    assert str(left_out) == left_out.sentence
    assert climate.years == [2001, 2003]
    assert "left out" in climate.year_note
    assert any("season years" in warning for warning in climate.warnings)
    patched = epicotyl.Climate(
        record, latitude=51.9, season_days=365, years=(2001, 2003), max_gap=10
    )
    assert patched.years == [2001, 2002, 2003]
    assert patched.filled == (10, 0, 0)
    assert patched.filled.minimum == 10


@pytest.mark.parametrize(
    ("options", "error"),
    [
        ({"latitude": 91}, epicotyl.InvalidInput),
        ({"latitude": float("nan")}, epicotyl.InvalidInput),
        ({"season_days": 0}, epicotyl.InvalidInput),
        ({"season_days": 365.0}, TypeError),
        ({"max_gap": 32}, epicotyl.InvalidInput),
        ({"max_gap": True}, TypeError),
        ({"years": 0}, epicotyl.InvalidInput),
        ({"years": (2005, 2002)}, epicotyl.InvalidInput),
        ({"years": (2005,)}, TypeError),
        ({"years": (2002.0, 2005)}, TypeError),
        ({"years": "everything"}, epicotyl.InvalidInput),
        ({"years": (1901, 1902)}, epicotyl.InvalidInput),
    ],
)
def test_options_of_a_climate_are_checked(options, error, known):
    with pytest.raises(error, match=next(iter(options)) if error is TypeError else None):
        epicotyl.Climate(known.record, **({"latitude": 51.9} | options))


def test_a_climate_is_made_of_a_record(known):
    with pytest.raises(TypeError, match="DailyRecord"):
        epicotyl.Climate(known.climate, latitude=51.9)
    with pytest.raises(TypeError, match="DailyRecord"):
        epicotyl.FreezeRisk("record", 0.0)


@pytest.fixture(scope="module")
def frosts():
    """Four years; spring frosts on 1, 11 and 21 April, autumn frosts on 10 and 30 October."""
    dates = np.arange("2001-01-01", "2005-01-01", dtype="datetime64[D]")
    nights = ["2001-04-01", "2003-04-11", "2004-04-21", "2001-10-10", "2003-10-30"]
    low = np.where(np.isin(dates, np.array(nights, dtype="datetime64[D]")), -1.0, 5.0)
    return epicotyl.DailyRecord(dates[0], low, low + 10.0)


def test_freeze_dates_of_every_year(frosts):
    risk = epicotyl.FreezeRisk(frosts, 0.0, estimator="empirical")
    assert [(one.year, one.last, one.first) for one in risk.dates] == [
        (2001, date(2001, 4, 1), date(2001, 10, 10)),
        (2002, None, None),
        (2003, date(2003, 4, 11), date(2003, 10, 30)),
        (2004, date(2004, 4, 21), None),
    ]
    assert all(one.last_known and one.first_known for one in risk.dates)
    assert risk.left_out == []


def test_direction_of_a_chance_is_in_the_name(frosts):
    risk = epicotyl.FreezeRisk(frosts, 0.0, estimator="empirical")
    # Four years at 1/5 to 4/5. In days from 1 January: none, 90, 100, 111 (a leap year).
    assert risk.last_freeze(0.2, year=2027) == date(2027, 4, 22)
    assert risk.last_freeze(0.4, year=2027) == date(2027, 4, 11)
    assert risk.last_freeze(0.6, year=2027) == date(2027, 4, 1)
    assert risk.last_freeze(0.8, year=2027) is None
    assert risk.last_freeze(0.1, year=2027) is None
    assert risk.first_freeze(0.2, year=2027) == date(2027, 10, 10)
    assert risk.first_freeze(0.4, year=2027) == date(2027, 10, 30)
    assert risk.first_freeze(0.6, year=2027) is None
    assert risk.chance_later(date(2027, 4, 11)) == pytest.approx(0.4)
    assert risk.chance_earlier(date(2027, 10, 10)) == pytest.approx(0.2)


def test_without_a_year_the_latest_of_the_dates_is_meant(frosts):
    risk = epicotyl.FreezeRisk(frosts, 0.0, estimator="empirical")
    assert risk.last_freeze(0.4) == risk.last_freeze(0.4, year=2004) == date(2004, 4, 10)


def test_fitted_chances_reach_beyond_the_dates(frosts):
    risk = epicotyl.FreezeRisk(frosts, 0.0)
    assert risk.estimator == "fitted"
    # Dates 90, 100 and 111: the mean is 100.33, half of the 3 years of 4 that had one.
    assert risk.last_freeze(0.375, year=2027) == date(2027, 4, 11)
    assert risk.last_freeze(0.01, year=2027) > date(2027, 4, 22)
    assert risk.last_freeze(0.75, year=2027) is None


def test_southern_halves_begin_in_july(frosts):
    risk = epicotyl.FreezeRisk(frosts, 0.0, estimator="empirical", latitude=-35.0)
    assert risk.dates[0].last == date(2001, 10, 10)
    with pytest.raises(epicotyl.InvalidInput):
        risk.chance_later(date(2027, 4, 1))


@pytest.mark.parametrize(
    ("call", "error", "match"),
    [
        (lambda risk: risk.last_freeze(1.5, year=2027), epicotyl.InvalidInput, "chance_later"),
        (lambda risk: risk.first_freeze(-0.1), epicotyl.InvalidInput, "chance_earlier"),
        (lambda risk: risk.frost_free_days(float("nan")), epicotyl.InvalidInput, "chance_longer"),
        (lambda risk: risk.last_freeze("0.5"), TypeError, "chance_later"),
        (lambda risk: risk.last_freeze(0.5, year=0), epicotyl.InvalidInput, "year"),
        (lambda risk: risk.last_freeze(0.5, year=2027.0), TypeError, "year"),
        (lambda risk: risk.chance_later("2027-04-01"), TypeError, "day"),
        (lambda risk: epicotyl.FreezeRisk(risk.record, np.inf), epicotyl.InvalidInput, "threshold"),
        (
            lambda risk: epicotyl.FreezeRisk(risk.record, 0.0, estimator="normal"),
            epicotyl.InvalidInput,
            "empirical, fitted",
        ),
    ],
)
def test_questions_about_freezes_are_checked(call, error, match, frosts):
    with pytest.raises(error, match=match):
        call(epicotyl.FreezeRisk(frosts, 0.0))
