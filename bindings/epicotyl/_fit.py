"""Space: what to move so that the room suffices."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import astuple, dataclass
from typing import TypeAlias, cast

from epicotyl import _check, _core
from epicotyl._calendar import Calendar
from epicotyl._core import FitMove, NotPlaced
from epicotyl._plan import Plan
from epicotyl._weather import Climate

Progress: TypeAlias = Callable[[float | None, float, float], bool | None]


# Of each kind of move, as `FitWeights` has them.
_Prices: TypeAlias = tuple[float, float, float, float, float, float, float]


@dataclass(frozen=True, slots=True)
class FitWeights:
    """Prices of moves, 0 or more; only their proportions count.

    Attributes
    ----------
    shift_day : float
        A day that target, planting out or harvest move: the most of them, wherever it comes from.
    place : float
        A stage in the next place of its list; the one after it costs twice that.
    early_day : float
        A day that a batch goes out early.
    container : float
        A stage in a denser container.
    split : float
        A batch parted, beside the price of its moves.
    left_out, left_out_tray : float
        A batch left out, half or whole, and each tray of what is left out, where it needs most.
        Where metres of bed are short ten of them stand for a tray, where square metres are short
        0.15 m² do: a tray of about 28 by 54 cm (common practice, no source).
    """

    shift_day: float = 1.0
    place: float = 4.0
    early_day: float = 0.5
    container: float = 8.0
    split: float = 6.0
    left_out: float = 60.0
    left_out_tray: float = 10.0


@dataclass(frozen=True, slots=True)
class SpaceFit:
    """What is moved so that the room suffices, made by `fit_to_space`.

    Attributes
    ----------
    before, after : Calendar
        As planned, and of the changed plan.
    moves : tuple of FitMove
        In plan order.
    short_of : tuple of NotPlaced
        What still does not fit.
    cost : float
        Sum over moves.
    bound : float
        No set of these moves that places as much costs less.
    ended : str
        "proved" (nothing costs less), "work" (as much as is done for one plan), "seconds" or
        "stopped".
    tried, kept : int
        Changed batches that were scheduled and gone through, and those that break nothing.
    text : str
        All that in words, as ``str`` gives it.
    """

    before: Calendar
    after: Calendar
    moves: tuple[FitMove, ...]
    short_of: tuple[NotPlaced, ...]
    cost: float
    bound: float
    ended: str
    tried: int
    kept: int
    text: str

    @property
    def fits(self) -> bool:
        """Whether there is room for all that is raised."""
        return not self.short_of

    @property
    def plan(self) -> Plan:
        """The changed plan."""
        return self.after.plan

    @property
    def gap(self) -> float:
        """Cost above the bound."""
        return self.cost - self.bound

    def __str__(self) -> str:
        return self.text

    def __repr__(self) -> str:
        count = len(self.moves)
        return (
            f"<SpaceFit {self.before.plan.title!r}: {count} move{'' if count == 1 else 's'}, "
            f"{'all fits' if self.fits else f'{len(self.short_of)} not placed'}>"
        )


def fit_to_space(
    plan: Plan,
    climate: Climate,
    *,
    weights: FitWeights | None = None,
    most_shift: int = 14,
    places: bool = True,
    early: bool = True,
    containers: bool = True,
    splits: bool = True,
    leave_out: bool = True,
    reliability: float | None = None,
    seconds: float | None = None,
    progress: Progress | None = None,
) -> SpaceFit:
    """Find the least harmful moves that make the room suffice, by the planned days.

    A target gives way within its rule; a stage stands in another place of its ``where``, goes out
    early to harden, or into a denser container; a batch is parted, or half or all of it is bought
    in for its planting out, and stands in the field like what is raised. Days that a target, a
    planting out or a harvest moves have their price wherever they come from. Nothing is put into a
    container without an area where square metres are counted. No move breaks a bound, a link or a
    hold that held, or does damage or loses a batch to cold beyond the accepted risk: every changed
    batch is scheduled and gone through in every season year.

    Parameters
    ----------
    plan : Plan
        The plan.
    climate : Climate
        Season years with the plan's season start, length and latitude.
    weights : FitWeights, optional
        Prices of the moves. None: the usual ones.
    most_shift : int, optional
        Days that a target, planting out or harvest may move by any move, 0 to 60 [days].
    places, early, containers, splits, leave_out : bool, optional
        Which kinds of moves are tried.
    reliability : float, optional
        As for `schedule`.
    seconds : float, optional
        Most time for the search [s]. None: as much work as is done for one plan, whatever the
        machine; the result is then always the same.
    progress : callable, optional
        Called now and then with the best cost so far (None: none yet), a bound below which no cost
        can be, and the seconds. Return False to stop with the best so far; what it raises is
        raised.

    Returns
    -------
    SpaceFit
        Moves, the changed plan with its calendar, the cost and how much less it could be, and what
        is left without room. A plan that fits has no moves.

    Raises
    ------
    InvalidInput
        For prices and limits out of range, and as `schedule`.
    TypeError
        When an argument is of the wrong kind.

    Examples
    --------
    >>> epicotyl.fit_to_space(plan, climate)
    <SpaceFit 'Marlpit 2027': 0 moves, all fits>
    """
    _check.instance(plan, Plan, "plan")
    _check.instance(climate, Climate, "climate")
    prices = FitWeights() if weights is None else weights
    _check.instance(prices, FitWeights, "weights")
    named = {
        "places": places,
        "early": early,
        "containers": containers,
        "splits": splits,
        "leave_out": leave_out,
    }
    if progress is not None and not callable(progress):
        raise TypeError(f"progress: a function is wanted, not {type(progress).__name__}")

    def told(cost: float | None, bound: float, elapsed: float) -> bool:
        return progress is None or progress(cost, bound, elapsed) is not False

    before, after, moves, short_of, cost, bound, ended, tried, kept, text = _core.fit_to_space(
        plan._held,
        climate._held,
        cast("_Prices", tuple(_check.number(one, "weights") for one in astuple(prices))),
        _check.whole(most_shift, "most_shift"),
        [_check.flag(one, name) for name, one in named.items()],
        None if reliability is None else _check.number(reliability, "reliability"),
        None if seconds is None else _check.number(seconds, "seconds"),
        None if progress is None else told,
    )
    return SpaceFit(
        Calendar._of(before),
        Calendar._of(after),
        tuple(moves),
        tuple(short_of),
        cost,
        bound,
        ended,
        tried,
        kept,
        text,
    )
