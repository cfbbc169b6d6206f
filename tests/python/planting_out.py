"""Planting-out days of seven crops at two stations, with and without the default bound.

Run it to print the table; `test_planting_out.py` checks what a grower would accept.

The crops are of three kinds. What is a value of the trade has its source beside it:

limit when hardened
    onion -6, lettuce -5, broccoli -4, tomato and zinnia 0, basil 2 °C: common practice, no source
    but for lettuce (a Canadian Department of Agriculture figure of -5 to -7 °C for hardened
    seedlings, read second-hand) and snapdragon (-2.2 °C, a group figure for cool-season annuals,
    Iowa State University Extension).
weeks from sowing to planting out
    onion 9-12, lettuce 4-6, broccoli 5-6, tomato 5-6 (University of Delaware); snapdragon 8-10,
    zinnia about 5 (Iowa State); basil 5-6 (Iowa State, seed germination guide).
days after the last frost
    Purdue HO-203: frost-tolerant crops 2-3 weeks before it, tender ones on it, warm-loving ones
    1-2 weeks after it.

Places are invented for the check: a heated house, and an unheated frame that is covered at the
limit of what stands in it.
"""

from __future__ import annotations

import gzip
import os
import sys
import tempfile
from dataclasses import dataclass
from pathlib import Path

import epicotyl

STATIONS = {
    "Central Park": ("USW00094728_TMAX_TMIN_1869-2020.dly.gz", 40.78),
    "Dubois": ("USC00102707_TMAX_TMIN_1925-2019.dly.gz", 44.24),
}


@dataclass(frozen=True)
class Kind:
    """A crop as the table needs it: limit (°C), weeks in the house, days from the last frost."""

    limit: float
    weeks: float
    after_last_frost: int


CROPS = {
    "onion": Kind(-6.0, 10.5, -18),
    "lettuce": Kind(-5.0, 5.0, -18),
    "broccoli": Kind(-4.0, 5.5, -18),
    "snapdragon": Kind(-2.2, 9.0, -18),
    "tomato": Kind(0.0, 5.5, 0),
    "zinnia": Kind(0.0, 5.0, 7),
    "basil": Kind(2.0, 5.5, 10),
}


def plan_at(latitude: float, *, risk: float | bool) -> epicotyl.Plan:
    """The seven crops at a latitude; the season starts in December so that January is free."""
    import datetime

    def rule(days: int) -> dict[str, object]:
        edge = "after" if days >= 0 else "before"
        return {"event": "transplant", f"days_{edge}_last_frost": abs(days)}

    def crop(kind: Kind) -> dict[str, object]:
        return {
            "limit_tender": max(kind.limit, 0.0),
            "limit_hardened": kind.limit,
            "stages": [
                {"begins": "sow", "where": "grow", "takes": {"days": 7}},
                {
                    "begins": "emerge",
                    "where": "grow",
                    "takes": {"days": round(7 * kind.weeks) - 17},
                },
                {"begins": "harden_off", "where": "harden", "takes": {"days": 10}},
                {"begins": "transplant", "where": "field", "takes": {"days": 60}},
            ],
        }

    return epicotyl.plan(
        format=1,
        units="metric",
        title="Seven crops (invented places)",
        defaults={"risk": risk, "reliability": 0.8},
        site={
            "latitude": latitude,
            "season_start": datetime.date(2026, 12, 1),
            "season_days": 550,
            "frost": {"at": 0.0, "chance": 0.5},
        },
        places={
            "house": {
                "for": ["grow"],
                "warmer_night": 2.5,
                "warmer_day": 7.0,
                "heat_to": 6.0,
                "vent_above": 25.0,
            },
            "frame": {
                "for": ["harden"],
                "warmer_night": 1.5,
                "warmer_day": 3.0,
                "cold_nights": {"warmer": 5.0},
            },
            "beds": {"for": ["field"]},
        },
        crops={name: crop(kind) for name, kind in CROPS.items()},
        succession=[
            {"name": name, "crop": name, "plants": 100, "target": rule(kind.after_last_frost)}
            for name, kind in CROPS.items()
        ],
    )


@dataclass(frozen=True)
class Row:
    """One crop at one station: with the default bound (risk 0.1), and without."""

    station: str
    crop: str
    bounded: epicotyl.Prospect
    free: epicotyl.Prospect

    def day(self, prospect: epicotyl.Prospect):
        return prospect.calendar.date(self.crop, "transplant")

    def text(self) -> str:
        cells = []
        for prospect in (self.bounded, self.free):
            day = self.day(prospect)
            if day is None:
                cells.append(f"{'none':>8} {'':>11} {'':>9}")
                continue
            damage = prospect.damage(self.crop)
            nights = sorted(prospect.nights_to_act(succession=self.crop))
            usual = nights[(len(nights) - 1) // 2]
            cells.append(
                f"{day:%d %b}".rjust(8) + f" {damage.damaged:>4} of {damage.years:<3} {usual:>9}"
            )
        return f"{self.station:<13}{self.crop:<11}" + "  |".join(cells)


def rows(data: Path) -> list[Row]:
    """The table, from the station files in `data`."""
    table = []
    for station, (name, latitude) in STATIONS.items():
        with tempfile.TemporaryDirectory() as folder:
            record_file = Path(folder) / "station.dly"
            record_file.write_bytes(gzip.decompress((data / name).read_bytes()))
            record = epicotyl.read_ghcn_daily(record_file)
        prospects = []
        for risk in (0.1, False):
            plan = plan_at(latitude, risk=risk)
            climate = epicotyl.Climate(record, latitude=latitude, season_start=plan.season_start)
            prospects.append(epicotyl.simulate(epicotyl.schedule(plan, climate), climate))
        table += [Row(station, crop, *prospects) for crop in CROPS]
    return table


def text(table: list[Row]) -> str:
    """The table as text: day, years with damage in any stage, nights to act in the usual year."""
    head = f"{'':24}{'risk 0.1':^30}  |{'no bound':^30}\n"
    head += f"{'station':<13}{'crop':<11}" + "  |".join(
        [f"{'out':>8} {'damage':>11} {'nights':>9}"] * 2
    )
    return "\n".join([head, *(row.text() for row in table)])


if __name__ == "__main__":
    where = os.environ.get("EPICOTYL_REFERENCE_DATA")
    if not where:
        sys.exit("set EPICOTYL_REFERENCE_DATA to the folder with the station files")
    print(text(rows(Path(where))))
