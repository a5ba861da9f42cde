"""The readings of gauge and glass as numbers, and the steps in which they are called. Pure."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

from assistant.belief import history
from assistant.boiler.figures import Engine
from assistant.messages import OUT_OF_SIGHT, Report
from assistant.picture.report_log import ReportLog, TimedReport
from assistant.procedure.scale import measure, pressure_unit_pa

EIGHTH, SAME = 0.125, 1e-3
ON_THE_PIN = "on the pin"  # the gauge's needle at rest, as it is told in words


@dataclass(frozen=True, slots=True)
class Reading:
    """A reading: Pa gauge or a fraction of the glass."""

    at: float
    """When it was called [s]."""
    value: float | None
    """None: the water was out of sight."""
    report: Report
    """As it was called."""


def pressures(log: ReportLog, engine: Engine) -> tuple[Reading, ...]:
    """Every pressure called, in order [Pa gauge]; on the pin is nothing."""
    return log.once_of("pressure", lambda reports: _numbers(reports, engine), "numbers")


def waters(log: ReportLog, engine: Engine) -> tuple[Reading, ...]:
    """Every level called, in order [of the glass]; out of sight is None."""
    return log.once_of("water", lambda reports: _numbers(reports, engine), "numbers")


@lru_cache(maxsize=4096)
def reading_of(timed: TimedReport, engine: Engine) -> Reading | None:
    """The reading in a report; None when there is none in it."""
    report = timed.report
    if report.what == "pressure" and report.value == ON_THE_PIN:
        return Reading(timed.at, 0.0, report)
    if report.what == "water" and report.value == OUT_OF_SIGHT:
        return Reading(timed.at, None, report)
    value = measure(report, engine)
    return None if value is None else Reading(timed.at, value, report)


def pressure_step(log: ReportLog, engine: Engine) -> float:
    """The step in which pressures are called [Pa]."""
    return log.once_of("pressure", lambda _: _pressure_step(log, engine), "step")


def level_step(log: ReportLog, engine: Engine) -> float:
    """The step in which levels are called [of the glass]."""
    return log.once_of("water", lambda _: _level_step(log, engine), "step")


def _is_third(level: float) -> bool:
    return any(abs(level - third) < SAME for third in (1.0 / 3.0, 2.0 / 3.0))


def _is_eighth(level: float) -> bool:
    return abs(level / EIGHTH - round(level / EIGHTH)) < SAME / EIGHTH


def _numbers(reports: tuple[TimedReport, ...], engine: Engine) -> tuple[Reading, ...]:
    found = (reading_of(timed, engine) for timed in reports)
    return tuple(reading for reading in found if reading is not None)


def _pressure_step(log: ReportLog, engine: Engine) -> float:
    called = (r for r in pressures(log, engine) if r.value is not None and r.report.unit)
    return history.rounding_pa(
        tuple(
            history.Pressure(r.at, r.value or 0.0, pressure_unit_pa(r.report.unit)) for r in called
        )
    )


def _level_step(log: ReportLog, engine: Engine) -> float:
    """Eighths where thirds are called among them: the nearest of both is no finer."""
    called = waters(log, engine)
    levels = [r.value for r in called if r.value is not None]
    if any(map(_is_third, levels)) and all(_is_third(v) or _is_eighth(v) for v in levels):
        return EIGHTH
    return history.rounding_height(tuple(history.Water(r.at, r.value) for r in called))
