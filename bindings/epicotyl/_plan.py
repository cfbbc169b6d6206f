"""Plans: from files and from tables, and back."""

from __future__ import annotations

import datetime
from collections.abc import Mapping
from typing import Any, Literal

import numpy as np

from epicotyl import _check, _core
from epicotyl._edit import PlanEdits
from epicotyl._value import Told


class Plan(PlanEdits):
    """Places, crops, successions and links of one farm and one season, checked.

    Plans are made by `read_plan` and `plan`. They are immutable; an edit (`with_...`,
    `without_...`) gives a new plan, the one that you get by typing the change into its file.

    Examples
    --------
    >>> plan
    <Plan 'Marlpit 2027': 365 days from 1 January 2027, 2 successions>
    >>> plan.places
    ['bench', 'beds']
    """

    __slots__ = ()

    _pickle_version = 2
    _compares_held = True
    _made_by = "a Plan is made by read_plan(path) or plan(...)"

    title = Told[str]("The title; may be empty.")

    @property
    def units(self) -> Literal["metric", "us"]:
        """Units in which it is written and answered.

        Numbers that go in or come out with the plan, its calendar, prospect or occupancy at hand
        are in them: "metric" °C, K, K day, m, m², cm, litres; "us" °F, °F (a difference), °F day,
        feet, square feet, inches, quarts. Text has them too, with its dates in their order.
        """
        return "us" if self._held.units == "us" else "metric"

    latitude = Told[float]("Of the site [degrees north].")
    season_start = Told[datetime.date]("First day of the season.")
    season_days = Told[int]("Days of the season; events fall on 0 to so many days after its start.")
    weather = Told[str]("The weather file as written, relative to the plan file; may be empty.")
    reliability = Told[float]("Share of season years in which targets are to be met, 0.5 to 1.")
    places = Told[list[str]]("Names of the places, in plan order.")
    containers = Told[list[str]]("Names of the containers, in plan order.")
    crops = Told[list[str]]("Names of the crops, in plan order.")
    successions = Told[list[str]]("Names of the successions, repeats spelled out, in plan order.")

    def events(self, succession: str) -> list[str]:
        """Names of the events of a succession, in order.

        Parameters
        ----------
        succession : str
            Its name or id.

        Returns
        -------
        list of str
            The sowing first, whatever it is called, "clear" last.

        Raises
        ------
        InvalidInput
            When the plan has no such succession; names the nearest.

        Examples
        --------
        >>> plan.events("lettuce 1")
        ['sow', 'transplant', 'first_harvest', 'clear']
        """
        return self._held.events(_check.text(succession, "succession"))

    def to_toml(self) -> str:
        """Write the plan as a plan file.

        Returns
        -------
        str
            TOML, in the plan's own units; reads back as an equal plan.

        Examples
        --------
        >>> print(plan.to_toml().splitlines()[0])
        format = 1
        """
        return self._held.to_toml()

    def to_dict(self) -> dict[str, Any]:
        """Write the plan as tables.

        Returns
        -------
        dict
            With the keys of a plan file, in the plan's own units; `plan` of it is an equal plan.

        Examples
        --------
        >>> epicotyl.plan(plan.to_dict()) == plan
        True
        """
        found: dict[str, Any] = self._held.to_dict()
        return found

    def __hash__(self) -> int:
        return hash((self.title, self.season_start, tuple(self.successions)))

    def __str__(self) -> str:
        return self.to_toml()

    def __repr__(self) -> str:
        day = self.season_start
        start = (
            f"{day:%B} {day.day}, {day.year}" if self.units == "us" else f"{day.day} {day:%B %Y}"
        )
        count = len(self.successions)
        return (
            f"<Plan {self.title!r}: {self.season_days} days from {start}, "
            f"{count} succession{'' if count == 1 else 's'}>"
        )

    def _parts(self) -> tuple[Any, ...]:
        return (self._held.to_bytes(),)

    def _restore(self, *parts: Any) -> None:
        (kept,) = parts
        is_file = isinstance(kept, str)  # until version 2
        self._held = _core.parse_plan(kept) if is_file else _core.plan_from_bytes(kept)


def season_dates(of: Plan) -> _check.DayArray:
    """The days of the season, on which plants can stand somewhere."""
    return np.arange(of.season_days) + np.datetime64(of.season_start, "D")


def read_plan(path: _check.Path) -> Plan:
    """Read a plan file (TOML, ``format = 1``).

    Parameters
    ----------
    path : str or path
        The file.

    Returns
    -------
    Plan
        The plan, checked.

    Raises
    ------
    InvalidInput
        With file, line and field: what is not TOML, unknown keys, events and names (with the
        nearest known one), values out of range.

    Examples
    --------
    >>> epicotyl.read_plan("marlpit.toml").title
    'Marlpit 2027'
    """
    return Plan._of(_core.read_plan(_check.path(path, "path")))


def plan(mapping: Mapping[str, Any] | None = None, /, **tables: Any) -> Plan:
    """Make a plan from tables with the keys of a plan file.

    Parameters
    ----------
    mapping : mapping, optional
        Tables by key: what a TOML reader makes of a plan file.
    **tables
        The same as keywords; ``succession`` and ``link`` are lists of dictionaries. Days are
        datetime.date. Order is kept.

    Returns
    -------
    Plan
        The plan, checked as a file is.

    Raises
    ------
    InvalidInput
        With the field: unknown keys, events and names, values out of range.
    TypeError
        For what no plan holds, None and dates with a time of day included, and for a key that is
        given twice.

    Examples
    --------
    >>> small = epicotyl.plan(
    ...     format=1,
    ...     units="metric",
    ...     title="Beans",
    ...     site={"latitude": 51.9, "season_start": datetime.date(2027, 1, 1)},
    ...     places={"beds": {"for": ["field"]}},
    ...     crops={
    ...         "bean": {
    ...             "stages": [{"begins": "sow", "where": "beds", "takes": {"days": 60}}],
    ...         }
    ...     },
    ...     succession=[
    ...         {
    ...             "name": "beans",
    ...             "crop": "bean",
    ...             "plants": 50,
    ...             "target": {"event": "sow", "on": datetime.date(2027, 5, 20)},
    ...         }
    ...     ],
    ... )
    >>> small.events("beans")
    ['sow', 'clear']
    """
    if mapping is not None and not isinstance(mapping, Mapping):
        raise TypeError(f"plan() takes a mapping and keywords, not {type(mapping).__name__}")
    given = dict(mapping or {})
    twice = sorted(given.keys() & tables.keys())
    if twice:
        raise TypeError(f"plan() got {', '.join(twice)} in the mapping and as a keyword")
    return Plan._of(_core.plan_from_tables(given | tables))


def expand(path: _check.Path) -> str:
    """Write the long form of a plan file: every value that is used, and where it comes from.

    Parameters
    ----------
    path : str or path
        The file.

    Returns
    -------
    str
        A plan file with a comment for the origin of each value: a line of the file, the crop it is
        like, a default.

    Raises
    ------
    InvalidInput
        As `read_plan`.

    Examples
    --------
    >>> "season_days = 365" in epicotyl.files.expand("marlpit.toml")
    True
    """
    return _core.expand(_check.path(path, "path"))
