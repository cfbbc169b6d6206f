"""What questions about freezes are answered with."""

from __future__ import annotations

import datetime
from dataclasses import dataclass
from typing import Literal, NamedTuple, TypeAlias

from epicotyl import _check, _core

FreezeState: TypeAlias = Literal["dated", "no_frost", "frost_all_year", "beyond_record"]


class FreezeYear(NamedTuple):
    """The freeze dates of the two halves that begin in one year."""

    year: int
    """The year."""
    last: datetime.date | None
    """Last freeze of the cold-to-warm half; None when there was none."""
    first: datetime.date | None
    """First freeze of the warm-to-cold half; None when there was none."""
    last_known: bool
    """False when the cold-to-warm half is not used: it reaches out of the record, or has a gap."""
    first_known: bool
    """False when the warm-to-cold half is not used."""


class FrostFreeSpan(NamedTuple):
    """The frost-free days that follow the cold-to-warm half of one year."""

    year: int
    """The year in which that half begins."""
    length: int | None
    """Days strictly between the two freezes; None when one of them did not come."""


class FreezeSample(NamedTuple):
    """What chances rest on."""

    years: int
    """Years used."""
    values: tuple[int, ...]
    """Those of them that had a freeze, ascending: days from the half's first day, or lengths."""
    mean: float
    """Of the values [days]; 0 when there is none."""
    sd: float
    """Sample standard deviation [days]; 0 for fewer than two values."""

    @property
    def share(self) -> float:
        """Share of the years that had one, 0 to 1; 0 when no year was used."""
        return len(self.values) / self.years if self.years else 0.0


@dataclass(frozen=True, slots=True)
class FreezeAnswer:
    """A day, or a number of days, or which none it is. ``str(answer)`` is the cell of a table.

    Attributes
    ----------
    state : {"dated", "no_frost", "frost_all_year", "beyond_record"}
        "dated": there is one. "no_frost": too few years have such a night. "frost_all_year": in so
        many years fewer than 30 days lie between the last freeze and the first. "beyond_record":
        the years do not reach so far; 30 years do not speak of 1 in 100.
    days : float or None
        Of a date, days from the first day of its half; of a season, its length [days].
    date : datetime.date or None
        The day in the year asked for; None for a length.
    text : str
        "4 May", "197 days", "none", "all year", "no frost" or "–".
    """

    state: FreezeState
    days: float | None
    date: datetime.date | None
    text: str

    @property
    def is_dated(self) -> bool:
        """True when there is a day, or a number of days."""
        return self.state == "dated"

    def __str__(self) -> str:
        return self.text


class CountedChance(NamedTuple):
    """A chance counted in years, and the band of true chances that go with the count.

    ``str(chance)`` is "3 of 30 years: 10 %, 2 to 27 % (95 % band)".
    """

    counted: int
    """Years that had it."""
    years: int
    """Years looked at."""
    low: float
    """The least true chance that goes with the count, 0 to 1."""
    high: float
    """The greatest, 0 to 1."""
    level: float
    """Confidence of the band."""

    @property
    def share(self) -> float:
        """Counted years as a share of all, 0 to 1."""
        return self.counted / self.years

    def __str__(self) -> str:
        return (
            f"{self.counted} of {self.years} years: {100 * self.share:.0f} %, {100 * self.low:.0f} "
            f"to {100 * self.high:.0f} % ({100 * self.level:g} % band)"
        )


def chance_band(counted: int, years: int, *, level: float = 0.95) -> CountedChance:
    """Tell how far a chance counted in a few years can be trusted.

    Three late frosts in thirty years are "1 year in 10", but thirty years are a sample. The band
    holds the true chances that the count does not speak against: the exact binomial band
    [clopper1934], never too narrow. It supposes that years do not depend on each other and that the
    climate stood still.

    Parameters
    ----------
    counted : int
        Years that had it, 0 to `years`.
    years : int
        Years looked at, 1 or more.
    level : float, optional
        Share of records whose band holds the true chance, 0.5 to 0.9999.

    Returns
    -------
    CountedChance
        The count and its band.

    Raises
    ------
    InvalidInput
        When an argument is out of range.
    TypeError
        When an argument is of the wrong kind.

    Examples
    --------
    >>> print(epicotyl.frost.chance_band(3, 30))
    3 of 30 years: 10 %, 2 to 27 % (95 % band)
    """
    return CountedChance(
        *_core.chance_band(
            _check.whole(counted, "counted"),
            _check.whole(years, "years"),
            _check.number(level, "level"),
        )
    )
