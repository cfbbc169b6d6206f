"""Options that several classes take: months and days, and which years."""

from __future__ import annotations

import datetime
import re
from collections.abc import Sequence
from typing import Literal, NoReturn, TypeAlias

from epicotyl import _check, _core

Years: TypeAlias = int | tuple[int, int] | Literal["all"]
MonthDay: TypeAlias = tuple[int, int] | str | datetime.date


def month_day(written: MonthDay, name: str) -> tuple[int, int]:
    """Month and day, however they are written."""
    if _check.is_date(written):
        return written.month, written.day
    if isinstance(written, str):
        found = re.fullmatch(r"(\d\d)-(\d\d)", written, re.ASCII)
        if found is None:
            _refuse_month_day(written, name, f'"{written}" is not a month and day')
        month, day = int(found[1]), int(found[2])
    elif isinstance(written, tuple) and len(written) == 2:
        month, day = (_check.whole(part, name) for part in written)
    else:
        raise TypeError(
            f'{name}: (month, day), "MM-DD" or a datetime.date is wanted, not {written!r}'
        )
    if not (1 <= month <= 12 and 1 <= day <= 31):
        _refuse_month_day(written, name, f"{written!r} is not a month and day of the calendar")
    return month, day


def _refuse_month_day(written: object, name: str, problem: str) -> NoReturn:
    _core.refuse(
        code="month_day.not_in_calendar",
        field=name,
        value=str(written),
        problem=problem,
        remedy='give month and day, such as (3, 1) or "03-01"',
    )


def years(written: int | str | Sequence[int]) -> int | str | tuple[int, int]:
    """Which years, however they are written; the words are known to the library."""
    if isinstance(written, str):
        return written
    if isinstance(written, Sequence):
        if len(written) != 2:
            raise TypeError(f"years: a first and a last year are wanted, not {written!r}")
        return _check.whole(written[0], "years"), _check.whole(written[1], "years")
    return _check.whole(written, "years")
