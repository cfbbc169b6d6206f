"""The season reckoning a second time: plain Python, one day after the other.

The library answers from tables of ready days, searches and shared look-ups. This module answers
the same questions with nothing but loops over days, so that the two can be compared day by day
(`test_library_against_reference.py`, `test_simulate_against_reference.py`). It imports nothing of
the library and is written to be read: where it is slow, it is slow on purpose. Only what knows one
day at a time, air and rates, is reckoned by numpy for all days at once, so that thousands of farms
can be compared.

Days are integers counted from the plan's season start. `NEVER` is later than every day.
Temperatures are degrees Celsius inside; a plan in US units is turned at the door.

Where the words of the design leave a choice, these are the readings taken here:

- A season of N days has the weather of days 0 ... N-1; events fall on days 0 ... N.
- A night of exactly the limit is one at or below it, whatever the last digits of the sums say:
  "at or below T" is at or below T + 1e-6 K, "at or above T" at or above T - 1e-6 K.
- Gaps are filled in the whole record, so a gap may reach over the edge of a season year.
- A rule's `after` stands for the season's start also in "ends at least 90 days after".
- A risk day is a day on which the season still has a night to tell by, at least 30 days before
  the half ends. A rule's own `limit` is compared with the air of the stage as it is: a cover
  without a temperature goes by the stage's limit.
- A default bound looks into the spring in which, or last before which, the event it protects
  falls in the plan made without any default bounds. Where that plan gives the event no day because
  its succession has none, the days of all as early as allowed stand in (of an `in_harvest` those of
  the sowing with the most good years); an event without a day there has no bound.
- A default bound needs a limit; a move within one place is no move into a colder one. A decision
  target that is itself a risk at the stage's limit takes the place of its default bound, and so
  does a `not_before` of its event, unless that is a risk at a milder limit of its own: nights that
  check a plant say nothing of those that kill it, and both bounds hold. The
  bound of an outcome goes to the decision before it, also where that is the target.
- A place that opens holds back decisions; where an outcome moves plants into it, the decision
  before waits so long that in no season year they come too early.
- A decision target later than the season, or than a `not_after` of its event, is never met.
- Claim (a) of a linked sowing asks for the years of its target: half of them for an outcome `on`,
  the `chance` of an `in_harvest`, else the reliability; claim (b) always for the reliability.
- Linked sowings are gone through in reverse order until nothing moves: an `in_harvest` is scanned
  again, among the days that break no claim of those that wait for it, all others are moved as late
  as may be. A harvest year is taken from an `in_harvest` when it was good and no longer is.
- A sowing that is the target waits for its day like any other decision.
- A member of a repeat whose day lies behind the season has none.
- `clear` is planned as an outcome, for its middle day.
- Early is a sowing kept where the least plan has it, but no sooner than the spring it is for: the
  cold-to-warm half that holds, or last began before, the latest sowing that the target alone would
  allow (its own bounds and claim, no links). So far it is raised. Of an `in_harvest` it is the
  first sowing of that spring with the most good years. A day that is aimed at (`on`, and with it
  all later members of a repeat) is aimed at late, and so is a sowing that is the target itself.
- Without a word `by` and `in_harvest` are early where all stages stand in one place, the harvest
  has a `too_hot`, and the day asked for (the first of an `in_harvest`) lies in the months of a
  cold-to-warm half: what is sown early for the autumn would be picked before the summer.
- With the heater off the cover is put on when the colder air asks for it.
- What is ready and never done is held to the season's end, where it keeps its place.
- A batch is lost by the first night of its life before the harvest that is cold enough: from the
  event on from which cold does damage to the night before `first_harvest` comes, as it would have
  come had the batch lived. Without a `first_harvest` the whole of its life is before the harvest.
  A stage's `lost_at` wins over its crop's; where neither says anything, the limit loses it.
- Of a lost batch the days before the harvest stay what they would have been; it stands, is hurt,
  held and covered up to and with the night that loses it. Links, waits, claims of other targets
  than `in_harvest`, and planned days go by the days as if it had lived.

Order of the module: records and season years; the plan file; air; clocks; the days rules name;
bounds; what becomes of a calendar; damage, holding and nights to act; the claims of a calendar
and, for successions without links, the calendar itself.
"""

from __future__ import annotations

import csv
import datetime
import gzip
import math
import tomllib
from dataclasses import dataclass, field, replace
from pathlib import Path

import numpy as np

NEVER = math.inf
NAN = math.nan
ONE_DAY = datetime.timedelta(days=1)

OUTCOMES = ("emerge", "first_harvest", "last_harvest")
ALIKE = 1e-6  # K: temperatures as near as this are the same


def at_or_below(temperature, limit):
    """Records, offsets and limits are tenths, and sums of tenths are not: -0.9 + 1.1 is 0.2."""
    return temperature <= limit + ALIKE


def at_or_above(temperature, limit):
    return temperature >= limit - ALIKE


# ---- Records and season years ------------------------------------------------------------------


@dataclass
class Record:
    """Daily minimum and maximum of one station [degC], every day from `first`, NaN where none."""

    first: datetime.date
    low: list[float]
    high: list[float]


def record_from_days(days: dict[datetime.date, tuple[float, float]]) -> Record:
    """From the first to the last day with a value."""
    known = [day for day, values in days.items() if not all(math.isnan(v) for v in values)]
    first, last = min(known), max(known)
    low, high = [], []
    day = first
    while day <= last:
        values = days.get(day, (NAN, NAN))
        low.append(values[0])
        high.append(values[1])
        day += ONE_DAY
    return Record(first, low, high)


def read_csv(path) -> Record:
    """A table with the columns date, tmin_c, tmax_c (or tmin_f, tmax_f); '#' begins a comment."""
    lines = Path(path).read_text(encoding="utf-8").splitlines()
    rows = csv.DictReader(line for line in lines if line.strip() and not line.startswith("#"))

    def value(row, name):
        if name + "_c" in row:
            return float(row[name + "_c"]) if row[name + "_c"].strip() else NAN
        return (float(row[name + "_f"]) - 32.0) / 1.8 if row[name + "_f"].strip() else NAN

    return record_from_days(
        {
            datetime.date.fromisoformat(row["date"]): (value(row, "tmin"), value(row, "tmax"))
            for row in rows
        }
    )


def read_dly(path) -> Record:
    """GHCN-Daily fixed columns (its readme.txt): tenths of a degree, -9999 missing; a value with
    a quality flag failed a check and counts as missing."""
    opener = gzip.open if str(path).endswith(".gz") else open
    found: dict[datetime.date, dict[str, float]] = {}
    with opener(path, "rt", encoding="ascii") as lines:
        for line in lines:
            line = line.rstrip("\n").ljust(269)
            element = line[17:21]
            if element not in ("TMIN", "TMAX"):
                continue
            year, month = int(line[11:15]), int(line[15:17])
            for number in range(1, 32):
                at = 21 + 8 * (number - 1)
                tenths, quality = int(line[at : at + 5]), line[at + 6]
                try:
                    day = datetime.date(year, month, number)
                except ValueError:
                    continue
                missing = tenths == -9999 or quality != " "
                found.setdefault(day, {})[element] = NAN if missing else tenths / 10.0
    return record_from_days(
        {day: (v.get("TMIN", NAN), v.get("TMAX", NAN)) for day, v in found.items()}
    )


def read_weather(path) -> Record:
    name = str(path)
    return read_dly(path) if name.endswith((".dly", ".dly.gz")) else read_csv(path)


def fill_gaps(values: list[float], max_gap: int) -> list[float]:
    """Straight lines over runs of at most `max_gap` missing days between two known ones."""
    filled = list(values)
    day = 0
    while day < len(filled):
        if not math.isnan(filled[day]):
            day += 1
            continue
        end = day
        while end < len(values) and math.isnan(values[end]):
            end += 1
        length = end - day
        if day > 0 and end < len(values) and length <= max_gap:
            before, after = values[day - 1], values[end]
            for k in range(1, length + 1):
                filled[day - 1 + k] = before + (after - before) * k / (length + 1)
        day = end
    return filled


@dataclass
class SeasonYear:
    """The weather of one season of the record, day 0 ... N-1."""

    year: int
    low: list[float]
    high: list[float]


def season_years(record: Record, season_start, season_days, *, years=30, max_gap=3):
    """The latest `years` seasons that fit within the record, less those with gaps too long."""
    low, high = list(record.low), list(record.high)
    for day in range(len(low)):
        if low[day] > high[day]:
            low[day] = high[day] = NAN
    low, high = fill_gaps(low, max_gap), fill_gaps(high, max_gap)

    fitting = []
    for year in range(record.first.year, record.first.year + len(low) // 365 + 2):
        begin = (datetime.date(year, season_start.month, season_start.day) - record.first).days
        if begin >= 0 and begin + season_days <= len(low):
            fitting.append((year, begin))
    chosen = []
    for year, begin in fitting[-years:]:
        lows, highs = low[begin : begin + season_days], high[begin : begin + season_days]
        if not any(math.isnan(v) for v in lows + highs):
            chosen.append(SeasonYear(year, lows, highs))
    return chosen


# ---- The plan file -----------------------------------------------------------------------------


@dataclass(frozen=True)
class Gate:
    """The rate holds where the day length is at least (or at most) `hours`."""

    hours: float
    at_least: bool
    otherwise: float


@dataclass(frozen=True)
class Clock:
    kind: str  # days, heat, days_between, germination, all, any
    amount: float = 0.0
    base: float = 0.0
    upper: float | None = None
    method: str = "single_sine"
    cutoff: str = "horizontal"
    low: float = 0.0
    high: float = 0.0
    optimum: float = 0.0
    ceiling: float = 0.0
    soil: bool = False
    gates: tuple[Gate, ...] = ()
    members: tuple[Clock, ...] = ()

    def __hash__(self):  # asked for at every look-up; equal clocks have equal amounts
        return hash((self.kind, self.amount, self.base))


@dataclass
class Lamps:
    hours: float
    begin: datetime.date
    until: datetime.date


@dataclass
class Place:
    name: str
    jobs: list[str]
    steady: tuple[float, float] | None = None  # night, day
    warmer_night: float = 0.0
    warmer_day: float = 0.0
    heat_to: float | None = None
    heat_lift: float = math.inf
    vent_above: float | None = None
    cover: float | None = None  # K that the cover of cold nights adds
    cover_below: float | None = None  # None: at the limit of what stands there
    lamps: Lamps | None = None
    open_from: datetime.date | None = None


@dataclass
class Rule:
    kind: str  # on, from, by, risk, last_frost, first_frost, in_harvest
    date: datetime.date | None = None
    shift: int = 0  # days after (+) or before (-) the frost
    chance: float = 0.0
    limit: float | None = None
    after: datetime.date | None = None
    until: datetime.date | None = None


@dataclass
class Stage:
    begins: str
    outcome: bool
    place: Place
    clock: Clock
    hold: int | None
    limit: float | None = None
    too_hot: float | None = None
    lost_at: float | bool | None = None  # False: never lost; None: the crop's
    container: str | None = None


@dataclass
class Succession:
    name: str
    crop: str
    stages: list[Stage]
    target_event: str
    target: Rule
    limit_tender: float | None
    limit_hardened: float | None
    not_before: dict[str, Rule]
    not_after: dict[str, Rule]
    risk: float | None  # None: no default bound
    reliability: float
    wave: str | None
    lost_at: float | bool | None = None  # False: never lost; None: at the limits
    first_of_repeat: str | None = None  # the succession whose harvest this one is spaced from
    spaced: int = 0  # days after that harvest
    early: bool = False  # sown as early as may be

    def __post_init__(self):
        self.events = [stage.begins for stage in self.stages] + ["clear"]

    @property
    def has_choice(self) -> bool:
        """Whether a preference is asked at all."""
        aims_at_day = self.target.kind == "on" and (
            self.is_outcome(self.aim) or self.target_event == "clear"
        )
        return self.aim > 0 and not aims_at_day

    def is_outcome(self, event: int) -> bool:
        return event < len(self.stages) and self.stages[event].outcome

    @property
    def aim(self) -> int:
        return self.events.index(self.target_event)


@dataclass
class Link:
    first: list[str]
    first_event: str
    of_all: bool
    then: list[str]
    then_event: str
    after: Clock | None
    after_place: Place | None
    within: float | None = None  # days, counted and not enforced


@dataclass
class Plan:
    season_start: datetime.date
    season_days: int
    latitude: float
    weather: str | None
    frost_at: float
    frost_chance: float
    reliability: float
    places: dict[str, Place]
    successions: dict[str, Succession]
    links: list[Link] = field(default_factory=list)

    def day(self, date: datetime.date) -> int:
        return (date - self.season_start).days

    def date(self, day: int) -> datetime.date:
        return self.season_start + day * ONE_DAY


class Units:
    """Points, differences and sums of temperature of a plan file, as degC, K and K day."""

    def __init__(self, us: bool):
        self.us = us

    def point(self, value):
        return None if value is None else (value - 32.0) / 1.8 if self.us else float(value)

    def span(self, value):
        return value / 1.8 if self.us else float(value)


def read_clock(table: dict, units: Units, gates=()) -> Clock:
    if "gate" in table:
        gate = table["gate"]
        at_least = "day_length_at_least" in gate
        hours = gate["day_length_at_least" if at_least else "day_length_at_most"]
        gates = (*gates, Gate(float(hours), at_least, float(gate.get("otherwise", 0.0))))
    common = {"soil": table.get("soil", False), "gates": tuple(gates)}
    for kind in ("all", "any"):
        if kind in table:
            members = tuple(read_clock(member, units, gates) for member in table[kind])
            return Clock(kind, members=members)
    if "weeks" in table:
        weeks = table["weeks"]
        return Clock("days", 7.0 * (weeks[0] if isinstance(weeks, list) else weeks), **common)
    if "germination" in table:
        return Clock(
            "germination",
            units.span(table["germination"]),
            base=units.point(table["base"]),
            optimum=units.point(table["optimum"]),
            ceiling=units.point(table["ceiling"]),
            **common,
        )
    if "days_between" in table:
        return Clock(
            "days_between",
            float(table["days_between"]),
            low=units.point(table["low"]),
            high=units.point(table["high"]),
            **common,
        )
    if "days" in table and "at" in table:
        amount = table["days"] * units.span(table["at"] - table["base"])
        return Clock("heat", amount, base=units.point(table["base"]), **common)
    if "days" in table:
        return Clock("days", float(table["days"]), **common)
    return Clock(
        "heat",
        units.span(table["heat"]),
        base=units.point(table["base"]),
        upper=units.point(table.get("upper")),
        method=table.get("method", "single_sine"),
        cutoff=table.get("cutoff", "horizontal"),
        **common,
    )


def read_rule(table, units: Units) -> Rule:
    if isinstance(table, datetime.date):
        return Rule("from", date=table)
    after = table.get("after")
    for kind in ("on", "from", "by"):
        if kind in table:
            return Rule(kind, date=table[kind])
    if "risk" in table:
        limit = units.point(table.get("limit"))
        return Rule("risk", chance=table["risk"], limit=limit, after=after)
    if "in_harvest" in table:
        wanted = table["in_harvest"]
        return Rule(
            "in_harvest", date=wanted["from"], until=wanted["until"], chance=wanted["chance"]
        )
    for unit, days in (("weeks", 7), ("days", 1)):
        for side, sign in (("before", -1), ("after", 1)):
            for half in ("last", "first"):
                key = f"{unit}_{side}_{half}_frost"
                if key in table:
                    return Rule(f"{half}_frost", shift=sign * days * table[key], after=after)
    raise ValueError(f"no rule in {table}")


def read_place(name: str, table: dict, units: Units) -> Place:
    place = Place(name, table.get("for", []))
    if "day" in table:
        place.steady = (units.point(table["night"]), units.point(table["day"]))
    place.warmer_night = units.span(table.get("warmer_night", 0.0))
    place.warmer_day = units.span(table.get("warmer_day", 0.0))
    place.heat_to = units.point(table.get("heat_to"))
    if "heat_lift" in table:
        place.heat_lift = units.span(table["heat_lift"])
    place.vent_above = units.point(table.get("vent_above"))
    if "cold_nights" in table:
        place.cover = units.span(table["cold_nights"]["warmer"])
        place.cover_below = units.point(table["cold_nights"].get("below"))
    if "lamps" in table:
        lamps = table["lamps"]
        place.lamps = Lamps(float(lamps["hours"]), lamps["from"], lamps["until"])
    if "open" in table:
        place.open_from = table["open"][0]
    return place


def place_of(where, places: dict[str, Place]) -> Place:
    """A place's name wins over a job's; of a list the first that serves."""
    for wanted in where if isinstance(where, list) else [where]:
        if wanted in places:
            return places[wanted]
        for place in places.values():
            if wanted in place.jobs:
                return place
    raise ValueError(f"no place for {where}")


def read_stage(table: dict, places: dict[str, Place], units: Units) -> Stage:
    takes = table["takes"]
    hold = table.get("hold")
    if isinstance(takes.get("weeks"), list):
        hold = 7 * (takes["weeks"][1] - takes["weeks"][0])
    outcome = table.get("who", "plant" if table["begins"] in OUTCOMES else "grower") == "plant"
    return Stage(
        table["begins"],
        outcome,
        place_of(table["where"], places),
        read_clock(takes, units),
        hold,
        units.point(table.get("limit")),
        units.point(table.get("too_hot")),
        read_lost_at(table, units),
        table.get("container"),
    )


def read_lost_at(table: dict, units: Units):
    found = table.get("lost_at")
    return False if found is False else units.point(found)


def read_crop_tables(crops: dict) -> dict[str, dict]:
    def whole(name):
        table = crops[name]
        return {**whole(table["like"]), **table} if "like" in table else table

    return {name: whole(name) for name in crops}


def read_plan(source) -> Plan:
    """From a path or from the parsed document. Crops must stand in the document itself."""
    if not isinstance(source, dict):
        source = tomllib.loads(Path(source).read_text(encoding="utf-8"))
    units = Units(source.get("units") == "us")
    site, defaults = source["site"], source.get("defaults", {})
    latitude = float(site["latitude"])
    month = 1 if latitude >= 0.0 else 7
    season_start = site.get("season_start") or datetime.date(source["year"], month, 1)
    frost = site.get("frost", {})
    places = {n: read_place(n, table, units) for n, table in source["places"].items()}
    plan = Plan(
        season_start,
        site.get("season_days", 550),
        latitude,
        site.get("weather"),
        units.point(frost["at"]) if "at" in frost else 0.0,
        frost.get("chance", 0.5),
        defaults.get("reliability", 0.8),
        places,
        {},
    )
    crops = read_crop_tables(source.get("crops", {}))
    for table in source["succession"]:
        read_succession(plan, table, crops[table["crop"]], defaults, units)
    for table in source.get("link", []):
        plan.links.append(read_link(plan, table, units))
    for table in source["succession"]:
        if "follows" in table:
            plan.links.append(following(plan, table))
    return plan


def read_succession(plan: Plan, table: dict, crop: dict, defaults: dict, units: Units) -> None:
    stages = []
    for stage in crop["stages"]:
        changed = table.get("stage", {}).get(stage["begins"], {})
        stages.append(read_stage({**stage, **changed}, plan.places, units))
    risk = table.get("risk", crop.get("risk", defaults.get("risk", 0.1)))
    bounds = {
        key: {
            event: read_rule(rule, units)
            for event, rule in {**crop.get(key, {}), **table.get(key, {})}.items()
        }
        for key in ("not_before", "not_after")
    }
    succession = Succession(
        table.get("name", table["crop"]),
        table["crop"],
        stages,
        table["target"]["event"],
        read_rule(table["target"], units),
        units.point(crop.get("limit_tender")),
        units.point(crop.get("limit_hardened")),
        bounds["not_before"],
        bounds["not_after"],
        None if risk is False else risk,
        table.get("reliability", plan.reliability),
        table.get("wave"),
        read_lost_at(crop, units),
    )
    prefer = table.get("prefer", crop.get("prefer"))
    succession.early = prefer == "early" if prefer else early_by_itself(succession, plan.latitude)
    repeat = table.get("repeat")
    if not repeat:
        plan.successions[succession.name] = succession
        return
    for k in range(1, repeat["times"] + 1):
        batch = replace(succession, name=f"{succession.name} {k}")
        if k > 1:
            batch.target_event = "first_harvest"
            batch.target = Rule("on")
            batch.first_of_repeat = f"{succession.name} 1"
            batch.spaced = (k - 1) * repeat["harvest_every"]
        plan.successions[batch.name] = batch


def early_by_itself(succession: Succession, latitude: float) -> bool:
    """Sown where it stays, for a harvest in spring that heat stops."""
    rule, stages = succession.target, succession.stages
    stays = all(stage.place is stages[0].place for stage in stages)
    stopped = any(s.begins == "first_harvest" and s.too_hot is not None for s in stages)
    if rule.kind not in ("by", "in_harvest") or not stays or not stopped:
        return False
    spring = range(1, 8) if latitude >= 0.0 else (7, 8, 9, 10, 11, 12, 1)
    return rule.date.month in spring


def read_link(plan: Plan, table: dict, units: Units) -> Link:
    def members(end):
        if "wave" in end:
            return [s.name for s in plan.successions.values() if s.wave == end["wave"]]
        return [end["succession"]]

    after = table.get("after")
    return Link(
        members(table["first"]),
        table["first"]["event"],
        table["first"].get("of", "all") == "all",  # else "first": the first of them
        members(table["then"]),
        table["then"]["event"],
        read_clock(after, units) if after else None,
        plan.places[after["place"]] if after and "place" in after else None,
        float(table["within"]["days"]) if "within" in table else None,
    )


def following(plan: Plan, table: dict) -> Link:
    """From the clearing of the one before to the first event that moves into its last place."""
    freed = plan.successions[table["follows"]].stages[-1].place
    here = plan.successions[table["name"]]
    event = next(stage.begins for stage in here.stages if stage.place is freed)
    gap = Clock("days", float(table.get("gap", 0)))
    return Link([table["follows"]], "clear", True, [here.name], event, gap, None)


# ---- Air ---------------------------------------------------------------------------------------


def place_air(place: Place, low, high, limit, *, heater=True, cover=True):
    """Minimum and maximum inside on each day, and the nights on which the cover is put on.

    `limit` is the limit of what stands there: the cover's own where `cover_below` gives none."""
    outdoor_low, outdoor_high = np.asarray(low), np.asarray(high)
    if place.steady is not None:
        night = np.full(len(outdoor_low), place.steady[0])
        day = np.full(len(outdoor_low), place.steady[1])
    else:
        night = outdoor_low + place.warmer_night
        day = outdoor_high + place.warmer_day
        if heater and place.heat_to is not None:
            night = np.maximum(night, np.minimum(place.heat_to, night + place.heat_lift))
            day = np.maximum(day, np.minimum(place.heat_to, day + place.heat_lift))
        if place.vent_above is not None:
            day = np.minimum(day, np.maximum(place.vent_above, outdoor_high))
    acted = np.zeros(len(outdoor_low), dtype=bool)
    below = place.cover_below if place.cover_below is not None else limit
    if place.cover is not None and below is not None:
        acted = at_or_below(night, below)
        if cover:
            night = np.where(acted, night + place.cover, night)
    return night.tolist(), np.maximum(day, night).tolist(), acted.tolist()


# ---- Clocks ------------------------------------------------------------------------------------


def degrees_above(low, high, threshold, method):
    """Mean over each day of the degrees above a threshold."""
    mean, half = (low + high) / 2.0, (high - low) / 2.0
    if method == "average":
        return np.maximum(0.0, mean - threshold)
    if method == "average_floored":
        return (np.maximum(0.0, low - threshold) + np.maximum(0.0, high - threshold)) / 2.0
    above = np.where(low >= threshold, mean - threshold, 0.0)
    crossed = (low < threshold) & (threshold < high)
    if method.endswith("triangle"):
        part = (high[crossed] - threshold) ** 2 / (2.0 * (high[crossed] - low[crossed]))
    else:
        mean, half = mean[crossed], half[crossed]
        theta = np.arcsin(np.clip((threshold - mean) / half, -1.0, 1.0))
        part = ((mean - threshold) * (np.pi / 2.0 - theta) + half * np.cos(theta)) / np.pi
    above[crossed] = part
    return above


def share_above(low, high, threshold, method):
    """Share of each day above a threshold."""
    if method == "average":  # the whole day stands at its mean
        return np.where((low + high) / 2.0 > threshold, 1.0, 0.0)
    above = np.where((low >= threshold) & (high > threshold), 1.0, 0.0)
    crossed = (low < threshold) & (threshold < high)
    low, high = low[crossed], high[crossed]
    if method.endswith("triangle"):
        part = (high - threshold) / (high - low)
    else:
        sine = (threshold - (low + high) / 2.0) / ((high - low) / 2.0)
        part = (np.pi / 2.0 - np.arcsin(np.clip(sine, -1.0, 1.0))) / np.pi
    above[crossed] = part
    return above


def degree_days(low, high, clock: Clock):
    """Degree-days of minima and maxima (Zalom et al. 1983; B. the averages)."""
    low, high = np.asarray(low), np.asarray(high)
    above_base = degrees_above(low, high, clock.base, clock.method)
    if clock.upper is None:
        return above_base
    above_upper = degrees_above(low, high, clock.upper, clock.method)
    if clock.cutoff == "horizontal":
        return above_base - above_upper
    if clock.cutoff == "intermediate":
        return np.maximum(0.0, above_base - 2.0 * above_upper)
    share = share_above(low, high, clock.upper, clock.method)
    return above_base - above_upper - share * (clock.upper - clock.base)


def germination_rate(mean, clock: Clock):
    rising = mean - clock.base
    falling = clock.optimum - clock.base
    falling = falling * (clock.ceiling - mean) / (clock.ceiling - clock.optimum)
    within = (clock.base < mean) & (mean < clock.ceiling)
    return np.where(within, np.where(mean <= clock.optimum, rising, falling), 0.0)


def day_length(latitude: float, date: datetime.date) -> float:
    """Hours from sunrise to sunset (CBM model of Forsythe et al. 1995, sun 0.8333 deg below)."""
    number = date.timetuple().tm_yday
    theta = 0.2163108 + 2.0 * math.atan(0.9671396 * math.tan(0.00860 * (number - 186)))
    phi = math.asin(0.39795 * math.cos(theta))
    place = latitude * math.pi / 180.0
    cosine = (math.sin(0.8333 * math.pi / 180.0) + math.sin(place) * math.sin(phi)) / (
        math.cos(place) * math.cos(phi)
    )
    return 24.0 - 24.0 / math.pi * math.acos(min(1.0, max(-1.0, cosine)))


def daily_rates(clock: Clock, lows, highs, hours) -> list[float]:
    """What a simple clock runs up on each day."""
    days = len(lows)
    lows, highs = np.asarray(lows), np.asarray(highs)
    if clock.soil:
        means = (lows + highs) / 2.0
        soil = []
        for d in range(days):
            last_ten = means[max(0, d - 9) : d + 1].tolist()
            soil.append(sum(last_ten) / len(last_ten))
        lows = highs = np.array(soil)
    means = (lows + highs) / 2.0
    if clock.kind == "days":
        rates = np.ones(days)
    elif clock.kind == "days_between":
        rates = np.where((clock.low <= means) & (means <= clock.high), 1.0, 0.0)
    elif clock.kind == "germination":
        rates = germination_rate(means, clock)
    elif clock.method.startswith("double"):
        tomorrow = np.minimum(np.append(lows[1:], lows[-1:]), highs)
        rates = 0.5 * degree_days(lows, highs, clock) + 0.5 * degree_days(tomorrow, highs, clock)
    else:
        rates = degree_days(lows, highs, clock)
    for gate in clock.gates:
        inside = np.asarray(hours) >= gate.hours
        if not gate.at_least:
            inside = np.asarray(hours) <= gate.hours
        rates = np.where(inside, rates, rates * gate.otherwise)
    return rates.tolist()


def ready_day(rates: list[float], amount: float, start: int) -> float:
    """The first day on which what ran up since `start` makes the amount."""
    needed = amount * (1.0 - 1e-9)
    run_up = 0.0
    day = start
    while run_up < needed:
        if day >= len(rates):
            return NEVER
        run_up += rates[day]
        day += 1
    return day


# ---- Counting ----------------------------------------------------------------------------------


def needed(share: float, count: int) -> int:
    return max(1, math.ceil(share * count - 1e-9))


def allowed(chance: float, count: int) -> int:
    return math.floor(chance * count + 1e-9)


def quantile(days: list, share: float):
    """The k-th smallest, never last; NEVER where that year never comes to it."""
    return sorted(days)[needed(share, len(days)) - 1]


# ---- Results -----------------------------------------------------------------------------------


@dataclass
class Protection:
    """From `day` on, at most `years` season years have a night at or below the limit of the stage
    within a half of the year."""

    day: int
    half: tuple[int, int]
    years: int


@dataclass
class Bounds:
    """Days before which, and after which, each event must not be."""

    before: list[float]
    after: list[float]
    protected: dict[int, Protection] = field(default_factory=dict)  # by event
    impossible: list[str] = field(default_factory=list)  # bounds that no day satisfies


@dataclass
class Damage:
    """One stage or one succession: per season year its nights at or below the limit."""

    nights: list[list[int]]
    margin: list[float]  # K of the coldest night above the limit; inf where no night counted

    @property
    def years(self) -> int:
        return len(self.nights)

    @property
    def damaged(self) -> int:
        return sum(1 for nights in self.nights if nights)

    @property
    def first(self) -> list:
        return [nights[0] if nights else NEVER for nights in self.nights]


@dataclass
class Claim:
    good: int
    needed: int
    links_kept: int
    links_needed: int

    @property
    def holds(self) -> bool:
        return self.good >= self.needed and self.links_kept >= self.links_needed


# ---- The season --------------------------------------------------------------------------------


class Season:
    """A plan and the season years it is reckoned on."""

    def __init__(self, plan: Plan, years: list[SeasonYear]):
        self.plan = plan
        self.years = years
        self.n = len(years)
        self.last_day = plan.season_days
        self._air: dict = {}
        self._rates: dict = {}
        self._ready: dict = {}
        self._ends: dict = {}
        self._hours: dict = {}
        self._bare: dict | None = None
        self.tried: dict = {}  # what has no days, and was tried: sowing, aim, bounds, days
        self._lost: dict = {}

    # -- air and clocks of a stage --

    def limit(self, succession: Succession, event: int):
        """The temperature at or below which the stage that `event` begins is damaged."""
        stage = succession.stages[event]
        if stage.limit is not None:
            return stage.limit
        events = succession.events
        if "harden_off" in events:
            tender = event <= events.index("harden_off")
        else:
            tender = "field" not in succession.stages[0].place.jobs
        return succession.limit_tender if tender else succession.limit_hardened

    def air(self, place: Place, limit, year: int, *, heater=True, cover=True):
        asks_limit = place.cover is not None and place.cover_below is None
        key = (place.name, limit if asks_limit else None, year, heater, cover)
        if key not in self._air:
            weather = self.years[year]
            self._air[key] = place_air(
                place, weather.low, weather.high, limit, heater=heater, cover=cover
            )
        return self._air[key]

    def hours(self, place: Place | None) -> list[float]:
        """Day length on the plan's own dates, lamps included."""
        key = place.name if place else None
        if key not in self._hours:
            hours = []
            for d in range(self.plan.season_days):
                date = self.plan.date(d)
                length = day_length(self.plan.latitude, date)
                lamps = place.lamps if place else None
                if lamps and lamps.begin <= date <= lamps.until:
                    length = max(length, lamps.hours)
                hours.append(length)
            self._hours[key] = hours
        return self._hours[key]

    def clock_ready(self, clock: Clock, place: Place | None, limit, year: int, start):
        if clock.kind in ("all", "any"):
            days = [self.clock_ready(m, place, limit, year, start) for m in clock.members]
            return max(days) if clock.kind == "all" else min(days)
        outdoor = place or Place("", [])
        asks_limit = outdoor.cover is not None and outdoor.cover_below is None
        key = (clock, outdoor.name, limit if asks_limit else None, year)
        if key not in self._rates:
            lows, highs, _ = self.air(outdoor, limit, year)
            hours = self.hours(place) if clock.gates else []
            self._rates[key] = daily_rates(clock, lows, highs, hours)
            self._ready[key] = {}
        known = self._ready[key]
        if start not in known:
            known[start] = ready_day(self._rates[key], clock.amount, start)
        return known[start]

    def ready(self, succession: Succession, event: int, year: int, start):
        """When the clock of the stage that `event` begins is through, begun on `start`."""
        if start == NEVER:
            return NEVER
        stage = succession.stages[event]
        limit = self.limit(succession, event)
        return self.clock_ready(stage.clock, stage.place, limit, year, start)

    def end(self, succession: Succession, event: int, year: int, start):
        """As `ready`; but a harvest also ends with the first night at or below its limit."""
        key = (succession.name, event, year, start)
        if key not in self._ends:
            self._ends[key] = self.find_end(succession, event, year, start)
        return self._ends[key]

    def find_end(self, succession: Succession, event: int, year: int, start):
        ready = self.ready(succession, event, year, start)
        limit = self.limit(succession, event)
        if succession.events[event] != "first_harvest" or limit is None or start == NEVER:
            return ready
        lows, _, _ = self.air(succession.stages[event].place, limit, year)
        for night in range(start + 1, self.plan.season_days):
            if at_or_below(lows[night], limit):
                return min(ready, night)
        return ready

    # -- halves, frosts and risks --

    def half(self, cold_to_warm: bool, year: int):
        """First and last day of the half that begins in this calendar year."""
        north = self.plan.latitude >= 0.0
        date = datetime.date
        if cold_to_warm and north:
            edges = date(year, 1, 1), date(year, 7, 31)
        elif cold_to_warm:
            edges = date(year, 7, 1), date(year + 1, 1, 31)
        elif north:
            edges = date(year, 8, 1), date(year, 12, 31)
        else:
            edges = date(year, 2, 1), date(year, 6, 30)
        return self.plan.day(edges[0]), self.plan.day(edges[1])

    def half_of_rule(self, cold_to_warm: bool, after: datetime.date | None):
        """The first half that ends 90 days or more after the season's start, or after `after`."""
        year = self.plan.season_start.year - 1
        while True:
            begin, last = self.half(cold_to_warm, year)
            if last >= (self.plan.day(after) if after else 0) + 90:
                return begin, last
            year += 1

    def half_begun_by(self, day: int):
        """The last cold-to-warm half that begins on or before a day."""
        year = self.plan.date(day).year
        begin, last = self.half(True, year)
        return (begin, last) if begin <= day else self.half(True, year - 1)

    def frost_day(self, rule: Rule):
        """Day of the frost a rule counts from, or None where there is none at its chance."""
        last = rule.kind == "last_frost"
        begin, end = self.half_of_rule(last, rule.after)
        days = []
        for year in self.years:
            cold = [
                d
                for d in range(max(0, begin), min(end, self.plan.season_days - 1) + 1)
                if at_or_below(year.low[d], self.plan.frost_at)
            ]
            if last:
                days.append(max(cold) if cold else -NEVER)
            else:
                days.append(min(cold) if cold else NEVER)
        days.sort()
        chance = self.plan.frost_chance
        if last:
            position = math.ceil((1.0 - chance) * (self.n + 1) - 1e-9)
        else:
            position = math.floor(chance * (self.n + 1) + 1e-9)
        if not 1 <= position <= self.n or abs(days[position - 1]) == NEVER:
            return None
        return days[position - 1]

    def risk_day(self, succession, event: int, limit, chance: float, half, start: int):
        """The first day from `start` on with at most the allowed years still to have a night at
        or below `limit` within the half, in the air of the stage that `event` begins; None where
        that is no day of the half."""
        place, of_stage = succession.stages[event].place, self.limit(succession, event)
        begin, last = half
        if last - 30 >= self.plan.season_days:
            return None  # the season has no night left to tell by
        if last - 30 < start:
            return start  # the half is over: there is nothing to be protected from
        last_nights = []  # of each season year; -1 where none
        for year in range(self.n):
            lows, _, _ = self.air(place, of_stage, year)
            night = min(last, self.plan.season_days - 1)
            while night >= max(begin, 0) and not at_or_below(lows[night], limit):
                night -= 1
            last_nights.append(night if night >= max(begin, 0) else -1)
        for day in range(start, last - 30 + 1):
            if sum(night >= day for night in last_nights) <= allowed(chance, self.n):
                return day
        return None

    def rule_day(self, succession: Succession, event: int, rule: Rule):
        if rule.kind in ("on", "from", "by", "in_harvest"):
            return self.plan.day(rule.date)
        if rule.kind in ("last_frost", "first_frost"):
            frost = self.frost_day(rule)
            return None if frost is None else frost + rule.shift
        limit = rule.limit if rule.limit is not None else self.limit(succession, event)
        start = self.plan.day(rule.after) if rule.after else 0
        half = self.half_of_rule(True, rule.after)
        return self.risk_day(succession, event, limit, rule.chance, half, start)

    # -- bounds --

    def mean_lowest(self, succession: Succession, event: int) -> float:
        """Mean over season years of the lowest minimum in the air of a stage."""
        place, limit = succession.stages[event].place, self.limit(succession, event)
        return sum(min(self.air(place, limit, year)[0]) for year in range(self.n)) / self.n

    def damage_from(self, succession: Succession) -> int:
        events = succession.events
        return events.index("emerge") if "emerge" in events else 0

    def asked(self, succession: Succession, harvest_of_first=None):
        """The day a target asks for; `harvest_of_first` is the planned first harvest (a day) of
        the succession that a repeated one is spaced from."""
        if succession.first_of_repeat:
            return None if harvest_of_first is None else harvest_of_first + succession.spaced
        return self.rule_day(succession, succession.aim, succession.target)

    def days_without_default_bounds(self, name: str) -> list | None:
        """The planned days of a succession in the plan made without any default bounds."""
        if self._bare is None:
            bare = {n: replace(s, risk=None) for n, s in self.plan.successions.items()}
            season = Season(replace(self.plan, successions=bare), self.years)
            season._air, season._rates, season._ready = self._air, self._rates, self._ready
            season._ends, season._hours = self._ends, self._hours
            sown, aims, bounds = season.reckon()
            days = season.simulate(sown, aims, bounds)
            self._bare = {n: season.planned_days(n, sown, aims, days) for n in sown}
            for other, (first, aim, _, tried) in season.tried.items():
                if other not in sown:
                    self._bare[other] = season.planned_days(
                        other, {other: first}, {other: aim}, {other: tried}
                    )
        return self._bare.get(name)

    def spring_of(self, succession: Succession, planned):
        """The half whose nights a default bound keeps off an event planned, without such bounds,
        for a day; None where that spring is over, or there is no such day."""
        if planned == NEVER:
            return None
        if succession.target.kind == "risk":
            half = self.half_of_rule(True, succession.target.after)
        else:
            half = self.half_begun_by(planned)
        return half if planned <= half[1] - 30 else None

    def bounds(self, succession: Succession, asked: int) -> Bounds:
        events = succession.events
        bounds = Bounds([0] * len(events), [NEVER] * len(events))
        for event, rule in succession.not_before.items():
            at = events.index(event)
            day = self.rule_day(succession, at, rule)
            if day is None:
                bounds.impossible.append(f"not_before of {event}")
            else:
                bounds.before[at] = max(bounds.before[at], day)
                if rule.kind == "risk" and rule.limit is None:
                    half = self.half_of_rule(True, rule.after)
                    years = allowed(rule.chance, self.n)
                    bounds.protected[at] = Protection(day, half, years)
        for event, rule in succession.not_after.items():
            at = events.index(event)
            day = self.rule_day(succession, at, rule)
            if day is None:
                bounds.impossible.append(f"not_after of {event}")
            else:
                bounds.after[at] = min(bounds.after[at], day)
        for at, stage in enumerate(succession.stages):
            stays = at > 0 and succession.stages[at - 1].place is stage.place
            if stage.place.open_from is None or stays:
                continue
            opens = self.plan.day(stage.place.open_from)
            if stage.outcome:
                decision = self.decision_before(succession, at)
                if decision is None:
                    continue
                opens = self.carried_day(succession, decision, at, opens, 0.0)
                at = decision
            bounds.before[at] = max(bounds.before[at], opens)
        if succession.risk is not None:
            self.add_default_bounds(succession, bounds)
        rule = succession.target
        if rule.kind == "risk" and rule.limit is None:
            half, years = self.half_of_rule(True, rule.after), allowed(rule.chance, self.n)
            bounds.protected[succession.aim] = Protection(asked, half, years)
        return bounds

    def add_default_bounds(self, succession: Succession, bounds: Bounds) -> None:
        without = self.days_without_default_bounds(succession.name)
        if without is None:
            return
        target = succession.target
        decision_target = None if self.outcome_target(succession) else succession.aim

        def has_own(event, limit):
            """Whether an event has a bound of its own against such cold, or an exact day."""
            if event == decision_target and target.kind == "on":
                return True
            own = succession.not_before.get(succession.events[event])
            if own is not None and own.kind == "risk" and own.limit is not None:
                return at_or_below(own.limit, limit)
            return own is not None

        for at, stage in enumerate(succession.stages):
            before = succession.stages[at - 1] if at > 0 else None
            colder = (
                not stage.outcome
                and before is not None
                and before.place is not stage.place
                and self.mean_lowest(succession, at) < self.mean_lowest(succession, at - 1)
            )
            if not (colder or at == self.damage_from(succession)):
                continue
            # a target that is itself a risk at the same limit says how much risk is taken there
            asks_risk = at == decision_target and target.kind == "risk" and target.limit is None
            limit = self.limit(succession, at)
            if limit is None or has_own(at, limit) or asks_risk:
                continue
            waits = at
            if stage.outcome:
                waits = self.decision_before(succession, at)
                if waits is None or has_own(waits, limit):
                    continue
            half = self.spring_of(succession, without[at])
            if half is None:
                continue
            day = self.risk_day(succession, at, limit, succession.risk, half, 0)
            if day is None:
                bounds.impossible.append(f"default bound of {stage.begins}")
                continue
            bounds.protected[at] = Protection(day, half, allowed(succession.risk, self.n))
            if stage.outcome:
                day = self.carried_day(succession, waits, at, day, succession.risk)
            bounds.before[waits] = max(bounds.before[waits], day)

    def decision_before(self, succession: Succession, outcome: int) -> int | None:
        """The latest decision before an outcome."""
        decisions = [at for at in range(outcome) if not succession.is_outcome(at)]
        return max(decisions) if decisions else None

    def carried_day(self, succession, decision: int, outcome: int, bound: int, risk) -> int:
        """The first day for a decision from which an outcome, which cannot wait, comes before
        its bound in at most the allowed season years."""
        day = 0
        while True:
            too_soon = 0
            for year in range(self.n):
                reached = day
                for event in range(decision, outcome):
                    reached = self.ready(succession, event, year, reached)
                if reached < bound:
                    too_soon += 1
            if too_soon <= allowed(risk, self.n):
                return day
            day += 1

    # -- one season year --

    def chain(self, succession, year, sown, bounds: Bounds, floors=None, wait_for=None):
        """Days of all events of one succession in one season year. `floors` are the days its
        links allow; `wait_for` is the day a decision target waits for."""
        floors = floors or [0] * len(succession.events)
        days = [max(sown, floors[0])]
        if wait_for is not None and succession.aim == 0:
            days[0] = max(days[0], wait_for)
        for event in range(len(succession.stages)):
            day = self.end(succession, event, year, days[-1])
            following_event = event + 1
            if not succession.is_outcome(following_event):
                day = max(day, bounds.before[following_event], floors[following_event])
                if wait_for is not None and following_event == succession.aim:
                    day = max(day, wait_for)
            days.append(day if day <= self.last_day else NEVER)
        return days

    def is_good(self, succession: Succession, days: list, aim, bounds: Bounds, year: int) -> bool:
        """Whether the target and every `not_after` hold, those behind the target included.
        `days` are those of a succession whose decision target waits for its day."""
        at = succession.aim
        reached = days[at] <= aim
        if succession.target.kind == "in_harvest":
            reached = reached and days[-1] > self.plan.day(succession.target.until)
            reached = reached and self.lost_night(succession, days, year) == NEVER
        if not self.outcome_target(succession):
            reached = reached and aim <= self.last_day
        return reached and all(
            day <= latest for day, latest in zip(days, bounds.after, strict=True)
        )

    # -- all successions, with their links --

    def floors(self, name: str, year: int, days: dict) -> list:
        """The first day that links allow for each event of a succession, this season year."""
        succession = self.plan.successions[name]
        floors = [0] * len(succession.events)
        for link in self.plan.links:
            if name not in link.then or link.after is None:
                continue
            at = succession.events.index(link.then_event)
            first = self.first_of(link, year, days)
            day = NEVER
            if first != NEVER:
                day = self.clock_ready(link.after, link.after_place, None, year, first)
            floors[at] = max(floors[at], day)
        return floors

    def first_of(self, link: Link, year: int, days: dict):
        """The day from which a link counts, of all its first events or of the first of them."""
        firsts = []
        for first in link.first:
            event = self.plan.successions[first].events.index(link.first_event)
            firsts.append(days[first][event][year])
        return max(firsts) if link.of_all else min(firsts)

    def within_kept(self, link: Link, then: str, year: int, days: dict) -> bool:
        """Whether `then` comes soon enough; a first event that is never imposes nothing."""
        first = self.first_of(link, year, days)
        at = self.plan.successions[then].events.index(link.then_event)
        return first == NEVER or days[then][at][year] - first <= link.within

    def order(self) -> list[str]:
        """Successions, each after all those it waits for."""
        done: list[str] = []
        left = list(self.plan.successions)
        while left:
            for name in left:
                waits_for = {
                    first for link in self.plan.links if name in link.then for first in link.first
                }
                if waits_for <= set(done):
                    done.append(name)
                    left.remove(name)
                    break
            else:
                raise ValueError(f"links form a cycle among {left}")
        return done

    def linked(self, name: str) -> bool:
        return any(name in link.first or name in link.then for link in self.plan.links)

    def simulate(self, sown: dict, aims: dict, bounds: dict, known: dict | None = None) -> dict:
        """days[succession][event][year] of the successions in `sown`, by the policy: sown on the
        planned day or when links allow; a decision target waits for its day; all else when ready
        and allowed. `aims` are the days of the targets, `bounds` those of `bounds()`, `known` days
        that are known already."""
        days: dict[str, list[list]] = dict(known or {})
        for name in self.order():
            if name not in sown or name in days:
                continue
            succession = self.plan.successions[name]
            wait = None if self.outcome_target(succession) else aims[name]
            by_year = []
            for year in range(self.n):
                floors = self.floors(name, year, days)
                by_year.append(self.chain(succession, year, sown[name], bounds[name], floors, wait))
            days[name] = [list(event) for event in zip(*by_year, strict=True)]
        return days

    def outcome_target(self, succession: Succession) -> bool:
        return succession.is_outcome(succession.aim) or succession.target_event == "clear"

    def need(self, succession: Succession) -> int:
        """Season years in which a succession has to be good."""
        if self.outcome_target(succession) and succession.target.kind == "on":
            return needed(0.5, self.n)
        if succession.target.kind == "in_harvest":
            return needed(succession.target.chance, self.n)
        return needed(succession.reliability, self.n)

    def claim(self, name: str, sown: dict, aims: dict, bounds: dict, days: dict) -> Claim:
        """(a) the years that are good; (b) those whose links allow the planned sowing."""
        succession = self.plan.successions[name]
        good = kept = 0
        for year in range(self.n):
            chain = [event[year] for event in days[name]]
            good += self.is_good(succession, chain, aims[name], bounds[name], year)
            kept += self.floors(name, year, days)[0] <= sown[name]
        return Claim(good, self.need(succession), kept, self.links_need(succession))

    def links_need(self, succession: Succession) -> int:
        """Season years whose links have to allow the planned sowing."""
        return needed(succession.reliability, self.n)

    def harvest_years(self, name: str, aims: dict, bounds: dict, days: dict) -> set[int]:
        """The good years of an `in_harvest`."""
        succession = self.plan.successions[name]
        return {
            year
            for year in range(self.n)
            if self.is_good(
                succession, [d[year] for d in days[name]], aims[name], bounds[name], year
            )
        }

    def planned_days(self, name: str, sown: dict, aims: dict, days: dict) -> list:
        """The days a calendar prints: given ones, else quantiles of the days in all years."""
        succession = self.plan.successions[name]
        planned = []
        for event in range(len(succession.events)):
            if event == succession.aim and not self.outcome_target(succession):
                planned.append(max([aims[name], *planned[-1:]]))
            elif event == 0:
                planned.append(sown[name])
            else:
                ends = event == len(succession.stages)  # `clear` comes when the clock says
                outcome = ends or succession.is_outcome(event)
                share = 0.5 if outcome else succession.reliability
                planned.append(max(planned[-1], quantile(days[name][event], share)))
        return planned

    # -- a succession without links --

    def target_day(self, succession: Succession, asked: int, bounds: Bounds):
        """The day A of a target that no link moves; NEVER where it cannot be reached."""
        if self.outcome_target(succession) or succession.target.kind == "on":
            return asked
        aim = succession.aim
        earliest = [
            self.chain(succession, year, bounds.before[0], bounds)[aim] for year in range(self.n)
        ]
        soonest = sorted(earliest)[needed(succession.reliability, self.n) - 1]
        return max(asked, bounds.before[aim], soonest)

    def good_years(self, succession: Succession, sown: int, aim, bounds: Bounds) -> int:
        wait = None if self.outcome_target(succession) else aim
        return sum(
            self.is_good(
                succession,
                self.chain(succession, year, sown, bounds, wait_for=wait),
                aim,
                bounds,
                year,
            )
            for year in range(self.n)
        )

    def latest_sowing(self, succession: Succession, aim, bounds: Bounds):
        """The latest sowing with enough good years, by trying every day; None where none is."""
        need = self.need(succession)
        days = range(self.last_day, max(0, bounds.before[0]) - 1, -1)
        if succession.target.kind == "in_harvest":
            counts = {day: self.good_years(succession, day, aim, bounds) for day in days}
            need = max([need, *counts.values()])
            return next((day for day in days if counts[day] >= need), None)
        for day in days:
            if self.good_years(succession, day, aim, bounds) >= need:
                return day
        return None

    def spring_start(self, latest: int) -> int:
        """The first day, no sooner than the season's, of the spring of a latest sowing."""
        return max(0, self.half_begun_by(latest)[0])

    def earliest_sowing(self, succession: Succession, latest: int, aim, bounds: Bounds) -> int:
        """The first sowing of the latest's spring that is good in enough years; of an `in_harvest`
        in as many as the latest, which has the most."""
        need = self.need(succession)
        if succession.target.kind == "in_harvest":
            need = self.good_years(succession, latest, aim, bounds)
        first = max(bounds.before[0], self.spring_start(latest))
        days = range(first, latest + 1)
        return next(d for d in days if self.good_years(succession, d, aim, bounds) >= need)

    # -- whole calendars --

    def reckon(self):
        """A calendar of its own making. Returns sown, aims and bounds by succession; those that
        cannot be planned, and those linked after them, are missing from `sown`.

        Successions without links are planned each by itself. Linked ones get the least plan and
        are then raised in reverse order, all by trying one day after the other."""
        sown: dict[str, int] = {}
        aims: dict[str, float] = {}
        bounds: dict[str, Bounds] = {}
        order = self.order()
        linked = [name for name in order if self.linked(name)]
        for name in linked:
            self.plan_least(name, sown, aims, bounds)
        moved = True
        while moved:
            before = dict(sown)
            for name in reversed(linked):
                if name not in sown:
                    continue
                if self.plan.successions[name].target.kind == "in_harvest":
                    self.scan_again(name, sown, aims, bounds)
                else:
                    self.raise_one(name, sown, aims, bounds)
            moved = sown != before
        for name in self.plan.successions:
            if name not in linked:
                self.plan_alone(name, sown, aims, bounds)
        return sown, aims, bounds

    def asked_in(self, name: str, sown: dict, aims: dict, bounds: dict):
        succession = self.plan.successions[name]
        first = succession.first_of_repeat
        if not first:
            return self.asked(succession)
        if first not in sown:
            return None
        with_links = [n for n in sown if self.linked(n)] if self.linked(first) else [first]
        days = self.simulate({n: sown[n] for n in with_links}, aims, bounds)
        harvest = self.plan.successions[first].events.index("first_harvest")
        planned = self.planned_days(first, sown, aims, days)[harvest]
        asked = NEVER if planned == NEVER else self.asked(succession, planned)
        return asked if asked <= self.last_day else None

    def plan_alone(self, name: str, sown: dict, aims: dict, bounds: dict) -> None:
        succession = self.plan.successions[name]
        asked = self.asked_in(name, sown, aims, bounds)
        if asked is None:
            return
        own = self.bounds(succession, asked)
        if own.impossible:
            return
        aim = self.target_day(succession, asked, own)
        latest = self.latest_sowing(succession, aim, own) if aim != NEVER else None
        if latest is not None:
            if succession.early and succession.has_choice:
                latest = self.earliest_sowing(succession, latest, aim, own)
            sown[name], aims[name], bounds[name] = latest, aim, own
            return
        first = max(0, own.before[0])
        if succession.target.kind == "in_harvest":
            first = self.most_in_harvest(name, first, {}, {name: aim}, {name: own})
        self.remember_tried(name, {name: first}, {name: aim}, {name: own}, {})

    def plan_least(self, name: str, sown: dict, aims: dict, bounds: dict) -> None:
        """The earliest sowing that is not before the need-th smallest day its links allow."""
        succession = self.plan.successions[name]
        firsts = {f for link in self.plan.links if name in link.then for f in link.first}
        asked = self.asked_in(name, sown, aims, bounds)
        if asked is None or not firsts <= set(sown):
            return
        own = self.bounds(succession, asked)
        if own.impossible:
            return
        days = self.simulate(sown, aims, bounds)
        floors = [self.floors(name, year, days) for year in range(self.n)]
        need, links_need = self.need(succession), self.links_need(succession)
        first = max(own.before[0], sorted(floor[0] for floor in floors)[links_need - 1])
        if first == NEVER:
            return
        aim = asked
        if not self.outcome_target(succession) and succession.target.kind != "on":
            earliest = sorted(
                self.chain(succession, year, first, own, floors[year])[succession.aim]
                for year in range(self.n)
            )
            aim = max(asked, own.before[succession.aim], earliest[need - 1])
        if aim == NEVER:
            self.remember_tried(
                name, {**sown, name: first}, {**aims, name: aim}, {**bounds, name: own}, days
            )
            return
        if succession.aim == 0 and not self.outcome_target(succession):
            first = max(first, aim)
        trial = {**sown, name: first}, {**aims, name: aim}, {**bounds, name: own}
        if succession.target.kind == "in_harvest":
            trial[0][name] = self.most_in_harvest(name, first, *trial)
        if self.claim(name, *trial, self.simulate(*trial)).holds:
            sown[name], aims[name], bounds[name] = trial[0][name], aim, own
        else:
            self.remember_tried(name, *trial, days)

    def remember_tried(self, name: str, sown: dict, aims: dict, bounds: dict, known) -> None:
        """Days of a succession that has none, sown as early as allowed. Where its target is never
        ready it waits for no day."""
        aim = aims[name]
        aims = {**aims, name: 0 if aim == NEVER else aim}
        days = self.simulate(sown, aims, bounds, known)[name]
        self.tried[name] = sown[name], aim, bounds[name], days

    def most_in_harvest(self, name: str, first, sown: dict, aims: dict, bounds: dict):
        """The latest sowing with the most good years, the rest where they are; the first where no
        year is good."""
        others = self.simulate({n: day for n, day in sown.items() if n != name}, aims, bounds)
        counts = {}
        for day in range(first, self.last_day + 1):
            trial = {**sown, name: day}
            days = self.simulate(trial, aims, bounds, others)
            counts[day] = self.claim(name, trial, aims, bounds, days).good
        return self.one_of_most(name, counts, 1, first)

    def one_of_most(self, name: str, counts: dict, least: int, without: int) -> int:
        """The latest day with the largest count, or the first of its spring; `without` where no
        count is as large as `least`."""
        most = max(counts.values(), default=-1)
        if most < least:
            return without
        days = sorted(day for day, good in counts.items() if good == most)
        if not self.plan.successions[name].early:
            return days[-1]
        return next(day for day in days if day >= self.spring_start(days[-1]))

    def keeps_all(self, others: list[str], sown: dict, aims: dict, bounds: dict, days, had) -> bool:
        """Whether all claims hold, and no harvest year that they had is lost to an `in_harvest`."""
        return all(
            self.claim(n, sown, aims, bounds, days).holds
            and (n not in had or had[n] <= self.harvest_years(n, aims, bounds, days))
            for n in others
        )

    def around(self, name: str, sown: dict, aims: dict, bounds: dict):
        """Those that wait for a succession, the days of all others but it, and the good years that
        each `in_harvest` among those that wait has now."""
        after = [n for n in self.linked_after(name) if n in sown and n != name]
        linked = {n: day for n, day in sown.items() if self.linked(n)}
        now = self.simulate(linked, aims, bounds)
        known = {n: days for n, days in now.items() if n != name and n not in after}
        had = {
            n: self.harvest_years(n, aims, bounds, now)
            for n in after
            if self.plan.successions[n].target.kind == "in_harvest"
        }
        return after, linked, known, had

    def raise_one(self, name: str, sown: dict, aims: dict, bounds: dict) -> None:
        """As late as its own claims and those of everything after it allow; early, no later than
        its spring begins."""
        succession = self.plan.successions[name]
        after, trial, known, had = self.around(name, sown, aims, bounds)
        last = NEVER
        if succession.early and succession.has_choice:
            latest = self.latest_sowing(succession, aims[name], bounds[name])
            last = self.spring_start(max(sown[name], -1 if latest is None else latest))
        while sown[name] < last:
            trial[name] = sown[name] + 1
            days = self.simulate(trial, aims, bounds, known)
            if not self.keeps_all([name, *after], trial, aims, bounds, days, had):
                return
            sown[name] += 1

    def scan_again(self, name: str, sown: dict, aims: dict, bounds: dict) -> None:
        """The latest sowing with the most good harvest years, of those that links allow in enough
        years and that break nothing of what waits for it."""
        succession = self.plan.successions[name]
        after, trial, known, had = self.around(name, sown, aims, bounds)
        floors = sorted(self.floors(name, year, known)[0] for year in range(self.n))
        first = max(bounds[name].before[0], floors[self.links_need(succession) - 1])
        counts = {}
        for day in range(first, self.last_day + 1):
            trial[name] = day
            days = self.simulate(trial, aims, bounds, known)
            if self.keeps_all(after, trial, aims, bounds, days, had):
                counts[day] = len(self.harvest_years(name, aims, bounds, days))
        sown[name] = self.one_of_most(name, counts, 0, sown[name])

    def linked_after(self, name: str) -> list[str]:
        """The succession and all that wait for it, directly or through others."""
        after = [name]
        for reached in after:
            for link in self.plan.links:
                if reached in link.first:
                    after += [then for then in link.then if then not in after]
        return after

    # -- what cold has lost --

    def lost_at(self, succession: Succession, stage: int):
        """The temperature at or below which a night loses the batch; None where none does."""
        own, crops = succession.stages[stage].lost_at, succession.lost_at
        for said in (own, crops):
            if said is not None:
                return None if said is False else said
        return self.limit(succession, stage)

    def lost_night(self, succession: Succession, days: list, year: int):
        """The night that loses the batch in a season year, of its days as if it lived; NEVER where
        it lives."""
        key = (succession.name, year, *days)
        if key not in self._lost:
            self._lost[key] = self.find_lost_night(succession, days, year)
        return self._lost[key]

    def find_lost_night(self, succession: Succession, days: list, year: int):
        events = succession.events
        last = events.index("first_harvest") if "first_harvest" in events else len(events) - 1
        for stage in range(self.damage_from(succession), last):
            mark = self.lost_at(succession, stage)
            if mark is None or days[stage] == NEVER:
                continue
            place, limit = succession.stages[stage].place, self.limit(succession, stage)
            lows, _, _ = self.air(place, limit, year)
            for night in range(days[stage], int(min(days[stage + 1], self.plan.season_days))):
                if at_or_below(lows[night], mark):
                    return night
        return NEVER

    def losses(self, name: str, days: dict) -> list:
        """That night in each season year."""
        succession = self.plan.successions[name]
        years = range(self.n)
        return [self.lost_night(succession, [d[y] for d in days[name]], y) for y in years]

    def lived(self, name: str, days: dict) -> list:
        """days[event][year] as they come to pass: of a lost batch neither the harvest nor anything
        after it."""
        events, lost = self.plan.successions[name].events, self.losses(name, days)
        if "first_harvest" not in events:
            return days[name]
        harvest = events.index("first_harvest")
        return [
            [
                day if event < harvest or night == NEVER else NEVER
                for day, night in zip(row, lost, strict=True)
            ]
            for event, row in enumerate(days[name])
        ]

    # -- damage, holding, nights to act --

    def damage(self, name: str, days: dict, event=None, *, heater=True, cover=True, hot=False):
        """Nights at or below the limit (`hot`: days at or above `too_hot`) while a stage lasts:
        of the stage that `event` begins, or of all stages."""
        succession = self.plan.successions[name]
        first_stage = self.damage_from(succession)
        if event is None:
            stages = range(first_stage, len(succession.stages))
        else:
            at = succession.events.index(event)
            stages = [at] if first_stage <= at < len(succession.stages) else []
        nights, margins = [], []
        for year in range(self.n):
            found, margin = [], NEVER
            for stage in stages:
                place = succession.stages[stage].place
                limit = self.limit(succession, stage)
                mark = succession.stages[stage].too_hot if hot else limit
                stands = self.standing(name, days, stage, year)
                if mark is None or not stands:
                    continue
                lows, highs, _ = self.air(place, limit, year, heater=heater, cover=cover)
                if hot:
                    above = [mark - highs[day] for day in stands]
                else:
                    above = [lows[day] - mark for day in stands]
                margin = min(margin, *above)
                found += [d for d, k in zip(stands, above, strict=True) if at_or_below(k, 0.0)]
            nights.append(found)
            margins.append(margin)
        return Damage(nights, margins)

    def standing(self, name: str, days: dict, stage: int, year: int) -> range:
        """The days a stage lasts; one that never ends keeps its place to the season's end, and what
        is lost stands there on the day of its last night."""
        begin, end = days[name][stage][year], days[name][stage + 1][year]
        if begin == NEVER:
            return range(0)
        return range(begin, int(min(end, self.gone(name, days, year))))

    def gone(self, name: str, days: dict, year: int):
        """The first day on which nothing of a batch can stand any more: the season's last, or the
        day after the night that has lost it."""
        chain = [event[year] for event in days[name]]
        night = self.lost_night(self.plan.successions[name], chain, year)
        return min(self.plan.season_days, night + 1)

    def held_over(self, name: str, days: dict, event: str) -> list:
        """Per season year the days by which the stage that `event` begins waited longer than its
        `hold`; what is never done waits to the season's end, what is lost to its last night."""
        succession = self.plan.successions[name]
        at = succession.events.index(event)
        hold = succession.stages[at].hold
        over = []
        for year in range(self.n):
            begun, done = days[name][at][year], days[name][at + 1][year]
            ready = NEVER if begun == NEVER else self.ready(succession, at, year, begun)
            if hold is None or ready == NEVER:
                over.append(0)
            else:
                over.append(max(0, min(done, self.gone(name, days, year)) - ready - hold))
        return over

    def harvest(self, name: str, days: dict, year: int, *, heat_stops: bool):
        """First day of picking, first day without, and what ended it: "frost", "clock", "heat" or
        "season"; None where nothing is picked."""
        succession = self.plan.successions[name]
        at = succession.events.index("first_harvest")
        lived = self.lived(name, days)
        begin, over, cleared = lived[at][year], lived[at + 1][year], lived[-1][year]
        last = self.plan.season_days
        if begin >= last:
            return None
        stage, limit = succession.stages[at], self.limit(succession, at)
        lows, highs, _ = self.air(stage.place, limit, year)
        until, ended_by = cleared, "clock"
        if cleared == NEVER:
            until, ended_by = last, "season"
        elif limit is not None and begin < over < last and at_or_below(lows[over], limit):
            ended_by = "frost"
        if heat_stops and stage.too_hot is not None:
            for day in range(begin + 1, until):
                if at_or_above(highs[day], stage.too_hot):
                    return begin, day, "heat"
        return begin, until, ended_by

    def nights_to_act(self, name: str, days: dict, stage: int, year: int) -> set[int]:
        """The nights on which the cover is put on over one stage."""
        succession = self.plan.successions[name]
        place, limit = succession.stages[stage].place, self.limit(succession, stage)
        _, _, acted = self.air(place, limit, year)
        return {day for day in self.standing(name, days, stage, year) if acted[day]}
