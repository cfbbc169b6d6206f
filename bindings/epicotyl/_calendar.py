"""Season: calendars, and why their days are these."""

from __future__ import annotations

import datetime
from typing import TYPE_CHECKING, Any

import numpy as np

from epicotyl import _check, _core
from epicotyl._by_succession import BySuccession
from epicotyl._core import LinkCount, LinkedGroup, SowingClaim, TypedCure
from epicotyl._docs import of_event, of_succession
from epicotyl._errors import Obstacle
from epicotyl._plan import Plan
from epicotyl._value import Told, Value
from epicotyl._weather import Climate

if TYPE_CHECKING:
    import pandas as pd


class Calendar(Value[_core.Calendar], BySuccession[datetime.date | None]):
    """A plan with planned days, made by `schedule`.

    The planned sowing is the latest day from which the target was met in at least the wanted number
    of season years. That is a count on the very record that chose the day, not a forecast.
    Decisions have the day by which they are ready in the wanted share of years, outcomes their
    usual (middle) day. ``str(calendar)`` is a sheet week by week, with the seeds and trays of
    every sowing as `quantities` counts them; ``calendar[succession]`` is the day of every event,
    and going through it gives the names of the successions.

    Examples
    --------
    >>> calendar
    <Calendar 'Marlpit 2027': 2 successions, reliability 0.8>
    >>> calendar.date("lettuce 1", "sow")
    datetime.date(2027, 2, 19)
    >>> list(calendar)
    ['lettuce 1', 'lettuce 2']
    >>> calendar["lettuce 1"]["transplant"]
    datetime.date(2027, 3, 19)
    """

    __slots__ = ("_kept",)

    _kept: tuple[Plan, Climate, float]
    _made_by = "a Calendar is made by schedule(plan, climate)"

    @property
    def plan(self) -> Plan:
        """The plan."""
        return Plan._of(self._held.plan)

    @property
    def climate(self) -> Climate:
        """The climate it was made with."""
        return Climate._of(self._held.climate)

    origin = Told[str](
        'What sets its season years apart from a station\'s: "made from normals"; may be empty.'
    )
    reliability = Told[float]("Share of season years asked of the plan as a whole, 0.5 to 1.")

    @of_event
    def date(self, succession: str, event: str) -> datetime.date | None:
        """Planned day of an event.

        Returns
        -------
        datetime.date or None
            None when the succession is unresolved or the event is not reached.

        Examples
        --------
        >>> calendar.date("lettuce 1", "transplant")
        datetime.date(2027, 3, 19)
        """
        return self._held.date(_check.text(succession, "succession"), _check.text(event, "event"))

    events = Told[list[tuple[str, str]]]("Every event as (succession, event), in plan order.")
    unresolved = Told[list[Obstacle]](
        "Successions without days, each with the reason and the nearest cure, in plan order."
    )

    @of_succession
    def cures(self, succession: str) -> list[TypedCure]:
        """Tell what would give a succession its days, as it is typed into the plan.

        Each cure alone does; that is tried before it is said. A day is the nearest that does.

        Returns
        -------
        list of TypedCure
            At most three. Empty where the succession has days, and where nothing that is tried
            would give it some.

        Examples
        --------
        >>> calendar.cures("lettuce 1")  # it has days
        []
        """
        return self._held.cures(_check.text(succession, "succession"))

    def require(self) -> None:
        """Raise unless every succession has its days.

        Raises
        ------
        Unresolved
            With every obstacle.

        Examples
        --------
        >>> calendar.require()
        """
        self._held.require()

    @of_succession
    def claim(self, succession: str) -> SowingClaim | None:
        """What the planned sowing of a succession claims.

        Returns
        -------
        SowingClaim or None
            None when the succession is unresolved.

        Examples
        --------
        >>> claim = calendar.claim("lettuce 1")
        >>> claim.good >= claim.needed > claim.good_one_day_later
        True
        """
        return self._held.claim(_check.text(succession, "succession"))

    @property
    def claims(self) -> dict[str, SowingClaim | None]:
        """The claim of every succession, by name."""
        return {name: self.claim(name) for name in self.plan.successions}

    groups = Told[list[LinkedGroup]](
        "Linked successions, and how often all of a group are good in the same year."
    )
    within_counts = Told[list[LinkCount]]("Links with a longest wait, and how often it is kept.")

    @property
    def warnings(self) -> list[str]:
        """What a reader of the dates should know.

        Few season years, and a shorter season that would leave more; a latitude that the weather
        contradicts; numbers that are seldom meant, such as °F in a metric plan; crops that seldom
        ripen here; places that are acted on too late, or left too late. Alike ones are one, with a
        count.
        """
        return self._held.warnings

    def to_frame(self) -> pd.DataFrame:
        """Make a table of the planned days (needs pandas).

        Returns
        -------
        pandas.DataFrame
            Columns ``succession``, ``event`` and ``day`` (NaT: none), one line an event, in plan
            order.

        Examples
        --------
        >>> list(calendar.to_frame().columns)
        ['succession', 'event', 'day']
        """
        pd = _check.pandas()
        frame = pd.DataFrame(self.events, columns=["succession", "event"])
        days = [self._held.date(*event) for event in self.events]
        return frame.assign(day=np.array(days, dtype="datetime64[D]"))

    def __repr__(self) -> str:
        plan = self.plan
        count = len(plan.successions)
        missing = sum(self.claim(one) is None for one in {name for name, _ in self.events})
        return (
            f"<Calendar {plan.title!r}: {count} succession{'' if count == 1 else 's'}"
            f"{f' ({missing} unresolved)' if missing else ''}, reliability {self.reliability:g}>"
        )

    def _planned(self) -> Plan:
        return self.plan

    def _each(self, succession: str, event: str) -> datetime.date | None:
        return self.date(succession, event)

    def _parts(self) -> tuple[Any, ...]:
        return (self.plan, self.climate, self.reliability)

    def _restore(self, *parts: Any) -> None:
        self._kept = parts

    def __getattr__(self, name: str) -> _core.Calendar:
        # A pickle has no days: they are found when a calendar from one is first asked anything.
        if name != "_held":
            raise AttributeError(f"'Calendar' object has no attribute {name!r}")
        plan, climate, reliability = self._kept
        self._held = _core.schedule(plan._held, climate._held, reliability)
        return self._held


def schedule(plan: Plan, climate: Climate, *, reliability: float | None = None) -> Calendar:
    """Find planned days for every succession that has workable dates.

    Parameters
    ----------
    plan : Plan
        The plan.
    climate : Climate
        Season years with the plan's season start, length and latitude.
    reliability : float, optional
        Share of season years in which targets are to be met, 0.5 to 1. None: the plan's. A
        succession with its own keeps it.

    Returns
    -------
    Calendar
        A succession without an answer stands in its `unresolved` and does not stop the others.

    Raises
    ------
    InvalidInput
        When plan and climate differ, or the reliability is out of range.
    TypeError
        When an argument is of the wrong kind.

    Examples
    --------
    >>> sure = epicotyl.schedule(plan, climate, reliability=1.0)
    >>> sure.date("lettuce 1", "sow") <= calendar.date("lettuce 1", "sow")
    True
    """
    _check.instance(plan, Plan, "plan")
    _check.instance(climate, Climate, "climate")
    wanted = None if reliability is None else _check.number(reliability, "reliability")
    return Calendar._of(_core.schedule(plan._held, climate._held, wanted))
