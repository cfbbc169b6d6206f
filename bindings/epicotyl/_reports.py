"""Season: what a prospect counts of one succession."""

from __future__ import annotations

from epicotyl import _core
from epicotyl._result import extends


def _years(count: int, years: int) -> str:
    return f"{count} of {years} years"


@extends
class DamageReport(_core.DamageReport):
    __slots__ = ()

    @property
    def share(self) -> float:
        """Share of season years with damage, 0 to 1."""
        return self.damaged / self.years

    def __repr__(self) -> str:
        return f"<DamageReport {_years(self.damaged, self.years)}>"


@extends
class OverheldReport(_core.OverheldReport):
    __slots__ = ()

    @property
    def share(self) -> float:
        """Share of season years, 0 to 1."""
        return self.overheld / self.years

    def __repr__(self) -> str:
        return f"<OverheldReport {_years(self.overheld, self.years)}>"
