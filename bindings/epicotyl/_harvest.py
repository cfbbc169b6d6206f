"""Season: harvests, and what ends them."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from typing import Literal, TypeAlias, cast

import numpy as np
import numpy.typing as npt

from epicotyl import _check, _core
from epicotyl._prospect import Prospect

HarvestEnd: TypeAlias = Literal["frost", "clock", "heat", "season"]


@dataclass(frozen=True, slots=True, eq=False)
class HarvestSpans:
    """From when to when a succession is picked, year by year, and what ended it.

    Attributes
    ----------
    succession : str
        Its name.
    years : list of int
        Season years, ascending.
    begin : numpy.ndarray of datetime64[D], shape (years,)
        First day of picking, on the plan's dates; NaT: no harvest in the season.
    end : numpy.ndarray of datetime64[D], shape (years,)
        First day without; NaT as above.
    ended_by : list of str or None
        ``"frost"``, ``"clock"``, ``"heat"`` or ``"season"``; None: no harvest.
    """

    succession: str
    years: list[int]
    begin: _check.DayArray
    end: _check.DayArray
    ended_by: list[HarvestEnd | None]

    @property
    def days(self) -> npt.NDArray[np.int64]:
        """Days of picking in each year, shape (years,); 0 where there is no harvest."""
        lengths = self.end - self.begin
        return np.where(np.isnat(lengths), np.timedelta64(0, "D"), lengths).astype(np.int64)

    @property
    def counts(self) -> dict[HarvestEnd | None, int]:
        """Season years by what ended the harvest; None counts those without one."""
        return dict(Counter(self.ended_by))

    def __repr__(self) -> str:
        had = sum(one is not None for one in self.ended_by)
        return f"<HarvestSpans {self.succession!r}: {had} of {len(self.years)} years>"


def harvest_spans(prospect: Prospect, succession: str, *, heat_stops: bool = True) -> HarvestSpans:
    """From when to when a succession is picked in every season year, and what ends it.

    A harvest ends with its clock, with the first night after it began at or below the limit of its
    stage ("frost"), with the first day after it began at or above that stage's ``too_hot``
    ("heat"), or with the season. Clock and frost are those that give the day of ``clear``; heat
    ends the picking only, and moves no day of calendar or prospect.

    Parameters
    ----------
    prospect : Prospect
        What becomes of a calendar.
    succession : str
        Name or id.
    heat_stops : bool, optional
        False: harvests run to ``clear`` whatever the heat, as `stagger` and the target
        ``in_harvest`` count them.

    Returns
    -------
    HarvestSpans
        One harvest a season year.

    Raises
    ------
    InvalidInput
        For a succession that the plan does not have, or one that is never harvested.
    TypeError
        When an argument is of the wrong kind.

    Examples
    --------
    >>> picked = epicotyl.harvest.harvest_spans(prospect, "lettuce 1")
    >>> picked.days.tolist() == [10] * 12, picked.counts
    (True, {'clock': 12})
    """
    _check.instance(prospect, Prospect, "prospect")
    name = _check.text(succession, "succession")
    begin, end, ended_by = _core.harvest_spans(
        prospect._held, name, _check.flag(heat_stops, "heat_stops")
    )
    ends = cast("list[HarvestEnd | None]", ended_by)
    return HarvestSpans(name, prospect.years, begin, end, ends)
