"""Types cures into the tables of a plan, as a grower types them into its file.

What is typed comes from the data of a cure, never from its sentence: code, succession, event, day
and number of a `TypedCure`; the requirement and the days of a `Cure`.
"""

from __future__ import annotations

import copy
import datetime

import epicotyl

ONE_DAY = datetime.timedelta(days=1)


class CannotBeTyped(Exception):
    """No number of days says it: what must pass is heat, or several clocks."""


def succession_table(document, name):
    """The table of a succession as it is written, by its name, its crop's or a member's."""
    tables = document["succession"]
    for table in tables:
        if table.get("name", table["crop"]) == name:
            return table
    return next(
        one
        for one in tables
        if "repeat" in one and name.rpartition(" ")[0] == one.get("name", one["crop"])
    )


def type_cure(document, cure, *, less=0):
    """The document with a `TypedCure` typed, by so many days less than it says."""
    made = copy.deepcopy(document)
    sown = succession_table(made, cure.succession)
    sooner = less * ONE_DAY
    match cure.code:
        case "target":
            aim = sown["target"]
            key = next((key for key in ("on", "by") if key in aim), "from")
            sown["target"] = {"event": aim["event"], key: cure.when - sooner}
        case "target_sooner":
            aim = sown["target"]
            sown["target"] = {"event": aim["event"], "on" if "on" in aim else "from": cure.when}
            sown["target"]["on" if "on" in aim else "from"] += sooner
        case "not_before":
            sown.setdefault("not_before", {})[cure.event] = cure.when + sooner
        case "not_after":
            sown.setdefault("not_after", {})[cure.event] = cure.when - sooner
        case "reliability":
            sown["reliability"] = cure.number
        case "risk":
            sown["risk"] = cure.number
        case "no_risk":
            sown["risk"] = False
        case "target_risk":
            sown["target"]["risk"] = cure.number
        case "season_days":
            made["site"]["season_days"] = round(cure.number) - less
        case "season_start":
            made["site"]["season_start"] = cure.when + sooner
            made["site"]["season_days"] = round(cure.number) - less
        case _:
            raise CannotBeTyped(cure.code)
    return made


def type_requirement(document, cure, steps, asked_by):
    """The document with a requirement given way, for a `Cure` of a proof with these steps.

    `asked_by` is the last day of a target without a date of its own.
    """
    made = copy.deepcopy(document)
    what = cure.what
    if what.kind == "season_start":
        made["site"]["season_start"] -= cure.days * ONE_DAY
        made["site"]["season_days"] += cure.days
        return made
    start = made["site"]["season_start"]
    end = start + made["site"]["season_days"] * ONE_DAY

    def in_season(when):
        return min(max(when, start), end)

    sown = succession_table(made, what.succession)
    if what.kind == "not_before":
        # the day that it holds the event to, where the proof passes it
        when = next((step.when for step in steps if step.because == what), None)
        if when is None:
            raise CannotBeTyped("a bound that the proof does not name")
        if what.field.startswith("places."):
            place = made["places"][what.field.split(".")[1].strip('"')]
            place["open"] = [in_season(place["open"][0] - cure.days * ONE_DAY), place["open"][1]]
        else:
            given = sown.setdefault("not_before", {})
            given[what.event] = in_season(when - cure.days * ONE_DAY)
    elif what.kind == "not_after":
        given = bound_table(made, sown, "not_after")[what.event]
        if isinstance(given, dict):
            raise CannotBeTyped("a rule without a date")
        sown.setdefault("not_after", {})[what.event] = in_season(given + cure.days * ONE_DAY)
    elif what.kind == "target":
        aim = sown["target"]
        key = next((key for key in ("on", "by", "from") if key in aim), None)
        if key is None or (key == "from" and what.is_upper):
            if not what.is_upper or asked_by is None:
                raise CannotBeTyped("a target by a rule")
            sown["target"] = {
                "event": aim["event"],
                "from": in_season(asked_by + cure.days * ONE_DAY),
            }
        else:
            aim[key] = in_season(aim[key] + (1 if what.is_upper else -1) * cure.days * ONE_DAY)
    elif what.kind in ("stage", "hold"):
        stage = stage_table(made, sown, what.from_event)
        change = sown.setdefault("stage", {}).setdefault(what.from_event, {})
        if what.kind == "hold":
            change["hold"] = hold_of(stage) + cure.days
        else:
            hold = hold_of(stage)
            change["takes"] = {"days": max(0, days_of(stage["takes"]) - cure.days)}
            if hold is not None:
                change["hold"] = hold
    elif what.kind in ("link", "within"):
        if not what.field.startswith("link["):
            sown["gap"] = max(0, sown.get("gap", 0) - cure.days)
            return made
        link = made["link"][int(what.field.split("[")[1].split("]")[0]) - 1]
        if what.kind == "within":
            link["within"] = {"days": link["within"]["days"] + cure.days}
        else:
            link["after"] = {"days": max(0, days_of(link.get("after", {"days": 0})) - cure.days)}
    else:
        raise CannotBeTyped(what.kind)
    return made


def bound_table(document, sown, key):
    """Bounds of a crop and, in place of these, of a succession."""
    return {**crop_table(document, sown).get(key, {}), **sown.get(key, {})}


def crop_table(document, sown):
    grown = document["crops"][sown["crop"]]
    return {**document["crops"][grown["like"]], **grown} if "like" in grown else grown


def stage_table(document, sown, begins):
    stages = crop_table(document, sown)["stages"]
    mine = next(stage for stage in stages if stage["begins"] == begins)
    change = sown.get("stage", {}).get(begins, {})
    if "takes" in change and isinstance(mine["takes"].get("weeks"), list):
        mine = {key: value for key, value in mine.items() if key != "takes"}
    return {**mine, **change}


def hold_of(stage):
    weeks = stage["takes"].get("weeks")
    if isinstance(weeks, list):
        return 7 * (weeks[1] - weeks[0])
    return stage.get("hold")


def days_of(takes):
    if set(takes) == {"days"}:
        return takes["days"]
    if set(takes) == {"weeks"}:
        weeks = takes["weeks"]
        return 7 * (weeks[0] if isinstance(weeks, list) else weeks)
    raise CannotBeTyped("what must pass is no number of days")


def climate_for(document, climate):
    """The season years of a document whose season may have been typed anew."""
    site = document["site"]
    start, days = site["season_start"], site["season_days"]
    if (start.month, start.day) == climate.season_start and days == climate.season_days:
        return climate
    return epicotyl.Climate(
        climate.record,
        latitude=site["latitude"],
        season_start=start,
        season_days=days,
        max_gap=climate.max_gap,
        years=len(climate.years) + len(climate.left_out),
    )


def planned(document, climate):
    """The calendar of a document; None where there is no such plan or no such season year."""
    try:
        return epicotyl.schedule(epicotyl.plan(document), climate_for(document, climate))
    except epicotyl.InvalidInput:
        return None
