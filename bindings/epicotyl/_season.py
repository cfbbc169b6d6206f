"""Season: calendars, prospects, and the reasons behind their days."""

from __future__ import annotations

import datetime
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, NamedTuple, TypeAlias

import numpy as np
import numpy.typing as npt

from epicotyl import _check, _core
from epicotyl._errors import Obstacle
from epicotyl._plan import Plan
from epicotyl._value import Value
from epicotyl._weather import Climate

if TYPE_CHECKING:
    import pandas as pd

ReasonValue: TypeAlias = int | float | datetime.date | str


def _years(count: int, years: int) -> str:
    return f"{count} of {years} years"


@dataclass(frozen=True, slots=True)
class Reason:
    """Why a day is that day: one link of the chain that `explain` gives.

    Attributes
    ----------
    succession, event : str
        Whose day it is about, and which of its events.
    code : str
        Stable code, such as ``"bound.risk"``.
    values : dict
        Named numbers, days and names; temperatures in °C.
    sentence : str
        The reason in words, in the units of the plan. `str` gives it.
    """

    succession: str
    event: str
    code: str
    values: dict[str, ReasonValue] = field(hash=False)
    sentence: str

    def __str__(self) -> str:
        return self.sentence


@dataclass(frozen=True, slots=True)
class SowingClaim:
    """What a planned sowing claims, counted on the season years of the record.

    Attributes
    ----------
    years : int
        Season years.
    needed : int
        Years that the reliability asks for.
    good : int
        Years in which the target and its bounds are met.
    link_days_kept : int
        Years whose links allow the planned sowing.
    good_one_day_later : int
        The count that breaks when the sowing is a day later; the succession's own where none does.
    broken : str
        The succession whose count breaks; empty when none does.
    broken_claim : str
        ``"target"`` or ``"links"``; empty where none does.
    """

    years: int
    needed: int
    good: int
    link_days_kept: int
    good_one_day_later: int
    broken: str
    broken_claim: str


@dataclass(frozen=True, slots=True)
class LinkedGroup:
    """Successions that wait for one another, and how often all of them are good together.

    Attributes
    ----------
    successions : list of str
        Their names.
    good : int
        Season years in which every one is good.
    years : int
        Season years.
    """

    successions: list[str] = field(hash=False)
    good: int
    years: int


@dataclass(frozen=True, slots=True)
class LinkCount:
    """A link with a longest wait, and how often it is kept.

    Attributes
    ----------
    first, then : str
        The two ends, such as ``"peas 1: clear"``.
    within : float
        Longest wait [days].
    kept : int
        Season years in which it is kept.
    years : int
        Season years.
    """

    first: str
    then: str
    within: float
    kept: int
    years: int


@dataclass(frozen=True, slots=True, eq=False)
class DamageReport:
    """Cold (or heat) that hurts, counted over season years.

    Attributes
    ----------
    years : int
        Season years.
    damaged : int
        Years with at least one such night (day).
    first : numpy.ndarray of datetime64[D], shape (years,)
        First one of each year, on the plan's dates; NaT where there is none.
    margin : numpy.ndarray of float, shape (years,)
        Closest approach of each year [K]; 0 or below is damage. NaN where no stage with a limit was
        reached.
    damaged_heater_off, damaged_cover_off : int
        Years, had the heaters been off on those nights; had nothing been done on cold nights.
    """

    years: int
    damaged: int
    first: _check.DayArray
    margin: _check.FloatArray
    damaged_heater_off: int
    damaged_cover_off: int

    @property
    def share(self) -> float:
        """Share of season years with damage, 0 to 1."""
        return self.damaged / self.years

    def __repr__(self) -> str:
        return f"<DamageReport {_years(self.damaged, self.years)}>"


@dataclass(frozen=True, slots=True, eq=False)
class OverheldReport:
    """Plants that waited longer than their `hold` (root-bound risk).

    Attributes
    ----------
    years : int
        Season years.
    overheld : int
        Years in which any stage was held too long.
    longest : numpy.ndarray of int, shape (years,)
        Most days over the hold in each year; 0: none.
    """

    years: int
    overheld: int
    longest: npt.NDArray[np.intc]

    @property
    def share(self) -> float:
        """Share of season years, 0 to 1."""
        return self.overheld / self.years

    def __repr__(self) -> str:
        return f"<OverheldReport {_years(self.overheld, self.years)}>"


class Calendar(Value[_core.Calendar]):
    """A plan with planned days, made by `schedule`.

    The planned sowing is the latest day from which the target was met in at least the wanted number
    of season years. That is a count on the very record that chose the day, not a forecast.
    Decisions have the day by which they are ready in the wanted share of years, outcomes their
    usual (middle) day. ``str(calendar)`` is a sheet week by week.

    Examples
    --------
    >>> calendar
    <Calendar 'Marlpit 2027': 2 successions, reliability 0.8>
    >>> calendar.date("lettuce 1", "sow")
    datetime.date(2027, 2, 19)
    """

    __slots__ = ()

    def __init__(self) -> None:
        raise TypeError("a Calendar is made by schedule(plan, climate)")

    @property
    def plan(self) -> Plan:
        """The plan."""
        return Plan._of(self._held.plan)

    @property
    def climate(self) -> Climate:
        """The climate it was made with."""
        return Climate._of(self._held.climate)

    @property
    def origin(self) -> str:
        """What sets its season years apart from a station's: "made from normals"; may be empty."""
        return self._held.origin

    @property
    def reliability(self) -> float:
        """Share of season years asked of the plan as a whole, 0.5 to 1."""
        return self._held.reliability

    def date(self, succession: str, event: str) -> datetime.date | None:
        """Planned day of an event.

        Parameters
        ----------
        succession : str
            Name or id.
        event : str
            One of its events.

        Returns
        -------
        datetime.date or None
            None when the succession is unresolved or the event is not reached.

        Raises
        ------
        InvalidInput
            For a succession or event that the plan does not have.

        Examples
        --------
        >>> calendar.date("lettuce 1", "transplant")
        datetime.date(2027, 3, 19)
        """
        return self._held.date(_check.text(succession, "succession"), _check.text(event, "event"))

    @property
    def events(self) -> list[tuple[str, str]]:
        """Every event as (succession, event), in plan order."""
        return self._held.events

    @property
    def unresolved(self) -> list[Obstacle]:
        """Successions without days, each with the reason and the nearest cure, in plan order."""
        return [Obstacle(*one) for one in self._held.unresolved]

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

    def claim(self, succession: str) -> SowingClaim | None:
        """What the planned sowing of a succession claims.

        Parameters
        ----------
        succession : str
            Name or id.

        Returns
        -------
        SowingClaim or None
            None when the succession is unresolved.

        Raises
        ------
        InvalidInput
            For a succession that the plan does not have.

        Examples
        --------
        >>> claim = calendar.claim("lettuce 1")
        >>> claim.good >= claim.needed > claim.good_one_day_later
        True
        """
        found = self._held.claim(_check.text(succession, "succession"))
        return None if found is None else SowingClaim(*found)

    @property
    def claims(self) -> dict[str, SowingClaim | None]:
        """The claim of every succession, by name."""
        return {name: self.claim(name) for name in self.plan.successions}

    @property
    def groups(self) -> list[LinkedGroup]:
        """Linked successions, and how often all of a group are good in the same year."""
        return [LinkedGroup(*one) for one in self._held.groups]

    @property
    def within_counts(self) -> list[LinkCount]:
        """Links with a longest wait, and how often it is kept."""
        return [LinkCount(*one) for one in self._held.within_counts]

    @property
    def warnings(self) -> list[str]:
        """What a reader of the dates should know."""
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
        try:
            import pandas as pd
        except ImportError as missing:
            raise ImportError(
                "to_frame() needs pandas: pip install 'epicotyl[pandas]'"
            ) from missing
        frame = pd.DataFrame(self.events, columns=["succession", "event"])
        days = [self._held.date(*event) for event in self.events]
        return frame.assign(day=np.array(days, dtype="datetime64[D]"))

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, Calendar):
            return NotImplemented
        return self._parts() == other._parts()

    def __hash__(self) -> int:
        return hash(self._parts())

    def __repr__(self) -> str:
        plan = self.plan
        count = len(plan.successions)
        missing = len({one.succession for one in self.unresolved})
        return (
            f"<Calendar {plan.title!r}: {count} succession{'' if count == 1 else 's'}"
            f"{f' ({missing} unresolved)' if missing else ''}, reliability {self.reliability:g}>"
        )

    def _parts(self) -> tuple[Any, ...]:
        return (self.plan, self.climate, self.reliability)

    def _restore(self, *parts: Any) -> None:
        plan, climate, reliability = parts
        self._held = _core.schedule(plan._held, climate._held, reliability)


class Prospect(Value[_core.Prospect]):
    """What becomes of a calendar in every season year, made by `simulate`.

    ``str(prospect)`` gives a few lines a succession: its days, early, usual and late harvest,
    damage, nights to act, and why.

    Examples
    --------
    >>> prospect
    <Prospect 'Marlpit 2027': 8 events in 12 season years>
    """

    __slots__ = ()

    def __init__(self) -> None:
        raise TypeError("a Prospect is made by simulate(calendar, climate)")

    @property
    def calendar(self) -> Calendar:
        """The calendar."""
        return Calendar._of(self._held.calendar)

    @property
    def climate(self) -> Climate:
        """The climate whose season years were gone through."""
        return Climate._of(self._held.climate)

    @property
    def origin(self) -> str:
        """What sets these years apart from a station's: "made from normals"; may be empty."""
        return self._held.origin

    @property
    def years(self) -> list[int]:
        """The season years, ascending."""
        return self._held.years

    @property
    def events(self) -> list[tuple[str, str]]:
        """Every event as (succession, event), in plan order: the rows of `days_all`."""
        return self._held.events

    @property
    def days_all(self) -> _check.DayArray:
        """Days on the plan's own dates, datetime64[D], shape (events, years); NaT is never."""
        return self._held.days_all

    def days(self, succession: str, event: str) -> _check.DayArray:
        """Days of one event, one a season year, on the plan's own dates.

        Parameters
        ----------
        succession : str
            Name or id.
        event : str
            One of its events.

        Returns
        -------
        numpy.ndarray of datetime64[D], shape (years,)
            NaT where the event is not reached.

        Raises
        ------
        InvalidInput
            For a succession or event that the plan does not have.

        Examples
        --------
        >>> prospect.days("lettuce 1", "first_harvest").shape
        (12,)
        """
        return self._held.days(_check.text(succession, "succession"), _check.text(event, "event"))

    def quantile(self, succession: str, event: str, q: float) -> datetime.date | None:
        """Day by which an event comes in a share of the season years, without averaging.

        Parameters
        ----------
        succession : str
            Name or id.
        event : str
            One of its events.
        q : float
            Share of n years, 0 to 1; the k-th smallest day is given, k = max(1, ceil(q n)).

        Returns
        -------
        datetime.date or None
            None when the k-th smallest is never.

        Raises
        ------
        InvalidInput
            For an unknown name, or a share out of range.

        Examples
        --------
        >>> prospect.quantile("lettuce 1", "first_harvest", 0.5)
        datetime.date(2027, 5, 23)
        """
        return self._held.quantile(
            _check.text(succession, "succession"),
            _check.text(event, "event"),
            _check.number(q, "q"),
        )

    def chance_by(self, succession: str, event: str, date: _check.Day) -> float:
        """Share of season years in which an event comes on a day or before.

        Parameters
        ----------
        succession : str
            Name or id.
        event : str
            One of its events.
        date : datetime.date or numpy.datetime64
            The day.

        Returns
        -------
        float
            0 to 1.

        Raises
        ------
        InvalidInput
            For a succession or event that the plan does not have.

        Examples
        --------
        >>> prospect.chance_by("lettuce 1", "first_harvest", datetime.date(2027, 7, 1))
        1.0
        """
        return self._held.chance_by(
            _check.text(succession, "succession"), _check.text(event, "event"), date
        )

    def damage(self, succession: str, event: str | None = None) -> DamageReport:
        """Nights at or below the limit of the stage that stands there.

        Parameters
        ----------
        succession : str
            Name or id.
        event : str, optional
            The stage that this event begins. None: all stages.

        Returns
        -------
        DamageReport
            Counted over season years.

        Raises
        ------
        InvalidInput
            For a succession or event that the plan does not have.

        Examples
        --------
        >>> prospect.damage("lettuce 1")
        <DamageReport 0 of 12 years>
        """
        return DamageReport(*self._held.damage(*_stage(succession, event)))

    def too_hot(self, succession: str, event: str | None = None) -> DamageReport:
        """Days whose maximum is at or above the ``too_hot`` of the stage that stands there.

        Parameters
        ----------
        succession : str
            Name or id.
        event : str, optional
            The stage that this event begins. None: all stages.

        Returns
        -------
        DamageReport
            Counted over season years; its margin is the limit less the highest maximum.

        Raises
        ------
        InvalidInput
            For a succession or event that the plan does not have.

        Examples
        --------
        >>> prospect.too_hot("lettuce 1", "transplant").share
        0.0
        """
        return DamageReport(*self._held.too_hot(*_stage(succession, event)))

    def overheld(self, succession: str) -> OverheldReport:
        """Stages held longer than their ``hold``.

        Parameters
        ----------
        succession : str
            Name or id.

        Returns
        -------
        OverheldReport
            Counted over season years.

        Raises
        ------
        InvalidInput
            For a succession that the plan does not have.

        Examples
        --------
        >>> prospect.overheld("lettuce 1")
        <OverheldReport 0 of 12 years>
        """
        return OverheldReport(*self._held.overheld(_check.text(succession, "succession")))

    def nights_to_act(
        self, place: str | None = None, succession: str | None = None
    ) -> npt.NDArray[np.intc]:
        """Nights on which something is to be done against the cold, each season year.

        One night in one place counts once, however many successions it is for.

        Parameters
        ----------
        place : str, optional
            Name or id. None: in all places.
        succession : str, optional
            Name or id. None: for all of them.

        Returns
        -------
        numpy.ndarray of int, shape (years,)
            Nights.

        Raises
        ------
        InvalidInput
            For a place or succession that the plan does not have.

        Examples
        --------
        >>> int(prospect.nights_to_act("bench").max())
        0
        """
        return self._held.nights_to_act(
            None if place is None else _check.text(place, "place"),
            None if succession is None else _check.text(succession, "succession"),
        )

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, Prospect):
            return NotImplemented
        return self._parts() == other._parts()

    def __hash__(self) -> int:
        return hash(self._parts())

    def __repr__(self) -> str:
        return (
            f"<Prospect {self.calendar.plan.title!r}: {len(self.events)} events in "
            f"{len(self.years)} season years>"
        )

    def _parts(self) -> tuple[Any, ...]:
        calendar, climate = self.calendar, self.climate
        # Mostly the climate is the calendar's own, and need not be said twice.
        return (calendar, None if climate == calendar.climate else climate)

    def _restore(self, *parts: Any) -> None:
        calendar, climate = parts
        under = calendar.climate if climate is None else climate
        self._held = _core.simulate(calendar._held, under._held, 0)


class Season(NamedTuple):
    """A plan with everything that follows from it, made by `open_season`."""

    plan: Plan
    """The plan."""
    climate: Climate
    """Its season years."""
    calendar: Calendar
    """Its planned days."""
    prospect: Prospect
    """What becomes of them in every season year."""


def schedule(plan: Plan, climate: Climate, *, reliability: float | None = None) -> Calendar:
    """Find planned days for every succession that can be resolved.

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
    _need(plan, Plan, "plan")
    _need(climate, Climate, "climate")
    wanted = None if reliability is None else _check.number(reliability, "reliability")
    return Calendar._of(_core.schedule(plan._held, climate._held, wanted))


def simulate(calendar: Calendar, climate: Climate, *, threads: int = 0) -> Prospect:
    """Go through every season year of a climate with the planned days of a calendar.

    Parameters
    ----------
    calendar : Calendar
        Its sowings, the days of decisions aimed at, and its bounds are kept, also under another
        climate than its own.
    climate : Climate
        Season years with the plan's season start, length and latitude.
    threads : int, optional
        0: as many as the machine has. The result does not depend on it.

    Returns
    -------
    Prospect
        The day of every event in every season year.

    Raises
    ------
    InvalidInput
        When plan and climate differ, or threads is negative.
    TypeError
        When an argument is of the wrong kind.

    Examples
    --------
    >>> epicotyl.simulate(calendar, climate, threads=2) == prospect
    True
    """
    _need(calendar, Calendar, "calendar")
    _need(climate, Climate, "climate")
    if _check.whole(threads, "threads") < 0:
        _core.refuse(
            code="threads.negative",
            field="threads",
            value=str(threads),
            bound="0 or more",
            problem=f"{threads} is negative",
            remedy="give 0 for as many as the machine has",
        )
    return Prospect._of(_core.simulate(calendar._held, climate._held, int(threads)))


def explain(calendar: Calendar, succession: str, event: str) -> list[Reason]:
    """Say why an event is planned for its day, or why it has none.

    Parameters
    ----------
    calendar : Calendar
        The calendar.
    succession : str
        Name or id.
    event : str
        One of its events.

    Returns
    -------
    list of Reason
        The first binds the day asked about; those that follow lead back from it.

    Raises
    ------
    InvalidInput
        For a succession or event that the plan does not have.

    Examples
    --------
    >>> epicotyl.explain(calendar, "lettuce 1", "sow")[0].code
    'sow.latest'
    """
    _need(calendar, Calendar, "calendar")
    found = _core.explain(
        calendar._held, _check.text(succession, "succession"), _check.text(event, "event")
    )
    return [Reason(*one) for one in found]


def open_season(
    path: _check.Path,
    *,
    reliability: float | None = None,
    weather: _check.Path | None = None,
    latitude: float | None = None,
    station: str | None = None,
    whole_fahrenheit: bool | None = None,
) -> Season:
    """Read a plan file and its weather, and plan the season, in one call.

    Parameters
    ----------
    path : str or path
        The plan file. Its weather file is sought from the folder of the plan; one that ends in
        ".dly", or begins as GHCN-Daily by year does, is read as GHCN-Daily, any other as a table of
        days. Each may be compressed by gzip. A plan without one is planned with season years made
        from its normals, and says so in `origin`.
    reliability : float, optional
        Replaces the plan's, 0.5 to 1.
    weather : str or path, optional
        Replaces the plan's weather file; a relative path starts at the working folder.
    latitude : float, optional
        Replaces the plan's [degrees north]; the season start stays the plan's.
    station : str, optional
        The station to read of a GHCN-Daily file that holds several. None: the plan's, for the
        plan's own file.
    whole_fahrenheit : bool, optional
        Take values of a GHCN-Daily file, which are tenths of °C, back to the whole °F that they
        were written in: 28 °F is filed as -2.2 °C, and a limit of 28 °F (-2.22 °C) misses it. What
        comes from no whole °F stays as filed and is counted in `origin`. None: as the plan says,
        for the plan's own file.

    Returns
    -------
    Season
        A named tuple of plan, climate, calendar and prospect.

    Raises
    ------
    InvalidInput
        With file, line and field: what `read_plan`, `read_ghcn_daily` and `read_daily_csv` refuse,
        a plan with neither weather file nor normals when no file is given, a station or
        whole_fahrenheit where no GHCN-Daily file is read, a record that holds no season year.
    TypeError
        When an argument is of the wrong kind.

    Examples
    --------
    >>> season = epicotyl.open_season("marlpit.toml")
    >>> season.calendar.date("lettuce 1", "sow") == calendar.date("lettuce 1", "sow")
    True
    """
    found = _core.open_season(
        _check.path(path, "path"),
        None if reliability is None else _check.number(reliability, "reliability"),
        None if weather is None else _check.path(weather, "weather"),
        None if latitude is None else _check.number(latitude, "latitude"),
        None if station is None else _check.text(station, "station"),
        None if whole_fahrenheit is None else _check.flag(whole_fahrenheit, "whole_fahrenheit"),
    )
    plan, climate, calendar, prospect = found
    return Season(
        Plan._of(plan), Climate._of(climate), Calendar._of(calendar), Prospect._of(prospect)
    )


def climate_from_normals(plan: Plan) -> Climate:
    """Make season years from a plan's monthly normals.

    The years are drawn from a model of the twelve mean lows and highs of ``[site]``. What normals
    do not say, how far days stray from the mean and how long a cold spell lasts, is that of New
    York Central Park, 1991 to 2020 (GHCN-Daily USW00094728). The years did not happen, and are
    numbered 1, 2, 3 and so on.

    Parameters
    ----------
    plan : Plan
        With ``monthly_low`` and ``monthly_high``, and ``normal_years`` (30) and ``normal_seed`` (1)
        where it gives them.

    Returns
    -------
    Climate
        For this plan; its `year_note` ends in "made from normals".

    Raises
    ------
    InvalidInput
        When the plan has no normals, or chooses years of a weather file.
    TypeError
        When the plan is no Plan.

    Examples
    --------
    >>> tables = plan.to_dict()
    >>> tables["site"]["monthly_low"] = [1, 1, 2, 4, 7, 10, 12, 12, 10, 7, 4, 2]
    >>> tables["site"]["monthly_high"] = [7, 8, 10, 13, 17, 20, 22, 22, 19, 15, 10, 8]
    >>> epicotyl.climate_from_normals(epicotyl.plan(tables)).year_note
    '30 season years, 1 – 30; none left out; made from normals'
    """
    _need(plan, Plan, "plan")
    return Climate._of(_core.climate_from_normals(plan._held))


def _need(value: object, kind: type, name: str) -> None:
    if not isinstance(value, kind):
        raise TypeError(f"{name}: a {kind.__name__} is wanted, not {type(value).__name__}")


def _stage(succession: str, event: str | None) -> tuple[str, str | None]:
    return (
        _check.text(succession, "succession"),
        None if event is None else _check.text(event, "event"),
    )
