"""A small day told to the report log, and the picture made from it."""

from __future__ import annotations

from assistant.boiler.figures import Engine
from assistant.config.engine_file import find_engine
from assistant.messages import OUT_OF_SIGHT, Report
from assistant.picture.given import Given
from assistant.picture.picture import Picture, picture_of
from assistant.picture.report_log import ReportLog, TimedReport

PRACTICE: Engine = find_engine("practice").engine
OUT = Report("water", OUT_OF_SIGHT)


def psi(pounds: float) -> Report:
    return Report("pressure", pounds, "psi")


def glass(level: float) -> Report:
    return Report("water", level, "glass")


def log_of(*told: tuple[float, Report]) -> ReportLog:
    """Reports with the minutes at which they were made."""
    return ReportLog(TimedReport(report, 60.0 * minute) for minute, report in told)


def picture(
    *told: tuple[float, Report],
    minute: float | None = None,
    engine: Engine = PRACTICE,
    **known: object,
) -> Picture:
    """The picture after these reports, at a minute: else that of the last of them."""
    at = told[-1][0] if minute is None else minute
    return picture_of(given(log_of(*told), 60.0 * at, engine, **known))


def given(log: ReportLog, at: float, engine: Engine = PRACTICE, **known: object) -> Given:
    """One moment, with a level that temperature does not move where nothing else is said."""
    values: dict[str, object] = {"expansion": lambda t0, t1: 0.0, "heard_at": at} | known
    return Given(engine, log, at, **values)  # type: ignore[arg-type]
