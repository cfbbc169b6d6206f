"""Edits: what all of them share."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Self, TypeAlias

from epicotyl import _check, _core
from epicotyl._value import Value

#: A value of a plan file: what `plan` takes in its tables. None leaves a key out.
Written: TypeAlias = Any

_OfKeys: TypeAlias = Callable[[_core.Plan, str, dict[str, Any], list[str]], _core.Plan]


def parted(keys: dict[str, Written]) -> tuple[dict[str, Written], list[str]]:
    """Keys with a value, and those that are to be left out."""
    return (
        {key: value for key, value in keys.items() if value is not None},
        [key for key, value in keys.items() if value is None],
    )


def renamed(keys: dict[str, Written], name: str, key: str) -> dict[str, Written]:
    """Keys with one that Python reserves under its name in plan files."""
    if name not in keys:
        return keys
    if key in keys:
        raise TypeError(f"{name} and {key} are the same key; give one of them")
    return {(key if one == name else one): value for one, value in keys.items()}


class Edited(Value[_core.Plan]):
    """A plan that makes others like itself but for some keys of a plan file."""

    __slots__ = ()

    def _by_keys(self, edit: _OfKeys, name: object, what: str, keys: dict[str, Written]) -> Self:
        return self._of(edit(self._held, _check.text(name, what), *parted(keys)))
