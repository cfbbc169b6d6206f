"""Pictures of a place through the season; needs matplotlib."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from epicotyl import _check

if TYPE_CHECKING:
    from matplotlib.axes import Axes

    from epicotyl._space import Occupancy, RoomKind

# Blue and vermilion of Okabe and Ito's set, which most colour-blind people tell apart; the excess
# is hatched as well, and the room is a dashed line.
_FILLED = "#0072B2"
_EXCESS = "#D55E00"
_ROOM = "#000000"
_LABELS = {
    "metric": {"trays": "trays", "bed": "metres of bed", "area": "square metres"},
    "us": {"trays": "trays", "bed": "feet of bed", "area": "square feet"},
}


def draw(of: Occupancy, place: str, kind: RoomKind, ax: Axes | None) -> Axes:
    """See `Occupancy.plot`."""
    import matplotlib.dates
    import matplotlib.pyplot as plt

    dates, space = of.space(place, kind)
    axes = plt.gca() if ax is None else ax
    # A day is drawn as a step that begins on it.
    edges = np.append(dates, dates[-1:] + 1)

    def stepped(values: _check.FloatArray) -> _check.FloatArray:
        return np.append(values, values[-1:])

    if of.years:
        most = space.max(axis=0)
        low, usual, high = (of.quantile(place, q, kind)[1] for q in (0.1, 0.5, 0.9))
        axes.fill_between(
            edges, stepped(low), stepped(high), step="post", color=_FILLED, alpha=0.3, lw=0,
            label="1 year in 10 to 9 years in 10",
        )  # fmt: skip
        axes.step(edges, stepped(usual), where="post", color=_FILLED, lw=1.8, label="usual")
        axes.step(
            edges, stepped(most), where="post", color=_FILLED, lw=0.6,
            label=f"fullest of {len(of.years)} years",
        )  # fmt: skip
    else:
        most = space
        axes.fill_between(edges, 0, stepped(most), step="post", color=_FILLED, alpha=0.3, lw=0)
        axes.step(edges, stepped(most), where="post", color=_FILLED, lw=1.8, label="planned")
    room = of.room(place, kind)
    if room is not None:
        axes.axhline(room, color=_ROOM, ls="--", lw=1.2, label=f"room for {room:g}")
        if (most > room + 1e-6).any():
            axes.fill_between(
                edges, room, np.maximum(stepped(most), room), step="post", facecolor="none",
                edgecolor=_EXCESS, hatch="////", lw=0, label="does not fit",
            )  # fmt: skip
    used = np.flatnonzero(most > 0)
    if used.size:
        axes.set_xlim(dates[max(0, used[0] - 7)], dates[min(dates.size - 1, used[-1] + 7)])
    axes.set_ylim(0, None)
    axes.set_ylabel(_LABELS[of._units][kind])
    axes.set_xlabel("date")
    axes.set_title(place)
    # matplotlib's dates are without types.
    drawn: Any = matplotlib.dates
    locator = drawn.AutoDateLocator(minticks=4, maxticks=9)
    axes.xaxis.set_major_locator(locator)
    axes.xaxis.set_major_formatter(drawn.ConciseDateFormatter(locator))
    axes.legend(frameon=False, fontsize="small")
    return axes
