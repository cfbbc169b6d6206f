"""Every public name is documented, and every example does what it says."""

import datetime
import doctest
import inspect
import re

import pytest

epicotyl = pytest.importorskip("epicotyl")
import numpy as np  # noqa: E402 - the package says what is missing

from public_names import homes  # noqa: E402


def documented_things():
    """Public functions, classes and methods, by the name a user calls them."""
    for home in homes():
        for name in home.__all__:
            thing = getattr(home, name)
            if not callable(thing):
                continue
            yield name, thing
            if inspect.isclass(thing):
                for member, value in inspect.getmembers(thing, inspect.isfunction):
                    if not member.startswith("_"):
                        yield f"{name}.{member}", value


THINGS = dict(documented_things())


def test_package_example_does_what_it_says():
    test = doctest.DocTestParser().get_doctest(epicotyl.__doc__, {}, "epicotyl", None, 0)
    told = []
    doctest.DocTestRunner().run(test, out=told.append)
    assert "".join(told) == ""


@pytest.mark.parametrize("name", THINGS)
@pytest.mark.usefixtures("in_farm")
def test_example_does_what_it_says(name, documented):
    names = vars(documented) | {
        "risk": epicotyl.FreezeRisk(documented.record, 0.0, estimator="empirical", latitude=51.9),
        "windows": epicotyl.planting_windows(
            documented.plan, documented.climate, documented.climate.years[0]
        ),
        "room": epicotyl.windows.window_years(documented.calendar),
        "staggered": epicotyl.stagger(
            documented.plan,
            documented.climate,
            "lettuce",
            datetime.date(2027, 5, 24),
            datetime.date(2027, 7, 4),
            every=7,
        ),
        "covering": epicotyl.harvest.fewest_sowings(
            documented.plan,
            documented.climate,
            "lettuce",
            datetime.date(2027, 6, 12),
            chance=0.95,
        ),
    }
    names["filled"] = epicotyl.occupancy(documented.prospect)
    test = doctest.DocTestParser().get_doctest(THINGS[name].__doc__, names, name, None, 0)
    told = []
    doctest.DocTestRunner(optionflags=doctest.IGNORE_EXCEPTION_DETAIL).run(test, out=told.append)
    assert "".join(told) == ""


#: Results that only carry numbers; what makes them has the example.
REPORTS = {
    "AirFit",
    "BoughtSeed",
    "CalendarComparison",
    "ChainEvent",
    "ChainInYears",
    "ChangedInput",
    "ColdExtreme",
    "ConflictStep",
    "CountedChance",
    "CoverageGap",
    "CoverageWeek",
    "Cure",
    "DamageReport",
    "EqualGapSowing",
    "Error",
    "FilledDays",
    "FitMove",
    "FitWeights",
    "FreezeAnswer",
    "FreezeSample",
    "FreezeTableRow",
    "FreezeYear",
    "FrostFreeSpan",
    "GuessedGain",
    "HarvestCoverage",
    "HarvestGap",
    "HarvestSpans",
    "HarvestWeek",
    "HeatCurve",
    "HeatFigure",
    "HeatPoint",
    "HeatedBatch",
    "HeaterMatch",
    "Landed",
    "LastSowing",
    "LeftOutYear",
    "LinkCount",
    "LinkedGroup",
    "MissingRun",
    "MovedEvent",
    "NotPlaced",
    "Obstacle",
    "Overflow",
    "OverheldReport",
    "OwnCost",
    "PlanQuantities",
    "PlantOffer",
    "Reason",
    "RecordQuality",
    "Requirement",
    "Season",
    "SeasonConflict",
    "SeasonHeat",
    "SeedLot",
    "SeedOrderLine",
    "SeedPacket",
    "SowingClaim",
    "SpaceFit",
    "SpliceReport",
    "SplicedElement",
    "SplicedRecord",
    "StageQuantity",
    "StaggeredSowing",
    "Standing",
    "Structure",
    "SuccessionQuantity",
    "Surface",
    "Sweep",
    "SweepRow",
    "SweptSuccession",
    "TightestChain",
    "TrayLine",
    "TypedCure",
    "UnresolvedConflict",
    "WindowFailure",
    "YieldByWeek",
}


@pytest.mark.parametrize("name", sorted(THINGS.keys() - REPORTS))
def test_docstring_has_an_example(name):
    assert ">>> " in THINGS[name].__doc__


@pytest.mark.parametrize("name", sorted(THINGS.keys() - REPORTS))
def test_docstring_names_every_parameter_and_what_comes_back(name):
    thing = THINGS[name]
    text = thing.__doc__
    parameters = [one for one in inspect.signature(thing).parameters if one not in ("self", "cls")]
    if inspect.isclass(thing) and not issubclass(thing, Exception):
        assert not parameters or "Parameters\n" in text
    for one in parameters:
        if not inspect.isclass(thing) or not issubclass(thing, Exception):
            assert re.search(rf"^ *\**([\w, ]+, )?{one}(, \w+)* :|^ *\*\*{one}$", text, re.M), one
    if inspect.isfunction(thing) and thing.__annotations__["return"] != "None":
        assert "Returns\n" in text


@pytest.mark.parametrize("name", [name for name in THINGS if inspect.isclass(THINGS[name])])
def test_properties_say_what_they_are(name):
    for member, value in vars(THINGS[name]).items():
        if isinstance(value, property) and not member.startswith("_"):
            assert value.__doc__, member


def test_examples_need_no_name_that_the_package_example_does_not_leave(documented):
    assert documented.np is np
    assert documented.epicotyl is epicotyl
