"""One plan over many stations at once, on a Dask cluster, and a map of the days found.

    python examples/stations.py [--stations 500] [--workers 2] [--picture FILE] [--table FILE]

The demo farm's plan is asked at every station of a region: when may this batch be planted out
there, when is it to be sown, and what comes of it? The region round Quillet Hollow does not exist.
Its hills, its stations and their weather are invented: the weather is drawn from a model of the
demo farm's invented record, one seed a station, and made colder with height and to the north.

A task is a plan and a climate, which pickle, and answers with a few numbers. A worker that dies
takes nothing with it: what it had or held is worked out again on another, to the same result.

Needs the extra `dask`, and for the picture `matplotlib`.
"""

from __future__ import annotations

import argparse
import datetime
import math
import random
import statistics
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

import epicotyl

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

FARM = Path(__file__).resolve().parent / "quillet_hollow" / "farm.toml"
FIRST_DAY, DAYS = datetime.date(1996, 1, 1), 11323  # of the weather drawn: 31 calendar years

# The region, invented: a rectangle with Quillet Hollow in its middle and three hills (east and
# north [km], height above the plain [m], reach [km]).
WIDTH, DEPTH = 300.0, 200.0  # km
PLAIN, HOLLOW = 120.0, 200.0  # m above the sea: the lowest land, and Quillet Hollow
HILLS = ((60.0, 150.0, 900.0, 45.0), (215.0, 60.0, 650.0, 38.0), (260.0, 165.0, 400.0, 30.0))
KM_A_DEGREE = 111.2
COLDER_UP = 6.5  # K a km, as in the standard atmosphere (ISO 2533:1975)
COLDER_NORTH = 0.8  # K a degree, invented


@dataclass(frozen=True)
class Station:
    """A place of the region: where, how high, and the seed of its weather."""

    name: str
    east: float  # km
    north: float  # km
    latitude: float  # degrees north
    height: float  # m
    seed: int


@dataclass(frozen=True)
class Found:
    """The days of one batch at one station; None where the plan cannot be kept there."""

    station: Station
    sown: datetime.date | None
    planted_out: datetime.date | None
    usual_harvest: datetime.date | None
    frosted: int  # season years with damage by cold
    years: int


def height_at(east: float, north: float) -> float:
    """Height of the invented land [m]."""
    return PLAIN + math.fsum(
        up * math.exp(-((east - x) ** 2 + (north - y) ** 2) / (2.0 * reach**2))
        for x, y, up, reach in HILLS
    )


def make_stations(count: int, latitude: float) -> list[Station]:
    """Stations strewn over the region, whose middle lies at a latitude: always the same ones."""
    source = random.Random(1927)
    made = []
    for number in range(1, count + 1):
        east, north = WIDTH * source.random(), DEPTH * source.random()
        where = latitude + (north - DEPTH / 2.0) / KM_A_DEGREE
        height = height_at(east, north)
        made.append(Station(f"station {number}", east, north, where, height, number))
    return made


def plan_at(plan: epicotyl.Plan, latitude: float) -> epicotyl.Plan:
    """Make the same plan for another latitude, whose days are shorter or longer."""
    tables = plan.to_dict()
    tables["site"]["latitude"] = latitude
    return epicotyl.plan(tables)


def climate_at(station: Station, model: epicotyl.weather.WeatherModel, plan: epicotyl.Plan) -> Any:
    """Draw the weather of a station and cut its season years."""
    drawn = epicotyl.weather.generate(model, FIRST_DAY, DAYS, seed=station.seed)
    climate = epicotyl.Climate(
        drawn,
        latitude=station.latitude,
        season_start=plan.season_start,
        season_days=plan.season_days,
    )
    middle = station.latitude - (station.north - DEPTH / 2.0) / KM_A_DEGREE
    colder = COLDER_UP * (station.height - HOLLOW) / 1000.0
    return climate.shifted(-colder - COLDER_NORTH * (station.latitude - middle))


def days_at(station: Station, climate: Any, plan: epicotyl.Plan, batch: str) -> Found:
    """Plan a station's season, go through its years, and keep what is asked for."""
    calendar = epicotyl.schedule(plan_at(plan, station.latitude), climate)
    prospect = epicotyl.simulate(calendar, climate, threads=1)
    sown = next(event for name, event in calendar.events if name == batch)
    cold = prospect.damage(batch)
    return Found(
        station,
        calendar.date(batch, sown),
        calendar.date(batch, "transplant"),
        prospect.quantile(batch, "first_harvest", 0.5),
        cold.damaged,
        cold.years,
    )


class Question:
    """What is asked at every station."""

    def __init__(self, plan: epicotyl.Plan, model: epicotyl.weather.WeatherModel, batch: str):
        self.plan, self.model, self.batch = plan, model, batch

    def one_by_one(self, stations: Sequence[Station]) -> list[Found]:
        """All answers in this process."""
        return [
            days_at(one, climate_at(one, self.model, self.plan), self.plan, self.batch)
            for one in stations
        ]

    def on(self, client: Any, stations: Sequence[Station]) -> list[Any]:
        """Futures of all answers on a cluster: one task draws the weather, one plans with it."""
        climates = client.map(climate_at, stations, model=self.model, plan=self.plan, pure=False)
        return client.map(days_at, stations, climates, plan=self.plan, batch=self.batch, pure=False)


def local_cluster(workers: int) -> Any:
    """Worker processes on this machine that listen to nobody else, and no dashboard."""
    from distributed import LocalCluster

    return LocalCluster(
        n_workers=workers,
        threads_per_worker=1,
        processes=True,
        host="127.0.0.1",
        dashboard_address=None,
    )


def on_cluster(
    question: Question,
    stations: Sequence[Station],
    workers: int,
    watch: Callable[[Any, int], None] = lambda _cluster, _done: None,
) -> list[Found]:
    """All answers in the order of the stations; `watch` is told how many there are so far."""
    from distributed import Client, as_completed

    with local_cluster(workers) as cluster, Client(cluster) as client:
        futures = question.on(client, stations)
        for done, _ in enumerate(as_completed(futures), start=1):
            watch(cluster, done)
        return client.gather(futures)


# ---- What is shown ------------------------------------------------------------------------------


def day_month(day: datetime.date | None) -> str:
    """As on the farm's own sheets, or a dash."""
    return "–" if day is None else f"{day.day} {day:%b}"


def summary(answers: Sequence[Found], batch: str) -> Iterator[str]:
    """Planting out by height of the land: the usual day and the range."""
    yield f'"{batch}": planted out and sown by height of the land; an invented region'
    names = ("stations", "earliest", "middle", "latest", "sown", "nowhere")
    yield f"{'height [m]':>12}" + "".join(f" {name:>9}" for name in names)
    bands = sorted({int(one.station.height // 200) for one in answers})
    for band in bands:
        here = [one for one in answers if int(one.station.height // 200) == band]
        out = sorted(one.planted_out for one in here if one.planted_out)
        sown = sorted(one.sown for one in here if one.sown)
        middle = statistics.median_low(out) if out else None
        days = [out[0] if out else None, middle, out[-1] if out else None]
        days.append(statistics.median_low(sown) if sown else None)
        cells = [len(here), *map(day_month, days), len(here) - len(out)]
        height = f"{200 * band} – {200 * band + 200}"
        yield f"{height:>12}" + "".join(f" {cell:>9}" for cell in cells)


def table(answers: Sequence[Found]) -> Iterator[str]:
    """One line a station."""
    yield (
        f"{'station':<12} {'latitude':>8} {'height [m]':>10} {'sown':>7} {'planted out':>11} "
        "first harvest  damage by cold"
    )
    for one in answers:
        yield (
            f"{one.station.name:<12} {one.station.latitude:>8.2f} {one.station.height:>10.0f} "
            f"{day_month(one.sown):>7} {day_month(one.planted_out):>11} "
            f"{day_month(one.usual_harvest):>13}  {one.frosted} of {one.years} years"
        )


def draw(answers: Sequence[Found], batch: str, path: Path) -> None:
    """Map of the planting-out days over lines of equal height."""
    import matplotlib as mpl
    import numpy as np

    mpl.use("agg")
    from matplotlib import dates, patheffects, pyplot

    figure, axes = pyplot.subplots(figsize=(7.5, 4.8), layout="constrained")
    halo = [patheffects.withStroke(linewidth=3.0, foreground="white")]
    east, north = np.meshgrid(np.linspace(0.0, WIDTH, 151), np.linspace(0.0, DEPTH, 101))
    land = np.vectorize(height_at)(east, north)
    lines = axes.contour(
        east, north, land, levels=range(200, 1200, 200), colors="0.45", linewidths=0.8
    )
    for label in axes.clabel(lines, fmt="%d m", fontsize=9, colors="black"):
        label.set(zorder=4, path_effects=halo)

    found = [one for one in answers if one.planted_out]
    without = [one for one in answers if not one.planted_out]
    size = 60.0 if len(answers) <= 100 else 26.0
    points = axes.scatter(
        [one.station.east for one in found],
        [one.station.north for one in found],
        c=[dates.date2num(one.planted_out) for one in found],
        s=size,
        cmap="cividis",
        edgecolors="black",
        linewidths=0.4,
        zorder=3,
    )
    if without:
        axes.scatter(
            [one.station.east for one in without],
            [one.station.north for one in without],
            s=size,
            marker="x",
            c="black",
            zorder=3,
            label="no day keeps the plan",
        )
        axes.legend(loc="upper right", fontsize=9)
    middle = (WIDTH / 2.0, DEPTH / 2.0)
    axes.plot(*middle, marker="*", markersize=15, mfc="white", mec="black", zorder=4)
    axes.annotate(
        "Quillet Hollow",
        middle,
        (9, 6),
        textcoords="offset points",
        fontsize=10,
        path_effects=halo,
        zorder=5,
    )
    bar = figure.colorbar(points, ax=axes, shrink=0.8)
    bar.ax.yaxis.set_major_locator(dates.WeekdayLocator(byweekday=dates.MO))
    bar.ax.yaxis.set_major_formatter(dates.DateFormatter("Mon %-d %b"))
    bar.set_label("planted out on", fontsize=10)
    axes.set(xlim=(0.0, WIDTH), ylim=(0.0, DEPTH), aspect="equal")
    axes.set_xlabel("east [km]", fontsize=10)
    axes.set_ylabel("north [km]", fontsize=10)
    axes.set_title(
        f'When "{batch}" is planted out at {len(answers)} stations\n'
        "of an invented region, with invented weather; lines: height",
        fontsize=11,
    )
    figure.savefig(path, dpi=200)
    pyplot.close(figure)


def main() -> None:
    """Ask, print, draw."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--stations", type=int, default=500)
    parser.add_argument("--workers", type=int, default=2)
    parser.add_argument("--batch", default="tomato 1", help="a succession of the demo farm")
    parser.add_argument("--picture", type=Path, help="a file to draw the map into")
    parser.add_argument("--table", type=Path, help="a file for one line a station")
    asked = parser.parse_args()

    farm = epicotyl.open_season(FARM)
    question = Question(
        farm.plan, epicotyl.weather.fit_weather_model(farm.climate.record), asked.batch
    )
    answers = on_cluster(question, make_stations(asked.stations, farm.plan.latitude), asked.workers)
    print(*summary(answers, asked.batch), sep="\n")
    if asked.table:
        asked.table.write_text("\n".join(table(answers)) + "\n", encoding="utf-8")
    if asked.picture:
        draw(answers, asked.batch, asked.picture)


if __name__ == "__main__":
    main()
