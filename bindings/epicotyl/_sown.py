"""Season: sowings, how they are picked, and how they become successions."""

from __future__ import annotations

import datetime
from typing import Any, cast

import numpy as np

from epicotyl import _check
from epicotyl._plan import Plan
from epicotyl._plan import plan as _plan_of


def one_day(value: _check.Day, name: str) -> datetime.date:
    found = _check.days(value, name)
    if found.ndim or np.isnat(found):
        raise TypeError(f"{name}: one day is wanted, not {value!r}")
    return cast("datetime.date", found.item())


def with_successions(plan: Plan, more: list[dict[str, Any]]) -> Plan:
    _check.instance(plan, Plan, "plan")
    tables = plan.to_dict()
    return _plan_of(tables | {"succession": [*tables.get("succession", []), *more]})
