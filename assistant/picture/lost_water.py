"""Whether the water was out of sight over heat, and nobody has looked at the boiler since. Pure.

Folded from the reports in their order, so that replay, resume and a retracted report agree. Water
that shows again does not end it: the plates may have been bare.
"""

from __future__ import annotations

from assistant.boiler.figures import Engine
from assistant.messages import OUT_OF_SIGHT, Report
from assistant.picture.fire import BURNING
from assistant.picture.report_log import ReportLog
from assistant.procedure.scale import measure

LOOKED_AT = Report("boiler", "looked at")  # said by a person, never concluded
PRESSED = 0.02  # of working pressure: above it there is heat, whatever was said of the fire


def lost_since(reports: ReportLog, engine: Engine) -> float | None:
    """Since when [s]; None when it never was so, or the boiler has been looked at."""
    return reports.once("lost water", lambda log: _fold(log, engine))


def _fold(reports: ReportLog, engine: Engine) -> float | None:
    fire, pressure, lost_at = "", 0.0, None
    for timed in reports:
        report = timed.report
        match report.what:
            case "fire":
                fire = str(report.value)
            case "pressure":
                pressure = measure(report, engine) or 0.0
            case "water" if report.value == OUT_OF_SIGHT:
                hot = fire in BURNING or pressure > PRESSED * engine.working_pressure_gauge_pa
                if hot and lost_at is None:
                    lost_at = timed.at
            case _ if report == LOOKED_AT:
                lost_at = None
    return lost_at
