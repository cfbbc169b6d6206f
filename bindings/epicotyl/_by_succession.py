"""What a result says of a succession as a whole, by ``result[succession]``."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Generic, TypeVar

from epicotyl import _check
from epicotyl._errors import InvalidInput
from epicotyl._plan import Plan

Each = TypeVar("Each")


class BySuccession(Generic[Each]):
    """A result that has something for every event of a plan."""

    __slots__ = ()

    def _planned(self) -> Plan:
        """The plan."""
        raise NotImplementedError

    def _each(self, succession: str, event: str) -> Each:
        """What it has for an event."""
        raise NotImplementedError

    def __getitem__(self, succession: str) -> dict[str, Each]:
        name = _check.text(succession, "succession")
        return {event: self._each(name, event) for event in self._planned().events(name)}

    def __iter__(self) -> Iterator[str]:
        return iter(self._planned().successions)

    def __contains__(self, succession: object) -> bool:
        # An id is as good as a name, as everywhere.
        try:
            self._planned().events(_check.text(succession, "succession"))
        except (InvalidInput, TypeError):
            return False
        return True

    def _ipython_key_completions_(self) -> list[str]:
        return self._planned().successions
