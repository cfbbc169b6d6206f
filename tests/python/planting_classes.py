"""Planting-out days of the demo farm's crops beside the published classes, at three stations.

Run it to print the table; `test_planting_classes.py` checks it.

Days are counted from the usual last frost of each place: 0 °C, in half of the season years later,
taken here from the lows by its place among the years. Of each crop the first batch counts.

The classes are those of Purdue University HO-203, as reprinted (PUR), "usually" so many weeks
before or after the average frost-free date:

    very hardy        4 to 6 weeks before
    frost tolerant    2 to 3 weeks before
    tender            on it or after
    warm loving       1 to 2 weeks after

It has onion plants, cabbage and snapdragon among the frost tolerant, lettuce and peas among the
very hardy, tomatoes among the tender, peppers, zinnia and ageratum among the warm loving. Of
others: parsley 2 weeks before and lisianthus 2 weeks before, in the field (Utah State University);
larkspur, dahlia and sunflower are in no list that was read: frost tolerant, warm loving and tender
here, from memory.
"""

from __future__ import annotations

import gzip
import math
import os
import sys
import tempfile
from dataclasses import dataclass
from pathlib import Path
from types import SimpleNamespace

import numpy as np

import epicotyl

FARM = Path(__file__).resolve().parents[2] / "examples" / "quillet_hollow" / "farm.toml"
STATIONS = {
    "Central Park": ("USW00094728_TMAX_TMIN_1869-2020.dly.gz", 40.78),
    "Dubois": ("USC00102707_TMAX_TMIN_1925-2019.dly.gz", 44.24),
    "State College": ("USC00368449_2000-2009.dly.gz", 40.79),
}
# Days from the last frost, first and last; the tender have no last one.
RANGES = {
    "very hardy": (-42, -28),
    "frost tolerant": (-21, -14),
    "tender": (0, math.inf),
    "warm loving": (7, 14),
}
CLASSES = {
    "lettuce": "very hardy",
    "pea": "very hardy",
    "onion": "frost tolerant",
    "cabbage": "frost tolerant",
    "parsley": "frost tolerant",
    "snapdragon": "frost tolerant",
    "larkspur": "frost tolerant",
    "lisianthus": "frost tolerant",
    "tomato": "tender",
    "sunflower": "tender",
    "pepper": "warm loving",
    "dahlia": "warm loving",
    "zinnia": "warm loving",
    "ageratum": "warm loving",
}
DIRECT = ("pea", "sunflower")


@dataclass(frozen=True)
class Row:
    """The first batch of a crop at a place: planted so many days after the last frost, and why."""

    place: str
    crop: str
    days: int | None
    day: str
    why: str
    cold_nights: float = 0.0  # share of the nights of the week from then on at or below 7 °C

    @property
    def where(self) -> str:
        """Before, in or after the range of its class."""
        first, last = RANGES[CLASSES[self.crop]]
        if self.days is None:
            return "no day"
        return "before" if self.days < first else "after" if self.days > last else "in"

    def text(self) -> str:
        first, last = RANGES[CLASSES[self.crop]]
        days = "" if self.days is None else f"{self.days:+d}"
        usual = f"{first:+d} to {last:+d}" if last < math.inf else "0 or later"
        line = f"{self.place:<15}{self.crop:<12}{self.day:>7}{days:>5}  {usual:<11} {self.where}"
        return line if self.where == "in" else f"{line}\n    {self.why}"


def usual_last_frost(climate: epicotyl.Climate) -> int:
    """Days from the season's start: one of a year's last frosts, half of the years have a later."""
    last = sorted(int(np.max(np.flatnonzero(low[:212] <= 0.0))) for low in climate.tmin)
    return last[math.ceil((len(last) + 1) / 2) - 1]


def rows_of(place: str, season) -> list[Row]:
    """A row for each crop."""
    frost = np.datetime64(season.plan.season_start) + usual_last_frost(season.climate)
    crops = {one["name"]: one["crop"] for one in season.plan.to_dict()["succession"]}
    table = []
    for crop in CLASSES:
        found = []
        for name, event in season.calendar.events:
            base = name if name in crops else name.rsplit(" ", 1)[0]
            if crops[base] == crop and event == ("transplant" if crop not in DIRECT else "sow"):
                day = season.calendar.date(name, event)
                if day is not None:
                    found.append((day, name, event))
        if not found:
            none = {one.succession: one.sentence for one in season.calendar.unresolved}
            mine = [name for name in none if crops.get(name) == crop]
            why = "; ".join(f"{name}: {none[name]}" for name in mine)
            table.append(Row(place, crop, None, "", why))
            continue
        day, name, event = min(found)
        reasons = epicotyl.explain(season.calendar, name, event)
        at = int((np.datetime64(day) - np.datetime64(season.plan.season_start)).astype(int))
        week = season.climate.tmin[:, at : at + 7]
        table.append(
            Row(
                place,
                crop,
                int((np.datetime64(day) - frost).astype(int)),
                f"{day.day} {day:%b}",
                f"{name}: {reasons[0]}",
                float(np.mean(week <= 7.0)),
            )
        )
    return table


def rows_at(place: str, data: Path | None, *, cold_rule: bool = True) -> list[Row]:
    """The table of a place: of a station in `data`, or of the invented weather."""
    if place not in STATIONS:
        return rows_of(place, epicotyl.open_season(FARM))
    name, latitude = STATIONS[place]
    with tempfile.TemporaryDirectory() as folder:
        station = Path(folder) / "station.dly"
        station.write_bytes(gzip.decompress((data / name).read_bytes()))
        season = epicotyl.open_season(FARM, weather=station, latitude=latitude)
    if not cold_rule:
        tables = season.plan.to_dict()
        for crop in tables["crops"].values():
            crop.pop("not_before", None)
        plan = epicotyl.plan(tables)
        season = SimpleNamespace(
            plan=plan, climate=season.climate, calendar=epicotyl.schedule(plan, season.climate)
        )
    return rows_of(place, season)


def text(table: list[Row]) -> str:
    """The table as text."""
    return "\n".join(row.text() for row in table)


if __name__ == "__main__":
    where = os.environ.get("EPICOTYL_REFERENCE_DATA")
    if not where:
        sys.exit("set EPICOTYL_REFERENCE_DATA to the folder with the station files")
    for place in ("Quillet Hollow", *STATIONS):
        print(text(rows_at(place, Path(where))))
