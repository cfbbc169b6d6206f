"""Season: how much is picked, week by week."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, overload

from epicotyl import _check, _core
from epicotyl._clock import Cutoff, Method
from epicotyl._prospect import Prospect
from epicotyl._result import extends
from epicotyl._value import Value

if TYPE_CHECKING:
    import pandas as pd
    from matplotlib.axes import Axes


class YieldShape(Value[_core.YieldShape]):
    """How what a plant gives is spread, over days or heat since its first harvest.

    Made by `box`, `trapezoid` and `weibull`; the area under each is 1.

    Examples
    --------
    >>> epicotyl.harvest.YieldShape.box(20)
    YieldShape.box(20.0)
    """

    __slots__ = ()

    def __init__(self) -> None:
        raise TypeError("a YieldShape is made by YieldShape.box, .trapezoid or .weibull")

    @classmethod
    def box(cls, length: float) -> YieldShape:
        """Even from the first harvest on.

        Parameters
        ----------
        length : float
            How long [days or K day], more than 0.

        Returns
        -------
        YieldShape
            The shape.

        Raises
        ------
        InvalidInput
            When it has no such length.

        Examples
        --------
        >>> epicotyl.harvest.YieldShape.box(20).cumulative(5)
        0.25
        """
        return cls._of(_core.YieldShape("box", [_check.number(length, "length")]))

    @classmethod
    def trapezoid(cls, rise: float, level: float, fall: float) -> YieldShape:
        """Rising, even, falling.

        Parameters
        ----------
        rise, level, fall : float
            How long each [days or K day], 0 or more, not all of them 0.

        Returns
        -------
        YieldShape
            The shape.

        Raises
        ------
        InvalidInput
            When one is negative, or all are 0.

        Examples
        --------
        >>> shape = epicotyl.harvest.YieldShape.trapezoid(7, 14, 7)
        >>> shape.cumulative([7, 14, 28]).round(3).tolist()
        [0.167, 0.5, 1.0]
        """
        lengths = [
            _check.number(one, name)
            for one, name in ((rise, "rise"), (level, "level"), (fall, "fall"))
        ]
        return cls._of(_core.YieldShape("trapezoid", lengths))

    @classmethod
    def weibull(cls, shape: float, scale: float) -> YieldShape:
        """A hump with a long tail, 1 - exp(-(x / scale)^shape) picked by x [weibull1939].

        Parameters
        ----------
        shape : float
            More than 0, no unit. More than 1 rises at first.
        scale : float
            By which 63 % are picked [days or K day], more than 0.

        Returns
        -------
        YieldShape
            The shape.

        Raises
        ------
        InvalidInput
            Unless both are finite and more than 0.

        Examples
        --------
        >>> round(epicotyl.harvest.YieldShape.weibull(2.0, 14.0).cumulative(14.0), 3)
        0.632
        """
        values = [_check.number(shape, "shape"), _check.number(scale, "scale")]
        return cls._of(_core.YieldShape("weibull", values))

    @property
    def name(self) -> str:
        """``"box"``, ``"trapezoid"`` or ``"weibull"``."""
        return self._held.name

    @property
    def parameters(self) -> list[float]:
        """What it was made with, in that order."""
        return self._held.parameters

    @overload
    def cumulative(self, x: float) -> float: ...
    @overload
    def cumulative(self, x: _check.Numbers) -> _check.FloatArray: ...
    def cumulative(self, x: float | _check.Numbers) -> float | _check.FloatArray:
        """Share picked so long after the first harvest.

        Parameters
        ----------
        x : float or array_like of float
            [days or K day]; NaN gives NaN.

        Returns
        -------
        float or numpy.ndarray of float
            0 to 1, in the shape of `x`; 0 before the first harvest.

        Examples
        --------
        >>> epicotyl.harvest.YieldShape.box(10).cumulative([-1.0, 2.5, 12.0]).tolist()
        [0.0, 0.25, 1.0]
        """
        values = _check.values(x, "x")
        return _check.shaped(self._held.cumulative(values.ravel()), values)

    @overload
    def density(self, x: float) -> float: ...
    @overload
    def density(self, x: _check.Numbers) -> _check.FloatArray: ...
    def density(self, x: float | _check.Numbers) -> float | _check.FloatArray:
        """Share picked per day (or K day) so long after the first harvest.

        Parameters
        ----------
        x : float or array_like of float
            [days or K day]; NaN gives NaN.

        Returns
        -------
        float or numpy.ndarray of float
            0 or more [1/day or 1/(K day)], in the shape of `x`; its area is 1.

        Examples
        --------
        >>> epicotyl.harvest.YieldShape.box(10).density([-1.0, 2.5, 12.0]).tolist()
        [0.0, 0.1, 0.0]
        """
        values = _check.values(x, "x")
        return _check.shaped(self._held.density(values.ravel()), values)

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, YieldShape):
            return NotImplemented
        return self._held == other._held

    def __hash__(self) -> int:
        return hash(self._parts())

    def __str__(self) -> str:
        return f"{self.name}({', '.join(f'{one:g}' for one in self.parameters)})"

    def __repr__(self) -> str:
        return f"YieldShape.{self.name}({', '.join(map(repr, self.parameters))})"

    def _parts(self) -> tuple[Any, ...]:
        return (self.name, *self.parameters)

    def _restore(self, *parts: Any) -> None:
        name, *values = parts
        self._held = _core.YieldShape(name, values)


class HarvestYield(Value[_core.HarvestYield]):
    """What a plant gives over its whole harvest, and how it is spread.

    Both are yours: the library knows no crop's. Plants are those alive at the first harvest; damage
    takes none away.

    Parameters
    ----------
    shape : YieldShape
        How it is spread over the days since the first harvest, or the heat where `base` is given.
    units_per_plant : float
        0 or more, over the whole of the shape.
    unit : str, optional
        For words: ``"stems"``, ``"kg"``.
    base, upper : float, optional
        Base and upper threshold [°C] of the degree-days over which the shape runs, in the air in
        which the harvested plants stand. Without a base it runs over days.
    method, cutoff : str, optional
        As those of `degree_days`.

    Raises
    ------
    InvalidInput
        For units that are negative or no number, and as `degree_days` does.
    TypeError
        When an argument is of the wrong kind.

    Examples
    --------
    >>> ten_days = epicotyl.harvest.YieldShape.box(10)
        >>> stems = epicotyl.harvest.HarvestYield(ten_days, 12, unit="stems")
    >>> stems.units_per_plant, stems.unit
    (12.0, 'stems')
    """

    __slots__ = ("_asked",)

    _asked: tuple[Any, ...]

    def __init__(
        self,
        shape: YieldShape,
        units_per_plant: float,
        *,
        unit: str = "",
        base: float | None = None,
        upper: float | None = None,
        method: Method = "single_sine",
        cutoff: Cutoff = "horizontal",
    ) -> None:
        _check.instance(shape, YieldShape, "shape")
        if base is None and upper is not None:
            _core.refuse(
                code="yield.upper_without_base",
                field="upper",
                value=str(upper),
                problem="an upper threshold is given without a base",
                remedy="give a base as well, or neither for days",
            )
        self._restore(
            shape,
            _check.number(units_per_plant, "units_per_plant"),
            _check.text(unit, "unit"),
            None if base is None else _check.number(base, "base"),
            None if upper is None else _check.number(upper, "upper"),
            _check.text(method, "method"),
            _check.text(cutoff, "cutoff"),
        )

    @property
    def shape(self) -> YieldShape:
        """How it is spread."""
        shape: YieldShape = self._asked[0]
        return shape

    @property
    def units_per_plant(self) -> float:
        """Over the whole of the shape."""
        units: float = self._asked[1]
        return units

    @property
    def unit(self) -> str:
        """What is counted; may be empty."""
        unit: str = self._asked[2]
        return unit

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, HarvestYield):
            return NotImplemented
        return self._held == other._held

    def __hash__(self) -> int:
        return hash(self._asked[:3])

    def __str__(self) -> str:
        base = self._asked[3]
        over = "days" if base is None else f"K day above {base:g} °C"
        unit = f" {self.unit}" if self.unit else ""
        return f"{self.units_per_plant:g}{unit} a plant, {self.shape} over {over}"

    def __repr__(self) -> str:
        return f"<HarvestYield {self}>"

    def _parts(self) -> tuple[Any, ...]:
        return self._asked

    def _restore(self, *parts: Any) -> None:
        shape, units, unit, base, upper, method, cutoff = parts
        heat = None if base is None else (base, upper, method, cutoff)
        self._held = _core.HarvestYield(shape._held, units, unit, heat)
        self._asked = parts


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
        try:
            import pandas as pd
        except ImportError as missing:
            raise ImportError(
                "to_frame() needs pandas: pip install 'epicotyl[pandas]'"
            ) from missing
        return pd.DataFrame(
            self.values.T, index=pd.Index(self.weeks, name="week"), columns=self.years
        )

    def plot(self, *, per_week: float | None = None, ax: Axes | None = None) -> Axes:
        """Draw the weeks: the usual year and a band of the years; needs matplotlib.

        The line is the median of each week, the band goes from the 1st to the 9th tenth of the
        years.

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
            f"<YieldByWeek {self.succession!r}: {self.possible:g}{unit} from {self.plants:g} "
            f"plants in {len(self.years)} years>"
        )


def expected_yield(
    prospect: Prospect, succession: str, gives: HarvestYield, *, heat_stops: bool = True
) -> YieldByWeek:
    """Reckon what a succession is expected to give, week by week.

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
