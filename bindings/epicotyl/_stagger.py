"""Season: successions whose harvests, not sowings, are evenly spaced."""

from __future__ import annotations

import datetime
from typing import Any

import numpy as np

from epicotyl import _check, _core
from epicotyl._core import EqualGapSowing, HarvestGap, HarvestWeek, LastSowing, StaggeredSowing
from epicotyl._errors import Obstacle
from epicotyl._plan import Plan
from epicotyl._sown import one_day, with_successions
from epicotyl._value import Told, Value
from epicotyl._weather import Climate


class Staggered(Value[_core.Staggered]):
    """Sowings whose harvests are evenly spaced, made by `stagger`.

    ``str(staggered)`` is a table of them.

    Examples
    --------
    >>> staggered
    <Staggered 'lettuce': 6 sowings, 5 of 6 weeks covered>
    >>> staggered.intervals
    [7, 7, 7, 7, 7]
    """

    __slots__ = ("_asked",)

    _asked: tuple[Any, ...]

    _made_by = "Staggered sowings are made by stagger(plan, climate, crop, ...)"

    @property
    def plan(self) -> Plan:
        """The plan that was asked; the sowings are not in it."""
        found: Plan = self._asked[0]
        return found

    @property
    def climate(self) -> Climate:
        """The season years."""
        found: Climate = self._asked[1]
        return found

    crop = Told[str]("Name of the crop.")
    reliability = Told[float](
        "Share of season years that makes a week covered and a sowing useful."
    )
    until = Told[datetime.date | None](
        "Last day of the span; None where it was to end with a frost that does not come."
    )
    sowings = Told[list[StaggeredSowing]]("The sowings, by wanted day.")

    @property
    def sowing_days(self) -> _check.DayArray:
        """Days of the sowings, datetime64[D]."""
        return np.array([one.sowing for one in self.sowings], dtype="datetime64[D]")

    @property
    def usual_days(self) -> _check.DayArray:
        """Their usual first harvests, datetime64[D]."""
        return np.array([one.usual for one in self.sowings], dtype="datetime64[D]")

    left_out = Told[list[Obstacle]](
        "Wanted harvests without a sowing of their own, or why there is no span."
    )
    intervals = Told[list[int]](
        "Days between the usual first harvests of sowings that follow one another."
    )
    last_useful = Told[LastSowing](
        "The latest sowing that is picked in time in enough season years."
    )
    weeks = Told[list[HarvestWeek]]("The weeks of the span.")
    share_covered = Told[float]("Share of the weeks that are covered; 0 without a span.")
    gaps = Told[list[HarvestGap]](
        "Runs of days of the span that are not covered; a covered week can have some."
    )

    @property
    def successions(self) -> list[dict[str, Any]]:
        """The sowings as tables of a plan, each aimed at its wanted first harvest."""
        reliability = self._asked[8]
        own = {} if reliability is None else {"reliability": reliability}
        return [one | own for one in self._held.successions]

    def equal_gaps(self) -> list[EqualGapSowing]:
        """Tell what as many sowings at equal distances would give.

        Returns
        -------
        list of EqualGapSowing
            From the first to the last of `sowings`, to the nearest day.

        Examples
        --------
        >>> equal = staggered.equal_gaps()
        >>> equal[0].sowing == staggered.sowings[0].sowing
        True
        """
        return self._held.equal_gaps()

    def added_to(self, plan: Plan) -> Plan:
        """Make a plan with the sowings after its own successions.

        Parameters
        ----------
        plan : Plan
            With the crop; as a rule the one that was asked.

        Returns
        -------
        Plan
            `schedule` of it sows on the same days.

        Raises
        ------
        InvalidInput
            Where the plan has successions of these names.

        Examples
        --------
        >>> more = staggered.added_to(plan)
        >>> one = staggered.sowings[0]
        >>> epicotyl.schedule(more, climate).date(one.name, "sow") == one.sowing
        True
        """
        return with_successions(plan, self.successions)

    def __repr__(self) -> str:
        count = len(self.sowings)
        weeks = self.weeks
        covered = sum(week.covered for week in weeks)
        return (
            f"<Staggered {self.crop!r}: {count} sowing{'' if count == 1 else 's'}, "
            f"{covered} of {len(weeks)} weeks covered>"
        )

    def _parts(self) -> tuple[Any, ...]:
        return self._asked

    def _restore(self, *parts: Any) -> None:
        plan, climate, *options = parts
        self._asked = parts
        self._held = _core.stagger(plan._held, climate._held, *options)


def stagger(
    plan: Plan,
    climate: Climate,
    crop: str,
    first: _check.Day,
    last: _check.Day | None = None,
    *,
    until_first_frost: float | None = None,
    every: int | None = None,
    count: int | None = None,
    reliability: float | None = None,
    day_length_at_least: float | None = None,
    name: str = "",
    plants: float = 1.0,
) -> Staggered:
    """Find sowings whose harvests, not sowing days, are evenly spaced.

    Each is the latest sowing whose first harvest has begun by its wanted day in half of the season
    years, as in a ``repeat``. Wanted days that one and the same sowing would meet are met once.

    Parameters
    ----------
    plan : Plan
        Gives places, crops, the meaning of frost and the accepted risk; its own successions are
        not looked at.
    climate : Climate
        Season years with the plan's season start, length and latitude.
    crop : str
        Name or id of a crop with a ``first_harvest``.
    first : datetime.date or numpy.datetime64
        First wanted first harvest.
    last : datetime.date or numpy.datetime64, optional
        Last day of the span. Either this or `until_first_frost` is given.
    until_first_frost : float, optional
        The span ends the day before the first frost that comes, with this chance (0 to 1), on or
        before that day.
    every : int, optional
        Days between first harvests. Either this or `count` is given.
    count : int, optional
        Number of harvests, evenly from the first to the last day of the span.
    reliability : float, optional
        Share of season years, 0.5 to 1, that makes a week covered and a sowing useful. None: the
        plan's. It does not move the sowings.
    day_length_at_least : float, optional
        A useful sowing is picked before days are shorter than this [h].
    name : str, optional
        Of the successions, which are numbered; empty: the crop's.
    plants : float, optional
        Of each succession.

    Returns
    -------
    Staggered
        The sowings, the last useful one, the weeks covered and the gaps. What cannot be had is
        told in its `left_out`.

    Raises
    ------
    InvalidInput
        For an unknown crop, days outside the season or in the wrong order, values out of range,
        and what `schedule` refuses.
    TypeError
        When an argument is of the wrong kind, or not exactly one of `last` and
        `until_first_frost` is given.

    Examples
    --------
    >>> found = epicotyl.stagger(
    ...     plan, climate, "lettuce", datetime.date(2027, 5, 24), datetime.date(2027, 7, 4), every=7
    ... )
    >>> found.intervals
    [7, 7, 7, 7, 7]
    >>> np.diff(found.sowing_days).astype(int).tolist()
    [19, 14, 11, 10, 9]
    """
    _check.instance(plan, Plan, "plan")
    _check.instance(climate, Climate, "climate")
    if (last is None) == (until_first_frost is None):
        raise TypeError("stagger() takes one of last and until_first_frost")
    made = Staggered.__new__(Staggered)
    made._restore(
        plan,
        climate,
        _check.text(crop, "crop"),
        one_day(first, "first"),
        None if last is None else one_day(last, "last"),
        _number(until_first_frost, "until_first_frost"),
        None if every is None else _check.whole(every, "every"),
        None if count is None else _check.whole(count, "count"),
        _number(reliability, "reliability"),
        _number(day_length_at_least, "day_length_at_least"),
        _check.text(name, "name"),
        _check.number(plants, "plants"),
    )
    return made


def _number(value: float | None, name: str) -> float | None:
    return None if value is None else _check.number(value, name)
