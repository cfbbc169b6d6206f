"""Season: the fewest sowings for the days that matter."""

from __future__ import annotations

from typing import Any

from epicotyl import _check, _core
from epicotyl._errors import Obstacle
from epicotyl._plan import Plan
from epicotyl._sown import one_day, with_successions
from epicotyl._value import Told, Value
from epicotyl._weather import Climate


class CoveringSowings(Value[_core.CoveringSowings]):
    """Sowings that together are in harvest on the wanted days, made by `fewest_sowings`.

    ``str(found)`` says them, the years they serve, and what fewer would.

    Examples
    --------
    >>> covering
    <CoveringSowings 'lettuce': 2 sowings, good in 12 of 12 years>
    >>> covering.most_good
    [9, 12]
    """

    __slots__ = ("_asked",)

    _asked: tuple[Any, ...]

    _made_by = "CoveringSowings are made by fewest_sowings(plan, climate, crop, ...)"

    crop = Told[str]("Name of the crop.")
    sowings = Told[_check.DayArray](
        "The days, datetime64[D], ascending; empty where `none` says why."
    )
    years = Told[int]("Season years.")
    needed = Told[int]("Season years that the chance asks for.")
    good = Told[int]("Season years in which one of the sowings serves.")
    most_good = Told[list[int]](
        "The most years that one sowing can serve, that two can, ...: all but the last too few."
    )
    served = Told[list[list[int]]](
        "Season years that each sowing serves; a year may be served twice."
    )
    missed = Told[list[int]]("Season years that none serves; empty where there are no sowings.")
    none = Told[Obstacle | None]("Why no number of sowings is enough.")
    successions = Told[list[dict[str, Any]]](
        "The sowings as tables of a plan, of one plant each, aimed at their sowing days."
    )

    def added_to(self, plan: Plan) -> Plan:
        """Make a plan with the sowings after its own successions.

        Parameters
        ----------
        plan : Plan
            With the crop; as a rule the one that was asked.

        Returns
        -------
        Plan
            With one plant of each; change its tables for more.

        Raises
        ------
        InvalidInput
            Where the plan has successions of these names.

        Examples
        --------
        >>> covering.added_to(plan).successions
        ['lettuce 1', 'lettuce 2', 'lettuce 3', 'lettuce 4']
        """
        return with_successions(plan, self.successions)

    def __repr__(self) -> str:
        count = len(self.sowings)
        return (
            f"<CoveringSowings {self.crop!r}: {count} sowing{'' if count == 1 else 's'}, "
            f"good in {self.good if count else 0} of {self.years} years>"
        )

    def _parts(self) -> tuple[Any, ...]:
        return self._asked

    def _restore(self, *parts: Any) -> None:
        plan, climate, *asked = parts
        self._asked = parts
        self._held = _core.fewest_sowings(plan._held, climate._held, *asked)


def fewest_sowings(
    plan: Plan,
    climate: Climate,
    crop: str,
    start: _check.Day,
    until: _check.Day | None = None,
    *,
    chance: float,
) -> CoveringSowings:
    """Find the fewest sowings of which one is in harvest on the days that matter.

    A sowing serves a season year when its first harvest comes on or before `start` and its
    clearing after `until`. The answer is exact: one sowing fewer is not enough on this record.

    Parameters
    ----------
    plan : Plan
        Gives places, crops, the meaning of frost and the accepted risk; its own successions are
        not looked at.
    climate : Climate
        Season years with the plan's season start, length and latitude.
    crop : str
        Name or id of a crop with a ``first_harvest``.
    start : datetime.date or numpy.datetime64
        First wanted day.
    until : datetime.date or numpy.datetime64, optional
        Last wanted day. None: `start`.
    chance : float
        Share of the season years in which at least one sowing is to serve, 0 to 1.

    Returns
    -------
    CoveringSowings
        The sowings, or why no number of them is enough.

    Raises
    ------
    InvalidInput
        For an unknown crop, days outside the season or in the wrong order, a chance out of range,
        and what `schedule` refuses.
    TypeError
        When an argument is of the wrong kind.

    Examples
    --------
    >>> found = epicotyl.harvest.fewest_sowings(
    ...     plan, climate, "lettuce", datetime.date(2027, 6, 12), chance=0.95
    ... )
    >>> found.good >= found.needed
    True
    """
    _check.instance(plan, Plan, "plan")
    _check.instance(climate, Climate, "climate")
    from_day = one_day(start, "start")
    made = CoveringSowings.__new__(CoveringSowings)
    made._restore(
        plan,
        climate,
        _check.text(crop, "crop"),
        from_day,
        from_day if until is None else one_day(until, "until"),
        _check.number(chance, "chance"),
    )
    return made
