"""Changes that a sweep tries."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeAlias

import numpy as np

from epicotyl import _check
from epicotyl._plan import Plan
from epicotyl._weather import Climate

#: What a cell is planned from.
Case: TypeAlias = tuple[Plan, Climate, float | None]


class Change:
    """One change of a plan or a climate, with the name that it has on its axis of a `sweep`.

    Made by its methods; `plan` and `climate` take any function of yours.

    Examples
    --------
    >>> epicotyl.Change.warmer(2.0)
    Change('+2 K')
    """

    __slots__ = ("_apply", "_label")

    _label: str
    _apply: Callable[[Case], Case]

    def __init__(self) -> None:
        raise TypeError("a Change is made by its methods, such as Change.warmer(2.0)")

    @classmethod
    def _of(cls, label: str, apply: Callable[[Case], Case]) -> Change:
        made = cls.__new__(cls)
        made._label = label
        made._apply = apply
        return made

    @property
    def label(self) -> str:
        """Its name on its axis."""
        return self._label

    @staticmethod
    def none(label: str = "as it is") -> Change:
        """Nothing changed.

        Parameters
        ----------
        label : str, optional
            Its name.

        Returns
        -------
        Change
            The change that is none.

        Examples
        --------
        >>> epicotyl.Change.none().label
        'as it is'
        """
        return Change._of(_check.text(label, "label"), lambda case: case)

    @staticmethod
    def plan(label: str, edit: Callable[[Plan], Plan]) -> Change:
        """Another plan.

        Parameters
        ----------
        label : str
            Its name.
        edit : callable
            Takes the plan and gives another.

        Returns
        -------
        Change
            The change.

        Raises
        ------
        TypeError
            When `edit` is no function.

        Examples
        --------
        >>> more = epicotyl.Change.plan("two weeks later", lambda plan: plan)
        >>> more.label
        'two weeks later'
        """
        _need_function(edit, "edit")

        def apply(case: Case) -> Case:
            made = edit(case[0])
            _check.instance(made, Plan, "what edit gives")
            return made, case[1], case[2]

        return Change._of(_check.text(label, "label"), apply)

    @staticmethod
    def climate(label: str, change: Callable[[Climate], Climate]) -> Change:
        """Other season years.

        Parameters
        ----------
        label : str
            Its name.
        change : callable
            Takes the climate and gives another.

        Returns
        -------
        Change
            The change.

        Raises
        ------
        TypeError
            When `change` is no function.

        Examples
        --------
        >>> lately = epicotyl.Change.climate("2020 on", lambda all: all.only([2020, 2021, 2022]))
        >>> lately.label
        '2020 on'
        """
        _need_function(change, "change")

        def apply(case: Case) -> Case:
            made = change(case[1])
            _check.instance(made, Climate, "what change gives")
            return case[0], made, case[2]

        return Change._of(_check.text(label, "label"), apply)

    @staticmethod
    def reliability(share: float) -> Change:
        """Another reliability of the plan as a whole.

        Parameters
        ----------
        share : float
            Share of season years in which targets are to be met, 0.5 to 1; successions with their
            own keep it.

        Returns
        -------
        Change
            Named by the share.

        Examples
        --------
        >>> epicotyl.Change.reliability(0.9).label
        '0.9'
        """
        wanted = _check.number(share, "share")
        return Change._of(f"{wanted:g}", lambda case: (case[0], case[1], wanted))

    @staticmethod
    def warmer(by: float | _check.Numbers, label: str | None = None) -> Change:
        """Every day warmer, or colder.

        Parameters
        ----------
        by : float or array_like of float, shape (12,)
            Difference [K], or one for the days of each month, January first.
        label : str, optional
            Its name. None: the difference.

        Returns
        -------
        Change
            The change.

        Examples
        --------
        >>> springs = [0, 0, 1.5, 1.5, 1.5, 0, 0, 0, 0, 0, 0, 0]
        >>> epicotyl.Change.warmer(springs, "warm springs").label
        'warm springs'
        """
        spans = _check.values(by, "by")
        if label is None:
            label = "/".join(f"{one:+g}" for one in np.atleast_1d(spans).tolist()) + " K"
        return Change.climate(label, lambda climate: climate.shifted(spans))

    @staticmethod
    def target_moved(succession: str, days: int) -> Change:
        """The target of a succession so many days later, or sooner.

        Parameters
        ----------
        succession : str
            Its name, as the plan was written with it.
        days : int
            Below 0 for sooner.

        Returns
        -------
        Change
            Named by the days; as `Plan.with_target_moved` does.

        Examples
        --------
        >>> epicotyl.Change.target_moved("lettuce 1", 7).label
        'lettuce 1 +7 days'
        """
        name, later = _check.text(succession, "succession"), _check.whole(days, "days")
        return Change.plan(
            f"{name} {later:+} days", lambda plan: plan.with_target_moved(name, days=later)
        )

    @staticmethod
    def heater_off(place: str) -> Change:
        """The heater of a place off.

        Parameters
        ----------
        place : str
            Its name.

        Returns
        -------
        Change
            As `Plan.without_heater` does.

        Examples
        --------
        >>> epicotyl.Change.heater_off("bench").label
        'bench unheated'
        """
        name = _check.text(place, "place")
        return Change.plan(f"{name} unheated", lambda plan: plan.without_heater(name))

    @staticmethod
    def cover_off(place: str) -> Change:
        """A place left uncovered on cold nights.

        Parameters
        ----------
        place : str
            Its name.

        Returns
        -------
        Change
            As `Plan.without_cover` does.

        Examples
        --------
        >>> epicotyl.Change.cover_off("bench").label
        'bench uncovered'
        """
        name = _check.text(place, "place")
        return Change.plan(f"{name} uncovered", lambda plan: plan.without_cover(name))

    @staticmethod
    def place(name: str, label: str | None = None, /, **keys: Any) -> Change:
        """Keys of a place changed, such as its air.

        Parameters
        ----------
        name : str
            Of the place.
        label : str, optional
            Name of the change. None: the keys.
        **keys
            As `Plan.with_place` takes them.

        Returns
        -------
        Change
            The change.

        Examples
        --------
        >>> epicotyl.Change.place("bench", day=20.0, night=16.0)
        Change('bench day=20.0, night=16.0')
        """
        _check.text(name, "name")
        return Change.plan(_said(name, label, keys), lambda plan: plan.with_place(name, **keys))

    @staticmethod
    def crop(name: str, label: str | None = None, /, **keys: Any) -> Change:
        """Keys of a crop changed, such as its limits.

        Parameters
        ----------
        name : str
            Of the crop.
        label : str, optional
            Name of the change. None: the keys.
        **keys
            As `Plan.with_crop` takes them.

        Returns
        -------
        Change
            The change.

        Examples
        --------
        >>> epicotyl.Change.crop("lettuce", limit_hardened=-5.0)
        Change('lettuce limit_hardened=-5.0')
        """
        _check.text(name, "name")
        return Change.plan(_said(name, label, keys), lambda plan: plan.with_crop(name, **keys))

    def __repr__(self) -> str:
        return f"Change({self.label!r})"


def _said(name: str, label: str | None, keys: dict[str, Any]) -> str:
    if label is not None:
        return _check.text(label, "label")
    return f"{name} " + ", ".join(f"{key}={value!r}" for key, value in keys.items())


def _need_function(value: object, name: str) -> None:
    if not callable(value):
        raise TypeError(f"{name}: a function is wanted, not {value!r}")
