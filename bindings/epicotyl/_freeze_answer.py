"""What questions about freezes are answered with."""

from __future__ import annotations

from epicotyl import _check, _core
from epicotyl._result import extends


@extends
class FreezeSample(_core.FreezeSample):
    __slots__ = ()

    @property
    def share(self) -> float:
        """Share of the years that had one, 0 to 1; 0 when no year was used."""
        return len(self.values) / self.years if self.years else 0.0


@extends
class FreezeAnswer(_core.FreezeAnswer):
    __slots__ = ()

    @property
    def is_dated(self) -> bool:
        """True when there is a day, or a number of days."""
        return self.state == "dated"

    @property
    def cautions(self) -> list[str]:
        """What belongs beside a date of frost, a sentence each; ``str`` prints them below it."""
        return _core.cautions("freeze_answer", "metric")

    def __str__(self) -> str:
        return "\n".join([self.text, *(f"caution: {one}" for one in self.cautions)])


@extends
class CountedChance(_core.CountedChance):
    __slots__ = ()

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
    return _core.chance_band(
        _check.whole(counted, "counted"),
        _check.whole(years, "years"),
        _check.number(level, "level"),
    )
