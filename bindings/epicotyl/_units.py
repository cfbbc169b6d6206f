"""Units where no plan is at hand: numbers are turned where they come in."""

from __future__ import annotations

from typing import Literal, TypeAlias, TypeVar

from epicotyl import _check, _core

#: Units in which numbers are given: °C, K and metres, or °F, °F warmer and feet.
Units: TypeAlias = Literal["metric", "us"]

FAHRENHEIT_PER_KELVIN = 1.8
FAHRENHEIT_AT_ZERO_CELSIUS = 32.0

_Number = TypeVar("_Number", float, _check.FloatArray)


def is_us(units: object) -> bool:
    """Whether the word is "us"; refuses all but "metric" and "us"."""
    word = _check.text(units, "units")
    if word not in ("metric", "us"):
        _core.refuse(
            code="word.unknown",
            field="units",
            value=word,
            bound="metric, us",
            problem=f'"{word}" is not known here',
            remedy='give "metric" for °C, or "us" for °F',
        )
    return word == "us"


def celsius(given: _Number, units: object) -> _Number:
    """Temperatures in °C."""
    if not is_us(units):
        return given
    return (given - FAHRENHEIT_AT_ZERO_CELSIUS) / FAHRENHEIT_PER_KELVIN


def kelvin(given: _Number, units: object) -> _Number:
    """Differences of temperatures in K, or heat in K day."""
    return given / FAHRENHEIT_PER_KELVIN if is_us(units) else given


def of_celsius(found: _Number, units: object) -> _Number:
    """Temperatures in °C in these units."""
    return found * FAHRENHEIT_PER_KELVIN + FAHRENHEIT_AT_ZERO_CELSIUS if is_us(units) else found


def of_kelvin(found: _Number, units: object) -> _Number:
    """Differences in K in these units."""
    return found * FAHRENHEIT_PER_KELVIN if is_us(units) else found
