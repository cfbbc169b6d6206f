"""Edits of successions: plans like another but for one batch."""

from __future__ import annotations

from typing import Self

from epicotyl import _check, _core
from epicotyl._docs import gives_plan
from epicotyl._edited import Edited, Written, parted, renamed


class SuccessionEdits(Edited):
    """What a `Plan` can be asked for of one succession."""

    __slots__ = ()

    @gives_plan
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

    @gives_plan
    def with_added_succession(self, **keys: Written) -> Self:
        """The plan with one more succession, after all others.

        Parameters
        ----------
        **keys
            Keys of ``[[succession]]`` in a plan file, in the plan's units.

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
        given, _ = parted(keys)
        return self._of(_core.with_added_succession_keys(self._held, given))

    @gives_plan
    def without_succession(self, succession: str) -> Self:
        """The plan with one succession less.

        Parameters
        ----------
        succession : str
            Its name or id.

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

    @gives_plan
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
        keys, _ = parted(renamed(target, "from_", "from"))
        return self._of(_core.with_target_keys(self._held, name, keys))

    @gives_plan
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
            How much later, earlier where negative [days, -1500 to 1500].

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

    @gives_plan
    def with_not_before(self, succession: str, /, **bounds: Written) -> Self:
        """The plan with events of one succession no earlier than a day.

        Parameters
        ----------
        succession : str
            Its name or id.
        **bounds
            An event and its bound: a date, a table with a rule (``risk``, ``from``,
            ``weeks_after_last_frost`` and its like), or None for no bound of its own, so that the
            crop's or the default bound holds.

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

    @gives_plan
    def with_not_after(self, succession: str, /, **bounds: Written) -> Self:
        """The plan with events of one succession no later than a day.

        Parameters
        ----------
        succession : str
            Its name or id.
        **bounds
            An event and its bound: a date, a table with a rule (``by``,
            ``weeks_before_last_frost`` and its like), or None for no bound of its own.

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

    @gives_plan
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
        return self._of(_core.with_stage_change_keys(self._held, name, event, *parted(keys)))

    @gives_plan
    def without_stage_change(self, succession: str, begins: str) -> Self:
        """The plan with one stage of one succession as its crop has it.

        Parameters
        ----------
        succession : str
            Its name or id.
        begins : str
            The event that begins the stage.

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
