"""Progress of what takes a while: a bar where a person waits, or a function of the caller's."""

from __future__ import annotations

import sys
import time
from collections.abc import Callable
from typing import TextIO, TypeAlias

#: Called with how many of how many are done; False stops.
Progress: TypeAlias = Callable[[int, int], bool | None]

_WIDTH = 30
_SECONDS_BETWEEN = 0.1


class Bar:
    """A line of text that grows, drawn over itself."""

    def __init__(self, to: TextIO):
        self._to = to
        self._begun = self._drawn = time.monotonic()

    def __call__(self, done: int, total: int) -> None:
        """Draw the bar, unless it was drawn just now."""
        now = time.monotonic()
        if done < total and now - self._drawn < _SECONDS_BETWEEN:
            return
        self._drawn = now
        full = _WIDTH * done // max(total, 1)
        spent = now - self._begun
        left = f", about {spent / done * (total - done):.0f} s to go" if 0 < done < total else ""
        line = f"[{'#' * full}{'.' * (_WIDTH - full)}] {done} of {total}, {spent:.0f} s{left}"
        self._to.write(f"\r{line:<78}")
        self._to.flush()

    def end(self) -> None:
        """Leave the line."""
        self._to.write("\n")
        self._to.flush()


def watcher(asked: Progress | bool | None) -> tuple[Progress, Callable[[], None]]:
    """What is to be told of progress, and what is to be called at the end.

    None draws a bar where standard error is a terminal, True everywhere, False nowhere.
    """
    if callable(asked):
        return asked, lambda: None
    if asked is None:
        asked = sys.stderr is not None and sys.stderr.isatty()
    if not isinstance(asked, bool):
        raise TypeError(f"progress: a function, True, False or None is wanted, not {asked!r}")
    if not asked:
        return lambda _done, _total: None, lambda: None
    bar = Bar(sys.stderr)
    return bar, bar.end
