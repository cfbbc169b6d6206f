"""Every sheet of a farm: each text of several lines that the package prints, by what is printed.

`SHEETS` has, for every class that is printed as a sheet, what makes some of a season. Texts that
are one line are values, and wrapped by the sheet that prints them. `test_sheets.py` asks that no
public class is in neither list.
"""

import datetime
import functools
import os
from pathlib import Path

import pytest

epicotyl = pytest.importorskip("epicotyl")

FARM = Path(__file__).resolve().parents[2] / "examples" / "quillet_hollow" / "farm.toml"

#: The station files of the tests' reference data, with their latitudes.
STATIONS = {
    "Central Park": ("USW00094728_TMAX_TMIN_1869-2020.dly.gz", 40.78),
    "Dubois": ("USC00102707_TMAX_TMIN_1925-2019.dly.gz", 44.24),
    "State College": ("USC00368449_2000-2009.dly.gz", 40.79),
}

GLASSHOUSE = epicotyl.heat.Structure(
    [epicotyl.heat.Surface("glass", 60.0, 6.0)], volume=80.0, air_changes=1.0
)


@functools.cache
def opened(place):
    """The demo farm, with its own weather or that of a station."""
    if place == "demo":
        return epicotyl.open_season(FARM)
    folder = os.environ.get("EPICOTYL_REFERENCE_DATA")
    if not folder:
        pytest.skip("EPICOTYL_REFERENCE_DATA is not set")
    file, latitude = STATIONS[place]
    return epicotyl.open_season(FARM, weather=Path(folder) / file, latitude=latitude)


def in_2027(month, day):
    """A day of the demo farm's year."""
    return datetime.date(2027, month, day)


def harvested(season):
    """Crops of the plan that are harvested, by name."""
    written = season.plan.to_dict()
    grown = {one["crop"]: one for one in written["succession"]}
    return [
        name
        for name in grown
        if any("first_harvest" in season.plan.events(one) for one in season.plan.successions)
    ]


def comparisons(season):
    """Calendars beside others: of colder years, with another target, with several changes."""
    plan, climate = season.plan, season.climate
    last = plan.successions[-1]
    changed = plan.with_target(last, event="transplant", on=in_2027(8, 20)).with_place(
        "glasshouse", heat_to=5.0, warmer_night=2.0
    )
    return [
        epicotyl.compare(season.calendar, other)
        for other in (
            epicotyl.schedule(plan, climate.shifted(-1.5)),
            epicotyl.schedule(changed, climate, reliability=0.95),
            epicotyl.schedule(changed, climate.shifted(1.0), reliability=0.9),
            season.calendar,
        )
    ]


def coverages(season):
    """Of every crop, with and without an amount, and of the waves."""
    stems = epicotyl.harvest.HarvestYield(epicotyl.harvest.YieldShape.box(21), 6.0, unit="stems")
    span = {"first": in_2027(6, 1), "last": in_2027(10, 31)}
    for crop in harvested(season):
        yield epicotyl.coverage(season.prospect, crop=crop)
        yield epicotyl.coverage(season.prospect, crop=crop, per_week=200, gives=stems, **span)
    for wave in ("cool", "warm"):
        yield epicotyl.coverage(season.prospect, wave=wave, **span)


def staggers(season):
    """Of every crop, to a day or to the frost in turn."""
    for k, crop in enumerate(harvested(season)):
        span = {"last": in_2027(10, 20), "every": 10}
        if k % 2 == 1:
            span = {"until_first_frost": 0.5, "count": 9}
        yield epicotyl.stagger(season.plan, season.climate, crop, in_2027(7, 1), **span)


def fewest(season):
    """Of every crop, for a day and for a month."""
    for crop in harvested(season):
        for until, chance in ((None, 0.9), (in_2027(8, 20), 0.8)):
            yield epicotyl.harvest.fewest_sowings(
                season.plan, season.climate, crop, in_2027(7, 24), until, chance=chance
            )


def windows(season):
    """Of the first years, and of the plan with what it cannot keep."""
    for year in season.climate.years[:3]:
        yield season.windows(year)
    name = season.plan.successions[0]
    late = season.plan.with_not_after(name, transplant=in_2027(2, 20))
    yield epicotyl.planting_windows(late, season.climate, season.climate.years[0])


def freeze_tables(season):
    """The customary one, one of other chances, and one of many."""
    record = season.climate.record
    table = epicotyl.frost.FreezeTable
    yield table(record)
    yield table(record, estimator="empirical", years=10)
    yield table(record, chances=[0.125, 0.5], thresholds=[-12.5])
    yield table(record, chances=[k / 40 for k in range(1, 40)])


def heat(season):
    """The bill of a glasshouse, and what other set points do to it."""
    asked = (season.plan, season.climate, "glasshouse")
    span = (in_2027(1, 10), in_2027(4, 30))
    price = {"per_kwh": 0.3, "currency": "euros"}
    return {
        "SeasonHeat": [epicotyl.heat.heat_of_season(GLASSHOUSE, *asked, *span, **price)],
        "HeatCurve": [
            epicotyl.heat.heat_curve(*asked, GLASSHOUSE, [4.0, 7.0, 10.0], *span, **price)
        ],
    }


def calendars(season):
    """Calendars with much to say: as planned, colder, and much warmer or colder than the crops."""
    plan, climate = season.plan, season.climate
    yield season.calendar
    for by in (-6.0, 8.0):
        yield epicotyl.schedule(plan, climate.shifted(by))
    yield epicotyl.schedule(plan, climate, reliability=1.0)


def prospects(season):
    """What becomes of these, and of the farm's in colder years."""
    for calendar in calendars(season):
        yield epicotyl.simulate(calendar, calendar.climate)
    yield epicotyl.simulate(season.calendar, season.climate.shifted(-3.0))


def rooms(season):
    """By planned days and in all years."""
    return [epicotyl.occupancy(season.calendar), epicotyl.occupancy(season.prospect)]


def fits(season):
    """What makes room."""
    return [epicotyl.fit_to_space(season.plan, season.climate, seconds=20.0)]


def packets(_season):
    """Seed in packets."""
    packet = epicotyl.seeds.SeedPacket
    return [epicotyl.seeds.buy_seed(1234, [packet("small", 100, 3.0), packet("large", 1000, 9.0)])]


def costs(_season):
    """Bought in, and raised."""
    offer = epicotyl.cost.PlantOffer(100, [(1, 60.0), (4, 50.0)], freight=20.0, currency="euros")
    return {
        "Landed": [epicotyl.cost.landed_cost(450, offer)],
        "OwnCost": [
            epicotyl.cost.cost_of_raising(
                450, usable=0.9, seed=30.0, heat=80.0, labour_hours=9.0, wage=15.0, currency="euros"
            )
        ],
    }


def spliced(season):
    """A record with another one spliced on."""
    other = season.climate.shifted(1.0).record
    return [epicotyl.weather.splice(season.climate.record, other)[1]]


#: By class, what makes sheets of a season.
SHEETS = {
    "Calendar": calendars,
    "Prospect": prospects,
    "CalendarComparison": comparisons,
    "HarvestCoverage": coverages,
    "Staggered": staggers,
    "CoveringSowings": fewest,
    "PlantingWindows": windows,
    "WindowYears": lambda season: [epicotyl.windows.window_years(season.calendar)],
    "FreezeTable": freeze_tables,
    "Occupancy": rooms,
    "SpaceFit": fits,
    "SeasonHeat": lambda season: heat(season)["SeasonHeat"],
    "HeatCurve": lambda season: heat(season)["HeatCurve"],
    "HeatFigure": lambda _: [
        epicotyl.heat.coldest_outdoors(GLASSHOUSE, 5.0, 3000.0),
        epicotyl.heat.heat_loss(GLASSHOUSE, 5.0, -10.0),
    ],
    "PlanQuantities": lambda season: [epicotyl.seeds.quantities(season.plan)],
    "BoughtSeed": packets,
    "Landed": lambda season: costs(season)["Landed"],
    "OwnCost": lambda season: costs(season)["OwnCost"],
    "RecordQuality": lambda season: [epicotyl.weather.quality(season.climate.record)],
    "SpliceReport": spliced,
}


@functools.cache
def sheets_of(place, printed):
    """The sheets of one class, made once."""
    return list(SHEETS[printed](opened(place)))
