"""What `fit_to_space` says and asks for, reckoned again on random farms.

Sentences, prices and the field are reckoned again from the calendars and prospects before and after
and the tables of both plans; nothing is asked of the moves but which they are.

Readings: told are the days of the sowing, of the target, the planting out (the first stage in a
bed, or without container in a place for the field), the first harvest and all that follows any of
these, where they are others, and any other event's that moves by more than one day. Counts of years
are those of `prospect`; where cold loses all that it damages, before and after, the loss says both,
and of plants bought in only what becomes worse is told: what befell them before is another
grower's.
"""

import math
import random

import numpy as np
import pytest

from test_occupancy import (
    SQUARE_METRES_PER_SQUARE_FOOT,
    alive,
    changed_stages,
    farm_with_room,
    members,
    place_of,
    places_of_bare_containers,
    wholes,
)

epicotyl = pytest.importorskip("epicotyl")

DONE = {
    "sow": "sown", "soak": "soaked", "chill": "chilled", "receive": "received", "plant": "planted",
    "emerge": "up", "pinch": "pinched", "prick_out": "pricked out", "pot_on": "potted on",
    "harden_off": "hardened off", "transplant": "planted out", "lift": "lifted", "store": "stored",
    "sell": "sold", "clear": "cleared",
}  # fmt: skip


def crowded(seed):
    """A random farm with less room than it asks for, and other places to go to."""
    farm = farm_with_room(seed)
    document = farm.document
    for place in document["places"].values():
        for kind in ("trays", "bed", "area"):
            place.pop(kind, None)
    for crop in document["crops"].values():
        for stage in crop.get("stages", []):
            where = [stage["where"]] if isinstance(stage["where"], str) else stage["where"]
            stage["where"] = [*where, *sorted({"house", "frame"} - set(where))]
    plan = epicotyl.plan(document)
    record = epicotyl.DailyRecord(farm.record.first, farm.record.low, farm.record.high)
    climate = epicotyl.Climate(
        record,
        latitude=plan.latitude,
        season_start=plan.season_start,
        season_days=plan.season_days,
        years=farm.years,
    )
    filled = epicotyl.occupancy(epicotyl.schedule(plan, climate))
    # Some count square metres, beside trays or alone; none in which a container without area
    # stands, though a move could lead such a container there.
    draw = random.Random(seed + 3_000_000)
    share = (0.5, 0.7, 0.85)[seed % 3]
    unit = SQUARE_METRES_PER_SQUARE_FOOT if document["units"] == "us" else 1.0
    bare = places_of_bare_containers(document)
    for name, place in document["places"].items():
        area = filled.space(name, "area")[1].max()
        if name not in bare and area > 0.0 and draw.random() < 0.6:
            place["area"] = float(max(0.001, round(area * share / unit, 3)))
        most = filled.space(name)[1].max()
        if most >= 2 and ("area" not in place or draw.random() < 0.4):
            place["trays"] = float(most * share // 1)
    return epicotyl.plan(document), climate


def risks(plan, name):
    """The accepted risk of a batch, by its tables."""
    tables = plan.to_dict()
    for batch in tables["succession"]:
        times = batch.get("repeat", {}).get("times", 0)
        names = [f"{batch['name']} {k + 1}" for k in range(times)] or [batch["name"]]
        if name in names:
            crop = tables["crops"][batch["crop"]]
            risk = batch.get("risk", crop.get("risk", tables["defaults"]["risk"]))
            return 0.0 if risk is False else risk
    raise AssertionError(name)


# ---- Read out of tables --------------------------------------------------------------------------


class Batch:
    """One batch of a plan, by the plan's tables."""

    def __init__(self, document, table, k):
        self.document, self.table = document, table
        self.stages = changed_stages(document, table)
        self.events = [stage["begins"] for stage in self.stages] + ["clear"]
        self.target = self.events.index("first_harvest" if k else table["target"]["event"])
        self.by = None if k else table["target"].get("by")
        cells = {name: one["cells"] for name, one in document["containers"].items()}
        self.alive = alive(self.stages, table, cells, self.target, document["units"] == "us")
        (self.amount,) = (table[key] for key in ("plants", "trays", "bed") if key in table)

    def place(self, j):
        return place_of(self.document, self.stages[j])

    def limit(self, j):
        """What the stage says, else what the crop says before and after hardening."""
        crop = self.document["crops"][self.table["crop"]]
        if "limit" in self.stages[j]:
            return self.stages[j]["limit"]
        if "harden_off" in self.events:
            hardened = j > self.events.index("harden_off")
        else:
            hardened = "field" in self.document["places"][self.place(0)]["for"]
        return crop.get("limit_hardened" if hardened else "limit_tender")

    def planting_out(self):
        """The first stage in the field."""
        for j, stage in enumerate(self.stages):
            field = "field" in self.document["places"][self.place(j)]["for"]
            if "spacing" in stage or (field and "container" not in stage):
                return j
        return None

    def priced_from(self):
        """Index of the event from which on days are priced."""
        first = [self.target, self.planting_out() or self.target]
        if "first_harvest" in self.events:
            first.append(self.events.index("first_harvest"))
        return min(first)

    def trays(self, j, share):
        container = self.stages[j].get("container")
        if container is None:
            return 0
        cells = self.document["containers"][container]["cells"]
        return math.ceil(self.alive[j] * share / cells - 1e-9)

    def area(self, j, share):
        container = self.document["containers"].get(self.stages[j].get("container"), {})
        return self.trays(j, share) * container.get("area", 0.0)


def batches_of(plan):
    document = plan.to_dict()
    return {
        name: Batch(document, table, k)
        for table in document["succession"]
        for k, name in enumerate(members(table))
    }


class Fit:
    """A fit, with what is reckoned of it again; `label` says in failures which it is."""

    def __init__(self, label, plan, climate, **options):
        self.label = label, options
        self.before_plan, self.climate = plan, climate
        self.fit = fit = epicotyl.fit_to_space(plan, climate, **options)
        self.planned, self.changed = batches_of(self.before_plan), batches_of(fit.plan)
        self.before = epicotyl.simulate(fit.before, self.climate, threads=1)
        self.after = epicotyl.simulate(fit.after, self.climate, threads=1)
        self.unresolved = {one.succession for one in fit.before.unresolved}
        self.years = len(self.climate.years)

    def parts(self, name):
        """[(its name in the changed plan, share, whether it is raised otherwise)] of a batch."""
        second = f"{name}, second half"
        if second in self.changed:
            first = self.changed[name].amount / self.planned[name].amount
            return [(name, first, False), (second, 1.0 - first, True)]
        if name not in self.changed:
            return []
        moves = [one for one in self.fit.moves if one.succession == name]
        comes = self.changed[name].events[0] != self.planned[name].events[0]
        if moves and moves[0].what == "left_out" and not comes:
            return [(name, self.changed[name].amount / self.planned[name].amount, False)]
        return [(name, 1.0, bool(moves))]

    def day(self, when):
        """As sentences say it, with the year where it is not the season's first."""
        if when is None:
            return "never"
        year = "" if when.year == self.before_plan.season_start.year else f" {when.year}"
        if self.before_plan.units == "us":
            return f"{when:%b} {when.day}{',' * bool(year)}{year}"
        return f"{when.day} {when:%b}{year}"

    def lost(self, prospect, name):
        return int(np.count_nonzero(~np.isnat(prospect.lost(name))))


# ---- Days, losses and sentences ------------------------------------------------------------------


def say_event(event):
    return event.replace("_", " ")


def say_count(count, what):
    return f"{count} {what}" if count == 1 else f"{count} {what}s"


def moved_days(of, name, part):
    """[(event, before, after)] of all events that come before and after, priced or not."""
    planned = of.planned[name]
    for event in planned.events:
        if event in of.changed[part].events:
            yield event, of.fit.before.date(name, event), of.fit.after.date(part, event)


def told_days(of, name, part):
    """Those that a sentence has to say."""
    planned = of.planned[name]
    for event, was, now in moved_days(of, name, part):
        e = planned.events.index(event)
        always = e == 0 or e >= planned.priced_from()
        if was == now or (not always and was and now and abs((now - was).days) == 1):
            continue
        yield event, was, now


def told_harm(of, name, part):
    n, bought = of.years, of.changed[part].events[0] != of.planned[name].events[0]
    cold = (of.after.damage(part).damaged, of.before.damage(name).damaged)
    heat = (of.after.too_hot(part).damaged, of.before.too_hot(name).damaged)
    lost = (of.lost(of.after, part), of.lost(of.before, name))
    text = ""
    for what, (now, was) in (
        ("damaged by cold", (0, 0) if cold == lost else cold),
        ("damaged by heat", heat),
        ("lost to cold", lost),
    ):
        if now > was or (now < was and not bought):
            text += f"; {what} in {now} of {n} years instead of {was}"
    return text


def tail(of, name, part):
    """What every sentence of a part ends with."""
    days = [
        f"{DONE.get(event, say_event(event))} {of.day(now)} instead of {of.day(was)}"
        for event, was, now in told_days(of, name, part)
    ]
    return ("; " + ", ".join(days) if days else "") + told_harm(of, name, part)


def safety(of, part, event):
    if of.changed[part].limit(of.changed[part].events.index(event)) is None:
        return ": no cold is known to hurt them"
    safe = of.years - of.after.damage(part, event).damaged
    return f": safe from cold there in {safe} of {of.years} years"


def whose(trays, name, one, many):
    if trays == 0:
        return f"{name} {one}"
    return f"{say_count(trays, 'tray')} of {name} {one if trays == 1 else many}"


def companions(of, name, days):
    """Those linked with a batch, where all of the group are shifted by as many days, and whole."""
    for group in of.fit.before.groups:
        others = [one for one in group.successions if one != name]
        shifts = {one.succession: one.days for one in of.fit.moves if one.what == "shift"}
        parted = {one.succession for one in of.fit.moves if one.what == "split"}
        is_own = name in group.successions and name not in parted
        if is_own and all(shifts.get(one) == days and one not in parted for one in others):
            return ", together with " + ", ".join(others)
    return ""


def head(of, move, name, part, share):
    """How the sentence of a move begins."""
    planned, changed = of.planned[name], of.changed[part]
    event = say_event(move.event)
    if move.what == "shift":
        if planned.by is not None:
            days = (changed.by - planned.by).days
            return f"{name}: {event} {say_count(-days, 'day')} earlier, by {of.day(changed.by)}"
        now = of.fit.after.date(part, move.event)
        days = (now - of.fit.before.date(name, move.event)).days
        return (
            f"{name}: {event} {say_count(days, 'day')} later, on {of.day(now)}"
            f"{companions(of, name, days)}"
        )
    if move.what == "place":
        j, k = planned.events.index(move.event), changed.events.index(move.event)
        return (
            f"{whose(changed.trays(k, 1.0), name, 'stands', 'stand')} in {changed.place(k)} "
            f"instead of {planned.place(j)} from {of.day(of.fit.after.date(part, move.event))} "
            f"({event}){safety(of, part, move.event)}"
        )
    if move.what == "early":
        k = changed.events.index("out_early")
        out = of.fit.after.date(part, "out_early")
        days = (of.fit.before.date(name, changed.events[k + 1]) - out).days
        return (
            f"{whose(changed.trays(k, 1.0), name, 'goes', 'go')} to {changed.place(k)} "
            f"{say_count(days, 'day')} earlier, on {of.day(out)}{safety(of, part, 'out_early')}"
        )
    assert move.what == "container"
    j = planned.events.index(move.event)
    was, now = planned.trays(j, share), changed.trays(j, 1.0)
    text = (
        f"{name}: {changed.stages[j]['container']} instead of {planned.stages[j]['container']} "
        f"from {event}, {say_count(now, 'tray')} instead of {was}"
    )
    areas = planned.area(j, share), changed.area(j, 1.0)
    if min(areas) > 0.0:
        text += ", " + " instead of ".join(say_area(of, area) for area in reversed(areas))
    return text


def say_area(of, area):
    us = of.before_plan.to_dict()["units"] == "us"
    usual = 10.0 if us else 100.0
    parts = 100.0 * usual if area * usual < 10.0 else usual
    return f"{math.floor(area * parts + 0.5) / parts:g} {'ft²' if us else 'm²'}"


def sentences(of, name):
    """The sentences of a batch's moves, whole."""
    moves = [one for one in of.fit.moves if one.succession == name]
    parts = of.parts(name)
    for move in moves:
        if move.what == "split":
            _, (_, second, _) = parts
            count = of.planned[name].alive[of.planned[name].target]
            half = math.floor(count * second + 0.5)
            whole = math.floor(count + 0.5)
            yield (
                f"{name} is split: {whole - half} plants are raised as planned, {half} otherwise"
            )
            continue
        moved = [(part, share) for part, share, is_moved in parts if is_moved]
        if move.what != "left_out":
            ((part, share),) = moved
            yield head(of, move, name, part, share) + tail(of, name, part)
            continue
        # Bought in: as a batch that comes as plants, or, wanted at the very end, as no batch.
        when = of.day(of.fit.before.date(name, move.event))
        if moved:
            ((part, share),) = moved
            assert of.changed[part].events[0] == move.event
            assert of.fit.after.date(part, move.event) == of.fit.before.date(name, move.event)
            count, end = of.changed[part].amount, tail(of, name, part)
        else:
            share = 1.0 - sum(share for _, share, _ in parts)
            j = of.planned[name].events.index(move.event)
            count, end = math.ceil(of.planned[name].alive[j] * share - 1e-9), ""
        yield (
            f"buy in {count:g} plants of {name} for {say_event(move.event)} on {when}: there is no "
            f"room to raise them{end}"
        )


# ---- Prices --------------------------------------------------------------------------------------


def reckoned_prices(of, name):
    """Prices of a batch's moves with the usual weights; of those left out, without their trays."""
    moves = [one for one in of.fit.moves if one.succession == name]
    parts, planned = of.parts(name), of.planned[name]
    otherwise = [(part, share) for part, share, is_moved in parts if is_moved]
    days = 0
    for part, _ in otherwise:
        for event, was, now in moved_days(of, name, part):
            if planned.events.index(event) >= planned.priced_from() and was != now:
                days = max(days, abs((now - was).days))
    prices = []
    has_days = False
    for move in moves:
        if move.what == "split":
            prices.append(6.0)
            continue
        share = otherwise[0][1] if otherwise else 1.0
        if move.what == "left_out":
            share = 1.0 - sum(one for _, one, is_moved in parts if not is_moved)
        price = {"shift": 0.0, "container": 8.0 * share, "left_out": 60.0}.get(move.what)
        if move.what == "place":
            j = planned.events.index(move.event)
            choice = choices(planned.document, planned.stages[j]["where"])
            price = 4.0 * choice.index(move.after) * share
        if move.what == "early":
            out = of.fit.after.date(otherwise[0][0], "out_early")
            price = 0.5 * (of.fit.before.date(name, move.event) - out).days * share
        if not has_days and otherwise:
            price += days * share
            assert move.moved == days
        has_days = True
        prices.append(price + (10.0 * move.trays if move.what == "left_out" else 0.0))
    return prices, days


def choices(document, where):
    """Places that the words of a `where` name or mean, in its order."""
    found = []
    for word in [where] if isinstance(where, str) else where:
        for name, place in document["places"].items():
            if (word in (name, *place["for"])) and name not in found:
                found.append(name)
    return found


# ---- The field -----------------------------------------------------------------------------------


def fields_of(document):
    """(place, kind) of all beds, and of places for the field by whatever they are counted."""
    return {
        (name, kind)
        for name, place in document["places"].items()
        for kind in ("trays", "bed", "area")
        if kind == "bed" or "field" in place["for"]
    }


def field_by_hand(of):
    """{(place, kind): [day]}: every batch with its plants as planned, on the days of its parts.

    And the most that may be more: what is bought in comes as whole plants.
    """
    season = of.before_plan.season_days
    start = of.before_plan.season_start
    feet = 0.3048 if of.before_plan.units == "us" else 1.0
    found, more = {}, {}
    for name, planned in of.planned.items():
        if name in of.unresolved:
            continue
        for part, share, _ in of.parts(name):
            changed = of.changed[part]
            for j, event in enumerate(changed.events[:-1]):
                own = planned.events.index("transplant" if event == "out_early" else event)
                if event == "out_early":
                    own = planned.events.index(changed.events[j + 1]) - 1
                count, stage = planned.alive[own] * share, changed.stages[j]
                days = [of.fit.after.date(part, each) for each in changed.events[j : j + 2]]
                begin, end = (season if d is None else (d - start).days for d in days)
                is_bought = changed.events[0] != planned.events[0]
                if "container" in stage:
                    container = changed.document["containers"][stage["container"]]
                    trays = math.ceil(count / container["cells"] - 1e-9)
                    area = container.get("area", 0.0)
                    amounts = {"trays": (trays, 1.0), "area": (trays * area, area)}
                elif "spacing" in stage:
                    a_plant = stage["spacing"]["in_row"] / (100.0 * stage["spacing"]["rows"])
                    if of.before_plan.units == "us":
                        a_plant *= 2.54
                    # Beds of a plan in US units are told in feet.
                    a_plant /= feet
                    amounts = {"bed": (count * a_plant, a_plant)}
                else:
                    continue
                for place in wholes(changed.document, changed.place(j)):
                    for kind, (amount, most) in amounts.items():
                        for into, value in ((found, amount), (more, most if is_bought else 0.0)):
                            row = into.setdefault((place, kind), np.zeros(season))
                            row[min(begin, season) : min(end, season)] += value
    return found, more
