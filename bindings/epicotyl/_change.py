"""Changes that a sweep tries."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeAlias

import numpy as np

from epicotyl import _check, _core
from epicotyl._plan import Plan
from epicotyl._weather import Climate

#: What a cell is planned from.
Case: TypeAlias = tuple[Plan, Climate, float | None]


class Change:
    """One change of a plan or a climate, with the name that it has on its axis of a `sweep`.

    Made by its methods; `plan` and `climate` take any function of yours, such as an edit of the
    plan (`Plan.with_place`, `Plan.without_heater`).

    Examples
    --------
    >>> epicotyl.Change.warmer(2.0)
    Change('+2 degrees')
    >>> epicotyl.Change.plan("bench unheated", lambda plan: plan.without_heater("bench"))
    Change('bench unheated')
    """

    __slots__ = ("_apply", "_label", "_named")

    _label: str
    _apply: Callable[[Case], Case]
    _named: Callable[[Plan], str] | None

    def __init__(self) -> None:
        raise TypeError("a Change is made by its methods, such as Change.warmer(2.0)")

    @classmethod
    def _of(
        cls,
        label: str,
        apply: Callable[[Case], Case],
        named: Callable[[Plan], str] | None = None,
    ) -> Change:
        made = cls.__new__(cls)
        made._label = label
        made._apply = apply
        made._named = named
        return made

    def _label_with(self, plan: Plan) -> str:
        """Its name on the axis of a sweep of this plan, in the plan's units."""
        return self._named(plan) if self._named else self._label

    @property
    def label(self) -> str:
        """Its name on its axis; that of a warming is in degrees, in a sweep in the plan's unit."""
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
            Difference in the units of the plan that is swept [K or °F], or one for the days of each
            month, January first.
        label : str, optional
            Its name. None: the difference, in a sweep with the plan's unit: "+2 K", "+2 °F".

        Returns
        -------
        Change
            The change.

        A sweep refuses a cell with more than 8 K (14.4 °F), and asks whether the other unit was
        meant; `Climate.shifted` takes more.

        Examples
        --------
        >>> springs = [0, 0, 1.5, 1.5, 1.5, 0, 0, 0, 0, 0, 0, 0]
        >>> epicotyl.Change.warmer(springs, "warm springs").label
        'warm springs'
        """
        spans = _check.values(by, "by")

        def apply(case: Case) -> Case:
            units = case[0].units
            for one in np.atleast_1d(spans).ravel().tolist():
                _core.require_warming(one, units)
            return case[0], case[1].shifted(spans, units=units), case[2]

        if label is not None:
            return Change._of(_check.text(label, "label"), apply)
        by_how_much = "/".join(f"{one:+g}" for one in np.atleast_1d(spans).tolist())
        return Change._of(
            f"{by_how_much} degrees",
            apply,
            lambda plan: f"{by_how_much} {'°F' if plan.units == 'us' else 'K'}",
        )

    def __repr__(self) -> str:
        return f"Change({self.label!r})"


def _need_function(value: object, name: str) -> None:
    if not callable(value):
        raise TypeError(f"{name}: a function is wanted, not {value!r}")
