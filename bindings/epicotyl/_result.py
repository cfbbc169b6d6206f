"""What all results are: frozen values, with the fields of a struct of the library.

The extension module lists the fields of each (name, type, what it is), and `make` makes its class.
What Python adds of its own stands in a subclass under `extends`, which then is the class that the
library makes. A pickle holds the fields by name; those of releases in which it held them in order
are read, and a field that is not in it is what a new struct of the library has.
"""

from __future__ import annotations

import textwrap
from dataclasses import MISSING, field, make_dataclass
from typing import Any, ClassVar, NamedTuple, TypeVar

classes: dict[str, type] = {}
Extended = TypeVar("Extended")


class Result:
    """A value that the library made."""

    __slots__ = ()

    __match_args__: tuple[str, ...]
    _defaults: ClassVar[dict[str, Any]]
    _said: ClassVar[str]

    def __str__(self) -> str:
        said: str = getattr(self, self._said) if self._said else repr(self)
        return said

    def __getstate__(self) -> dict[str, Any]:
        return {name: getattr(self, name) for name in self.__match_args__}

    def __setstate__(self, state: dict[str, Any] | list[Any] | tuple[Any, ...]) -> None:
        if not isinstance(state, dict):
            state = dict(zip(self.__match_args__, state, strict=False))
        for name in self.__match_args__:
            value = state[name] if name in state else self._defaults[name]
            object.__setattr__(self, name, value)


def extends(cls: type[Extended]) -> type[Extended]:
    """Have the library make values of this class, a subclass of a result's of the same name."""
    cls.__doc__ = cls.__doc__ or cls.__base__.__doc__
    classes[cls.__name__] = cls
    return cls


def make(
    name: str,
    doc: str,
    fields: list[tuple[str, str, str, bool]],
    defaults: dict[str, Any],
    is_tuple: bool,
) -> type:
    """Make the class of a result from its fields: name, type, and what it is."""
    described = "\n".join(
        f"{one} : {kind.replace(' | ', ' or ')}\n{textwrap.indent(textwrap.fill(what, 90), '    ')}"
        for one, kind, what, _ in fields
        if not one.startswith("_")
    )
    said = [one for one, *_ in fields if one in ("sentence", "text", "_text")]
    namespace: dict[str, Any] = {
        "__doc__": f"{doc}\n\nAttributes\n----------\n{described}\n",
        "_defaults": defaults,
        "_said": said[0] if said else "",
    }
    if is_tuple:
        # Named tuples say their fields to all who unpack them, and need no state of their own.
        named: Any = NamedTuple
        unpacked: type = named(name, [(one, kind) for one, kind, *_ in fields])
        if said:
            namespace["__str__"] = Result.__str__
        for one, value in namespace.items():
            setattr(unpacked, one, value)
        classes[name] = unpacked
        return unpacked
    made = make_dataclass(
        name,
        [
            (one, kind, _field(one, kind, defaults[one] if has_default else MISSING))
            for one, kind, _, has_default in fields
        ],
        bases=(Result,),
        namespace=namespace,
        frozen=True,
        slots=True,
        # Arrays are not compared to one truth.
        eq=not any("NDArray" in kind for _, kind, *_ in fields),
    )
    # A dataclass with slots has its own two, which know fields by their order alone.
    for state in ("__getstate__", "__setstate__"):
        setattr(made, state, getattr(Result, state))
    classes[name] = made
    return made


def _field(name: str, kind: str, default: Any) -> Any:
    shown = not name.startswith("_")
    hashed = shown and not kind.startswith(("list", "dict"))
    return field(default=default, hash=hashed, repr=shown, compare=shown)
