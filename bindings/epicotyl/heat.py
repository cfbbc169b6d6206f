"""Heat: what a covered place loses, what keeping it warm takes, and how warm it is by itself.

A structure is its surfaces, its air and what leaks out; in steady state it loses so many watts a
kelvin. From that come the power for the coldest night, the heat of a season for the batches that
stand there, and a curve over set points. The lift that a plan counts on, the structure and the
watts of the heater are one thing: `Plan.with_heater` makes them agree, `match_heater` says where
they do not. The other way round, a thermometer's nights say how much warmer a place is than the
open, and its layers let one guess. The cautions that belong beside a number are printed with it.
"""

from epicotyl._core import (
    AirFit,
    ColdExtreme,
    GuessedGain,
    HeatCurve,
    HeatedBatch,
    HeaterMatch,
    HeatPoint,
)
from epicotyl._fit_air import fit_air, guess_night_gain
from epicotyl._heat import (
    HeatFigure,
    Structure,
    Surface,
    coldest_night,
    coldest_outdoors,
    heat_cautions,
    heat_loss,
    lift_of,
    loss_per_kelvin,
    u_of,
    watts_for,
)
from epicotyl._heat_season import SeasonHeat, heat_curve, heat_of_season, match_heater

__all__ = [
    "AirFit",
    "ColdExtreme",
    "GuessedGain",
    "HeatCurve",
    "HeatFigure",
    "HeatPoint",
    "HeatedBatch",
    "HeaterMatch",
    "SeasonHeat",
    "Structure",
    "Surface",
    "coldest_night",
    "coldest_outdoors",
    "fit_air",
    "guess_night_gain",
    "heat_cautions",
    "heat_curve",
    "heat_loss",
    "heat_of_season",
    "lift_of",
    "loss_per_kelvin",
    "match_heater",
    "u_of",
    "watts_for",
]
