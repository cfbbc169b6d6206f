"""One farm in both units, asked the same: how answers are compared, and what arguments are.

A number that has another unit in each system is found by its class and field (FIELDS), or is told
by the call. All others must be equal.
"""

import dataclasses
import datetime
import re
from types import SimpleNamespace

import numpy as np

import epicotyl
from epicotyl._value import Value

#: What one of the metric unit is in US units, and what is added: by definition of foot and quart.
TURNS = {
    "temperature": (1.8, 32.0),
    "span": (1.8, 0.0),
    "per span": (1 / 1.8, 0.0),
    "bed": (1 / 0.3048, 0.0),
    "area": (1 / 0.3048**2, 0.0),
    "medium": (1 / 0.946352946, 0.0),
    "trays": (1.0, 0.0),
}

FIELDS = {
    ("SeasonHeat", "heat_to"): "temperature",
    ("SeasonHeat", "loss"): "per span",
    ("HeatPoint", "heat_to"): "temperature",
    ("HeaterMatch", "loss"): "per span",
    ("HeaterMatch", "lift"): "span",
    ("HeaterMatch", "holds"): "span",
    ("DamageReport", "margin"): "span",
    ("DamageReport", "margin_heater_off"): "span",
    ("DamageReport", "margin_cover_off"): "span",
    ("StageQuantity", "bed"): "bed",
    ("SuccessionQuantity", "medium"): "medium",
    ("TrayLine", "medium"): "medium",
    ("PlanQuantities", "medium"): "medium",
    ("Reason", "frost_at"): "temperature",
    ("Reason", "asked_frost_at"): "temperature",
}
#: Fields whose numbers are of the kind that the value itself names.
BY_KIND = {("Overflow", "room"), ("Overflow", "most"), ("Overflow", "there")}
BY_KIND |= {("NotPlaced", "shortage"), ("Standing", "amount")}

MONTHS = "Jan|Feb|Mar|Apr|May|Jun|Jul|Aug|Sep|Oct|Nov|Dec"
FOREIGN = {
    "us": re.compile(
        r"°C|K[ ·]days?\b|(?<=\d) K\b|/K\b|m²|\d cm\b|\d m\b|\b(milli)?lit(re|er)s?\b"
        r"|\bmet(re|er)s?\b"
        rf"|(?<!(?:{MONTHS}) )\b\d{{1,2}} (?:{MONTHS})\b"
    ),
    "metric": re.compile(
        r"°F|\bft²?|\bfeet\b|\bfoot\b|\binch(es)?\b|\bquarts?\b|\bgallons?\b"
        rf"|(?<!\d )\b(?:{MONTHS}) \d{{1,2}}\b"
    ),
}


def foreign(text, units):
    """The first of the other units, or a date in the other order, in a text."""
    found = FOREIGN[units].search(text)
    return text[max(0, found.start() - 60) : found.end() + 30] if found else ""


class Alike:
    """Compares answers in both units; notes what was seen."""

    def __init__(self):
        self.turned = set()
        self.texts = 0

    def __call__(self, metric, us, where, kind=None):
        assert type(metric) is type(us), where
        if isinstance(metric, str):
            self.text(metric, us, where)
        elif isinstance(metric, epicotyl.Plan):
            self(metric.to_dict(), us.with_units("metric").to_dict() | {"units": "metric"}, where)
        elif isinstance(metric, epicotyl.Climate):
            np.testing.assert_allclose(metric.tmin, us.tmin, atol=1e-9, err_msg=where)
            np.testing.assert_allclose(metric.tmax, us.tmax, atol=1e-9, err_msg=where)
        elif isinstance(metric, bool | int | datetime.date) or metric is None:
            assert metric == us, where
        elif isinstance(metric, float):
            self.numbers(np.float64(metric), np.float64(us), where, kind)
        elif isinstance(metric, np.ndarray):
            self.numbers(metric, us, where, kind)
        elif isinstance(metric, dict):
            assert list(metric) == list(us), where
            for key in metric:
                named = FIELDS.get(("Reason", key)) if where.endswith(".values") else None
                self(metric[key], us[key], f"{where}.{key}", named or kind)
        elif hasattr(metric, "_fields"):
            self.fields(metric, us, where, metric._fields, kind)
        elif isinstance(metric, list | tuple):
            assert len(metric) == len(us), where
            for k, (one, other) in enumerate(zip(metric, us, strict=True)):
                self(one, other, f"{where}[{k}]", kind)
        elif dataclasses.is_dataclass(metric):
            names = [one.name for one in dataclasses.fields(metric)]
            self.fields(metric, us, where, names, kind)
            self.text(str(metric), str(us), f"str of {where}")
        elif isinstance(metric, Value):
            self.text(str(metric), str(us), f"str of {where}")
            self.text(repr(metric), repr(us), f"repr of {where}")
            if isinstance(metric, epicotyl.Calendar):
                for event in metric.events:
                    assert metric.date(*event) == us.date(*event), (where, event)
            elif isinstance(metric, epicotyl.Prospect):
                np.testing.assert_array_equal(metric.days_all, us.days_all, err_msg=where)
        elif type(metric).__name__ == "DataFrame":
            for column in metric:
                turn = kind if column in ("amount",) else None
                self(metric[column].to_numpy(), us[column].to_numpy(), f"{where}.{column}", turn)
        elif hasattr(metric, "get_ylabel"):
            for label in ("get_xlabel", "get_ylabel", "get_title"):
                self.text(getattr(metric, label)(), getattr(us, label)(), where)
            for line, other in zip(metric.get_lines(), us.get_lines(), strict=True):
                self(line.get_ydata(), other.get_ydata(), f"line of {where}", kind)
        else:
            raise AssertionError(f"{where}: say how {type(metric).__name__} is compared")

    def text(self, metric, us, where):
        self.texts += 1
        assert not foreign(us, "us"), (where, foreign(us, "us"))
        assert not foreign(metric, "metric"), (where, foreign(metric, "metric"))

    def numbers(self, metric, us, where, kind):
        metric, us = np.asarray(metric), np.asarray(us)
        assert metric.shape == us.shape, where
        if metric.dtype.kind != "f":
            np.testing.assert_array_equal(metric, us, err_msg=where)
            return
        factor, offset = TURNS[kind or "trays"]
        if kind and np.isfinite(metric).any():
            self.turned.add(kind)
        np.testing.assert_allclose(
            us, metric * factor + offset, rtol=1e-7, atol=1e-6, err_msg=f"{where} ({kind})"
        )

    def fields(self, metric, us, where, names, kind):
        of = type(metric).__name__
        of_its_own = getattr(metric, "kind", None) or kind
        for name in names:
            if (of, name) == ("SeasonHeat", "units"):
                assert (metric.units, us.units) == ("metric", "us")
                continue
            known = FIELDS.get((of, name))
            if (of, name) in BY_KIND:
                known = of_its_own
            self(getattr(metric, name), getattr(us, name), f"{where}.{name}", known)


def farm_in(plan, climate):
    """Everything that can be had of a plan, and numbers in its units."""
    us = plan.units == "us"
    calendar = epicotyl.schedule(plan, climate)
    prospect = epicotyl.simulate(calendar, climate)
    tables = plan.to_dict()
    crop_of = {}
    for name in plan.successions:
        crop_of[name] = next(
            one["crop"]
            for one in tables["succession"]
            if name == one.get("name", one["crop"])
            or name.startswith(one.get("name", one["crop"]) + " ")
        )
    names = [
        name
        for name in plan.successions
        if calendar.date(name, "sow" if "sow" in plan.events(name) else plan.events(name)[0])
        and {"transplant", "first_harvest"} <= set(plan.events(name))
        and any(one.get("name") == name for one in tables["succession"])
    ]
    year = climate.years[len(climate) // 2]
    return SimpleNamespace(
        units=plan.units,
        plan=plan,
        climate=climate,
        calendar=calendar,
        prospect=prospect,
        name=names[0],
        crop=crop_of[names[0]],
        heated=next(name for name, one in tables["places"].items() if "heat_to" in one),
        covered=next(name for name, one in tables["places"].items() if "cold_nights" in one),
        field=next(name for name, one in tables["places"].items() if "bed" in one),
        year=year,
        temperature=lambda celsius: celsius * 1.8 + 32.0 if us else celsius,
        span=lambda kelvin: kelvin * 1.8 if us else kelvin,
        bed=lambda metres: metres / 0.3048 if us else metres,
        heat=lambda kelvin_days: kelvin_days * 1.8 if us else kelvin_days,
    )
