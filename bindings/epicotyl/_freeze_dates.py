"""Freeze dates: what a risk of freezes was asked, and what it found in the record."""

from __future__ import annotations

from typing import Any, Literal, Self, TypeAlias

from epicotyl import _asked, _check, _core
from epicotyl._core import FreezeYear, FrostFreeSpan
from epicotyl._freeze_answer import FreezeSample
from epicotyl._record import DailyRecord
from epicotyl._value import Told, Value

Estimator: TypeAlias = Literal["fitted", "empirical"]
Comparison: TypeAlias = Literal["at_or_below", "below"]
Halves: TypeAlias = tuple[_asked.MonthDay, _asked.MonthDay]


def options_of(
    latitude: float,
    halves: Any,
    comparison: str,
    max_gap: int,
    years: _asked.Years,
) -> tuple[tuple[tuple[int, int], tuple[int, int]], str, int, Any]:
    """Halves, comparison, longest gap and years, as the library takes them."""
    usual = _core.usual_halves(_check.number(latitude, "latitude"))
    if halves is None:
        parted = usual
    else:
        if not isinstance(halves, tuple | list) or len(halves) != 2:
            raise TypeError(f"halves: a first and a last day are wanted, not {halves!r}")
        first, last = halves
        parted = (_asked.month_day(first, "halves"), _asked.month_day(last, "halves"))
    return (
        parted,
        _check.text(comparison, "comparison"),
        _check.whole(max_gap, "max_gap"),
        _asked.years(years),
    )


class FreezeDates(Value[_core.FreezeRisk]):
    """The dates of every year, and what they were asked with. `FreezeRisk` adds the chances."""

    __slots__ = ("_given",)

    _given: tuple[Any, ...]
    _pickle_version = 2  # adds halves, comparison, max_gap and years

    dates = Told[list[FreezeYear]]("The freeze dates of every year asked for, ascending.")
    frost_free = Told[list[FrostFreeSpan]](
        "The frost-free days of every year of which both freezes are known, ascending."
    )
    last_sample = Told[FreezeSample](
        "What the chances of last freezes rest on: days from the half's first day."
    )
    first_sample = Told[FreezeSample](
        "What the chances of first freezes rest on: days from the half's first day."
    )
    frost_free_sample = Told[FreezeSample]("What the chances of season lengths rest on [days].")
    left_out = Told[list[str]]("Halves that are not used, each with its reason in words.")
    warnings = Told[list[str]]("What a reader should know: few years, a curve fitted to few dates.")

    @property
    def record(self) -> DailyRecord:
        """The record."""
        record: DailyRecord = self._given[0]
        return record

    @property
    def threshold(self) -> float:
        """A night at or below it is a freeze [°C]."""
        return float(self._given[1])

    @property
    def estimator(self) -> str:
        """How chances are worked out: "fitted" or "empirical"."""
        return str(self._given[2])

    @property
    def latitude(self) -> float:
        """Degrees north."""
        return float(self._given[3])

    @property
    def halves(self) -> tuple[tuple[int, int], tuple[int, int]]:
        """First and last day of the cold-to-warm half, each (month, day)."""
        parted: tuple[tuple[int, int], tuple[int, int]] = self._given[4]
        return parted

    @property
    def comparison(self) -> str:
        """When a minimum counts as a freeze: "at_or_below" or "below"."""
        return str(self._given[5])

    @property
    def max_gap(self) -> int:
        """Longest gap that was filled [days]."""
        return int(self._given[6])

    def _year(self, year: int | None) -> int:
        if year is None:
            return self._held.dates[-1][0]
        if not 1 <= _check.whole(year, "year") <= 9998:
            _core.refuse(
                code="year.out_of_range",
                field="year",
                value=str(year),
                bound="1 to 9998",
                problem=f"{year} is out of range",
                remedy="give the year in which the half begins",
            )
        return int(year)

    def __repr__(self) -> str:
        return f"<{type(self).__name__} {self}>"

    def _parts(self) -> tuple[Any, ...]:
        return self._given

    def _restore(self, *parts: Any) -> None:
        if len(parts) == 4:
            parts = (*parts, *options_of(parts[3], None, "at_or_below", 3, 30))
        record, threshold, estimator, _, *options = parts
        self._held = _core.FreezeRisk(record._held, threshold, estimator, tuple(options))
        self._given = parts

    @classmethod
    def _found(cls, held: _core.FreezeRisk, *given: Any) -> Self:
        """One that the library made."""
        found = cls._of(held)
        found._given = given
        return found
