"""JSON documents read field by field; what is missing or of another kind is refused."""

from __future__ import annotations

import datetime
import math
from collections.abc import Mapping
from typing import Any, NoReturn

import numpy as np

from epicotyl import _check, _core


def refuse_constant(word: str) -> NoReturn:
    _core.refuse(
        code="json.not_json",
        field="text",
        value=word,
        problem=f"{word} is no number of JSON",
        remedy="write null for a gap",
    )


class Reader:
    """One object of a document; refuses what is missing or of another kind, by its field."""

    def __init__(self, table: object, field: str):
        if not isinstance(table, dict):
            self.refuse(field or "text", table, "an object")
        self._table: Mapping[str, Any] = table
        self._field = field

    def get(self, key: str, *kinds: type) -> Any:
        field = f"{self._field}.{key}" if self._field else key
        if key not in self._table:
            _core.refuse(
                code="json.missing",
                field=field,
                value="",
                problem="it is missing",
                remedy="give the text that to_json wrote, whole",
            )
        value = self._table[key]
        # A truth value is an int to Python, and no number to us.
        if isinstance(value, bool) or not isinstance(value, kinds):
            self.refuse(field, value, " or ".join(_KINDS[kind] for kind in kinds))
        return value

    def inner(self, key: str) -> Reader:
        return Reader(self.get(key, dict), f"{self._field}.{key}" if self._field else key)

    def inner_or_none(self, key: str) -> Reader | None:
        return None if self.get(key, dict, type(None)) is None else self.inner(key)

    def numbers(self, key: str) -> _check.FloatArray:
        values = self.get(key, list)
        for one in values:
            if isinstance(one, bool) or not isinstance(one, int | float | None):
                self.refuse(f"{self._field}.{key}", one, "a number or null")
        return np.array([math.nan if one is None else one for one in values], dtype=np.float64)

    def day(self, key: str) -> datetime.date:
        text = self.get(key, str)
        try:
            return datetime.date.fromisoformat(text)
        except ValueError:
            self.refuse(f"{self._field}.{key}", text, "a day such as 2027-03-19")

    @staticmethod
    def refuse(field: str, value: object, wanted: str) -> NoReturn:
        _core.refuse(
            code="json.kind",
            field=field,
            value=str(value)[:40],
            bound=wanted,
            problem=f"{str(value)[:40]!r} is not {wanted}",
            remedy="give the text that to_json wrote",
        )


_KINDS: dict[type, str] = {
    str: "a text",
    int: "a whole number",
    float: "a number",
    list: "a list",
    dict: "an object",
    type(None): "null",
}
