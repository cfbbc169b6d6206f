"""Season: one plan under every combination of some changes."""

from __future__ import annotations

import itertools
import math
import os
from collections.abc import Iterable, Iterator, Mapping, Sequence

from epicotyl import _check, _core
from epicotyl._change import Case, Change
from epicotyl._errors import InvalidInput
from epicotyl._plan import Plan
from epicotyl._progress import Progress, watcher
from epicotyl._swept import Sweep, SweepRow
from epicotyl._weather import Climate

_MOST_CELLS = 1_000_000


def sweep(
    plan: Plan,
    climate: Climate,
    changes: Mapping[str, Sequence[Change]],
    *,
    levels: Sequence[float] = (0.1, 0.5, 0.9),
    event: str = "first_harvest",
    threads: int = 0,
    progress: Progress | bool | None = None,
) -> Sweep:
    """Plan every combination of some changes, and keep what can be compared.

    Each cell is what `schedule` and `simulate` make of the changed plan and climate. The changes of
    a cell are made in the order of the axes, each on what the one before it left. A combination
    that cannot be made is a row that says why; the others go on.

    Parameters
    ----------
    plan : Plan
        The plan.
    climate : Climate
        Season years with the plan's season start, length and latitude.
    changes : mapping of str to sequence of Change
        The axes of the grid: the name of each, and the changes tried for it.
    levels : sequence of float, optional
        Shares of the season years by which the event has come, 0 to 1.
    event : str, optional
        The event of the quantiles; the target of successions that do not have it.
    threads : int, optional
        0: as many as the machine has. The result does not depend on it.
    progress : callable or bool, optional
        Called with the cells done and the cells of the grid; when it returns False the sweep stops
        and gives the cells that are done. None: a bar where standard error is a terminal. True: a
        bar; False: none.

    Returns
    -------
    Sweep
        A row a cell, in the order of the grid, whose last axis turns fastest.

    Raises
    ------
    InvalidInput
        For an axis without changes or with two of one name, too many cells, a level out of range,
        an event that no plan knows, and negative threads.
    TypeError
        When an argument is of the wrong kind.
    KeyboardInterrupt
        When it is interrupted; its attribute ``sweep`` has the cells that are done.

    Examples
    --------
    >>> found = epicotyl.sweep(
    ...     plan,
    ...     climate,
    ...     {
    ...         "reliability": [epicotyl.Change.reliability(share) for share in (0.8, 0.9)],
    ...         "years": [epicotyl.Change.none(), epicotyl.Change.warmer(2.0)],
    ...     },
    ... )
    >>> found
    <Sweep reliability, years: 2 x 2 cells>
    >>> found.rows[1].choice
    ('0.8', '+2 K')
    """
    _check.instance(plan, Plan, "plan")
    _check.instance(climate, Climate, "climate")
    axes = _axes(changes, plan)
    shares = [_check.number(level, "levels") for level in levels]
    name = _check.text(event, "event")
    count = _check.whole(threads, "threads")
    labels = {axis: [one._label_with(plan) for one in tried] for axis, tried in axes.items()}
    found = Sweep(labels, shares, [])
    tell, end = watcher(progress)
    run = _Run(found, tell)
    at_once = 8 * (count if count > 0 else os.cpu_count() or 1)
    try:
        for cells in _batched(_cases((plan, climate, None), list(axes.values())), at_once):
            run.take(cells, shares, name, count)
            if run.stopped:
                break
    except KeyboardInterrupt as fault:
        run.interrupted = fault
    finally:
        end()
    if run.interrupted is not None:
        run.interrupted.sweep = found  # type: ignore[attr-defined]
        run.interrupted.add_note(
            f"{len(found.rows)} of {found.cells} cells are done; this exception has them as `sweep`"
        )
        raise run.interrupted
    return found


class _Run:
    """Takes cells, a few at a time, and tells of them."""

    def __init__(self, found: Sweep, tell: Progress):
        self._found, self._tell = found, tell
        self.stopped = False
        self.interrupted: KeyboardInterrupt | None = None

    def take(
        self,
        cells: list[tuple[int, tuple[str, ...], Case | str]],
        levels: list[float],
        event: str,
        threads: int,
    ) -> None:
        made = [
            (plan._held, climate._held, wanted)
            for _, _, case in cells
            if not isinstance(case, str)
            for plan, climate, wanted in [case]
        ]
        before = len(self._found.rows) + len(cells) - len(made)
        rows = {
            at: (refused, years, successions)
            for at, refused, years, successions in _core.sweep_cases(
                made, levels, event, threads, lambda done: self._watch(before + done)
            )
        }
        if not made:
            self._watch(before)
        at = 0
        for cell, choice, case in cells:
            if isinstance(case, str):
                self._found.rows.append(SweepRow(cell, choice, case, 0, []))
                continue
            if at in rows:
                self._found.rows.append(SweepRow(cell, choice, *rows[at]))
            at += 1

    def _watch(self, done: int) -> bool:
        """Called between cells, by the thread that asked for the sweep."""
        try:
            self.stopped = self._tell(done, self._found.cells) is False
        except KeyboardInterrupt as fault:
            self.interrupted, self.stopped = fault, True
        return not self.stopped


def _axes(changes: Mapping[str, Sequence[Change]], plan: Plan) -> dict[str, list[Change]]:
    if not isinstance(changes, Mapping):
        raise TypeError(f"changes: a mapping of names to changes is wanted, not {changes!r}")
    axes = {}
    for axis, tried in changes.items():
        tried = list(tried)
        for one in tried:
            _check.instance(one, Change, f"changes[{axis!r}]")
        labels = [one._label_with(plan) for one in tried]
        if not tried or len(set(labels)) < len(labels):
            _core.refuse(
                code="sweep.axis_empty" if not tried else "sweep.label_twice",
                field=f"changes[{axis!r}]",
                value=", ".join(labels),
                problem="there is no change on this axis"
                if not tried
                else "two changes on this axis have one name",
                remedy="give one or more, each with a label of its own",
            )
        axes[_check.text(axis, "changes")] = tried
    if math.prod(map(len, axes.values())) > _MOST_CELLS:
        _core.refuse(
            code="sweep.too_many",
            field="changes",
            value=str(math.prod(map(len, axes.values()))),
            bound=str(_MOST_CELLS),
            unit="cells",
            problem="the grid has too many cells",
            remedy="try fewer changes at once",
        )
    return axes


def _cases(
    base: Case, axes: list[list[Change]]
) -> Iterator[tuple[int, tuple[str, ...], Case | str]]:
    """Number, labels and case (or why there is none) of every cell, in the order of the grid.

    What the first axes made is kept while the last ones turn.
    """
    kept: list[Case | str] = [base] * (len(axes) + 1)
    last: tuple[int, ...] = ()
    for cell, choice in enumerate(itertools.product(*(range(len(axis)) for axis in axes))):
        differs = next((k for k, (a, b) in enumerate(zip(last, choice, strict=False)) if a != b), 0)
        for k in range(differs, len(axes)):
            case = kept[k]
            if not isinstance(case, str):
                try:
                    case = axes[k][choice[k]]._apply(case)
                except InvalidInput as fault:
                    case = str(fault)
            kept[k + 1] = case
        last = choice
        yield cell, tuple(axes[k][at]._label_with(base[0]) for k, at in enumerate(choice)), kept[-1]


def _batched(
    cells: Iterable[tuple[int, tuple[str, ...], Case | str]], size: int
) -> Iterator[list[tuple[int, tuple[str, ...], Case | str]]]:
    remaining = iter(cells)
    while batch := list(itertools.islice(remaining, size)):
        yield batch
