"""Tables of freeze dates, by threshold and chance."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, NamedTuple

from epicotyl import _asked, _check, _core
from epicotyl._freeze_answer import FreezeAnswer
from epicotyl._freeze_dates import Comparison, Estimator, Halves, options_of
from epicotyl._frost import FreezeRisk
from epicotyl._record import DailyRecord, need_record
from epicotyl._units import Units, celsius, is_us
from epicotyl._value import Value

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    import pandas as pd


class FreezeTableRow(NamedTuple):
    """One threshold of a `FreezeTable`; answers stand in the order of its chances."""

    risk: FreezeRisk
    """What the answers were taken from; its `threshold` is the row's."""
    last: list[FreezeAnswer]
    """Chance of a freeze on that day or later; dates of the latest year of the record."""
    first: list[FreezeAnswer]
    """Chance of a freeze on that day or earlier; dates of the latest year of the record."""
    frost_free: list[FreezeAnswer]
    """Chance of so many frost-free days or more."""


class FreezeTable(Value[_core.FreezeTable]):
    """A sheet of freeze dates: for every threshold and chance the last, the first, and the days.

    ``print(table)`` gives the sheet. Its dates are those of a common year, and where there is no
    day the cell says which none it is, see `FreezeAnswer`. Layout, thresholds and chances are those
    of the freeze/frost probability tables of the U.S. Climate Normals (NOAA, National Centers for
    Environmental Information [ncei2011]), as the sheet says at its end; its days are worked out
    from the record.

    Parameters
    ----------
    record : DailyRecord
        The station.
    thresholds : sequence of float, optional
        A night at or below it is a freeze [°C, or °F by `units`]. None: 2.2, 0, -2.2, -4.4, -6.7
        and -8.9 °C, which are 36, 32, 28, 24, 20 and 16 °F as records kept in tenths of a °C have
        them.
    chances : sequence of float, optional
        Shares of years, 0 to 1. None: 0.1, 0.2 ... 0.9.
    estimator, latitude, halves, comparison, max_gap, years : optional
        As in `FreezeRisk`.
    units : {"metric", "us"}, optional
        Of the thresholds given, and of the sheet: °C and 9 Feb, or °F and Feb 9. Numbers that come
        out are in °C.

    Raises
    ------
    InvalidInput
        As `FreezeRisk` does, and when no threshold or no chance is given.
    TypeError
        When an argument is of the wrong kind.

    Examples
    --------
    >>> table = epicotyl.frost.FreezeTable(record, thresholds=[0.0, -30.0], chances=[0.2, 0.5, 0.8])
    >>> print(table)  # doctest: +ELLIPSIS
    Marlpit: nights at or below a threshold, 2012 – 2023, 12 years, fitted
    <BLANKLINE>
    Last freeze: years in 10 with a freeze on or after the day
                 2 in 10   5 in 10   8 in 10
        0.0 °C    14 Mar     4 Mar    22 Feb
      -30.0 °C      none      none      none
    <BLANKLINE>
    ...
    """

    __slots__ = ("_given", "_units")

    _given: tuple[Any, ...]
    _units: Units

    def __init__(
        self,
        record: DailyRecord,
        *,
        thresholds: Iterable[float] | None = None,
        chances: Iterable[float] | None = None,
        estimator: Estimator = "fitted",
        latitude: float = 45.0,
        halves: Halves | None = None,
        comparison: Comparison = "at_or_below",
        max_gap: int = 3,
        years: _asked.Years = 30,
        units: Units = "metric",
    ) -> None:
        need_record(record, "record")
        limits = (
            _core.customary_thresholds()
            if thresholds is None
            else [celsius(_check.number(one, "thresholds"), units) for one in thresholds]
        )
        shares = _core.customary_chances() if chances is None else chances
        self._restore(
            record,
            tuple(limits),
            tuple(_check.number(one, "chances") for one in shares),
            _check.text(estimator, "estimator"),
            _check.number(latitude, "latitude"),
            *options_of(latitude, halves, comparison, max_gap, years),
            "us" if is_us(units) else "metric",
        )

    @property
    def record(self) -> DailyRecord:
        """The record."""
        record: DailyRecord = self._given[0]
        return record

    @property
    def thresholds(self) -> list[float]:
        """The thresholds [°C], in the order given."""
        return list(self._given[1])

    @property
    def chances(self) -> list[float]:
        """The chances, in the order given."""
        return list(self._given[2])

    @property
    def estimator(self) -> str:
        """How chances are worked out: "fitted" or "empirical"."""
        return str(self._given[3])

    @property
    def rows(self) -> list[FreezeTableRow]:
        """One for each threshold, in the order given."""
        record, thresholds, _, *options = self._given
        return [
            FreezeTableRow(
                risk,
                [risk.last_freeze_answer(chance) for chance in self.chances],
                [risk.first_freeze_answer(chance) for chance in self.chances],
                [risk.frost_free_answer(chance) for chance in self.chances],
            )
            for risk in (
                FreezeRisk._found(held, record, threshold, *options)
                for held, threshold in zip(self._held.risks, thresholds, strict=True)
            )
        ]

    def to_text(self, *, units: Units | None = None) -> str:
        """Write the sheet.

        Parameters
        ----------
        units : {"metric", "us"}, optional
            Of thresholds and dates: °C and 9 Feb, or °F and Feb 9. None: those of the table.

        Returns
        -------
        str
            Lines, the last with its end.

        Raises
        ------
        InvalidInput
            When the units are not known.

        Examples
        --------
        >>> sheet = epicotyl.frost.FreezeTable(record).to_text(units="us")
        >>> [line[:10].strip() for line in sheet.splitlines()[4:10]]
        ['36 °F', '32 °F', '28 °F', '24 °F', '20 °F', '16 °F']
        """
        asked = self._units if units is None else units
        return self._held.to_text("fahrenheit" if is_us(asked) else "celsius")

    def __str__(self) -> str:
        return self.to_text()

    def to_frame(self, *, year: int | None = None) -> pd.DataFrame:
        """Make a table of all answers (needs pandas).

        Parameters
        ----------
        year : int, optional
            Year in which the halves begin that the dates are written in. None: the latest of the
            record.

        Returns
        -------
        pandas.DataFrame
            Columns ``answer`` ("last", "first" or "frost_free"), ``threshold`` [°C], ``chance``,
            ``state``, ``days`` and ``date`` (NaT: none), see `FreezeAnswer`.

        Examples
        --------
        >>> frame = epicotyl.frost.FreezeTable(record, chances=[0.5]).to_frame(year=2027)
        >>> frame.date[frame.threshold == 0.0].iloc[0]
        Timestamp('2027-03-04 00:00:00')
        """
        pd = _check.pandas()
        columns = ["answer", "threshold", "chance", "state", "days", "date"]
        frame = pd.DataFrame(self._cells(year), columns=columns)
        return frame.astype({"days": "float64", "date": "datetime64[s]"})

    def _cells(self, year: int | None) -> Iterator[tuple[Any, ...]]:
        risks = [row.risk for row in self.rows]
        for name in ("last", "first", "frost_free"):
            for risk in risks:
                for chance in self.chances:
                    if name == "last":
                        answer = risk.last_freeze_answer(chance, year=year)
                    elif name == "first":
                        answer = risk.first_freeze_answer(chance, year=year)
                    else:
                        answer = risk.frost_free_answer(chance)
                    yield name, risk.threshold, chance, answer.state, answer.days, answer.date

    def __repr__(self) -> str:
        # The first line of the sheet says station, years and estimator.
        title = str(self).partition("\n")[0]
        return f"<FreezeTable {title}; {len(self.thresholds)} by {len(self.chances)}>"

    def _parts(self) -> tuple[Any, ...]:
        return (*self._given, self._units)

    def _restore(self, *parts: Any) -> None:
        *given, units = parts if isinstance(parts[-1], str) else (*parts, "metric")
        record, thresholds, chances, estimator, _, *options = given
        self._held = _core.FreezeTable(
            record._held, list(thresholds), list(chances), estimator, tuple(options)
        )
        self._given, self._units = tuple(given), units
