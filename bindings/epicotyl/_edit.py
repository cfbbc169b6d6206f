"""Edits: plans like another but for one thing."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Self, TypeAlias

from epicotyl import _check, _core
from epicotyl._value import Value

#: A value of a plan file: what `plan` takes in its tables. None leaves a key out.
Written: TypeAlias = Any

_OfKeys: TypeAlias = Callable[[_core.Plan, str, dict[str, Any], list[str]], _core.Plan]


def _parted(keys: dict[str, Written]) -> tuple[dict[str, Written], list[str]]:
    """Keys with a value, and those that are to be left out."""
    return (
        {key: value for key, value in keys.items() if value is not None},
        [key for key, value in keys.items() if value is None],
    )


def _renamed(keys: dict[str, Written], name: str, key: str) -> dict[str, Written]:
    """Keys with one that Python reserves under its name in plan files."""
    if name not in keys:
        return keys
    if key in keys:
        raise TypeError(f"{name} and {key} are the same key; give one of them")
    return {(key if one == name else one): value for one, value in keys.items()}


class PlanEdits(Value[_core.Plan]):
    """What a `Plan` can be asked for: the same plan with one change."""

    __slots__ = ()

    def _by_keys(self, edit: _OfKeys, name: object, what: str, keys: dict[str, Written]) -> Self:
        return self._of(edit(self._held, _check.text(name, what), *_parted(keys)))

    # --- the whole plan ---

    def with_reliability(self, share: float | None, *, succession: str | None = None) -> Self:
        """The plan with another reliability.

        Parameters
        ----------
        share : float or None
            Share of season years in which targets are to be met, 0.5 to 1. None, for one
            succession: the plan's.
        succession : str, optional
            The one that gets a reliability of its own; by default those get it that have none.

        Returns
        -------
        Plan
            A new plan; this one stays as it is.

        Raises
        ------
        InvalidInput
            For a share out of range, and for a succession that the plan does not have.

        Examples
        --------
        >>> plan.with_reliability(0.9).reliability
        0.9
        >>> surer = plan.with_reliability(0.95, succession="lettuce 1")
        """
        if succession is not None:
            keys = {"reliability": share}
            return self._by_keys(_core.with_succession_keys, succession, "succession", keys)
        return self._of(_core.with_reliability(self._held, _check.number(share, "share")))

    def with_risk(self, share: float | bool | None, *, succession: str | None = None) -> Self:
        """The plan with another risk of cold nights, from which default bounds come.

        Parameters
        ----------
        share : float or False or None
            Largest share of season years with such a night, 0 to 1; False: no default bounds.
            None, for one succession: the crop's, else the plan's.
        succession : str, optional
            The one that gets a risk of its own; by default those get it that have none, by
            themselves or by their crop.

        Returns
        -------
        Plan
            A new plan; this one stays as it is.

        Raises
        ------
        InvalidInput
            For a share out of range, and for a succession that the plan does not have.

        Examples
        --------
        >>> plan.with_risk(0.05).to_dict()["defaults"]["risk"]
        0.05
        """
        if succession is not None:
            keys = {"risk": share}
            return self._by_keys(_core.with_succession_keys, succession, "succession", keys)
        share = None if share is False else _check.number(share, "share")
        return self._of(_core.with_risk(self._held, share))

    def with_season(self, *, start: _check.Day | None = None, days: int | None = None) -> Self:
        """The plan in another season. A climate for it must be cut anew.

        Parameters
        ----------
        start : day, optional
            First day of the season; by default as it is.
        days : int, optional
            Days of the season, 1 to 1500; by default as they are.

        Returns
        -------
        Plan
            A new plan; this one stays as it is.

        Raises
        ------
        InvalidInput
            For days out of range, and for a date of the plan that lies outside such a season.

        Examples
        --------
        >>> plan.with_season(start=datetime.date(2026, 11, 1), days=450).season_days
        450
        """
        length = None if days is None else _check.whole(days, "days")
        return self._of(_core.with_season(self._held, start, length))

    # --- successions ---

    def with_succession(self, succession: str, /, **keys: Written) -> Self:
        """The plan with other keys of one succession.

        Parameters
        ----------
        succession : str
            Its name or id; of a repeat the name that all its members begin with.
        **keys
            Keys of ``[[succession]]`` in a plan file with new values, in the plan's units. None
            leaves a key out; what is not named stays. Of plants, trays and bed the one that is
            given takes the place of another.

        Returns
        -------
        Plan
            A new plan; this one stays as it is.

        Raises
        ------
        InvalidInput
            For names and keys that are not known (with the nearest), and for values that a plan
            file could not have either.

        Examples
        --------
        >>> larger = plan.with_succession("lettuce 1", plants=140, wave="spring")
        >>> larger.to_dict()["succession"][0]["plants"]
        140
        """
        return self._by_keys(_core.with_succession_keys, succession, "succession", keys)

    def with_added_succession(self, **keys: Written) -> Self:
        """The plan with one more succession, after all others.

        Parameters
        ----------
        **keys
            Keys of ``[[succession]]`` in a plan file, in the plan's units.

        Returns
        -------
        Plan
            A new plan; this one stays as it is.

        Raises
        ------
        InvalidInput
            For a name that is taken, for what is missing, and as `plan`.

        Examples
        --------
        >>> more = plan.with_added_succession(
        ...     name="lettuce 3",
        ...     crop="lettuce",
        ...     plants=60,
        ...     target={"event": "first_harvest", "by": datetime.date(2027, 8, 1)},
        ... )
        >>> more.successions
        ['lettuce 1', 'lettuce 2', 'lettuce 3']
        """
        given, _ = _parted(keys)
        return self._of(_core.with_added_succession_keys(self._held, given))

    def without_succession(self, succession: str) -> Self:
        """The plan with one succession less.

        Parameters
        ----------
        succession : str
            Its name or id.

        Returns
        -------
        Plan
            A new plan; this one stays as it is.

        Raises
        ------
        InvalidInput
            For a name that is not known, and where a link or another succession names it.

        Examples
        --------
        >>> plan.without_succession("lettuce 1").successions
        ['lettuce 2']
        """
        name = _check.text(succession, "succession")
        return self._of(_core.without_succession(self._held, name))

    def with_target(self, succession: str, /, **target: Written) -> Self:
        """The plan with another target of one succession.

        Parameters
        ----------
        succession : str
            Its name or id.
        **target
            Keys of ``target`` in a plan file: ``event``, which stays when it is not given, and a
            rule for its day: ``on``, ``from_`` (a word of Python without the line), ``by``,
            ``risk`` (with ``limit`` and ``after``), ``weeks_after_last_frost`` and its like,
            ``in_harvest``.

        Returns
        -------
        Plan
            A new plan; this one stays as it is.

        Raises
        ------
        InvalidInput
            For names and keys that are not known (with the nearest), for no rule or two, and for a
            rule that the event cannot have.

        Examples
        --------
        >>> rarer = plan.with_target("lettuce 1", risk=0.05)
        >>> rarer.to_dict()["succession"][0]["target"]
        {'event': 'transplant', 'risk': 0.05}
        """
        name = _check.text(succession, "succession")
        keys, _ = _parted(_renamed(target, "from_", "from"))
        return self._of(_core.with_target_keys(self._held, name, keys))

    def with_target_moved(self, succession: str, *, days: int) -> Self:
        """The plan with one target so many days later.

        A date moves, both dates of ``in_harvest``, or the days from a frost, which pass from before
        the last frost to after it. What is moved is the day asked for: bounds stay, and may hold
        it where it was.

        Parameters
        ----------
        succession : str
            Its name or id.
        days : int
            How much later, sooner where negative [days, -1500 to 1500].

        Returns
        -------
        Plan
            A new plan; this one stays as it is.

        Raises
        ------
        InvalidInput
            For a name that is not known, for a rule without a day to move (``risk`` says how rare
            frost is to be, not when), for days after a first frost, which no rule counts, and for a
            day outside the season.

        Examples
        --------
        >>> later = plan.with_target_moved("lettuce 2", days=7)
        >>> later.to_dict()["succession"][1]["target"]["by"]
        datetime.date(2027, 7, 8)
        """
        name = _check.text(succession, "succession")
        return self._of(_core.with_target_moved(self._held, name, _check.whole(days, "days")))

    def with_not_before(self, succession: str, /, **bounds: Written) -> Self:
        """The plan with events of one succession no sooner than a day.

        Parameters
        ----------
        succession : str
            Its name or id.
        **bounds
            An event and its bound: a date, a table with a rule (``risk``, ``from``,
            ``weeks_after_last_frost`` and its like), or None for no bound of its own, so that the
            crop's or the default bound holds.

        Returns
        -------
        Plan
            A new plan; this one stays as it is.

        Raises
        ------
        InvalidInput
            For names that are not known, for an event that cannot wait, for a rule that is no such
            bound, and for None where there is no bound.

        Examples
        --------
        >>> held = plan.with_not_before("lettuce 2", transplant=datetime.date(2027, 5, 30))
        >>> held.to_dict()["succession"][1]["not_before"]
        {'transplant': datetime.date(2027, 5, 30)}
        """
        return self._by_keys(_core.with_not_before_keys, succession, "succession", bounds)

    def with_not_after(self, succession: str, /, **bounds: Written) -> Self:
        """The plan with events of one succession no later than a day.

        Parameters
        ----------
        succession : str
            Its name or id.
        **bounds
            An event and its bound: a date, a table with a rule (``by``,
            ``weeks_before_last_frost`` and its like), or None for no bound of its own.

        Returns
        -------
        Plan
            A new plan; this one stays as it is.

        Raises
        ------
        InvalidInput
            For names that are not known, for a rule that is no such bound, and for None where there
            is no bound.

        Examples
        --------
        >>> held = plan.with_not_after("lettuce 2", sow=datetime.date(2027, 4, 20))
        >>> epicotyl.schedule(held, climate).date("lettuce 2", "sow")
        datetime.date(2027, 4, 20)
        """
        return self._by_keys(_core.with_not_after_keys, succession, "succession", bounds)

    def with_stage_change(self, succession: str, begins: str, /, **keys: Written) -> Self:
        """The plan with one stage of one succession in another place, container, clock.

        Parameters
        ----------
        succession : str
            Its name or id.
        begins : str
            The event that begins the stage.
        **keys
            Keys of ``[succession.stage.EVENT]`` in a plan file: ``where``, ``container``,
            ``spacing``, ``takes`` (as a whole), ``survives``, ``hold``, ``limit``, ``too_hot``,
            ``lost_at``, ``who``. None: as the crop has it; what is not named stays.

        Returns
        -------
        Plan
            A new plan; this one stays as it is.

        Raises
        ------
        InvalidInput
            For names and keys that are not known (with the nearest), and for values that a plan
            file could not have either.

        Examples
        --------
        >>> longer = plan.with_stage_change("lettuce 2", "sow", takes={"days": 35})
        >>> epicotyl.schedule(longer, climate).date("lettuce 2", "sow")
        datetime.date(2027, 4, 17)
        """
        name = _check.text(succession, "succession")
        event = _check.text(begins, "begins")
        return self._of(_core.with_stage_change_keys(self._held, name, event, *_parted(keys)))

    def without_stage_change(self, succession: str, begins: str) -> Self:
        """The plan with one stage of one succession as its crop has it.

        Parameters
        ----------
        succession : str
            Its name or id.
        begins : str
            The event that begins the stage.

        Returns
        -------
        Plan
            A new plan; this one stays as it is.

        Raises
        ------
        InvalidInput
            For a name that is not known, and where the stage is not changed.

        Examples
        --------
        >>> longer = plan.with_stage_change("lettuce 2", "sow", takes={"days": 35})
        >>> longer.without_stage_change("lettuce 2", "sow") == plan
        True
        """
        name = _check.text(succession, "succession")
        event = _check.text(begins, "begins")
        return self._of(_core.without_stage_change(self._held, name, event))

    # --- places and crops ---

    def with_place(self, place: str, /, **keys: Written) -> Self:
        """The plan with another air, more room, other keys of one place.

        Parameters
        ----------
        place : str
            Its name or id.
        **keys
            Keys of ``[places]`` in a plan file, in the plan's units; ``jobs`` stands for ``for``.
            None leaves a key out; what is not named stays. A table (``cold_nights``, ``lamps``) is
            replaced as a whole.

        Returns
        -------
        Plan
            A new plan; this one stays as it is.

        Raises
        ------
        InvalidInput
            For names and keys that are not known (with the nearest), and for values that a plan
            file could not have either.

        Examples
        --------
        >>> cooler = plan.with_place("bench", day=16.0, night=10.0, trays=12)
        >>> cooler.to_dict()["places"]["bench"]["night"]
        10.0
        """
        keys = _renamed(keys, "jobs", "for")
        return self._by_keys(_core.with_place_keys, place, "place", keys)

    def without_heater(self, place: str) -> Self:
        """The plan with the heater of one place off.

        This asks how warm the place would be. Whether a heater that protects plants is switched off
        is for who has weighed that.

        Parameters
        ----------
        place : str
            Its name or id.

        Returns
        -------
        Plan
            A new plan, the place's air without ``heat_to`` and ``heat_lift``; this one stays as it
            is.

        Raises
        ------
        InvalidInput
            For a name that is not known, and where there is no heater.

        Examples
        --------
        >>> heated = plan.with_place("beds", warmer_night=2.0, heat_to=4.0)
        >>> heated.without_heater("beds") == plan.with_place("beds", warmer_night=2.0)
        True
        """
        return self._of(_core.without_heater(self._held, _check.text(place, "place")))

    def without_cover(self, place: str) -> Self:
        """The plan with the cover of one place off: nothing is done on cold nights.

        Parameters
        ----------
        place : str
            Its name or id.

        Returns
        -------
        Plan
            A new plan, the place's air without ``cold_nights``; this one stays as it is.

        Raises
        ------
        InvalidInput
            For a name that is not known, and where nothing is done on cold nights.

        Examples
        --------
        >>> covered = plan.with_place("beds", cold_nights={"warmer": 2.0})
        >>> covered.without_cover("beds") == plan
        True
        """
        return self._of(_core.without_cover(self._held, _check.text(place, "place")))

    def with_crop(self, crop: str, /, **keys: Written) -> Self:
        """The plan with other limits, other stages, other keys of one crop.

        Crops that a file describes as ``like`` it stay as they are: in a plan, every crop has all
        of its own.

        Parameters
        ----------
        crop : str
            Its name or id.
        **keys
            Keys of ``[crops]`` in a plan file but ``like``, in the plan's units; ``stages`` as a
            whole. None leaves a key out; what is not named stays.

        Returns
        -------
        Plan
            A new plan; this one stays as it is.

        Raises
        ------
        InvalidInput
            For names and keys that are not known (with the nearest), and for values that a plan
            file could not have either.

        Examples
        --------
        >>> hardier = plan.with_crop("lettuce", limit_hardened=-5.0)
        >>> hardier.to_dict()["crops"]["lettuce"]["limit_hardened"]
        -5.0
        """
        return self._by_keys(_core.with_crop_keys, crop, "crop", keys)
