"""Freezes: options, answers that say which none it is, tables, and how far a count holds."""

import pickle
import re
import subprocess
import sys
from datetime import date

import numpy as np
import pytest

epicotyl = pytest.importorskip("epicotyl")


def record_of(years, otherwise=10.0, start=2001, name="Marlpit"):
    """One night of -1 °C in each half, on these days counted from 1 January and from 1 August."""
    days = np.arange(f"{start}-01-01", f"{start + len(years)}-01-01", dtype="datetime64[D]")
    low = np.full(days.size, otherwise)
    for k, halves in enumerate(years):
        for begin, offset in zip(("01-01", "08-01"), halves, strict=True):
            if offset is not None:
                low[days == np.datetime64(f"{start + k}-{begin}") + offset] = -1.0
    return epicotyl.DailyRecord(days[0], low, np.full(days.size, 20.0), name)


@pytest.fixture(scope="module")
def four():
    """2001: 200 is 20 July and 9 is 10 August; 2003 has no spring frost."""
    return record_of([(200, 9), (90, 80), (None, 70), (110, 90)])


# ---- Options -----------------------------------------------------------------------------


def test_halves_can_be_parted_elsewhere(four):
    # 20 July 2001 belongs to the warm-to-cold half when that begins on 1 July.
    risk = epicotyl.FreezeRisk(four, 0.0, halves=("01-01", (6, 30)))
    assert risk.halves == ((1, 1), (6, 30))
    assert (risk.dates[0].last, risk.dates[0].first) == (None, date(2001, 7, 20))
    assert epicotyl.FreezeRisk(four, 0.0).halves == ((1, 1), (7, 31))
    assert epicotyl.FreezeRisk(four, 0.0, latitude=-1).halves == ((7, 1), (1, 31))
    dated = (date(1999, 1, 1), date(1999, 6, 30))
    assert epicotyl.FreezeRisk(four, 0.0, halves=dated) == risk


def test_a_night_at_the_threshold_is_below_it_only_when_asked(four):
    assert epicotyl.FreezeRisk(four, -1.0).dates[1].last == date(2002, 4, 1)
    below = epicotyl.FreezeRisk(four, -1.0, comparison="below")
    assert [one.last for one in below.dates] == [None] * 4
    assert below.comparison == "below"
    assert "nights below -1.0" in str(below)


def test_gaps_and_years_are_options(four):
    low = np.array(four.tmin)
    low[10:15] = np.nan
    gappy = epicotyl.DailyRecord(four.start, low, four.tmax)
    assert not epicotyl.FreezeRisk(gappy, 0.0).dates[0].last_known
    assert epicotyl.FreezeRisk(gappy, 0.0, max_gap=5).dates[0].last_known
    assert epicotyl.FreezeRisk(gappy, 0.0, max_gap=5).max_gap == 5
    asked = {2: [2003, 2004], (2001, 2002): [2001, 2002], "all": [2001, 2002, 2003, 2004]}
    for years, wanted in asked.items():
        risk = epicotyl.FreezeRisk(four, 0.0, years=years)
        assert [one.year for one in risk.dates] == wanted


@pytest.mark.parametrize(
    ("options", "error"),
    [
        ({"halves": ("02-29", "07-31")}, epicotyl.InvalidInput),
        ({"halves": ("01-01", "12-31")}, epicotyl.InvalidInput),
        ({"halves": ("1 Jan", "07-31")}, epicotyl.InvalidInput),
        ({"halves": "01-01"}, TypeError),
        ({"halves": ((1, 1),)}, TypeError),
        ({"comparison": "at"}, epicotyl.InvalidInput),
        ({"comparison": None}, TypeError),
        ({"max_gap": 32}, epicotyl.InvalidInput),
        ({"max_gap": 2**40}, epicotyl.InvalidInput),
        ({"years": 0}, epicotyl.InvalidInput),
        ({"years": 2**31}, epicotyl.InvalidInput),
        ({"years": "every"}, epicotyl.InvalidInput),
        ({"latitude": 91}, epicotyl.InvalidInput),
        ({"estimator": "normal"}, epicotyl.InvalidInput),
    ],
)
def test_options_are_checked(options, error, four):
    with pytest.raises(error) as raised:
        epicotyl.FreezeRisk(four, 0.0, **options)
    if error is epicotyl.InvalidInput:
        assert raised.value.code
        assert raised.value.remedy
    with pytest.raises(error):
        epicotyl.frost.FreezeTable(four, **options)


# ---- Answers -----------------------------------------------------------------------------


def test_an_answer_is_the_day_or_which_none_it_is(four):
    risk = epicotyl.FreezeRisk(four, 0.0, estimator="empirical")
    # Ascending: none, 90, 110, 200, at 4/5 ... 1/5; 2001 has 20 days between its two freezes.
    assert risk.last_freeze_answer(0.2).state == "frost_all_year"
    assert risk.last_freeze_answer(0.2).text == "all year"
    usual = risk.last_freeze_answer(0.4, year=2027)
    assert (usual.state, usual.days, usual.date) == ("dated", 110.0, date(2027, 4, 21))
    assert usual.is_dated
    assert usual.text == "21 Apr"
    assert str(usual).splitlines() == ["21 Apr", *(f"caution: {one}" for one in usual.cautions)]
    assert usual.cautions == epicotyl.heat.heat_cautions("freeze_answer")
    assert risk.last_freeze_answer(0.8).state == "no_frost"
    assert risk.last_freeze_answer(0.8).text == "none"
    beyond = risk.first_freeze_answer(0.9)
    assert (beyond.state, beyond.days, beyond.date, beyond.text) == (
        "beyond_record",
        None,
        None,
        "–",
    )
    assert risk.first_freeze_answer(0.4, year=2027).text == "10 Oct"


def test_a_season_without_frost_is_not_called_none(four):
    # 1 August is day 212, in leap years 213: 20 for 2001, 201 for 2002, none for 2003, 192.
    risk = epicotyl.FreezeRisk(four, 0.0, estimator="empirical")
    assert risk.frost_free == [(2001, 20), (2002, 201), (2003, None), (2004, 192)]
    assert risk.frost_free[0].length == 20
    assert risk.frost_free_answer(0.1).text == "no frost"
    assert risk.frost_free_answer(0.8).text == "20 days"
    assert risk.frost_free_answer(0.8).days == risk.frost_free_days(0.8) == 20.0
    always = epicotyl.FreezeRisk(record_of([(None, None)] * 4, otherwise=-5.0), 0.0)
    assert always.frost_free_answer(0.5).text == "0 days"


def test_answers_agree_with_the_plain_questions():
    for estimator in ("empirical", "fitted"):
        record = record_of([(90, 80), (95, 70), (100, 75), (110, 90)])
        risk = epicotyl.FreezeRisk(record, 0.0, estimator=estimator)
        for chance in np.arange(2, 9) / 10:
            assert risk.last_freeze_answer(chance).date == risk.last_freeze(chance)
            assert risk.first_freeze_answer(chance).date == risk.first_freeze(chance)
            assert risk.frost_free_answer(chance).days == risk.frost_free_days(chance)


def test_a_sample_is_what_chances_rest_on(four):
    risk = epicotyl.FreezeRisk(four, 0.0)
    last = risk.last_sample
    assert (last.years, last.values, last.share) == (4, (90, 110, 200), 0.75)
    assert last.mean == pytest.approx(np.mean([90, 110, 200]))
    assert last.sd == pytest.approx(np.std([90, 110, 200], ddof=1))
    assert risk.first_sample.values == (9, 70, 80, 90)
    assert risk.frost_free_sample.values == (20, 192, 201)


def test_fitted_days_are_those_of_the_normal_distribution(four):
    stats = pytest.importorskip("scipy.stats")
    risk = epicotyl.FreezeRisk(four, 0.0)
    sample = risk.first_sample
    for chance in (0.1, 0.25, 0.5, 0.9):
        wanted = stats.norm(sample.mean, sample.sd).ppf(chance)
        answer = risk.first_freeze_answer(chance)
        if answer.is_dated:
            assert answer.days == pytest.approx(wanted)
    # A share of 3 in 4 has one at all: 0.6 of all years are 0.8 of those.
    sample = risk.last_sample
    assert risk.last_freeze_answer(0.6).days == pytest.approx(
        stats.norm(sample.mean, sample.sd).isf(0.8)
    )


def test_counted_years_come_with_their_band(four):
    risk = epicotyl.FreezeRisk(four, 0.0)
    later = risk.counted_later(date(2027, 4, 21))  # offset 110
    assert later == epicotyl.frost.chance_band(2, 4)
    assert risk.counted_later(date(2027, 4, 22)) == epicotyl.frost.chance_band(1, 4)
    assert risk.counted_earlier(
        np.datetime64("2027-10-10"), level=0.8
    ) == epicotyl.frost.chance_band(2, 4, level=0.8)
    with pytest.raises(epicotyl.InvalidInput):
        risk.counted_later(date(2027, 9, 1))
    with pytest.raises(epicotyl.InvalidInput, match="level"):
        risk.counted_later(date(2027, 4, 1), level=1.0)


def test_counting_in_a_half_that_runs_over_new_year():
    # South: 20 January lies in the half that began on 1 July before.
    record = record_of([(19, None)] * 4)
    risk = epicotyl.FreezeRisk(record, 0.0, latitude=-35.0)
    assert risk.counted_later(date(2027, 1, 20)).counted == 3
    assert risk.counted_later(date(2027, 1, 21)).counted == 0


# ---- How far a count holds ---------------------------------------------------------------


@pytest.mark.parametrize("level", [0.5, 0.8, 0.95, 0.99])
def test_bands_are_those_of_scipy(level):
    stats = pytest.importorskip("scipy.stats")
    for years in (1, 7, 30, 93):
        for counted in range(0, years + 1, max(1, years // 7)):
            band = epicotyl.frost.chance_band(counted, years, level=level)
            wanted = stats.binomtest(counted, years).proportion_ci(level, "exact")
            assert band.low == pytest.approx(wanted.low, abs=1e-9)
            assert band.high == pytest.approx(wanted.high, abs=1e-9)
            assert band.low <= band.share <= band.high


def test_a_band_says_itself_in_words_and_is_a_plain_value():
    band = epicotyl.frost.chance_band(3, 30)
    assert str(band) == "3 of 30 years: 10 %, 2 to 27 % (95 % band)"
    assert (band.counted, band.years, band.level) == (3, 30, 0.95)
    assert pickle.loads(pickle.dumps(band)) == band


@pytest.mark.parametrize(
    ("counted", "years", "level", "error"),
    [
        (31, 30, 0.95, epicotyl.InvalidInput),
        (-1, 30, 0.95, epicotyl.InvalidInput),
        (0, 0, 0.95, epicotyl.InvalidInput),
        (3, 30, float("nan"), epicotyl.InvalidInput),
        (3, 30, 0.4, epicotyl.InvalidInput),
        (3.0, 30, 0.95, TypeError),
        (3, 30, "0.95", TypeError),
    ],
)
def test_counts_that_are_none_are_refused(counted, years, level, error):
    with pytest.raises(error):
        epicotyl.frost.chance_band(counted, years, level=level)


# ---- Tables ------------------------------------------------------------------------------

SHEET = """\
Marlpit: nights at or below a threshold, 2001 – 2004, 4 years, empirical

Last freeze: years in 10 with a freeze on or after the day
             1 in 10      25 %   4 in 10   8 in 10   9 in 10
    2.2 °C  all year  all year    21 Apr      none      none
   -6.7 °C      none      none      none      none      none

First freeze: years in 10 with a freeze on or before the day
             1 in 10      25 %   4 in 10   8 in 10   9 in 10
    2.2 °C  all year  all year    10 Oct    30 Oct         –
   -6.7 °C      none      none      none      none      none

Frost-free days between the two: years in 10 with as many or more
             1 in 10      25 %   4 in 10   8 in 10   9 in 10
    2.2 °C  no frost  no frost       201        20         –
   -6.7 °C  no frost  no frost  no frost  no frost  no frost

none: fewer years than that have such a night
no frost: as many years lack one of the two freezes
all year: in as many years fewer than 30 days lie between the two
–: the years of the record do not reach so far

Laid out as the freeze/frost probability tables of the U.S. Climate Normals (NOAA NCEI);
the days are worked out from the record named above.

caution: Under a clear sky leaves are 1 to 3 °C colder than a station's shelter, 1.2 m up, tells.
caution: Your garden may be colder than the station, a hollow by several degrees: compare minima.
caution: Counts of past years are no forecast, and thirty years are few.
"""


@pytest.fixture(scope="module")
def table(four):
    chances = (0.1, 0.25, 0.4, 0.8, 0.9)
    return epicotyl.frost.FreezeTable(
        four, thresholds=[2.2, -6.7], chances=chances, estimator="empirical"
    )


def test_a_table_prints_as_a_sheet(table):
    """In order: none, 90, 110, 200; 9, 70, 80, 90. A chance p is position 5 (1 - p), or 5 p."""
    assert str(table) == SHEET
    assert table.to_text() == SHEET
    fahrenheit = table.to_text(units="us")
    assert "36 °F" in fahrenheit
    assert "20 °F" in fahrenheit
    # Dates stand in the order of the units.
    assert re.search(r"\d (Mar|Apr|Oct|Nov)", SHEET)
    assert not re.search(r"\d (Mar|Apr|Oct|Nov)\b", fahrenheit)
    assert re.search(r"(Mar|Apr|Oct|Nov) \d", fahrenheit)
    assert repr(table) == (
        "<FreezeTable Marlpit: nights at or below a threshold, 2001 – 2004, 4 years, empirical; "
        "2 by 5>"
    )
    with pytest.raises(epicotyl.InvalidInput, match="metric, us"):
        table.to_text(units="kelvin")


def test_rows_of_a_table_are_the_answers_of_a_risk(table, four):
    assert table.thresholds == [2.2, -6.7]
    assert table.chances == [0.1, 0.25, 0.4, 0.8, 0.9]
    assert table.estimator == "empirical"
    assert table.record == four
    for row, threshold in zip(table.rows, table.thresholds, strict=True):
        risk = epicotyl.FreezeRisk(four, threshold, estimator="empirical")
        assert row.risk == risk
        assert row.risk.threshold == threshold
        assert row.risk.halves == ((1, 1), (7, 31))
        assert pickle.loads(pickle.dumps(row.risk)) == risk
        assert row.last == [risk.last_freeze_answer(p) for p in table.chances]
        assert row.first == [risk.first_freeze_answer(p) for p in table.chances]
        assert row.frost_free == [risk.frost_free_answer(p) for p in table.chances]


def test_a_table_without_options_has_the_customary_ones(four):
    table = epicotyl.frost.FreezeTable(four)
    assert table.thresholds == [2.2, 0.0, -2.2, -4.4, -6.7, -8.9]
    assert table.chances == pytest.approx(np.arange(1, 10) / 10)
    assert table.estimator == "fitted"


def test_a_table_becomes_a_frame(table):
    pytest.importorskip("pandas")
    frame = table.to_frame(year=2027)
    assert list(frame.columns) == ["answer", "threshold", "chance", "state", "days", "date"]
    assert len(frame) == 3 * 2 * 5
    line = frame[(frame.answer == "last") & (frame.threshold == 2.2) & (frame.chance == 0.4)]
    assert line.state.tolist() == ["dated"]
    assert line.days.tolist() == [110.0]
    assert line.date.dt.date.tolist() == [date(2027, 4, 21)]
    lengths = frame[(frame.answer == "frost_free") & (frame.threshold == 2.2)]
    assert lengths.days.tolist()[2:4] == [201.0, 20.0]
    assert frame.date.isna().sum() == 30 - 3
    cold = epicotyl.frost.FreezeTable(table.record, thresholds=[-30.0]).to_frame()
    assert cold.date.dtype.kind == "M"
    assert cold.date.isna().all()


def test_a_frame_without_pandas_says_what_to_install(table):
    code = (
        "import sys; sys.modules['pandas'] = None\n"
        "import pickle\n"
        f"pickle.loads({pickle.dumps(table)!r}).to_frame()\n"
    )
    told = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert "pip install 'epicotyl[pandas]'" in told.stderr


def test_a_table_of_nothing_is_refused(four):
    with pytest.raises(epicotyl.InvalidInput, match="thresholds"):
        epicotyl.frost.FreezeTable(four, thresholds=[])
    with pytest.raises(epicotyl.InvalidInput, match="chances"):
        epicotyl.frost.FreezeTable(four, chances=[])
    with pytest.raises(epicotyl.InvalidInput, match=r"chances: 1\.5"):
        epicotyl.frost.FreezeTable(four, chances=[0.5, 1.5])
    with pytest.raises(epicotyl.InvalidInput, match="thresholds: nan"):
        epicotyl.frost.FreezeTable(four, thresholds=[float("nan")])
    with pytest.raises(TypeError, match="thresholds"):
        epicotyl.frost.FreezeTable(four, thresholds=["0"])
    with pytest.raises(TypeError, match="DailyRecord"):
        epicotyl.frost.FreezeTable("Marlpit")


# ---- Values ------------------------------------------------------------------------------


def test_risks_and_tables_are_pickled_with_their_options(table, four):
    risk = epicotyl.FreezeRisk(
        four,
        -1.0,
        estimator="empirical",
        halves=((1, 1), (6, 30)),
        comparison="below",
        max_gap=7,
        years=(2002, 2004),
    )
    again = pickle.loads(pickle.dumps(risk))
    assert again == risk
    assert hash(again) == hash(risk)
    assert (again.halves, again.comparison, again.max_gap) == (((1, 1), (6, 30)), "below", 7)
    assert [one.year for one in again.dates] == [2002, 2003, 2004]
    assert risk != epicotyl.FreezeRisk(four, -1.0, estimator="empirical")
    again = pickle.loads(pickle.dumps(table))
    assert again == table
    assert hash(again) == hash(table)
    assert str(again) == str(table)
    assert table != epicotyl.frost.FreezeTable(four)
    answer = risk.last_freeze_answer(0.5)
    assert pickle.loads(pickle.dumps(answer)) == answer


def test_a_risk_pickled_before_there_were_options_has_the_usual_ones(four):
    old = epicotyl.FreezeRisk.__new__(epicotyl.FreezeRisk)
    old.__setstate__((1, four, 0.0, "fitted", -35.0))
    assert old == epicotyl.FreezeRisk(four, 0.0, latitude=-35.0)
