"""What stands behind a climate: records put right, described and made.

`epicotyl.read_ghcn_daily` and `epicotyl.read_daily_csv` read a station's days, and
`epicotyl.Climate` cuts season years from them. Here is what is asked of a record before one trusts
it (its quality, another station spliced on, another height, a reader who came in the morning), what
is said of a year as a whole (its course as a sum of waves), and how years are made where there are
none: from a model of a record, or from twelve monthly normals.
"""

from epicotyl._adjust import (
    RecordQuality,
    SplicedRecord,
    morning_reader,
    quality,
    splice,
    with_elevation_difference,
)
from epicotyl._core import FilledDays, LeftOutYear, MissingRun, SplicedElement, SpliceReport
from epicotyl._course import ElementCourse, YearlyCourse, phase_of
from epicotyl._generator import WeatherModel, fit_weather_model, generate, model_from_normals
from epicotyl._season import climate_from_normals

__all__ = [
    "ElementCourse",
    "FilledDays",
    "LeftOutYear",
    "MissingRun",
    "RecordQuality",
    "SpliceReport",
    "SplicedElement",
    "SplicedRecord",
    "WeatherModel",
    "YearlyCourse",
    "climate_from_normals",
    "fit_weather_model",
    "generate",
    "model_from_normals",
    "morning_reader",
    "phase_of",
    "quality",
    "splice",
    "with_elevation_difference",
]
