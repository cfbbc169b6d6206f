# The private extension module. Users see the package around it. Made by bindings/make_stub.py.
import dataclasses
import datetime
import os
from collections.abc import Callable, Sequence
from typing import Any

import numpy
import numpy.typing as npt

import epicotyl
from epicotyl._result import Result

version: str

@dataclasses.dataclass(frozen=True, slots=True)
class Obstacle(Result):
    succession: str
    code: str
    sentence: str
    cure: str = ...

def refuse(
    *, code: str, field: str, value: str, bound: str = "", unit: str = "", problem: str, remedy: str
) -> None: ...

class DailyRecord:
    def __init__(
        self,
        start: datetime.date | numpy.datetime64,
        tmin: npt.NDArray[numpy.float64],
        tmax: npt.NDArray[numpy.float64],
        name: str,
        origin: str,
    ) -> None: ...
    @property
    def start(self) -> datetime.date: ...
    @property
    def end(self) -> datetime.date: ...
    @property
    def size(self) -> int: ...
    @property
    def name(self) -> str: ...
    @property
    def origin(self) -> str: ...
    @property
    def gaps(self) -> int: ...
    @property
    def tmin(self) -> npt.NDArray[Any]: ...
    @property
    def tmax(self) -> npt.NDArray[Any]: ...
    def __eq__(self, other: object, /) -> bool: ...

def read_ghcn_daily(
    path: os.PathLike[str] | str | bytes, station: str, whole_fahrenheit: bool
) -> DailyRecord: ...
def read_daily_csv(
    path: os.PathLike[str] | str | bytes,
    date: str,
    tmin: str,
    tmax: str,
    unit: str | None,
    name: str,
) -> DailyRecord: ...
def quality(record: DailyRecord, max_gap: int) -> dict[str, Any]: ...
def splice(
    first: DailyRecord, second: DailyRecord, match_means: bool
) -> tuple[
    DailyRecord,
    tuple[
        str,
        str,
        tuple[int, int, int, int, float | None, float],
        tuple[int, int, int, int, float | None, float],
        int,
        int,
        str,
    ],
]: ...
def with_elevation_difference(
    record: DailyRecord, metres: float, lapse_rate: float
) -> DailyRecord: ...
def morning_reader(record: DailyRecord) -> DailyRecord: ...

class Climate:
    def __init__(
        self,
        record: DailyRecord,
        latitude: float,
        season_start: tuple[int, int] | None,
        season_days: int,
        max_gap: int,
        years: int | str | tuple[int, int],
    ) -> None: ...
    def shifted(self, by_month: Sequence[float]) -> Climate: ...
    def only(self, years: Sequence[int]) -> Climate: ...
    def given(self, observed: DailyRecord, forecast: DailyRecord | None) -> Climate: ...
    @property
    def years(self) -> list[int]: ...
    @property
    def left_out(self) -> list[tuple[int, str, datetime.date, int, str]]: ...
    @property
    def asked_years(self) -> tuple[int, int]: ...
    @property
    def season_start(self) -> tuple[int, int]: ...
    @property
    def season_days(self) -> int: ...
    @property
    def latitude(self) -> float: ...
    @property
    def record(self) -> DailyRecord: ...
    @property
    def is_chosen(self) -> bool: ...
    @property
    def observed(self) -> DailyRecord | None: ...
    @property
    def forecast(self) -> DailyRecord | None: ...
    @property
    def origin(self) -> str: ...
    @property
    def max_gap(self) -> int: ...
    @property
    def filled(self) -> tuple[int, int, int]: ...
    @property
    def tmin(self) -> npt.NDArray[Any]: ...
    @property
    def tmax(self) -> npt.NDArray[Any]: ...
    @property
    def warnings(self) -> list[str]: ...
    @property
    def year_note(self) -> str: ...
    def __eq__(self, other: object, /) -> bool: ...

class WeatherModel:
    def __init__(
        self,
        minimum: tuple[
            tuple[float, Sequence[float], Sequence[float]],
            tuple[float, Sequence[float], Sequence[float]],
        ],
        maximum: tuple[
            tuple[float, Sequence[float], Sequence[float]],
            tuple[float, Sequence[float], Sequence[float]],
        ],
        same_day: float,
        next_day: Sequence[Sequence[float]],
        origin: str,
    ) -> None: ...
    @property
    def minimum(
        self,
    ) -> tuple[tuple[float, list[float], list[float]], tuple[float, list[float], list[float]]]: ...
    @property
    def maximum(
        self,
    ) -> tuple[tuple[float, list[float], list[float]], tuple[float, list[float], list[float]]]: ...
    @property
    def same_day(self) -> float: ...
    @property
    def next_day(self) -> list[list[float]]: ...
    @property
    def origin(self) -> str: ...
    @property
    def carried(self) -> list[list[float]]: ...
    @property
    def renewed(self) -> list[list[float]]: ...
    @property
    def met_share(self) -> float: ...
    def __eq__(self, other: object, /) -> bool: ...

def yearly_course(
    course: tuple[float, Sequence[float], Sequence[float]], phase: npt.NDArray[numpy.float64]
) -> npt.NDArray[numpy.float64]: ...
def phase_of(days: npt.NDArray[numpy.int64]) -> npt.NDArray[numpy.float64]: ...
def fit_weather_model(record: DailyRecord, years: int | str | tuple[int, int]) -> WeatherModel: ...
def model_from_normals(
    lows: Sequence[float],
    highs: Sequence[float],
    spreads: Sequence[float | None],
    same_day: float | None,
    next_day: Sequence[Sequence[float]] | None,
) -> WeatherModel: ...
def generate(
    model: WeatherModel, start: datetime.date | numpy.datetime64, length: int, seed: int
) -> DailyRecord: ...
def degree_days(
    tmin: npt.NDArray[numpy.float64],
    tmax: npt.NDArray[numpy.float64],
    run: int,
    base: float,
    upper: float | None,
    method: str,
    cutoff: str,
) -> npt.NDArray[numpy.float64]: ...
def day_length(
    latitude: float, days: npt.NDArray[numpy.int64], model: str, sun_angle: float
) -> npt.NDArray[numpy.float64]: ...
def iso_weeks(days: npt.NDArray[numpy.int64]) -> npt.NDArray[numpy.int64]: ...
def day_with(
    latitude: float,
    hours: float,
    start: datetime.date | numpy.datetime64,
    until: datetime.date | numpy.datetime64,
    model: str,
    sun_angle: float,
    first: bool,
) -> datetime.date | None: ...

class GerminationCurve:
    def __init__(self, half: float, steepness: float) -> None: ...
    @property
    def half(self) -> float: ...
    @property
    def steepness(self) -> float: ...
    def share_up(self, thermal_time: npt.NDArray[numpy.float64]) -> npt.NDArray[numpy.float64]: ...
    def needed_for(
        self, share: npt.NDArray[numpy.float64], maximum: float | None
    ) -> npt.NDArray[numpy.float64]: ...
    def __eq__(self, other: object, /) -> bool: ...

def steepness_between(less: float, sooner: float, more: float, later: float) -> float: ...

class MaximumGermination:
    def __init__(self, points: Sequence[tuple[float, float]]) -> None: ...
    @property
    def points(self) -> list[tuple[float, float]]: ...
    def at(self, temperature: npt.NDArray[numpy.float64]) -> npt.NDArray[numpy.float64]: ...
    def held(self, temperature: npt.NDArray[numpy.float64]) -> npt.NDArray[numpy.float64]: ...
    def __eq__(self, other: object, /) -> bool: ...

def germination_rate(
    means: npt.NDArray[numpy.float64], cardinal: tuple[float, float, float]
) -> npt.NDArray[numpy.float64]: ...
def germinated_by_day(
    means: npt.NDArray[numpy.float64],
    run: int,
    cardinal: tuple[float, float, float],
    curve: GerminationCurve,
    maximum: MaximumGermination,
) -> npt.NDArray[numpy.float64]: ...

class FreezeRisk:
    def __init__(
        self,
        record: DailyRecord,
        threshold: float,
        estimator: str,
        options: tuple[
            tuple[tuple[int, int], tuple[int, int]], str, int, int | str | tuple[int, int]
        ],
    ) -> None: ...
    def last_freeze(self, chance_later: float, year: int) -> datetime.date | None: ...
    def first_freeze(self, chance_earlier: float, year: int) -> datetime.date | None: ...
    def frost_free_days(self, chance_longer: float) -> float | None: ...
    def last_freeze_answer(
        self, chance_later: float, year: int
    ) -> tuple[str, float | None, datetime.date | None, str]: ...
    def first_freeze_answer(
        self, chance_earlier: float, year: int
    ) -> tuple[str, float | None, datetime.date | None, str]: ...
    def frost_free_answer(
        self, chance_longer: float
    ) -> tuple[str, float | None, datetime.date | None, str]: ...
    def chance_later(self, when: datetime.date | numpy.datetime64) -> float: ...
    def chance_earlier(self, when: datetime.date | numpy.datetime64) -> float: ...
    def counted_later(
        self, when: datetime.date | numpy.datetime64, level: float
    ) -> tuple[int, int, float, float, float]: ...
    def counted_earlier(
        self, when: datetime.date | numpy.datetime64, level: float
    ) -> tuple[int, int, float, float, float]: ...
    @property
    def dates(self) -> list[tuple[int, datetime.date | None, datetime.date | None, bool, bool]]: ...
    @property
    def frost_free(self) -> list[tuple[int, int | None]]: ...
    @property
    def last_sample(self) -> tuple[int, list[int], float, float]: ...
    @property
    def first_sample(self) -> tuple[int, list[int], float, float]: ...
    @property
    def frost_free_sample(self) -> tuple[int, list[int], float, float]: ...
    @property
    def left_out(self) -> list[str]: ...
    @property
    def warnings(self) -> list[str]: ...
    def __eq__(self, other: object, /) -> bool: ...

class FreezeTable:
    def __init__(
        self,
        record: DailyRecord,
        thresholds: Sequence[float],
        chances: Sequence[float],
        estimator: str,
        options: tuple[
            tuple[tuple[int, int], tuple[int, int]], str, int, int | str | tuple[int, int]
        ],
    ) -> None: ...
    @property
    def risks(self) -> list[FreezeRisk]: ...
    def to_text(self, unit: str) -> str: ...
    def __eq__(self, other: object, /) -> bool: ...

def customary_thresholds() -> list[float]: ...
def customary_chances() -> list[float]: ...
def chance_band(counted: int, years: int, level: float) -> tuple[int, int, float, float, float]: ...
def usual_halves(latitude: float) -> tuple[tuple[int, int], tuple[int, int]]: ...

class GerminationSpread:
    def __init__(self, a: float, b: float) -> None: ...
    @property
    def a(self) -> float: ...
    @property
    def b(self) -> float: ...
    @property
    def mean(self) -> float: ...
    @property
    def concentration(self) -> float: ...
    def __eq__(self, other: object, /) -> bool: ...

def spread_from_test(up: int, sown: int) -> GerminationSpread: ...
def spread_from_mean(mean: float, concentration: float) -> GerminationSpread: ...
def seeds_of_shares(
    plants: npt.NDArray[numpy.int64],
    germination: npt.NDArray[numpy.float64],
    usable: npt.NDArray[numpy.float64],
    confidence: npt.NDArray[numpy.float64],
) -> npt.NDArray[Any]: ...
def seeds_of_spread(
    plants: npt.NDArray[numpy.int64],
    germination: GerminationSpread,
    usable: npt.NDArray[numpy.float64],
    confidence: npt.NDArray[numpy.float64],
) -> npt.NDArray[Any]: ...
def cells_needed(
    plants: npt.NDArray[numpy.int64],
    seeds_a_cell: int,
    germination: npt.NDArray[numpy.float64],
    usable: npt.NDArray[numpy.float64],
    confidence: npt.NDArray[numpy.float64],
) -> npt.NDArray[Any]: ...
def chances_of_shares(
    plants: npt.NDArray[numpy.int64],
    seeds: npt.NDArray[numpy.int64],
    germination: npt.NDArray[numpy.float64],
    usable: npt.NDArray[numpy.float64],
) -> npt.NDArray[Any]: ...
def chances_of_spread(
    plants: npt.NDArray[numpy.int64],
    seeds: npt.NDArray[numpy.int64],
    germination: GerminationSpread,
    usable: npt.NDArray[numpy.float64],
) -> npt.NDArray[Any]: ...
def seeds_per_gram_of_ounce(seeds_per_ounce: float) -> float: ...
def seeds_in(grams: float, seeds_per_gram: float) -> int: ...
def grams_of(seeds: int, seeds_per_gram: float) -> float: ...
def buy_seed(
    seeds: int, packets: Sequence[tuple[str, int, float]], choice: str
) -> tuple[list[int], int, int, float]: ...

class Plan:
    @property
    def title(self) -> str: ...
    @property
    def units(self) -> str: ...
    @property
    def latitude(self) -> float: ...
    @property
    def season_start(self) -> datetime.date: ...
    @property
    def season_days(self) -> int: ...
    @property
    def weather(self) -> str: ...
    @property
    def reliability(self) -> float: ...
    @property
    def places(self) -> list[str]: ...
    @property
    def containers(self) -> list[str]: ...
    @property
    def crops(self) -> list[str]: ...
    @property
    def successions(self) -> list[str]: ...
    def events(self, succession: str) -> list[str]: ...
    def to_toml(self) -> str: ...
    def to_dict(self) -> Any: ...
    def __eq__(self, other: object, /) -> bool: ...

def read_plan(path: os.PathLike[str] | str | bytes) -> Plan: ...
def parse_plan(text: str) -> Plan: ...
def expand(path: os.PathLike[str] | str | bytes) -> str: ...
def plan_from_tables(tables: dict[str, Any]) -> Plan: ...
def with_succession_keys(
    plan: Plan, part: str, keys: dict[str, Any], without: Sequence[str]
) -> Plan: ...
def with_not_before_keys(
    plan: Plan, part: str, keys: dict[str, Any], without: Sequence[str]
) -> Plan: ...
def with_not_after_keys(
    plan: Plan, part: str, keys: dict[str, Any], without: Sequence[str]
) -> Plan: ...
def with_place_keys(
    plan: Plan, part: str, keys: dict[str, Any], without: Sequence[str]
) -> Plan: ...
def with_crop_keys(plan: Plan, part: str, keys: dict[str, Any], without: Sequence[str]) -> Plan: ...
def with_stage_change_keys(
    plan: Plan, succession: str, begins: str, keys: dict[str, Any], without: Sequence[str]
) -> Plan: ...
def with_added_succession_keys(plan: Plan, keys: dict[str, Any]) -> Plan: ...
def with_target_keys(plan: Plan, succession: str, keys: dict[str, Any]) -> Plan: ...
def without_succession(plan: Plan, succession: str) -> Plan: ...
def without_stage_change(plan: Plan, succession: str, begins: str) -> Plan: ...
def without_heater(plan: Plan, place: str) -> Plan: ...
def without_cover(plan: Plan, place: str) -> Plan: ...
def with_target_moved(plan: Plan, succession: str, later: int) -> Plan: ...
def with_reliability(plan: Plan, share: float) -> Plan: ...
def with_risk(plan: Plan, share: float | None) -> Plan: ...
def with_season(
    plan: Plan, start: datetime.date | numpy.datetime64 | None, length: int | None
) -> Plan: ...

@dataclasses.dataclass(frozen=True, slots=True)
class Reason(Result):
    succession: str
    event: str
    code: str
    values: dict[str, int | float | datetime.date | str]
    sentence: str

@dataclasses.dataclass(frozen=True, slots=True)
class SowingClaim(Result):
    years: int
    needed: int
    good: int
    link_days_kept: int
    good_one_day_later: int
    broken: str
    broken_claim: str

@dataclasses.dataclass(frozen=True, slots=True)
class LinkedGroup(Result):
    successions: list[str]
    good: int
    years: int

@dataclasses.dataclass(frozen=True, slots=True)
class LinkCount(Result):
    first: str
    then: str
    within: float
    kept: int
    years: int

@dataclasses.dataclass(frozen=True, slots=True)
class TypedCure(Result):
    code: str
    succession: str
    event: str
    when: datetime.date | None
    number: float
    is_or_later: bool
    sentence: str

@dataclasses.dataclass(frozen=True, slots=True, eq=False)
class DamageReport(Result):
    years: int
    damaged: int
    first: npt.NDArray[numpy.datetime64]
    margin: npt.NDArray[numpy.float64]
    damaged_heater_off: int
    first_heater_off: npt.NDArray[numpy.datetime64]
    margin_heater_off: npt.NDArray[numpy.float64]
    damaged_cover_off: int
    first_cover_off: npt.NDArray[numpy.datetime64]
    margin_cover_off: npt.NDArray[numpy.float64]

@dataclasses.dataclass(frozen=True, slots=True, eq=False)
class OverheldReport(Result):
    years: int
    overheld: int
    longest: npt.NDArray[numpy.int32]

class Calendar:
    @property
    def plan(self) -> Plan: ...
    @property
    def climate(self) -> Climate: ...
    @property
    def origin(self) -> str: ...
    @property
    def reliability(self) -> float: ...
    def date(self, succession: str, event: str) -> datetime.date | None: ...
    @property
    def events(self) -> list[tuple[str, str]]: ...
    @property
    def unresolved(self) -> list[epicotyl.Obstacle]: ...
    def cures(self, succession: str) -> list[TypedCure]: ...
    def require(self) -> None: ...
    def claim(self, succession: str) -> SowingClaim | None: ...
    @property
    def groups(self) -> list[LinkedGroup]: ...
    @property
    def within_counts(self) -> list[LinkCount]: ...
    @property
    def warnings(self) -> list[str]: ...

class Prospect:
    @property
    def calendar(self) -> Calendar: ...
    @property
    def climate(self) -> Climate: ...
    @property
    def origin(self) -> str: ...
    @property
    def years(self) -> list[int]: ...
    @property
    def events(self) -> list[tuple[str, str]]: ...
    @property
    def days_all(self) -> npt.NDArray[Any]: ...
    def days(self, succession: str, event: str) -> npt.NDArray[Any]: ...
    def quantile(self, succession: str, event: str, q: float) -> datetime.date | None: ...
    def chance_by(
        self, succession: str, event: str, when: datetime.date | numpy.datetime64
    ) -> float: ...
    def lost(self, succession: str) -> npt.NDArray[Any]: ...
    def damage(self, succession: str, event: str | None) -> epicotyl.DamageReport: ...
    def too_hot(self, succession: str, event: str | None) -> epicotyl.DamageReport: ...
    def overheld(self, succession: str) -> epicotyl.OverheldReport: ...
    def nights_to_act(
        self, place: str | None, succession: str | None
    ) -> npt.NDArray[numpy.int32]: ...

@dataclasses.dataclass(frozen=True, slots=True)
class Requirement(Result):
    kind: str
    succession: str
    event: str
    from_succession: str
    from_event: str
    is_upper: bool
    sentence: str
    field: str
    line: int

@dataclasses.dataclass(frozen=True, slots=True)
class ConflictStep(Result):
    because: Requirement
    succession: str
    event: str
    no_sooner: bool
    when: datetime.date | None
    turns: int

@dataclasses.dataclass(frozen=True, slots=True)
class SeasonConflict(Result):
    successions: tuple[str, ...]
    steps: tuple[ConflictStep, ...]
    broken: Requirement
    allowed: datetime.date | None
    sentence: str

@dataclasses.dataclass(frozen=True, slots=True)
class Cure(Result):
    what: Requirement
    days: int
    sentence: str

@dataclasses.dataclass(frozen=True, slots=True)
class ChainEvent(Result):
    succession: str
    event: str
    earliest: datetime.date
    latest: datetime.date | None
    tie: Requirement

@dataclasses.dataclass(frozen=True, slots=True)
class TightestChain(Result):
    events: tuple[ChainEvent, ...]
    end: Requirement
    slack: int
    free_slack: int
    middle: int
    crosses_links: bool

@dataclasses.dataclass(frozen=True, slots=True)
class ChainInYears(Result):
    chain: TightestChain
    years: list[int]
    slacks: list[int]
    usual_slack: int

@dataclasses.dataclass(frozen=True, slots=True)
class WindowFailure(Result):
    broken: Requirement
    years: list[int]

@dataclasses.dataclass(frozen=True, slots=True)
class UnresolvedConflict(Result):
    succession: str
    years: int
    needed: int
    possible: int
    failures: tuple[WindowFailure, ...]
    year: int
    proof: SeasonConflict
    cures: tuple[Cure, ...]
    sentence: str

class PlantingWindows:
    @property
    def year(self) -> int: ...
    @property
    def calendar(self) -> Calendar: ...
    @property
    def feasible(self) -> bool: ...
    def is_feasible(self, succession: str) -> bool: ...
    def earliest(self, succession: str, event: str) -> datetime.date | None: ...
    def latest(self, succession: str, event: str) -> datetime.date | None: ...
    def slack(self, succession: str, event: str) -> int | None: ...
    def free_slack(self, succession: str, event: str) -> int | None: ...
    def tightest_chains(self, most: int) -> list[TightestChain]: ...
    def chain_of(self, succession: str, event: str) -> TightestChain: ...
    @property
    def conflicts(self) -> list[SeasonConflict]: ...
    @property
    def left_out(self) -> list[epicotyl.Obstacle]: ...
    def cures(self, conflict: int) -> list[Cure]: ...
    def to_dot(self) -> str: ...

def planting_windows(calendar: Calendar, year: int) -> PlantingWindows: ...

class WindowYears:
    @property
    def calendar(self) -> Calendar: ...
    @property
    def years(self) -> list[int]: ...
    def feasible_years(self, succession: str) -> int: ...
    def earliest(self, succession: str, event: str) -> npt.NDArray[Any]: ...
    def latest(self, succession: str, event: str) -> npt.NDArray[Any]: ...
    def slack(self, succession: str, event: str) -> npt.NDArray[numpy.float64]: ...
    def slack_in(self, succession: str, event: str, share: float) -> int | None: ...
    @property
    def failures(self) -> list[WindowFailure]: ...
    def tightest_chains(self, most: int) -> list[ChainInYears]: ...

def window_years(calendar: Calendar, threads: int) -> WindowYears: ...
def why_unresolved(calendar: Calendar, succession: str) -> UnresolvedConflict | None: ...
def compare(
    before: Calendar, after: Calendar
) -> tuple[
    list[tuple[str, str, datetime.date | None, datetime.date | None]],
    list[
        tuple[
            str, str, str, bool, list[tuple[str, str, datetime.date | None, datetime.date | None]]
        ]
    ],
    list[tuple[str, str, datetime.date | None, datetime.date | None]],
    str,
]: ...

class Staggered:
    @property
    def crop(self) -> str: ...
    @property
    def reliability(self) -> float: ...
    @property
    def until(self) -> datetime.date | None: ...
    @property
    def sowings(
        self,
    ) -> list[
        tuple[
            str,
            datetime.date,
            datetime.date,
            datetime.date,
            datetime.date | None,
            datetime.date | None,
            int,
            int,
        ]
    ]: ...
    @property
    def left_out(self) -> list[tuple[str, str, str, str]]: ...
    @property
    def intervals(self) -> list[int]: ...
    @property
    def last_useful(self) -> tuple[datetime.date | None, int, int, int, int, str, str]: ...
    @property
    def weeks(self) -> list[tuple[datetime.date, datetime.date, int, bool]]: ...
    @property
    def share_covered(self) -> float: ...
    @property
    def gaps(self) -> list[tuple[datetime.date, datetime.date, int]]: ...
    def equal_gaps(self) -> list[tuple[datetime.date, datetime.date | None]]: ...
    @property
    def successions(self) -> list[tuple[str, str, str, datetime.date]]: ...

def stagger(
    plan: Plan,
    climate: Climate,
    crop: str,
    first: datetime.date | numpy.datetime64,
    last: datetime.date | numpy.datetime64 | None,
    until_first_frost: float | None,
    every: int | None,
    count: int | None,
    reliability: float | None,
    day_length_at_least: float | None,
    name: str,
    plants: float,
) -> Staggered: ...

class CoveringSowings:
    @property
    def crop(self) -> str: ...
    @property
    def sowings(self) -> npt.NDArray[Any]: ...
    @property
    def years(self) -> int: ...
    @property
    def needed(self) -> int: ...
    @property
    def good(self) -> int: ...
    @property
    def most_good(self) -> list[int]: ...
    @property
    def served(self) -> list[list[int]]: ...
    @property
    def missed(self) -> list[int]: ...
    @property
    def none(self) -> tuple[str, str, str, str] | None: ...
    @property
    def successions(self) -> list[tuple[str, str, str, datetime.date]]: ...

def fewest_sowings(
    plan: Plan,
    climate: Climate,
    crop: str,
    start: datetime.date | numpy.datetime64,
    until: datetime.date | numpy.datetime64,
    chance: float,
) -> CoveringSowings: ...

class YieldShape:
    def __init__(self, name: str, parameters: Sequence[float]) -> None: ...
    @property
    def name(self) -> str: ...
    @property
    def parameters(self) -> list[float]: ...
    def cumulative(self, x: npt.NDArray[numpy.float64]) -> npt.NDArray[numpy.float64]: ...
    def density(self, x: npt.NDArray[numpy.float64]) -> npt.NDArray[numpy.float64]: ...
    def __eq__(self, other: object, /) -> bool: ...

class HarvestYield:
    def __init__(
        self,
        shape: YieldShape,
        units_per_plant: float,
        unit: str,
        heat: tuple[float, float | None, str, str] | None,
    ) -> None: ...
    def __eq__(self, other: object, /) -> bool: ...

def harvest_spans(
    prospect: Prospect, succession: str, heat_stops: bool
) -> tuple[npt.NDArray[Any], npt.NDArray[Any], list[str | None]]: ...
def expected_yield(
    prospect: Prospect, succession: str, gives: HarvestYield, heat_stops: bool
) -> tuple[
    str,
    str,
    float,
    float,
    list[int],
    npt.NDArray[Any],
    npt.NDArray[numpy.float64],
    npt.NDArray[numpy.float64],
]: ...
def quantile_of_weeks(
    values: npt.NDArray[numpy.float64], q: float
) -> npt.NDArray[numpy.float64]: ...
def coverage(
    prospect: Prospect,
    kind: str,
    names: Sequence[str],
    first: datetime.date | numpy.datetime64 | None,
    last: datetime.date | numpy.datetime64 | None,
    reliability: float | None,
    amount: tuple[float, Sequence[tuple[str, HarvestYield]]] | None,
    heat_stops: bool,
) -> tuple[
    list[str],
    int,
    int,
    list[tuple[datetime.date, datetime.date, int, int | None, bool]],
    list[tuple[datetime.date, int, int | None, str]],
    str,
]: ...
def sweep_cases(
    cases: Sequence[tuple[Plan, Climate, float | None]],
    levels: Sequence[float],
    event: str,
    threads: int,
    watch: Callable[..., Any],
) -> list[
    tuple[
        int,
        str,
        int,
        list[
            tuple[
                str,
                str,
                datetime.date | None,
                datetime.date | None,
                str,
                list[datetime.date | None],
                int,
                int,
                int,
                int,
                int,
                int,
            ]
        ],
    ]
]: ...
def schedule(plan: Plan, climate: Climate, reliability: float | None) -> Calendar: ...
def simulate(calendar: Calendar, climate: Climate, threads: int) -> Prospect: ...
def open_season(
    path: os.PathLike[str] | str | bytes,
    reliability: float | None,
    weather: os.PathLike[str] | str | bytes | None,
    latitude: float | None,
    station: str | None,
    whole_fahrenheit: bool | None,
) -> tuple[Plan, Climate, Calendar, Prospect]: ...
def climate_from_normals(plan: Plan) -> Climate: ...
def explain(calendar: Calendar, succession: str, event: str) -> list[Reason]: ...
def explain_windows(windows: PlantingWindows, succession: str, event: str) -> list[Reason]: ...

class Occupancy:
    @property
    def years(self) -> list[int]: ...
    def space(self, place: str, kind: str) -> npt.NDArray[numpy.float64]: ...
    def quantile(self, place: str, kind: str, q: float) -> npt.NDArray[numpy.float64]: ...
    def room(self, place: str, kind: str) -> float | None: ...
    def there(
        self, place: str, kind: str, when: datetime.date | numpy.datetime64, year: int | None
    ) -> list[tuple[str, str, str, float, datetime.date, datetime.date | None]]: ...
    @property
    def overflows(
        self,
    ) -> list[
        tuple[
            str,
            str,
            str,
            float,
            int,
            int,
            datetime.date,
            datetime.date,
            int | None,
            float,
            int,
            list[tuple[str, str, str, float, datetime.date, datetime.date | None]],
            list[str],
            str,
        ]
    ]: ...

def occupancy_planned(calendar: Calendar) -> Occupancy: ...
def fit_to_space(
    plan: Plan,
    climate: Climate,
    weights: tuple[float, float, float, float, float, float, float],
    most_shift: int,
    kinds: Sequence[bool],
    reliability: float | None,
    seconds: float | None,
    progress: Callable[[float | None, float, float], bool] | None,
) -> tuple[
    Calendar,
    Calendar,
    list[
        tuple[
            str,
            str,
            str,
            str,
            str,
            int,
            float,
            float,
            float,
            str,
            int,
            list[tuple[str, datetime.date | None, datetime.date | None]],
        ]
    ],
    list[tuple[str, str, str, datetime.date, datetime.date, float, str]],
    float,
    float,
    str,
    int,
    int,
    str,
]: ...
def fit_problem(
    plan: Plan, climate: Climate
) -> tuple[list[float], list[list[tuple[float, list[tuple[int, int, int, float]]]]]]: ...
def choose(
    room: Sequence[float],
    items: Sequence[Sequence[tuple[float, Sequence[tuple[int, int, int, float]]]]],
    steps: int,
) -> tuple[list[int], float, float, bool]: ...
def occupancy_by_year(prospect: Prospect) -> Occupancy: ...
def alive_counts(plan: Plan, succession: str) -> npt.NDArray[numpy.float64]: ...
def quantities(
    plan: Plan,
    confidence: float,
    compaction: float,
    compactions: Sequence[tuple[str, float]],
    lots: Sequence[
        tuple[
            str,
            float | None,
            GerminationSpread | None,
            int,
            float | None,
            Sequence[tuple[str, int, float]],
            str,
        ]
    ],
) -> tuple[
    list[
        tuple[
            str,
            str,
            int,
            str,
            float,
            float,
            int,
            int | None,
            float,
            float | None,
            list[tuple[str, str, float, float, float]],
        ]
    ],
    list[tuple[str, str, int, float | None, tuple[list[int], int, int, float] | None]],
    list[tuple[str, int, float, float, float | None]],
    float,
    list[str],
    str,
]: ...
def cube_litres(side: float) -> float: ...
def frustum_litres(top: float, bottom: float, depth: float) -> float: ...
def landed_cost(
    plants: int,
    plants_a_tray: int,
    trays_a_box: int,
    breaks: Sequence[tuple[int, float]],
    freight_a_box: float,
    freight: float,
    survives: float,
    currency: str,
) -> tuple[Any, ...]: ...
def cost_of_raising(
    plants: int,
    usable: float,
    seed: float,
    medium: float,
    heat: float,
    labour_hours: float,
    wage: float,
    containers: Sequence[tuple[float, float, float]],
    other: float,
    currency: str,
) -> tuple[Any, ...]: ...
def break_even_usable(total: float, plants: int, price: float) -> float | None: ...
def u_of(glazing: str) -> float: ...
def loss_per_kelvin(
    structure: tuple[Sequence[tuple[str, float, float]], float, float, float],
) -> float: ...
def lift_of(
    structure: tuple[Sequence[tuple[str, float, float]], float, float, float], watts: float
) -> float: ...
def heat_cautions() -> list[str]: ...
def coldest_night(
    record: DailyRecord,
    latitude: float,
    in_years: float,
    years: int,
    max_missing: int,
    level: float,
) -> tuple[Any, ...]: ...
def heat_of_season(
    structure: tuple[Sequence[tuple[str, float, float]], float, float, float],
    plan: Plan,
    climate: Climate,
    place: str,
    start: datetime.date | numpy.datetime64,
    until: datetime.date | numpy.datetime64,
    heat_to: float | None,
    price: tuple[float, float, str],
) -> tuple[Any, ...]: ...
def heat_curve(
    plan: Plan,
    climate: Climate,
    place: str,
    structure: tuple[Sequence[tuple[str, float, float]], float, float, float],
    set_points: Sequence[float],
    start: datetime.date | numpy.datetime64,
    until: datetime.date | numpy.datetime64,
    price: tuple[float, float, str],
) -> tuple[Any, ...]: ...
def fit_air(
    inside: npt.NDArray[numpy.float64], outside: npt.NDArray[numpy.float64]
) -> tuple[Any, ...]: ...
def guess_night_gain(layers: Sequence[str]) -> tuple[float, float, float]: ...
