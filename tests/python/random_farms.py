"""Small invented farms with invented weather, drawn from a seed, for comparing two reckonings.

They are meant to be awkward rather than sensible: places that heat, vent, cover, open late or are
steady; clocks of every kind, gated and on soil; stages that never end; links, waves and relays;
bounds that bind; leap years and southern latitudes; gaps in the record; both kinds of units.
"""

from __future__ import annotations

import datetime
import itertools
import random
from dataclasses import dataclass

import numpy as np

from reference_season import NAN, Record

ONE_DAY = datetime.timedelta(days=1)
METHODS = (
    "average",
    "average_floored",
    "single_triangle",
    "double_triangle",
    "single_sine",
    "double_sine",
)
CUTOFFS = ("horizontal", "intermediate", "vertical")


@dataclass
class Farm:
    document: dict
    record: Record
    years: int
    other: Record | None = None  # weather of years that are not those planned for


class Writer:
    """Writes temperatures, differences and sums in the units of the plan."""

    def __init__(self, draw: random.Random, us: bool):
        self.draw, self.us = draw, us
        # Tenths, as records are in: their sums miss a limit by the last digits of a double.
        self.step = draw.choice([2.0, 10.0])

    def point(self, low: float, high: float) -> float:
        celsius = round(self.draw.uniform(low, high) * self.step) / self.step
        return float(round(celsius * 1.8 + 32.0)) if self.us else celsius

    def span(self, low: float, high: float) -> float:
        kelvin = round(self.draw.uniform(low, high) * self.step) / self.step
        return float(round(kelvin * 1.8)) if self.us else kelvin

    def sum(self, low: float, high: float) -> float:
        return float(round(self.draw.uniform(low, high) * (1.8 if self.us else 1.0)))


def random_farm(seed: int, *, small: bool = False) -> Farm:
    """The farm of a seed; a small one has a season of less than 400 days and few batches."""
    draw = random.Random(seed)
    south = draw.random() < 0.25
    latitude = round(draw.uniform(25.0, 58.0), 1) * (-1.0 if south else 1.0)
    starts = [(2026, 7, 1), (2027, 7, 1)] if south else [(2027, 1, 1), (2028, 1, 1)]
    season_start = datetime.date(*draw.choice(starts))
    if draw.random() < 0.3:
        season_start = datetime.date(draw.choice([2026, 2027]), draw.randint(1, 12), 1)
    season_days = draw.randint(270, 390) if small else draw.choice([366, 420, 550, 550, 730])
    us = draw.random() < 0.25
    write = Writer(draw, us)
    document = {
        "format": 1,
        "units": "us" if us else "metric",
        "title": f"Farm {seed}",
        "defaults": {"reliability": draw.choice([0.5, 0.7, 0.8, 0.9])},
        "site": {
            "latitude": latitude,
            "season_start": season_start,
            "season_days": season_days,
            "frost": {"at": write.point(-1.0, 2.0), "chance": draw.choice([0.3, 0.5, 0.5, 0.7])},
        },
        "places": places(draw, write, season_start),
        "containers": {"tray": {"cells": 50}},
        "events": ["bud"],
    }
    document["crops"] = {
        f"crop {k}": crop(draw, write, document["places"])
        for k in range(1, draw.randint(2, 3 if small else 4))
    }
    if draw.random() < 0.3:
        kin = {"like": "crop 1", **limits(draw, write)}
        stages = document["crops"]["crop 1"]["stages"]
        document["crops"]["kin"] = kin
        # Whoever says at what temperature it is lost must say so below these limits.
        if "lost_at" in document["crops"]["crop 1"]:
            kin["lost_at"] = lost_at(draw, write, document["crops"]["crop 1"], kin, *stages)
        for stage in stages:
            if isinstance(stage.get("lost_at"), float) and "limit" not in stage:
                stage["lost_at"] = lost_at(draw, write, document["crops"]["crop 1"], kin)
    if draw.random() < 0.8:
        document["defaults"]["risk"] = draw.choice([False, 0.0, 0.1, 0.2, 0.3])
    document["succession"] = [
        succession(draw, write, document, k) for k in range(1, draw.randint(3, 5 if small else 6))
    ]
    add_links(draw, write, document, 0.6 if small else 0.3)
    add_preferences(random.Random(f"{seed}, early or late"), document)
    years = draw.randint(4, 7) if small else draw.randint(5, 8)
    farm = Farm(document, weather(draw, season_start, season_days, years, south), years)
    if small and draw.random() < 0.2:
        farm.other = weather(draw, season_start, season_days, years, south)
    return farm


# ---- Weather -----------------------------------------------------------------------------------


def weather(draw, season_start, season_days, years, south) -> Record:
    first = datetime.date(2001, season_start.month, season_start.day) - draw.randint(0, 9) * ONE_DAY
    count = years * 366 + season_days + draw.randint(-20, 20)
    mean, swing, half = draw.uniform(7, 14), draw.uniform(7, 13), draw.uniform(3, 6)
    if draw.random() < 0.1:
        mean = draw.uniform(14, 20)  # hardly any frost, or none
    noise = np.random.default_rng(draw.getrandbits(32))
    day = np.datetime64(first) + np.arange(count)
    of_year = (day - day.astype("datetime64[Y]")).astype(float) + 1.0
    season = np.cos((of_year - (20 if south else 203)) / 365.25 * 2.0 * np.pi)
    shocks = noise.normal(0.0, 2.2, count).tolist()
    departure = np.array(list(itertools.accumulate(shocks, lambda was, shock: 0.7 * was + shock)))
    middle = mean + swing * season + departure
    reach = np.maximum(0.2, noise.normal(half, 1.5, count))
    low, high = np.round(middle - reach, 1).tolist(), np.round(middle + reach, 1).tolist()
    for _ in range(draw.randint(0, 25)):
        at = draw.randrange(count)
        longest = 6 if draw.random() < 0.03 else 3
        for k in range(at, min(count, at + draw.randint(1, longest))):
            draw.choice([low, high])[k] = NAN
    for _ in range(draw.randint(0, 4)):
        at = draw.randrange(count)
        low[at], high[at] = high[at], low[at]
    low[0], high[0], low[-1], high[-1] = 1.0, 6.0, 1.0, 6.0
    return Record(first, low, high)


# ---- Places ------------------------------------------------------------------------------------


def places(draw, write, season_start) -> dict:
    def day(first, last):
        return season_start + draw.randint(first, last) * ONE_DAY

    mat = {"for": ["germinate"], "day": write.point(19, 25), "night": write.point(14, 18.5)}
    house = {"for": ["grow"], "warmer_night": write.span(0, 4), "warmer_day": write.span(2, 9)}
    if draw.random() < 0.6:
        house["heat_to"] = write.point(3, 12)
        if draw.random() < 0.7:
            house["heat_lift"] = write.span(5, 15)
    if draw.random() < 0.5:
        house["vent_above"] = write.point(18, 26)
    if draw.random() < 0.5:
        house["cold_nights"] = {"below": write.point(0, 5), "warmer": write.span(2, 6)}
    if draw.random() < 0.4:
        begin = draw.randint(0, 60)
        house["lamps"] = {
            "hours": float(draw.randint(10, 16)),
            "from": day(begin, begin),
            "until": day(begin + 20, begin + 150),
            "trays": 10,
        }
    frame = {"for": ["harden"], "warmer_night": write.span(0, 3), "warmer_day": write.span(0, 6)}
    if draw.random() < 0.7:
        frame["cold_nights"] = {"warmer": write.span(2, 6)}
        if draw.random() < 0.4:
            frame["cold_nights"]["below"] = write.point(-1, 3)
    if draw.random() < 0.2:
        frame["open"] = [day(20, 110), day(250, 360)]
    beds = {"for": ["field"]}
    if draw.random() < 0.3:
        beds["cold_nights"] = {"warmer": write.span(1, 3)}
    if draw.random() < 0.15:
        beds["open"] = [day(40, 120), day(280, 364)]
    cellar = {"for": ["store"], "day": write.point(3, 6), "night": write.point(1, 2.5)}
    found = {"mat": mat, "house": house, "frame": frame}
    if draw.random() < 0.5:
        found["cellar"] = cellar
    found["beds"] = beds
    if draw.random() < 0.4:
        found["tunnel"] = {"for": ["field"], "warmer_night": write.span(0, 2), "warmer_day": 0.0}
        found["tunnel"]["warmer_day"] = write.span(3, 8)
    return found


# ---- Crops -------------------------------------------------------------------------------------

RAISED = [
    ("sow", ["germinate", "mat", "house"], "germination"),
    ("emerge", ["grow", ["store", "grow"], "frame"], "bench"),
    ("pot_on", ["grow", "mat"], "bench"),
    ("harden_off", ["harden", "frame"], "short"),
    ("transplant", ["field", "beds", ["tunnel", "field"]], "long"),
    ("first_harvest", ["field", "beds"], "harvest"),
]
CHILLED = [("chill", ["store", "frame", "beds"], "chill"), *RAISED]
SOAKED = [("soak", ["grow"], "short"), *RAISED]
DIRECT = [
    ("sow", ["field", "beds"], "germination"),
    ("emerge", ["field", "beds"], "long"),
    ("first_harvest", ["field", "beds"], "harvest"),
]
PLUGS = [
    ("receive", ["grow", "frame"], "short"),
    ("transplant", ["field", "beds"], "bench"),
    ("bud", ["field", "beds"], "bench"),
    ("first_harvest", ["field", "beds"], "harvest"),
]
TUBERS = [
    ("plant", ["grow", "frame", "field"], "bench"),
    ("emerge", ["grow", "frame"], "bench"),
    ("transplant", ["field"], "bench"),
    ("pinch", ["field"], "bench"),
    ("first_harvest", ["field"], "harvest"),
]
SOAKED_DIRECT = [("soak", ["grow", "mat"], "short"), *DIRECT]
SOLD = [*RAISED[:4], ("sell", ["frame", "field"], "short")]


def crop(draw, write, places) -> dict:
    pattern = draw.choice([RAISED, RAISED, RAISED, CHILLED, SOAKED, DIRECT, PLUGS, TUBERS])
    if draw.random() < 0.1:
        pattern = SOAKED_DIRECT
    if draw.random() < 0.1:
        pattern = SOLD
    optional = {"pot_on", "harden_off", "pinch", "emerge"}
    stages = []
    for event, where, wait in pattern:
        if event in optional and draw.random() < 0.3:
            continue
        where = [place for place in map(served(places), where) if place]
        stage = {"begins": event, "where": draw.choice(where), "takes": takes(draw, write, wait)}
        if event == "bud":
            stage["who"] = "plant"
        if draw.random() < 0.3 and not isinstance(stage["takes"].get("weeks"), list):
            stage["hold"] = draw.randint(0, 20)
        if draw.random() < 0.15:
            stage["limit"] = write.point(-6, 3)
        if draw.random() < 0.25:
            stage["too_hot"] = write.point(22, 33)
        if draw.random() < 0.5:
            stage["container"] = "tray"
        stages.append(stage)
    found: dict = {"stages": stages}
    if draw.random() < 0.15 and pattern[-1][0] == "first_harvest":
        stages[-1].pop("hold", None)
        if isinstance(stages[-1]["takes"].get("weeks"), list):
            stages[-1]["takes"]["weeks"] = stages[-1]["takes"]["weeks"][0]
        for event in draw.choice([["last_harvest"], ["lift", "store"], ["lift"]]):
            where = "field" if event != "store" else "frame"
            stages.append({"begins": event, "where": where, "takes": takes(draw, write, "short")})
    found |= limits(draw, write)
    if draw.random() < 0.25:
        found["risk"] = draw.choice([False, 0.1, 0.25])
    if draw.random() < 0.3:
        found["lost_at"] = lost_at(draw, write, found, *stages)
    for stage in stages:
        if draw.random() < 0.1:
            stage["lost_at"] = lost_at(draw, write, stage if "limit" in stage else found)
    return found


def lost_at(draw, write, *tables):
    """Never lost, or lost some degrees below all limits of these tables."""
    if draw.random() < 0.25:
        return False
    keys = ("limit", "limit_tender", "limit_hardened")
    given = [table[key] for table in tables for key in keys if key in table]
    return (min(given) if given else write.point(-4, 2)) - draw.choice([0.0, 1.0, 2.0, 4.0])


def limits(draw, write) -> dict:
    found = {}
    if draw.random() < 0.85:
        found["limit_tender"] = write.point(-1, 2)
    if draw.random() < 0.85:
        found["limit_hardened"] = write.point(-7, -1.5)
    return found


def served(places):
    """Keeps of a `where` what names a place or job of the farm; None if that is nothing."""
    known = {*places, *(job for place in places.values() for job in place["for"])}

    def keep(where):
        if not isinstance(where, list):
            return where if where in known else None
        return [entry for entry in where if entry in known] or None

    return keep


def takes(draw, write, wait, depth=0) -> dict:
    """A clock for a wait of about the given length."""
    share = {"short": 0.3, "germination": 0.6, "bench": 1.0, "long": 2.5, "harvest": 1.0}
    share = share.get(wait, 0.6)
    if wait == "chill":
        table = {
            "days_between": draw.randint(5, 25),
            "low": write.point(-2, 1),
            "high": write.point(6, 12),
        }
        if draw.random() < 0.4:
            return {"any": [table, {"days": draw.randint(15, 50)}]}
        return table
    if depth == 0 and draw.random() < 0.15:
        members = [takes(draw, write, wait, 1) for _ in range(draw.randint(2, 3))]
        table = {draw.choice(["all", "any"]): members}
        if any("gate" in member for member in members):
            return table
    elif wait == "germination" and draw.random() < 0.8:
        table = {
            "germination": write.sum(40, 130),
            "base": write.point(0, 6),
            "optimum": write.point(18, 24),
            "ceiling": write.point(28, 36),
        }
    else:
        kind = draw.choice(["days", "weeks", "weeks between", "at", "heat", "heat", "heat", "heat"])
        if wait == "short" and draw.random() < 0.6:
            kind = "days"
        if kind == "days":
            table = {"days": max(1, round(share * draw.uniform(10, 35)))}
        elif kind == "weeks" or (kind == "weeks between" and depth > 0):
            table = {"weeks": max(1, round(share * draw.uniform(2, 6)))}
        elif kind == "weeks between":
            first = max(1, round(share * draw.uniform(2, 6)))
            return {"weeks": [first, first + draw.randint(1, 3)]}
        elif kind == "at":
            base, at = write.point(0, 5), write.point(15, 22)
            table = {"days": max(1, round(share * draw.uniform(5, 25))), "at": at, "base": base}
        else:
            table = heat(draw, write, share)
    if draw.random() < 0.2:
        side = draw.choice(["day_length_at_least", "day_length_at_most"])
        table["gate"] = {side: draw.choice([9.0, 10.0, 11.5, 12.0, 13.0, 14.0, 15.0])}
        if draw.random() < 0.8:
            table["gate"]["otherwise"] = draw.choice([0.0, 0.25, 0.5, 0.9])
    knows_soil = not {"all", "any", "weeks", "days"} & set(table)
    if knows_soil and draw.random() < 0.15:
        table["soil"] = True
    return table


def heat(draw, write, share) -> dict:
    amount = (3000, 6000) if draw.random() < 0.03 else (share * 60, share * 350)
    table = {"heat": write.sum(*amount), "base": write.point(0, 8)}
    if draw.random() < 0.5:
        table["upper"] = write.point(20, 30)
    if draw.random() < 0.5:
        table["method"] = draw.choice(METHODS)
    if "upper" in table and table.get("method") != "average_floored" and draw.random() < 0.5:
        table["cutoff"] = draw.choice(CUTOFFS)
    return table


# ---- Successions and links ---------------------------------------------------------------------


OUTCOMES = ("emerge", "first_harvest", "last_harvest", "bud")


def stages_of(document, crop) -> list:
    table = document["crops"][crop]
    return table["stages"] if "stages" in table else stages_of(document, table["like"])


def succession(draw, write, document, number) -> dict:
    name = draw.choice(list(document["crops"]))
    crop = document["crops"][name]
    stages = stages_of(document, name)
    found = {"name": f"batch {number}", "crop": name, "plants": 50}
    start, length = document["site"]["season_start"], document["site"]["season_days"]

    def day(first=80, last=320):
        return start + draw.randint(first, min(last, length - 10)) * ONE_DAY

    decisions = [stage["begins"] for stage in stages if stage["begins"] not in OUTCOMES]
    limit = {} if {"limit_tender", "limit_hardened"} <= set(crop) else {"limit": 32.0}
    if limit and document["units"] == "metric":
        limit = {"limit": 0.0}
    outcomes = [s["begins"] for s in stages if s["begins"] not in decisions]
    has_harvest = "first_harvest" in outcomes
    if draw.random() < 0.6 or not outcomes:
        rule = draw.choice(["on", "from", "from", "risk", "frost", "frost"])
        target = {"event": draw.choice(decisions)}
        if rule == "risk":
            target |= {"risk": draw.choice([0.0, 0.1, 0.2, 0.4]), **limit}
            if draw.random() < 0.2:
                target["after"] = day(20, 300)
        elif rule == "frost":
            target |= frost_rule(draw)
            if draw.random() < 0.2:
                target["after"] = day(20, 300)
        else:
            target[rule] = day()
    else:
        rule = draw.choice(["by", "by", "by", "on", "on"] + ["in_harvest"] * (2 * has_harvest))
        target = {"event": draw.choice([*outcomes, "clear"])}
        if rule == "in_harvest":
            begin = day(150, 330)
            until = min(begin + draw.randint(3, 40) * ONE_DAY, start + (length - 1) * ONE_DAY)
            chance = draw.choice([0.2, 0.4, 0.8])
            window = {"from": begin, "until": until, "chance": chance}
            target = {"event": "first_harvest", "in_harvest": window}
        else:
            target[rule] = day(150, 360)
    found["target"] = target
    if draw.random() < 0.3:
        found["not_before"] = {draw.choice(decisions): day(10, 150)}
        if draw.random() < 0.3:
            found["not_before"] = {draw.choice(decisions): frost_rule(draw)}
        if draw.random() < 0.15:
            found["not_before"] = {
                draw.choice(decisions): {"risk": draw.choice([0.1, 0.3]), **limit}
            }
    if draw.random() < 0.35:
        events = [stage["begins"] for stage in stages] + ["clear"]
        late = draw.choice(events)
        if draw.random() < 0.5:  # behind the target, or on it
            late = draw.choice(events[events.index(target["event"]) :])
        # Often too soon, and often so late that only some years break it.
        found["not_after"] = {late: day(60, 330) if late in decisions else day(150, 380)}
        if late in decisions and draw.random() < 0.3:
            found["not_after"] = {late: frost_rule(draw)}
    if draw.random() < 0.2:
        found["reliability"] = draw.choice([0.5, 0.6, 0.95, 1.0])
    if draw.random() < 0.2:
        found["risk"] = draw.choice([False, 0.0, 0.15])
    if draw.random() < 0.4:
        found["wave"] = draw.choice(["cool", "warm"])
    if draw.random() < 0.2:
        found["stage"] = {draw.choice(stages)["begins"]: override(draw, write)}
    if has_harvest and draw.random() < 0.08:
        found["repeat"] = {"times": draw.randint(2, 3), "harvest_every": draw.randint(5, 21)}
    return found


def add_preferences(draw, document) -> None:
    """Early or late, by crop and by succession; drawn apart, so that all else stays as it was."""
    for table in [*document["crops"].values(), *document["succession"]]:
        if draw.random() < 0.25:
            table["prefer"] = draw.choice(["early", "early", "late"])


def override(draw, write) -> dict:
    found = {}
    if draw.random() < 0.6:
        found["takes"] = takes(draw, write, "bench")
        if isinstance(found["takes"].get("weeks"), list):
            found["takes"]["weeks"] = found["takes"]["weeks"][0]
    if draw.random() < 0.4:
        found["where"] = draw.choice(["field", "frame", "grow"])
    if draw.random() < 0.3 or not found:
        found["limit"] = write.point(-5, 2)
        found["lost_at"] = lost_at(draw, write, found)
    return found


def frost_rule(draw) -> dict:
    unit, most = draw.choice([("weeks", 6), ("days", 40)])
    side = draw.choice(["before_last", "after_last", "after_last", "before_first"])
    return {f"{unit}_{side}_frost": draw.randint(0, most)}


def place_named(document, where) -> str:
    """The place that a `where` means."""
    places = document["places"]
    for wanted in where if isinstance(where, list) else [where]:
        if wanted in places:
            return wanted
        for name, place in places.items():
            if wanted in place["for"]:
                return name
    raise ValueError(f"no place for {where}")


def add_links(draw, write, document, often) -> None:
    """Links from earlier to later successions only, so that none goes round in a circle."""
    batches = [s for s in document["succession"] if "repeat" not in s]
    links = []

    def events(batch):
        return [s["begins"] for s in stages_of(document, batch["crop"])] + ["clear"]

    def decisions(batch):
        return [event for event in events(batch)[:-1] if event not in OUTCOMES]

    def stands(batch):
        """The name of the place of each stage."""
        changed = batch.get("stage", {})
        return {
            stage["begins"]: place_named(
                document, changed.get(stage["begins"], {}).get("where") or stage["where"]
            )
            for stage in stages_of(document, batch["crop"])
        }

    for k in range(1, len(batches)):
        then = batches[k]
        if draw.random() > often:
            continue
        first = draw.choice(batches[:k])
        freed = list(stands(first).values())[-1]
        into_freed = [event for event, place in stands(then).items() if place == freed]
        if draw.random() < 0.25 and into_freed and into_freed[0] in decisions(then):
            if draw.random() < 0.7:
                then["gap"] = draw.randint(0, 14)
            then["follows"] = first["name"]
            continue
        link = {
            "first": {"succession": first["name"], "event": draw.choice(events(first))},
            "then": {
                "succession": then["name"],
                "event": draw.choice([events(then)[0], *decisions(then)]),
            },
        }
        wave = first.get("wave")
        members = [b for b in document["succession"] if wave and b.get("wave") == wave]
        shared = set.intersection(*(set(events(b)) for b in members)) if members else set()
        before = all(batches.index(b) < k for b in members if b in batches)
        if before and shared and all(b in batches for b in members) and draw.random() < 0.6:
            link["first"] = {
                "wave": wave,
                "event": draw.choice(sorted(shared)),
                "of": draw.choice(["all", "first"]),
            }
        kind = draw.choice(["days", "days", "heat"])
        if kind == "days":
            link["after"] = {"days": draw.randint(0, 15)}
        else:
            link["after"] = {**heat(draw, write, 0.3), "place": draw.choice(["house", "beds"])}
        if draw.random() < 0.4:
            link["within"] = {"days": draw.randint(15, 90)}
        links.append(link)
    if links:
        document["link"] = links


def climate_of(farm):
    """The library's season years of a farm."""
    import epicotyl

    site = farm.document["site"]
    return epicotyl.Climate(
        epicotyl.DailyRecord(farm.record.first, farm.record.low, farm.record.high),
        latitude=site["latitude"],
        season_start=site["season_start"],
        season_days=site["season_days"],
        years=farm.years,
    )
