"""Season: what a plant gives, and how that is spread."""

from __future__ import annotations

from typing import Any, overload

from epicotyl import _check, _core
from epicotyl._clock import Cutoff, Method
from epicotyl._units import Units, celsius, is_us, kelvin
from epicotyl._value import Told, Value


class YieldShape(Value[_core.YieldShape]):
    """How what a plant gives is spread, over days or heat since its first harvest.

    Made by `box`, `trapezoid` and `weibull`; the area under each is 1.

    Examples
    --------
    >>> epicotyl.harvest.YieldShape.box(20)
    YieldShape.box(20.0)
    """

    __slots__ = ()

    _compares_held = True
    _made_by = "a YieldShape is made by YieldShape.box, .trapezoid or .weibull"

    @classmethod
    def box(cls, length: float) -> YieldShape:
        """Even from the first harvest on.

        Parameters
        ----------
        length : float
            How long [days or K day (°F day)], more than 0.

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
            How long each [days or K day (°F day)], 0 or more, not all of them 0.

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
            By which 63 % are picked [days or K day (°F day)], more than 0.

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

    name = Told[str]('``"box"``, ``"trapezoid"`` or ``"weibull"``.')
    parameters = Told[list[float]]("What it was made with, in that order.")

    @overload
    def cumulative(self, x: float) -> float: ...
    @overload
    def cumulative(self, x: _check.Numbers) -> _check.FloatArray: ...
    def cumulative(self, x: float | _check.Numbers) -> float | _check.FloatArray:
        """Share picked so long after the first harvest.

        Parameters
        ----------
        x : float or array_like of float
            [days or K day (°F day)]; NaN gives NaN.

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
            [days or K day (°F day)]; NaN gives NaN.

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
        Base and upper threshold [°C, or °F by `units`] of the degree-days over which the shape
        runs, in the air in which the harvested plants stand. Without a base it runs over days.
    method, cutoff : str, optional
        As those of `degree_days`.
    units : {"metric", "us"}, optional
        Of the thresholds and of the heat over which the shape runs: °C and K day, or °F and °F day.

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

    _compares_held = True

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
        units: Units = "metric",
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
            "us" if is_us(units) else "metric",
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

    def __hash__(self) -> int:
        return hash(self._asked[:3])

    def __str__(self) -> str:
        base = self._asked[3]
        day, degree = ("°F day", "°F") if self._asked[7] == "us" else ("K day", "°C")
        over = "days" if base is None else f"{day} above {base:g} {degree}"
        unit = f" {self.unit}" if self.unit else ""
        return f"{self.units_per_plant:g}{unit} a plant, {self.shape} over {over}"

    def __repr__(self) -> str:
        return f"<HarvestYield {self}>"

    def _parts(self) -> tuple[Any, ...]:
        return self._asked

    def _restore(self, *parts: Any) -> None:
        # Older pickles have no word for the units.
        shape, a_plant, unit, base, upper, method, cutoff, units = (*parts, "metric")[:8]
        heat, spread = None, shape._held
        if base is not None:
            limit = None if upper is None else celsius(upper, units)
            heat = (celsius(base, units), limit, method, cutoff)
            spread = _core.YieldShape(shape.name, _lengths(shape, units))
        self._held = _core.HarvestYield(spread, a_plant, unit, heat)
        self._asked = (shape, a_plant, unit, base, upper, method, cutoff, units)


def _lengths(shape: YieldShape, units: str) -> list[float]:
    """Parameters of a shape with its lengths in K day."""
    no_lengths = 1 if shape.name == "weibull" else 0
    return [one if k < no_lengths else kelvin(one, units) for k, one in enumerate(shape.parameters)]
