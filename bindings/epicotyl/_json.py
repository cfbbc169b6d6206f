"""Calendars and prospects as JSON, for other programs and for later.

A document holds what the results are made of (the plan as a plan file, the record with the options
of the climate) and the results themselves. Other programs read the results. Here they are made
again from the former and compared: what was written is what is read, or the difference is named.
"""

from __future__ import annotations

import dataclasses
import datetime
import json
import math
from collections.abc import Iterable, Sequence
from typing import Any

import numpy as np

from epicotyl import _check, _core
from epicotyl._calendar import Calendar, schedule
from epicotyl._json_reader import Reader, refuse_constant
from epicotyl._plan import Plan
from epicotyl._prospect import Prospect, simulate
from epicotyl._record import DailyRecord
from epicotyl._weather import Climate

#: Version of both kinds of document. A new key needs no new version; a change of meaning does.
#: Up to version 1 a prospect had the harvests of batches that are lost to cold before them.
VERSION = 2
#: Wording, which may change from release to release; codes and numbers are compared.
WORDS = {"sentence", "cure", "warnings"}
CALENDAR, PROSPECT = "epicotyl.calendar", "epicotyl.prospect"

_Document = dict[str, Any]


def to_json(value: Calendar | Prospect, *, indent: int | None = None) -> str:
    """Write a calendar or a prospect as JSON.

    The document is an object with ``format`` (``"epicotyl.calendar"`` or ``"epicotyl.prospect"``),
    ``version``, ``written_by`` (the release) and:

    - of a calendar: ``plan`` (a plan file, TOML, in its own units), ``climate`` (its record in °C
      whatever the plan's units, null for a gap, and its options; the origin of a shifted one
      tells the shift in the units it was given in), ``reliability``; ``season_years``,
      ``successions`` (name, planned day of each event, claim), ``unresolved``, ``groups``,
      ``within_counts``, ``warnings``;
    - of a prospect: ``calendar`` (such a document), ``climate`` (null: the calendar's),
      ``season_years``, ``events`` (succession, event, day of each season year) and ``lost``
      (succession, the night of each season year that loses it).

    Days are "2027-03-19", null is never. Numbers are written with all their digits.

    Parameters
    ----------
    value : Calendar or Prospect
        What to write.
    indent : int, optional
        Spaces a level. None: all on one line.

    Returns
    -------
    str
        `from_json` reads it as an equal value.

    Raises
    ------
    TypeError
        When it is neither.

    Examples
    --------
    >>> text = epicotyl.files.to_json(calendar)
    >>> text[:44]
    '{"format": "epicotyl.calendar", "version": 2'
    >>> epicotyl.files.from_json(text) == calendar
    True
    """
    if isinstance(value, Calendar):
        document = _calendar_document(value)
    elif isinstance(value, Prospect):
        document = _prospect_document(value)
    else:
        raise TypeError(f"value: a Calendar or a Prospect is wanted, not {type(value).__name__}")
    spaces = None if indent is None else _check.whole(indent, "indent")
    return json.dumps(document, indent=spaces, allow_nan=False, ensure_ascii=False)


def from_json(text: str, *, check: bool = True) -> Calendar | Prospect:
    """Read a calendar or a prospect that `to_json` wrote.

    Its days are worked out again from plan and climate, and compared with those that were written.

    Parameters
    ----------
    text : str
        The document.
    check : bool, optional
        False: days that differ are not refused; those worked out now are given. For documents of a
        release that planned otherwise.

    Returns
    -------
    Calendar or Prospect
        By its ``format``.

    Raises
    ------
    InvalidInput
        For what is no such document, for a version that this release does not know, and when a
        result differs from the one written (it names the first).
    TypeError
        When an argument is of the wrong kind.

    Examples
    --------
    >>> again = epicotyl.files.from_json(epicotyl.files.to_json(prospect))
    >>> again == prospect, again.calendar.date("lettuce 1", "sow")
    (True, datetime.date(2027, 2, 19))
    """
    _check.text(text, "text")
    strict = _check.flag(check, "check")
    try:
        document = json.loads(text, parse_constant=refuse_constant)
    except json.JSONDecodeError as fault:
        _core.refuse(
            code="json.not_json",
            field="text",
            value=text[fault.pos : fault.pos + 20],
            problem=f"line {fault.lineno}, column {fault.colno} is not JSON: {fault.msg}",
            remedy="give the text that to_json wrote, whole",
        )
    if not isinstance(document, dict) or document.get("format") not in (CALENDAR, PROSPECT):
        found = document.get("format") if isinstance(document, dict) else document
        _core.refuse(
            code="json.format",
            field="format",
            value=str(found)[:40],
            bound=f"{CALENDAR} or {PROSPECT}",
            problem="this is neither a calendar nor a prospect of epicotyl",
            remedy="give the text that to_json wrote",
        )
    if document["format"] == CALENDAR:
        return _calendar_of(document, strict)
    return _prospect_of(document, strict)


# ---- Writing -------------------------------------------------------------------------------------


def _head(name: str) -> _Document:
    return {"format": name, "version": VERSION, "written_by": _core.version}


def _day(when: datetime.date | None) -> str | None:
    return None if when is None else when.isoformat()


def _days(days: _check.DayArray) -> list[str | None]:
    return [None if one is None else one.isoformat() for one in days.tolist()]


def _record_table(record: DailyRecord | None) -> _Document | None:
    if record is None:
        return None

    def numbers(values: _check.FloatArray) -> list[float | None]:
        return [None if math.isnan(one) else one for one in values.tolist()]

    return {
        "name": record.name,
        "origin": record.origin,
        "start": _day(record.start),
        "tmin": numbers(record.tmin),
        "tmax": numbers(record.tmax),
    }


def _climate_table(climate: Climate) -> _Document:
    return {
        "record": _record_table(climate.record),
        "latitude": climate.latitude,
        "season_start": list(climate.season_start),
        "season_days": climate.season_days,
        "max_gap": climate.max_gap,
        "years": climate._held.asked_years,
        "only": climate.years if climate.is_chosen else None,
        "observed": _record_table(climate.observed),
        "forecast": _record_table(climate.forecast),
    }


def _calendar_results(calendar: Calendar) -> _Document:
    successions = []
    for name in calendar.plan.successions:
        claim = calendar.claim(name)
        successions.append(
            {
                "name": name,
                "planned": {
                    event: _day(calendar.date(name, event)) for event in calendar.plan.events(name)
                },
                "claim": None if claim is None else dataclasses.asdict(claim),
            }
        )
    return {
        "season_years": calendar.climate.years,
        "successions": successions,
        "unresolved": [
            {"succession": one.succession, "code": one.code, "sentence": one.sentence,
             "cure": one.cure}
            for one in calendar.unresolved
        ],
        "groups": [dataclasses.asdict(one) for one in calendar.groups],
        "within_counts": [dataclasses.asdict(one) for one in calendar.within_counts],
        "warnings": calendar.warnings,
    }  # fmt: skip


def _calendar_document(calendar: Calendar) -> _Document:
    return {
        **_head(CALENDAR),
        "plan": calendar.plan.to_toml(),
        "climate": _climate_table(calendar.climate),
        "reliability": calendar.reliability,
        **_calendar_results(calendar),
    }


def _prospect_results(prospect: Prospect) -> _Document:
    days = [_days(row) for row in prospect.days_all]
    return {
        "season_years": prospect.years,
        "events": [
            {"succession": succession, "event": event, "days": row}
            for (succession, event), row in zip(prospect.events, days, strict=True)
        ],
        "lost": [
            {"succession": name, "nights": _days(prospect.lost(name))}
            for name in prospect.calendar.plan.successions
        ],
    }


def _without_lost(results: _Document, prospect: Prospect) -> _Document:
    """Results of version 1 as they are now: no harvest in years in which a batch is lost."""
    plan = prospect.calendar.plan
    events = []
    for one in results["events"]:
        names = plan.events(one["succession"])
        if "first_harvest" in names and one["event"] in names[names.index("first_harvest") :]:
            lives = np.isnat(prospect.lost(one["succession"])).tolist()
            days = zip(one["days"], lives, strict=True)
            one = one | {"days": [day if alive else None for day, alive in days]}
        events.append(one)
    return {"season_years": results["season_years"], "events": events}


def _prospect_document(prospect: Prospect) -> _Document:
    calendar, climate = prospect.calendar, prospect.climate
    return {
        **_head(PROSPECT),
        "calendar": _calendar_document(calendar),
        "climate": None if climate == calendar.climate else _climate_table(climate),
        **_prospect_results(prospect),
    }


# ---- Reading -------------------------------------------------------------------------------------


def _need_version(document: Reader) -> None:
    version = document.get("version", int)
    if 1 <= version <= VERSION:
        return
    _core.refuse(
        code="json.version",
        field="version",
        value=str(version),
        bound=f"1 to {VERSION}",
        problem=f"a document of version {version} cannot be read by release {_core.version}",
        remedy="read it with the release that wrote it, or a later one",
    )


def _record_of(table: Reader) -> DailyRecord:
    return DailyRecord(
        table.day("start"),
        table.numbers("tmin"),
        table.numbers("tmax"),
        table.get("name", str),
        origin=table.get("origin", str),
    )


def _pair(values: Sequence[Any], field: str) -> tuple[int, int]:
    if len(values) != 2 or not all(type(one) is int for one in values):
        Reader.refuse(field, values, "two whole numbers")
    return values[0], values[1]


def _climate_of(table: Reader) -> Climate:
    years = table.get("years", int, str, list)
    climate = Climate(
        _record_of(table.inner("record")),
        latitude=table.get("latitude", int, float),
        season_start=_pair(table.get("season_start", list), "season_start"),
        season_days=table.get("season_days", int),
        max_gap=table.get("max_gap", int),
        years=_pair(years, "years") if isinstance(years, list) else years,
    )
    only = table.get("only", list, type(None))
    if only is not None:
        climate = climate.only(only)
    observed, forecast = table.inner_or_none("observed"), table.inner_or_none("forecast")
    if observed is not None:
        climate = climate.given(
            _record_of(observed), None if forecast is None else _record_of(forecast)
        )
    return climate


def _calendar_of(document: object, check: bool) -> Calendar:
    read = Reader(document, "")
    _need_version(read)
    plan = Plan._of(_core.parse_plan(read.get("plan", str)))
    reliability = read.get("reliability", int, float)
    calendar = schedule(plan, _climate_of(read.inner("climate")), reliability=reliability)
    if check:
        _compare(_calendar_results(calendar), read)
    return calendar


def _prospect_of(document: object, check: bool) -> Prospect:
    read = Reader(document, "")
    _need_version(read)
    written = read.get("calendar", dict)
    if written.get("format") != CALENDAR:
        Reader.refuse("calendar.format", written.get("format"), CALENDAR)
    calendar = _calendar_of(written, check)
    other = read.inner_or_none("climate")
    prospect = simulate(calendar, calendar.climate if other is None else _climate_of(other))
    if check:
        results = _prospect_results(prospect)
        if read.get("version", int) == 1:
            del results["lost"]
            read = Reader(_without_lost({k: read.get(k, list) for k in results}, prospect), "")
        _compare(results, read)
    return prospect


def _compare(now: _Document, read: Reader) -> None:
    for key, value in now.items():
        if key in WORDS:
            continue
        difference = _difference(read.get(key, list), value, key)
        if difference is None:
            continue
        field, written, now = difference
        _core.refuse(
            code="json.differs",
            field=field,
            value=str(written)[:80],
            bound=str(now)[:80],
            problem=f"written is {str(written)[:80]}, worked out now {str(now)[:80]}",
            remedy="read it with the release that wrote it; or with check=False, for what is "
            "worked out now",
        )


def _difference(written: Any, now: Any, field: str) -> tuple[str, Any, Any] | None:
    """The first place at which two parts of documents differ."""
    parts: Iterable[tuple[str, Any, Any]]
    if isinstance(now, list) and isinstance(written, list) and len(written) == len(now):
        both = enumerate(zip(written, now, strict=True))
        parts = ((f"{field}[{_name_of(b) or k}]", a, b) for k, (a, b) in both)
    # Keys that are new to this release are its own.
    elif isinstance(now, dict) and isinstance(written, dict) and written.keys() <= now.keys():
        keys = (key for key in written if key not in WORDS)
        parts = ((f"{field}.{key}", written[key], now[key]) for key in keys)
    else:
        return None if written == now else (field, written, now)
    return next(filter(None, (_difference(a, b, name) for name, a, b in parts)), None)


def _name_of(part: Any) -> str:
    return str(part.get("name", part.get("succession", ""))) if isinstance(part, dict) else ""
