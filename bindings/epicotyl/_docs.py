"""Sections of docstrings that many methods have in common, each told once.

A decorator adds them in their place, so that ``help()`` has all of a method: what it is asked by,
what comes back and what is refused.
"""

from __future__ import annotations

import inspect
from collections.abc import Callable
from typing import TypeVar

Method = TypeVar("Method", bound=Callable[..., object])

#: Sections in their order.
_ORDER = ("Parameters", "Returns", "Raises", "Examples")


def _with(**sections: str) -> Callable[[Method], Method]:
    """A decorator that adds sections, by their name in small letters."""

    def add(method: Method) -> Method:
        if method.__doc__ is None:  # python -OO
            return method
        text = inspect.cleandoc(method.__doc__)
        for name in _ORDER:
            if name.lower() in sections:
                later = (text.find(f"{one}\n---") for one in _ORDER[_ORDER.index(name) + 1 :])
                at = min((one for one in later if one >= 0), default=len(text))
                added = f"{name}\n{'-' * len(name)}\n{sections[name.lower()]}"
                text = f"{text[:at].rstrip()}\n\n{added}\n\n{text[at:]}"
        method.__doc__ = text
        return method

    return add


#: Is asked by a succession.
of_succession = _with(
    parameters="succession : str\n    Name or id.",
    raises="InvalidInput\n    For a succession that the plan does not have.",
)
#: Is asked by an event of a succession.
of_event = _with(
    parameters="succession : str\n    Name or id.\nevent : str\n    One of its events.",
    raises="InvalidInput\n    For a succession or event that the plan does not have.",
)
#: Is an edit.
gives_plan = _with(returns="Plan\n    A new plan; this one stays as it is.")
