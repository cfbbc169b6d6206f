"""Writes bindings/epicotyl/_core.pyi, which says what the extension module has.

    PYTHONPATH=bindings python bindings/make_stub.py [-]

with `-` to standard output.

Functions and classes are described by what pybind11 says of each in the first line of its
docstring, results by their fields. tests/python/test_package.py compares.
"""

from __future__ import annotations

import dataclasses
import inspect
import re
import sys
from pathlib import Path

from epicotyl import _core
from epicotyl._result import Result, classes

HEAD = """\
# The private extension module. Users see the package around it. Made by bindings/make_stub.py.
import dataclasses
import datetime
import os
from collections.abc import Callable, Sequence
from typing import Any, NamedTuple, NoReturn

import numpy
import numpy.typing as npt

import epicotyl
from epicotyl._result import Result

version: str
"""

#: What pybind11 calls something -> what a type checker is told.
WORDS = {
    r"epicotyl\._core\.|collections\.abc\.": "",
    r"typing\.SupportsFloat \| typing\.SupportsIndex": "float",
    r"typing\.SupportsInt \| typing\.SupportsIndex": "int",
    r"typing\.Annotated\[numpy\.typing\.ArrayLike, ([a-z0-9.]+)\]": r"npt.NDArray[\1]",
    r"numpy\.ndarray\b": "npt.NDArray[Any]",
    r"numpy\.typing\.": "npt.",
    r"\b(object|handle)\b": "Any",
    r"\bdict(?!\[)\b": "dict[str, Any]",
    r"\btuple(?!\[)\b": "tuple[Any, ...]",
    r"\blist(?!\[)\b": "list[Any]",
    r"\bCallable(?!\[)\b": "Callable[..., Any]",
    r"\bos\.PathLike\b": "os.PathLike[str]",
}
# What Python extends is made as its subclass.
for name, kind in classes.items():
    if kind is not vars(_core)[name]:
        WORDS[rf"(?<![\w.]){name}\b"] = f"{kind.__module__}.{name}"


SIZED = re.compile(r'typing\.Annotated\[((?:(?!typing\.Annotated).)*?), "FixedSize\(\d+\)"\]')


def worded(text: str) -> str:
    """What pybind11 says, as a type checker is told it."""
    while SIZED.search(text):
        text = SIZED.sub(r"\1", text)
    for found, said in WORDS.items():
        text = re.sub(found, said, text)
    return text


def signature(name: str, function: object) -> str:
    """A function's line in the stub."""
    said = worded((function.__doc__ or "").splitlines()[0])
    inside, result = re.fullmatch(r"\w+\((.*)\) -> (.*)", said).groups()  # type: ignore[union-attr]
    if name == "refuse":  # it throws
        result = "NoReturn"
    # Of a method the first parameter has a type that need not be said.
    return f"def {name}({re.sub(r'^self: [^,]*', 'self', inside)}) -> {result}: ..."


def of_class(name: str, kind: type) -> list[str]:
    """Lines of a class of the extension module."""
    lines = [f"class {name}:"]
    for member, value in vars(kind).items():
        if isinstance(value, property):
            type_of = worded((value.fget.__doc__ or "").rsplit("-> ", 1)[1].splitlines()[0])
            lines += ["    @property", f"    def {member}(self) -> {type_of}: ..."]
        elif member == "__init__" and "(self:" in (value.__doc__ or ""):
            lines.append("    " + signature(member, value))
        elif member == "__eq__" and value is not object.__eq__:
            lines.append("    def __eq__(self, other: object, /) -> bool: ...")
        elif callable(value) and not member.startswith("_"):
            lines.append("    " + signature(member, value))
    return lines if len(lines) > 1 else [f"{lines[0]} ..."]


def of_result(name: str, kind: type) -> list[str]:
    """Lines of a result."""
    if not issubclass(kind, Result):
        lines = [f"class {name}(NamedTuple):"]
        lines += [
            f"    {one}: {worded(type_of.__forward_arg__)}"
            for one, type_of in kind.__annotations__.items()
        ]
        return lines + ["    def __str__(self) -> str: ..."] * ("__str__" in vars(kind))
    compared = "" if "__eq__" in vars(kind) else ", eq=False"
    lines = [f"@dataclasses.dataclass(frozen=True, slots=True{compared})", f"class {name}(Result):"]
    for field in dataclasses.fields(kind):
        default = "" if field.default is dataclasses.MISSING else " = ..."
        lines.append(f"    {field.name}: {worded(str(field.type))}{default}")
    return lines


def stub() -> str:
    """The whole stub."""
    lines = [HEAD]
    for name, thing in vars(_core).items():
        if name.startswith("_") or not callable(thing):
            continue
        if not inspect.isclass(thing):
            lines.append(signature(name, thing))
        elif name in classes:
            lines += of_result(name, thing)
        else:
            lines += of_class(name, thing)
    return "\n".join(lines) + "\n"


if __name__ == "__main__":
    if sys.argv[1:] == ["-"]:
        sys.stdout.write(stub())
    else:
        path = Path(__file__).with_name("epicotyl") / "_core.pyi"
        path.write_text(stub(), encoding="utf-8")
