"""Pictures of what is picked week by week; needs matplotlib."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

if TYPE_CHECKING:
    from matplotlib.axes import Axes

    from epicotyl._yield_by_week import YieldByWeek

# Blue of Okabe and Ito's set, which most colour-blind people tell from grey.
_PICKED = "#0072B2"
_WANTED = "#000000"


def draw(of: YieldByWeek, per_week: float | None, ax: Axes | None) -> Axes:
    """See `YieldByWeek.plot`."""
    import matplotlib.dates
    import matplotlib.pyplot as plt

    axes = plt.gca() if ax is None else ax
    # A week is drawn as a step that begins on its Monday.
    edges = np.append(of.weeks, of.weeks[-1:] + 7)
    low, usual, high = (np.append(row := of.quantile(q), row[-1:]) for q in (0.1, 0.5, 0.9))
    axes.fill_between(
        edges, low, high, step="post", color=_PICKED, alpha=0.3, lw=0,
        label="1 year in 10 to 9 years in 10",
    )  # fmt: skip
    axes.step(edges, usual, where="post", color=_PICKED, lw=1.8, label="usual")
    if per_week is not None:
        axes.axhline(per_week, color=_WANTED, ls="--", lw=1.2, label=f"{per_week:g} wanted")
    picked = np.flatnonzero(of.values.max(axis=0) > 0.0)
    if picked.size:
        axes.set_xlim(edges[max(0, picked[0] - 1)], edges[min(picked[-1] + 2, edges.size - 1)])
    axes.set_ylim(0, None)
    axes.set_ylabel(f"{of.unit or 'units'} a week")
    axes.set_xlabel("date")
    axes.set_title(of.succession)
    # matplotlib's dates are without types.
    drawn: Any = matplotlib.dates
    locator = drawn.AutoDateLocator(minticks=4, maxticks=9)
    axes.xaxis.set_major_locator(locator)
    axes.xaxis.set_major_formatter(drawn.ConciseDateFormatter(locator))
    axes.legend(frameon=False, fontsize="small")
    return axes
