"""Season: how much is picked, week by week."""

from __future__ import annotations

from typing import TYPE_CHECKING

from epicotyl import _check, _core
from epicotyl._prospect import Prospect
from epicotyl._result import extends
from epicotyl._yield import HarvestYield

if TYPE_CHECKING:
    import pandas as pd
    from matplotlib.axes import Axes


@extends
class YieldByWeek(_core.YieldByWeek):
    __slots__ = ()

    def quantile(self, q: float) -> _check.FloatArray:
        """Units of each week that a share of the season years does not exceed.

        Parameters
        ----------
        q : float
            Share of n years, 0 to 1; the k-th smallest is given, k = max(1, ceil(q n)), without
            averaging.

        Returns
        -------
        numpy.ndarray of float, shape (weeks,)
            Units. They do not add up to the quantile of the totals.

        Raises
        ------
        InvalidInput
            For a share out of range.

        Examples
        --------
        >>> ten_days = epicotyl.harvest.YieldShape.box(10)
        >>> stems = epicotyl.harvest.HarvestYield(ten_days, 12, unit="stems")
        >>> cut = epicotyl.harvest.expected_yield(prospect, "lettuce 1", stems)
        >>> bool((cut.quantile(0.1) <= cut.quantile(0.9)).all())
        True
        """
        return _core.quantile_of_weeks(self.values, _check.number(q, "q"))

    def mean(self) -> _check.FloatArray:
        """Mean of the season years, week by week.

        Returns
        -------
        numpy.ndarray of float, shape (weeks,)
            Units; they add up to the mean of the totals.

        Examples
        --------
        >>> ten_days = epicotyl.harvest.YieldShape.box(10)
        >>> stems = epicotyl.harvest.HarvestYield(ten_days, 12, unit="stems")
        >>> cut = epicotyl.harvest.expected_yield(prospect, "lettuce 1", stems)
        >>> round(float(cut.mean().sum()), 6)
        1200.0
        """
        found: _check.FloatArray = self.values.mean(axis=0)
        return found

    def to_frame(self) -> pd.DataFrame:
        """Make a table of the weeks (needs pandas).

        Returns
        -------
        pandas.DataFrame
            A line a week, indexed by its Monday, and a column a season year.

        Examples
        --------
        >>> ten_days = epicotyl.harvest.YieldShape.box(10)
        >>> stems = epicotyl.harvest.HarvestYield(ten_days, 12, unit="stems")
        >>> epicotyl.harvest.expected_yield(prospect, "lettuce 1", stems).to_frame().shape
        (53, 12)
        """
        pd = _check.pandas()
        return pd.DataFrame(
            self.values.T, index=pd.Index(self.weeks, name="week"), columns=self.years
        )

    def plot(self, *, per_week: float | None = None, ax: Axes | None = None) -> Axes:
        """Draw the weeks: the usual year and a band of the years; needs matplotlib.

        The line is the usual year, the median of each week; the band goes from 1 year in 10 to 9
        years in 10.

        Parameters
        ----------
        per_week : float, optional
            Units that are wanted each week, drawn as a dashed line.
        ax : matplotlib.axes.Axes, optional
            Where to draw; None: the current axes.

        Returns
        -------
        matplotlib.axes.Axes
            With units on both axes.

        Raises
        ------
        ImportError
            When matplotlib is missing.

        Examples
        --------
        >>> import matplotlib
        >>> matplotlib.use("agg")
        >>> ten_days = epicotyl.harvest.YieldShape.box(10)
        >>> stems = epicotyl.harvest.HarvestYield(ten_days, 12, unit="stems")
        >>> epicotyl.harvest.expected_yield(prospect, "lettuce 1", stems).plot().get_ylabel()
        'stems a week'
        """
        from epicotyl._yield_plot import draw

        wanted = None if per_week is None else _check.number(per_week, "per_week")
        return draw(self, wanted, ax)

    def __repr__(self) -> str:
        unit = f" {self.unit}" if self.unit else ""
        return (
            f"<YieldByWeek {self.succession!r}: at most {_amount(self.possible)}{unit} from "
            f"{_amount(self.plants)} plants, in each of {len(self.years)} years>"
        )


def _amount(of: float) -> str:
    return f"{of:.0f}" if of >= 100.0 else f"{of:.3g}"


def expected_yield(
    prospect: Prospect, succession: str, gives: HarvestYield, *, heat_stops: bool = True
) -> YieldByWeek:
    """Work out what a succession is expected to give, week by week.

    Day d of a harvest from x gives units times plants times F(C[d + 1] - C[x]) - F(C[d] - C[x]),
    with F the share picked by the shape and C the days, or the heat. What a harvest has not
    realised when it ends is lost; nothing else is.

    Parameters
    ----------
    prospect : Prospect
        What becomes of a calendar.
    succession : str
        Name or id.
    gives : HarvestYield
        What a plant gives.
    heat_stops : bool, optional
        As in `harvest_spans`.

    Returns
    -------
    YieldByWeek
        Units of every ISO week and season year.

    Raises
    ------
    InvalidInput
        As `harvest_spans` does.
    TypeError
        When an argument is of the wrong kind.

    References
    ----------
    Keys of the library's REFERENCES.md: [weibull1939].

    Examples
    --------
    >>> stems = epicotyl.harvest.HarvestYield(epicotyl.harvest.YieldShape.box(20), 12, unit="stems")
    >>> cut = epicotyl.harvest.expected_yield(prospect, "lettuce 1", stems)
    >>> cut.plants, cut.possible, cut.totals.round(6).tolist() == [600.0] * 12
    (100.0, 1200.0, True)
    """
    _check.instance(prospect, Prospect, "prospect")
    _check.instance(gives, HarvestYield, "gives")
    return _core.expected_yield(
        prospect._held,
        _check.text(succession, "succession"),
        gives._held,
        _check.flag(heat_stops, "heat_stops"),
    )
