"""What is said to cure a batch without days cures it, typed into the tables of random farms.

Of `Calendar.cures` (the cures of `Calendar.unresolved`), of `why_unresolved` and of the conflicts
of planting windows a third each is typed, `EPICOTYL_CURES` in all, and the plan made anew. Where a
number of days or a day is given, one day less does not cure.
"""

import datetime
import os
from pathlib import Path

import pytest

epicotyl = pytest.importorskip("epicotyl")

from random_farms import climate_of, random_farm  # noqa: E402
from typed_plans import (  # noqa: E402
    ONE_DAY,
    CannotBeTyped,
    climate_for,
    planned,
    succession_table,
    type_cure,
    type_requirement,
)

FARM = Path(__file__).resolve().parents[2] / "examples" / "quillet_hollow" / "farm.toml"
CURES = int(os.environ.get("EPICOTYL_CURES", "90")) // 3
DATED = ("target", "target_sooner", "not_before", "not_after")
COUNTED = ("season_days", "season_start")
UNTYPED = ("first", "advice", "requirement")


def farms():
    """Documents with their climate and calendar, seed after seed."""
    seed = 0
    while True:
        seed += 1
        farm = random_farm(seed, small=seed % 2 == 0)
        climate = climate_of(farm)
        yield seed, farm.document, climate, planned(farm.document, climate)


def cures(calendar, name, before):
    """True when a succession has days and none has lost those that it had before."""
    return calendar is not None and all(
        calendar.claim(one) is not None
        for one in {name, *(one for one, _ in before.events if before.claim(one) is not None)}
        if one in {known for known, _ in calendar.events}
    )


def test_cures_of_obstacles_cure_when_they_are_typed_and_a_day_less_does_not():
    typed, codes = 0, {}
    for seed, document, climate, calendar in farms():
        if typed >= CURES:
            break
        end = document["site"]["season_start"] + document["site"]["season_days"] * ONE_DAY
        obstacles = calendar.unresolved
        for name in dict.fromkeys(one.succession for one in obstacles):
            found = calendar.cures(name)
            said = [one.cure for one in obstacles if one.succession == name]
            assert said == [", or ".join(map(str, found))] * len(said)
            for cure in found:
                codes[cure.code] = codes.get(cure.code, 0) + 1
                if cure.code in UNTYPED:
                    continue
                told = (seed, name, cure)
                typed += 1
                assert cures(planned(type_cure(document, cure), climate), name, calendar), told
                if cure.code in (*DATED, *COUNTED):
                    less = type_cure(document, cure, less=1)
                    assert not cures(planned(less, climate), name, calendar), told
                if not cure.is_or_later:
                    continue
                for more in (1, 2, 7, 30, 90, (end - cure.when).days):
                    if cure.when + more * ONE_DAY > end:
                        continue
                    later = type_cure(document, cure, less=-more)
                    assert cures(planned(later, climate), name, calendar), (told, more)
    assert set(codes) > {"target", "not_after", "first"}


def test_cures_of_a_proof_cure_when_they_are_typed_and_a_day_less_does_not():
    typed, kinds = 0, {}
    for seed, document, climate, calendar in farms():
        if typed >= CURES:
            break
        for name in dict.fromkeys(one.succession for one in calendar.unresolved):
            why = epicotyl.season.why_unresolved(calendar, name)
            if why is None or why.succession != name:
                continue
            steps = why.proof.steps
            for cure in why.cures:
                told = (seed, name, cure)
                # a target that slips has no last day of its own
                try:
                    made = type_requirement(document, cure, steps, why.proof.allowed)
                except CannotBeTyped:
                    continue
                typed += 1
                kinds[cure.what.kind] = kinds.get(cure.what.kind, 0) + 1
                assert cures(planned(made, climate), name, calendar), told
                if cure.days > 1:
                    made = type_requirement(document, less_by_a_day(cure), steps, why.proof.allowed)
                    assert not cures(planned(made, climate), name, calendar), told
    assert set(kinds) > {"target", "not_after"}


def test_cures_of_a_year_without_windows_cure_it_when_they_are_typed_and_a_day_less_does_not():
    typed, kinds = 0, {}
    for seed, document, climate, calendar in farms():
        if typed >= CURES:
            break
        for year in climate.years:
            windows = epicotyl.planting_windows(calendar.plan, climate, year)
            for conflict in windows.conflicts:
                name = conflict.successions[0]
                for cure in windows.cures(conflict):
                    told = (seed, year, name, cure)
                    try:
                        made = type_requirement(document, cure, conflict.steps, conflict.allowed)
                    except CannotBeTyped:
                        continue
                    typed += 1
                    kinds[cure.what.kind] = kinds.get(cure.what.kind, 0) + 1
                    assert has_year(made, climate, document, year, name), told
                    if cure.days > 1:
                        made = type_requirement(
                            document, less_by_a_day(cure), conflict.steps, conflict.allowed
                        )
                        assert not has_year(made, climate, document, year, name), told
    assert set(kinds) > {"target", "not_after"}


def less_by_a_day(cure):
    return epicotyl.windows.Cure(cure.what, cure.days - 1, cure.sentence)


def has_year(made, climate, before, year, name):
    """True when a succession, and all that it is linked with, has windows in a season year."""
    calendar = planned(made, climate)
    if calendar is None:
        return False
    sooner = before["site"]["season_start"].year - made["site"]["season_start"].year
    if year - sooner not in climate_for(made, climate).years:
        return False
    return epicotyl.planting_windows(calendar.plan, calendar.climate, year - sooner).is_feasible(
        name
    )


def test_another_season_is_no_cure_where_it_takes_the_days_of_a_batch_of_its_own():
    farm = epicotyl.open_season(FARM)
    # The peas before it may be sown whenever they live, which another season gives them time for,
    # and the onions are to go out on a day of their own.
    free = farm.plan.with_not_before("pea 2", sow=None)
    free = free.with_target("onion 1", event="transplant", on=datetime.date(2027, 4, 18))
    hasty = free.with_target("cabbage 2", event="transplant", on=datetime.date(2027, 6, 21))
    before = epicotyl.schedule(hasty, farm.climate)
    assert {one.succession for one in before.unresolved} == {"cabbage 2"}
    # A season from October gives the cabbage its days, and takes those of onions and sunflowers.
    longer = hasty.with_season(start=datetime.date(2026, 10, 14), days=629)
    climate = epicotyl.Climate(
        farm.climate.record,
        latitude=farm.climate.latitude,
        season_start=(10, 14),
        season_days=629,
        years=30,
    )
    lost = {one.succession for one in epicotyl.schedule(longer, climate).unresolved}
    assert lost == {"onion 1", "sunflower 2"}
    why = epicotyl.season.why_unresolved(before, "cabbage 2")
    windows = epicotyl.planting_windows(hasty, farm.climate, 2012)
    assert why.cures
    for cures in (why.cures, windows.cures(windows.conflict)):
        assert "season_start" not in {one.what.kind for one in cures}
    assert not {one.code for one in before.cures("cabbage 2")} & set(COUNTED)


@pytest.mark.parametrize("name", ["lettuce", "lettuce 2"])
def test_a_typed_cure_finds_the_table_of_its_succession(name):
    tables = [{"crop": "lettuce", "repeat": {"times": 2}}, {"name": "kale 1", "crop": "kale"}]
    assert succession_table({"succession": tables}, name) is tables[0]
