"""Arguments: their kind is checked here, their value in the library.

A wrong kind is a `TypeError`, a wrong value an `InvalidInput`. What numpy would quietly convert
(text, truth values, dates with a time of day) is refused.
"""

from __future__ import annotations

import datetime
import operator
import os
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any, NoReturn, TypeAlias

import numpy as np
import numpy.typing as npt

from epicotyl import _core

if TYPE_CHECKING:
    from typing import TypeGuard

Day: TypeAlias = datetime.date | np.datetime64
Days: TypeAlias = npt.NDArray[np.datetime64] | Sequence[Day]
Numbers: TypeAlias = npt.NDArray[Any] | Sequence[float] | Sequence[Sequence[float]]
Path: TypeAlias = str | os.PathLike[str]
FloatArray: TypeAlias = npt.NDArray[np.float64]
DayArray: TypeAlias = npt.NDArray[np.datetime64]
WholeArray: TypeAlias = npt.NDArray[np.int64]


def _refuse_kind(name: str, wanted: str, value: object) -> NoReturn:
    raise TypeError(f"{name}: {wanted} is wanted, not {value!r} ({type(value).__name__})")


def number(value: object, name: str) -> float:
    """A number that is no truth value and no text."""
    if isinstance(value, bool | np.bool_) or not isinstance(
        value, int | float | np.integer | np.floating
    ):
        _refuse_kind(name, "a number", value)
    try:
        return float(value)
    except OverflowError:
        _core.refuse(
            code="number.too_large",
            field=name,
            value=f"{str(value)[:20]}...",
            bound="64 bits",
            problem="a whole number of hundreds of digits",
            remedy="give a smaller number",
        )


def integer(value: object, name: str) -> int:
    """A whole number that is no truth value."""
    if isinstance(value, bool | np.bool_) or not isinstance(value, int | np.integer):
        _refuse_kind(name, "a whole number", value)
    return operator.index(value)


def whole(value: object, name: str) -> int:
    """A whole number of 32 bits, in which the library counts."""
    found = integer(value, name)
    if not -(2**31) <= found < 2**31:
        _core.refuse(
            code="number.too_large",
            field=name,
            value=str(found),
            bound="32 bits",
            problem=f"{found} is beyond all counts",
            remedy="give a smaller number",
        )
    return found


def flag(value: object, name: str) -> bool:
    """A truth value."""
    if not isinstance(value, bool | np.bool_):
        _refuse_kind(name, "True or False", value)
    return bool(value)


def text(value: object, name: str) -> str:
    """A text."""
    if not isinstance(value, str):
        _refuse_kind(name, "a str", value)
    return value


def path(value: object, name: str) -> str:
    """A path of the file system, as text."""
    if not isinstance(value, str | os.PathLike):
        _refuse_kind(name, "a str or a path", value)
    return os.fsdecode(value)


def instance(value: object, kind: type, name: str) -> None:
    """An object of one of the library's types."""
    if not isinstance(value, kind):
        raise TypeError(f"{name}: a {kind.__name__} is wanted, not {type(value).__name__}")


def is_date(value: object) -> TypeGuard[datetime.date]:
    """A date without a time of day."""
    return isinstance(value, datetime.date) and not isinstance(value, datetime.datetime)


def values(array: float | Numbers, name: str) -> FloatArray:
    """Numbers as an array of float64; NaN stands for a missing one."""
    if isinstance(array, np.ma.MaskedArray):
        raise TypeError(f"{name}: a masked array is not taken; fill it with NaN first")
    found = np.asarray(array)
    if found.dtype.kind == "O" and all(type(one) in (int, float) for one in found.flat):
        # Whole numbers beyond 64 bits: what they mean, their bounds say.
        found = np.array([number(one, name) for one in found.flat]).reshape(found.shape)
    if found.dtype.kind not in "iuf":
        raise TypeError(f"{name}: an array of numbers is wanted, not one of {found.dtype}")
    return np.ascontiguousarray(found, dtype=np.float64).reshape(found.shape)


def days(array: Days | Day, name: str) -> DayArray:
    """Days as an array of datetime64[D]; NaT stands for a missing one."""
    wanted = "datetime.date or datetime64[D], without a time of day"
    found: npt.NDArray[Any] = np.asarray(array)
    if found.dtype.kind == "O" and all(is_date(one) for one in found.flat):
        return found.astype("datetime64[D]")
    if found.dtype.kind != "M" or np.datetime_data(found.dtype)[0] != "D":
        raise TypeError(f"{name}: {wanted} is wanted, not an array of {found.dtype}")
    return np.ascontiguousarray(found, dtype="datetime64[D]").reshape(found.shape)


def shaped(found: FloatArray, like: npt.NDArray[Any]) -> float | FloatArray:
    """Results of one row in the shape of what was asked about: an array, or a number for one."""
    return found.reshape(like.shape) if like.ndim else float(found[0])


def pandas() -> Any:
    """The package pandas, which only tables need."""
    try:
        import pandas as pd
    except ImportError as missing:
        raise ImportError("to_frame() needs pandas: pip install 'epicotyl[pandas]'") from missing
    return pd
