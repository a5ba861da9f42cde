"""One row of a readings file: what its cells may hold. Knows neither the file nor an engine."""

from __future__ import annotations

import datetime
import math
import re

from assistant.belief.history import STATES
from assistant.boiler.scales import LENGTH_M, PRESSURE_PA, VOLUME_M3
from assistant.config.suggest import did_you_mean, in_quotes
from assistant.messages import OUT_OF_SIGHT, Report

UNITS: dict[str, tuple[str, ...]] = {
    "pressure": tuple(PRESSURE_PA),
    "water": ("glass", *LENGTH_M),
    "tank": ("tank", *VOLUME_M3),
}
_SINCE_START = re.compile(r"(\d{1,3}):([0-5]\d):([0-5]\d(?:\.\d{1,6})?)")
_MAX_WITHOUT_ENGINE = {
    "pressure": 600 * PRESSURE_PA["psi"],
    "water": 1.5,
    "tank": 50.0,
}  # SI; no gauge of any engine shows more


def moment_in(text: str) -> tuple[float, datetime.datetime | None]:
    """(seconds, None) for HH:MM:SS, (0, moment) for an ISO 8601 date and time; else ValueError.

    >>> moment_in("01:02:30")
    (3750.0, None)
    """
    match = _SINCE_START.fullmatch(text)
    if match:
        return int(match[1]) * 3600 + int(match[2]) * 60 + float(match[3]), None
    if re.match(r"\d{4}-\d\d-\d\d[T ]\d\d:\d\d", text):
        try:
            return 0.0, datetime.datetime.fromisoformat(text)
        except ValueError:
            pass
    raise ValueError(f"{in_quotes(text)} is no time: HH:MM:SS since the start, or a date and time")


def unit_problem(name: str, unit: str) -> str:
    """Why a unit is not one of the subject's."""
    if not unit:
        return f"{name}: the unit is missing ({', '.join(UNITS[name])})"
    if unit.lower() in {"gallon", "gallons"}:
        return f"{name}: 'gallon' alone is unclear: imperial_gallon or US_gallon"
    other = [of for of, units in UNITS.items() if unit in units]
    if other:
        return f"{name}: {in_quotes(unit)} is a unit of {other[0]} ({', '.join(UNITS[name])})"
    return f"{name}: unknown unit {in_quotes(unit)}{did_you_mean(unit, UNITS[name])}"


def _in_si(report: Report) -> float:
    value, unit = float(report.value), report.unit or ""
    return value * {**PRESSURE_PA, **LENGTH_M, **VOLUME_M3}.get(unit, 1.0)


def off_gauge_problem(report: Report) -> str | None:
    """Why no gauge of any engine can show this value, None when one can."""
    value = float(report.value)
    most = 1.0 if report.unit in {"glass", "tank"} else _MAX_WITHOUT_ENGINE[report.what]
    if 0.0 <= _in_si(report) <= most:
        return None
    return f"{report.what}: {value:g} {report.unit} is off the gauge"


def same_value(one: Report, other: Report) -> bool:
    """Whether two reports of one subject state the same, in whatever units."""
    if isinstance(one.value, str) or isinstance(other.value, str):
        return one.value == other.value
    if (one.unit in LENGTH_M) != (other.unit in LENGTH_M):
        return False  # a fraction and a height cannot be compared without the engine
    return math.isclose(_in_si(one), _in_si(other), rel_tol=1e-6, abs_tol=1e-9)


def has_room(report: Report) -> bool:
    """Whether the file's form can hold the report."""
    if report.what in STATES:
        return report.unit is None and report.value in STATES[report.what]
    if isinstance(report.value, str):
        return report == Report("water", OUT_OF_SIGHT)
    return report.unit in UNITS.get(report.what, ())
