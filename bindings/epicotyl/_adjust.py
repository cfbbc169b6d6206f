"""What is made of records: looked over, joined, moved to where and when they belong."""

from __future__ import annotations

from typing import NamedTuple

from epicotyl import _check, _core
from epicotyl._core import SpliceReport
from epicotyl._record import DailyRecord, need_record
from epicotyl._result import extends


@extends
class RecordQuality(_core.RecordQuality):
    __slots__ = ()

    def share(self, count: int) -> float:
        """Turn a count into a share of the record's days.

        Parameters
        ----------
        count : int
            Days, such as `missing_minima`.

        Returns
        -------
        float
            0 to 1.

        Examples
        --------
        >>> quality = epicotyl.weather.quality(record)
        >>> quality.share(quality.missing_minima)
        0.0
        """
        return count / self.size

    def __repr__(self) -> str:
        # The first line of the sheet.
        return f"<RecordQuality {self.text.partition(chr(10))[0]}>"


def quality(record: DailyRecord, *, max_gap: int = 3) -> RecordQuality:
    """Look a record over: what it lacks, and what filling short gaps would mend.

    Parameters
    ----------
    record : DailyRecord
        The station. Nothing is changed by looking.
    max_gap : int, optional
        Longest gap that is filled [days], 0 to 31.

    Returns
    -------
    RecordQuality
        Counts, and all of them in words.

    Raises
    ------
    InvalidInput
        When `max_gap` is out of range.
    TypeError
        When an argument is of the wrong kind.

    Examples
    --------
    >>> epicotyl.weather.quality(record)
    <RecordQuality Marlpit, 1 Jan 2012 – 31 Dec 2023: 4383 days, 12 whole years>
    """
    need_record(record, "record")
    return _core.quality(record._held, _check.whole(max_gap, "max_gap"))


class SplicedRecord(NamedTuple):
    """Two records joined, made by `splice`."""

    record: DailyRecord
    """The record; its `origin` names both stations."""
    report: SpliceReport
    """What came from where."""


def splice(first: DailyRecord, second: DailyRecord, *, match_means: bool = False) -> SplicedRecord:
    """Join two records: the first wherever it has a value, else the second.

    Each element is joined by itself. Two thermometers differ, and a join can look like a change of
    climate: `match_means` brings the second to the level of the first, by one number for all
    seasons, which is coarse.

    Parameters
    ----------
    first, second : DailyRecord
        The stations.
    match_means : bool, optional
        Add to each element of the second the mean difference over the days that both have.

    Returns
    -------
    SplicedRecord
        The record, from the earlier start to the later end, named by the first; and a report.

    Raises
    ------
    InvalidInput
        When means are to be matched and the two share fewer than 365 days of an element.
    TypeError
        When an argument is of the wrong kind.

    Examples
    --------
    >>> other = epicotyl.DailyRecord(record.end, [1.5, 2.5], [9.0, 8.5], name="Pond Lane")
    >>> joined, report = epicotyl.weather.splice(record, other)
    >>> joined
    <DailyRecord Marlpit, 1 Jan 2012 – 2 Jan 2024, no gaps; spliced from Marlpit and Pond Lane>
    >>> report.minimum.from_second
    2
    """
    need_record(first, "first")
    need_record(second, "second")
    match = _check.flag(match_means, "match_means")
    joined, report = _core.splice(first._held, second._held, match)
    return SplicedRecord(DailyRecord._of(joined), report)


def with_elevation_difference(
    record: DailyRecord, metres: float, *, lapse_rate: float = 6.5
) -> DailyRecord:
    """Make the record of a place above or below the station.

    Both elements change by -`metres` / 1000 · `lapse_rate` kelvin; gaps stay gaps. The usual rate
    is a mean over the world and the year. Clear calm nights often have it the other way round: cold
    air runs down, and the garden in the valley is the colder one.

    Parameters
    ----------
    record : DailyRecord
        The station.
    metres : float
        Height of the place over the station [m], negative below it; -5000 to 5000.
    lapse_rate : float, optional
        Fall of temperature with height [K/km], -20 to 20. The usual one is that of the standard
        atmosphere, [iso1975] (from memory).

    Returns
    -------
    DailyRecord
        Its `origin` says what was done.

    Raises
    ------
    InvalidInput
        When a number is out of range.
    TypeError
        When an argument is of the wrong kind.

    Examples
    --------
    >>> garden = epicotyl.weather.with_elevation_difference(record, 300.0)
    >>> round(record.tmin[0] - garden.tmin[0], 2), garden.origin
    (np.float64(1.95), 'moved 300 m up at 6.5 K/km')
    """
    need_record(record, "record")
    return DailyRecord._of(
        _core.with_elevation_difference(
            record._held, _check.number(metres, "metres"), _check.number(lapse_rate, "lapse_rate")
        )
    )


def morning_reader(record: DailyRecord) -> DailyRecord:
    """Make the record of an observer who reads in the morning.

    Who files both values under the day of reading has the minimum of the night just past, which
    stays, and the maximum of the afternoon before, which moves to the day before. Only the caller
    knows when a station was read: a record that was shifted already would be shifted again.

    Parameters
    ----------
    record : DailyRecord
        As it was filed.

    Returns
    -------
    DailyRecord
        It begins a day earlier, without a minimum, where the first day has a maximum; its last day
        is left without a maximum. Its `origin` says what was done.

    Raises
    ------
    TypeError
        When it is no record.

    Examples
    --------
    >>> read = epicotyl.DailyRecord(datetime.date(2027, 1, 2), [-1.0, 0.5], [4.0, 5.0])
    >>> epicotyl.weather.morning_reader(read).tmax
    array([ 4.,  5., nan])
    """
    need_record(record, "record")
    return DailyRecord._of(_core.morning_reader(record._held))
