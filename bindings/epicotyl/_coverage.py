"""Season: the weeks in which a group of successions is in harvest."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from epicotyl import _check, _core
from epicotyl._prospect import Prospect
from epicotyl._result import extends
from epicotyl._yield import HarvestYield


@extends
class HarvestCoverage(_core.HarvestCoverage):
    __slots__ = ()

    @property
    def share_covered(self) -> float:
        """Share of the weeks that are covered; 0 without weeks."""
        return sum(week.covered for week in self.weeks) / len(self.weeks) if self.weeks else 0.0


def coverage(
    prospect: Prospect,
    successions: Sequence[str] | None = None,
    *,
    wave: str | None = None,
    crop: str | None = None,
    first: _check.Day | None = None,
    last: _check.Day | None = None,
    reliability: float | None = None,
    per_week: float | None = None,
    gives: HarvestYield | Mapping[str, HarvestYield] | None = None,
    heat_stops: bool = True,
) -> HarvestCoverage:
    """Count, for each ISO week, the season years in which a group is in harvest.

    Exactly one of `successions`, `wave` and `crop` names the group. Weeks at the ends of the span
    are cut to it, and an amount is wanted of the days that are left.

    Parameters
    ----------
    prospect : Prospect
        What becomes of a calendar.
    successions : sequence of str, optional
        Names or ids.
    wave : str, optional
        All of a wave that are ever harvested.
    crop : str, optional
        All of a crop that are ever harvested, by name or id.
    first, last : datetime.date, optional
        Days of the span. None: from the first to the last day with a harvest in any year.
    reliability : float, optional
        Share of the season years in which a week is to be covered, 0.5 to 1. None: the plan's.
    per_week : float, optional
        Units that each week is to give, more than 0.
    gives : HarvestYield or mapping, optional
        What a plant gives, to be given with `per_week`; by succession, or else by crop, where they
        differ.
    heat_stops : bool, optional
        As in `harvest_spans`.

    Returns
    -------
    HarvestCoverage
        Its weeks and its gaps.

    Raises
    ------
    InvalidInput
        For names that the plan does not have, successions that are never harvested or have no
        yield, days outside the season or reversed, and an amount that is not more than 0.
    TypeError
        When an argument is of the wrong kind, and unless one group is named.

    Examples
    --------
    >>> found = epicotyl.coverage(prospect, crop="lettuce", reliability=0.9)
    >>> found.successions
    ['lettuce 1', 'lettuce 2']
    >>> print(found.gaps[0])
    week of Mon 17 May (week 20): nothing to pick in 6 of 12 years
    """
    _check.instance(prospect, Prospect, "prospect")
    groups = {"names": successions, "wave": wave, "crop": crop}
    named = [kind for kind, names in groups.items() if names is not None]
    if len(named) != 1:
        raise TypeError("coverage() takes exactly one of successions, wave and crop")
    (kind,) = named
    if isinstance(successions, str):
        raise TypeError("successions: a sequence of names is wanted, not a str")
    names = (
        [_check.text(one, "successions") for one in successions]
        if successions is not None
        else [_check.text(groups[kind], kind)]
    )
    if (per_week is None) != (gives is None):
        raise TypeError("coverage() takes per_week and gives together")
    amount = None
    if per_week is not None and gives is not None:
        by_name = {"": gives} if isinstance(gives, HarvestYield) else gives
        for one in by_name.values():
            _check.instance(one, HarvestYield, "gives")
        amount = (
            _check.number(per_week, "per_week"),
            [(_check.text(name, "gives"), one._held) for name, one in by_name.items()],
        )
    return _core.coverage(
        prospect._held,
        kind,
        names,
        first,
        last,
        None if reliability is None else _check.number(reliability, "reliability"),
        amount,
        _check.flag(heat_stops, "heat_stops"),
    )
