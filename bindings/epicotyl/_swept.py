"""What a sweep holds: a row a cell, and what becomes of each succession in it."""

from __future__ import annotations

import datetime
import math
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

import numpy as np
import numpy.typing as npt

from epicotyl import _check, _core
from epicotyl._core import SweptSuccession

if TYPE_CHECKING:
    import pandas as pd


def _date64(day: datetime.date | None) -> np.datetime64:
    return np.datetime64("NaT" if day is None else day, "D")


_DAYS = ("sowing", "target")
_COUNTS = ("good", "damaged", "damaged_heater_off", "damaged_cover_off", "too_hot", "overheld")


@dataclass(frozen=True, slots=True)
class SweepRow:
    """One cell of a sweep.

    Attributes
    ----------
    cell : int
        Its number in the grid, whose last axis turns fastest.
    choice : tuple of str
        Label of its change on each axis.
    refused : str
        Why it could not be made; empty: it was.
    years : int
        Season years; 0 where refused.
    successions : list of SweptSuccession
        In the order of the cell's plan.
    """

    cell: int
    choice: tuple[str, ...]
    refused: str
    years: int
    successions: list[SweptSuccession] = field(hash=False)

    def __getitem__(self, name: str) -> SweptSuccession:
        for one in self.successions:
            if one.name == name:
                return one
        raise KeyError(name)

    def _ipython_key_completions_(self) -> list[str]:
        return [one.name for one in self.successions]


@dataclass(frozen=True, slots=True, eq=False)
class Sweep:
    """What becomes of one plan under every combination of some changes, made by `sweep`.

    Attributes
    ----------
    axes : dict of str to list of str
        The labels on each axis.
    levels : list of float
        Of the quantiles.
    rows : list of SweepRow
        Cells that are done, in the order of the grid.
    """

    axes: dict[str, list[str]]
    levels: list[float]
    rows: list[SweepRow]

    @property
    def shape(self) -> tuple[int, ...]:
        """Changes on each axis."""
        return tuple(len(labels) for labels in self.axes.values())

    @property
    def cells(self) -> int:
        """Cells of the grid."""
        return math.prod(self.shape)

    @property
    def complete(self) -> bool:
        """Whether all of them are done."""
        return len(self.rows) == self.cells

    def row(self, *choice: str) -> SweepRow:
        """The row of one combination.

        Parameters
        ----------
        *choice : str
            A label for each axis.

        Returns
        -------
        SweepRow
            The row.

        Raises
        ------
        KeyError
            When there is no such combination, or it is not done.

        Examples
        --------
        >>> changes = {"years": [epicotyl.Change.none(), epicotyl.Change.warmer(2.0)]}
        >>> found = epicotyl.sweep(plan, climate, changes)
        >>> found.row("+2 K")["lettuce 2"].sowing > found.row("as it is")["lettuce 2"].sowing
        True
        """
        for row in self.rows:
            if row.choice == choice:
                return row
        raise KeyError(choice)

    def grid(self, succession: str, what: str, *, level: float = 0.5) -> npt.NDArray[Any]:
        """One number or day of a succession over the whole grid.

        Parameters
        ----------
        succession : str
            Its name.
        what : str
            ``"sowing"``, ``"target"`` or ``"quantile"`` for days, ``"good"``, ``"damaged"``,
            ``"damaged_heater_off"``, ``"damaged_cover_off"``, ``"too_hot"`` or ``"overheld"`` for
            shares of the season years.
        level : float, optional
            Which quantile, one of the levels of the sweep.

        Returns
        -------
        numpy.ndarray, shape of the grid
            Of datetime64[D], or of float; NaT and NaN where a cell is not done, is refused, lacks
            the succession, or has no days for it.

        Raises
        ------
        InvalidInput
            For another word, a level that was not asked for, or a succession in no cell.

        Examples
        --------
        >>> sure = [epicotyl.Change.reliability(share) for share in (0.6, 0.8, 1.0)]
        >>> found = epicotyl.sweep(plan, climate, {"reliability": sure})
        >>> found.grid("lettuce 2", "sowing").astype(str).tolist()
        ['2027-04-27', '2027-04-24', '2027-04-24']
        """
        if what not in (*_DAYS, "quantile", *_COUNTS):
            _core.refuse(
                code="sweep.word",
                field="what",
                value=str(what),
                bound=", ".join((*_DAYS, "quantile", *_COUNTS)),
                problem=f"{what!r} is nothing that a sweep holds",
                remedy="give one of these words",
            )
        at = self._level(level) if what == "quantile" else 0
        is_day = what not in _COUNTS
        found: npt.NDArray[Any] = (
            np.full(self.cells, "NaT", "datetime64[D]") if is_day else np.full(self.cells, np.nan)
        )
        seen = False
        for row in self.rows:
            for one in row.successions:
                if one.name != succession:
                    continue
                seen = True
                if one.unresolved:
                    continue
                value: Any = one.quantiles[at] if what == "quantile" else getattr(one, what)
                if value is not None:
                    found[row.cell] = value if is_day else value / row.years
        if not seen and self.rows:
            _core.refuse(
                code="succession.unknown",
                field="succession",
                value=str(succession),
                problem=f"no cell has a succession {succession!r}",
                remedy="give a name of the plan",
            )
        return found.reshape(self.shape)

    def _level(self, level: float) -> int:
        near = [k for k, one in enumerate(self.levels) if math.isclose(one, level)]
        if not near:
            _core.refuse(
                code="sweep.level",
                field="level",
                value=str(level),
                bound=", ".join(f"{one:g}" for one in self.levels),
                problem=f"the level {level:g} was not asked for",
                remedy="give one of the levels of the sweep",
            )
        return near[0]

    def to_frame(self) -> pd.DataFrame:
        """Make a table of all cells and successions (needs pandas).

        Returns
        -------
        pandas.DataFrame
            A line a cell and succession: a column an axis, ``refused``, ``years``, those of
            `SweptSuccession`, and one a level such as ``q0.5``. A refused cell is a line without a
            succession.

        Examples
        --------
        >>> changes = {"years": [epicotyl.Change.none(), epicotyl.Change.warmer(2.0)]}
        >>> epicotyl.sweep(plan, climate, changes).to_frame().shape[0]
        4
        """
        pd = _check.pandas()
        lines = [self._line(row, one) for row in self.rows for one in row.successions or (None,)]
        return pd.DataFrame(lines)

    def _line(self, row: SweepRow, one: SweptSuccession | None) -> dict[str, Any]:
        """Of a cell and a succession, or of a cell that was refused."""
        line: dict[str, Any] = dict(zip(self.axes, row.choice, strict=True))
        line |= {"refused": row.refused, "years": row.years}
        line["succession"] = None if one is None else one.name
        for key in ("unresolved", "event", *_COUNTS):
            line[key] = None if one is None else getattr(one, key)
        for key in _DAYS:
            line[key] = _date64(None if one is None else getattr(one, key))
        for k, level in enumerate(self.levels):
            line[f"q{level:g}"] = _date64(None if one is None else one.quantiles[k])
        return line

    def __len__(self) -> int:
        return len(self.rows)

    def __repr__(self) -> str:
        grid = " x ".join(map(str, self.shape)) or "1"
        done = "" if self.complete else f", {len(self.rows)} done"
        return f"<Sweep {', '.join(self.axes) or 'of nothing'}: {grid} cells{done}>"
