"""The weather generator: years that did not happen, and could have."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np

from epicotyl import _asked, _check, _core
from epicotyl._course import ElementCourse
from epicotyl._record import DailyRecord, need_record
from epicotyl._units import Units, celsius, kelvin
from epicotyl._value import Told, Value


class WeatherModel(Value[_core.WeatherModel]):
    """How the daily minimum and maximum of a place behave.

    Each has a mean and a spread that run through the year. What is left follows one another from
    day to day as in [richardson1981], by the matrices of [matalas1967]; here without rain. There is
    no trend, and generated years differ less from one another than real ones [wilks1999]. Compare
    the freeze dates of some generated years with the record's before leaning on them.

    Parameters
    ----------
    minimum, maximum : ElementCourse
        Mean [°C] and spread [K] of each; the spread is above 0 on every day of the year.
    same_day : float
        Correlation of what is left of minimum and maximum of one day, between -1 and 1.
    next_day : array_like of float, shape (2, 2)
        Correlation of what is left of each (row: minimum, maximum) with each of the day before
        (column), between -1 and 1.
    origin : str, optional
        Where the numbers come from; every result of generated weather repeats it.

    Raises
    ------
    InvalidInput
        When a number is not finite or out of range, when no weather has these correlations
        together, or when the origin is empty.
    TypeError
        When an argument is of the wrong kind.

    Examples
    --------
    >>> low = epicotyl.weather.YearlyCourse(5.0, cosine=(-10.0, 0.0, 0.0))
    >>> high = epicotyl.weather.YearlyCourse(18.0, cosine=(-12.0, 0.0, 0.0))
    >>> epicotyl.weather.WeatherModel(
    ...     minimum=epicotyl.weather.ElementCourse(low, epicotyl.weather.YearlyCourse(3.0)),
    ...     maximum=epicotyl.weather.ElementCourse(high, epicotyl.weather.YearlyCourse(4.0)),
    ...     same_day=0.6,
    ...     next_day=[[0.6, 0.5], [0.4, 0.6]],
    ... )
    <WeatherModel made from a stated model: means 5.0 and 18.0 °C>
    """

    __slots__ = ()

    _compares_held = True

    def __init__(
        self,
        *,
        minimum: ElementCourse,
        maximum: ElementCourse,
        same_day: float,
        next_day: _check.Numbers,
        origin: str = "made from a stated model",
    ) -> None:
        for name, element in (("minimum", minimum), ("maximum", maximum)):
            if not isinstance(element, ElementCourse):
                raise TypeError(f"{name}: an ElementCourse is wanted, not {element!r}")
        self._restore(
            minimum._parts(),
            maximum._parts(),
            _check.number(same_day, "same_day"),
            _pairs(next_day, "next_day"),
            _check.text(origin, "origin"),
        )

    @property
    def minimum(self) -> ElementCourse:
        """Mean [°C] and spread [K] of the daily minimum."""
        return ElementCourse._from(self._held.minimum)

    @property
    def maximum(self) -> ElementCourse:
        """Mean [°C] and spread [K] of the daily maximum."""
        return ElementCourse._from(self._held.maximum)

    same_day = Told[float]("Correlation of what is left of minimum and maximum of one day.")

    @property
    def next_day(self) -> _check.FloatArray:
        """Correlation of what is left of each (row) with each of the day before (column)."""
        return np.array(self._held.next_day)

    origin = Told[str]("Where the numbers come from.")

    @property
    def carried(self) -> _check.FloatArray:
        """What a day keeps of the day before, shape (2, 2)."""
        return np.array(self._held.carried)

    @property
    def renewed(self) -> _check.FloatArray:
        """What is new in a day, shape (2, 2), lower triangular."""
        return np.array(self._held.renewed)

    met_share = Told[float](
        "Share of days on which the maximum is drawn below the minimum: both become their mean."
    )

    def __hash__(self) -> int:
        return hash((self.origin, self.minimum, self.maximum))

    def __str__(self) -> str:
        low, high = self.minimum.mean.level, self.maximum.mean.level
        return f"{self.origin}: means {low:.1f} and {high:.1f} °C"

    def __repr__(self) -> str:
        return f"<WeatherModel {self}>"

    def _parts(self) -> tuple[Any, ...]:
        held = self._held
        return (held.minimum, held.maximum, held.same_day, held.next_day, held.origin)

    def _restore(self, *parts: Any) -> None:
        self._held = _core.WeatherModel(*parts)


def fit_weather_model(record: DailyRecord, *, years: _asked.Years = 30) -> WeatherModel:
    """Make the model of a record.

    Parameters
    ----------
    record : DailyRecord
        The station; gaps are passed over, a minimum above its maximum counts as a gap.
    years : int, (int, int) or "all", optional
        Calendar years to fit to: the latest so many that the record touches, those between two, or
        all. A long record with a trend in it gives a spread that holds the trend too.

    Returns
    -------
    WeatherModel
        Means and spreads by least squares on three waves a year, correlations of what is left.

    Raises
    ------
    InvalidInput
        When a fortnight of the year has fewer than 20 days with both values (about two years are
        needed), or when what is fitted is no model.
    TypeError
        When an argument is of the wrong kind.

    Examples
    --------
    >>> model = epicotyl.weather.model_from_normals([5.0] * 12, [15.0] * 12)
    >>> made = epicotyl.weather.generate(model, datetime.date(2001, 1, 1), 3652, seed=1)
    >>> epicotyl.weather.fit_weather_model(made).origin
    'made from a model of a record, 2001 – 2010'
    """
    need_record(record, "record")
    return WeatherModel._of(_core.fit_weather_model(record._held, _asked.years(years)))


def model_from_normals(
    lows: Sequence[float],
    highs: Sequence[float],
    *,
    minimum_spread_coldest: float | None = None,
    minimum_spread_warmest: float | None = None,
    maximum_spread_coldest: float | None = None,
    maximum_spread_warmest: float | None = None,
    same_day: float | None = None,
    next_day: _check.Numbers | None = None,
    units: Units = "metric",
) -> WeatherModel:
    """Make a model whose monthly means are the given ones, as nearly as three waves follow them.

    What twelve means do not say is, unless given, that of New York Central Park (GHCN-Daily
    USW00094728), 1991 to 2020: a place with a continental winter. By the sea and in the tropics
    days differ less; a spread too wide puts the last freeze later.

    Parameters
    ----------
    lows, highs : array_like of float, shape (12,)
        Mean daily minimum and maximum of January to December [°C, or °F by `units`].
    minimum_spread_coldest, minimum_spread_warmest : float, optional
        Standard deviation of minima in the coldest time (5.1) and in the warmest (2.5) [K].
    maximum_spread_coldest, maximum_spread_warmest : float, optional
        Standard deviation of maxima in the coldest time (5.7) and in the warmest (3.5) [K].
    same_day : float, optional
        As in `WeatherModel` (0.78).
    next_day : array_like of float, shape (2, 2), optional
        As in `WeatherModel` (0.69, 0.63; 0.54, 0.60).
    units : {"metric", "us"}, optional
        Of means and spreads: °C and K, or °F. The model holds °C.

    Returns
    -------
    WeatherModel
        Its origin is "made from normals".

    Raises
    ------
    InvalidInput
        For a number that is not finite, a high below its low, and twelve numbers that no smooth
        year follows within 2 K (months out of order, units mixed).
    TypeError
        When an argument is of the wrong kind.

    Examples
    --------
    >>> epicotyl.weather.model_from_normals([5.0] * 12, [15.0] * 12)
    <WeatherModel made from normals: means 5.0 and 15.0 °C>
    """
    spreads = {
        "minimum_spread_coldest": minimum_spread_coldest,
        "minimum_spread_warmest": minimum_spread_warmest,
        "maximum_spread_coldest": maximum_spread_coldest,
        "maximum_spread_warmest": maximum_spread_warmest,
    }
    found = _core.model_from_normals(
        [celsius(one, units) for one in _twelve(lows, "lows")],
        [celsius(one, units) for one in _twelve(highs, "highs")],
        [
            None if one is None else kelvin(_check.number(one, name), units)
            for name, one in spreads.items()
        ],
        None if same_day is None else _check.number(same_day, "same_day"),
        None if next_day is None else _pairs(next_day, "next_day"),
    )
    return WeatherModel._of(found)


def generate(model: WeatherModel, start: _check.Day, length: int, *, seed: int) -> DailyRecord:
    """Draw weather from a model: the same for the same arguments, on every machine.

    Parameters
    ----------
    model : WeatherModel
        How the weather behaves.
    start : datetime.date or numpy.datetime64
        First day.
    length : int
        Days, 1 to 4,000,000. A longer record of the same seed begins with the shorter one.
    seed : int
        0 to 2**64 - 1; another seed gives other weather.

    Returns
    -------
    DailyRecord
        Without a gap, rounded to 0.01 °C; its `origin` is the model's.

    Raises
    ------
    InvalidInput
        When length or seed is out of range.
    TypeError
        When an argument is of the wrong kind.

    Examples
    --------
    >>> model = epicotyl.weather.model_from_normals([5.0] * 12, [15.0] * 12)
    >>> epicotyl.weather.generate(model, datetime.date(2001, 1, 1), 730, seed=7)
    <DailyRecord 1 Jan 2001 – 31 Dec 2002, no gaps; made from normals>
    """
    if not isinstance(model, WeatherModel):
        raise TypeError(f"model: a WeatherModel is wanted, not {type(model).__name__}")
    if not 0 <= _check.integer(seed, "seed") < 2**64:
        _core.refuse(
            code="generator.seed",
            field="seed",
            value=str(seed),
            bound="0 to 2**64 - 1",
            problem=f"{seed} is out of range",
            remedy="give any whole number that is not negative, such as 1",
        )
    drawn = _core.generate(model._held, start, _check.whole(length, "length"), int(seed))
    return DailyRecord._of(drawn)


def _twelve(numbers: Sequence[float], name: str) -> list[float]:
    found = _check.values(numbers, name)
    if found.shape != (12,):
        _core.refuse(
            code="generator.months",
            field=name,
            value=str(found.shape),
            bound="12 numbers",
            problem=f"numbers of the shape {found.shape} are no months of a year",
            remedy="give one for each month, January first",
        )
    return [float(one) for one in found]


def _pairs(numbers: _check.Numbers, name: str) -> list[list[float]]:
    found = _check.values(numbers, name)
    if found.shape != (2, 2):
        _core.refuse(
            code="generator.pairs",
            field=name,
            value=str(found.shape),
            bound="2 rows of 2 numbers",
            problem=f"numbers of the shape {found.shape} are no such correlations",
            remedy="give a row for the minimum and one for the maximum",
        )
    return [[float(one) for one in row] for row in found]
