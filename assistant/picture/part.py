"""What the parts of the picture have in common: a state with its age and witnesses. Pure."""

from __future__ import annotations

from dataclasses import dataclass

from assistant.picture.given import Given
from assistant.picture.readings import Reading
from assistant.picture.report_log import ReportLog, TimedReport

UNKNOWN = "unknown"


@dataclass(frozen=True, slots=True)
class Told:
    """The last state told of a subject, or that it is unknown."""

    value: str
    """The state in words; "unknown": never told, or told before a long break."""
    since: float | None = None
    """When it began, not when it was last repeated [s]."""
    age_s: float | None = None
    """How long ago it was last told [s]; None: never."""
    witnesses: tuple[str, ...] = ()


def told(given: Given, subject: str) -> Told:
    """What was last told of a subject."""
    last = given.reports.once_of(subject, _last_state, "told")
    if last is None:
        return Told(UNKNOWN)
    value, since, at = last
    age_s = given.at - at
    if at <= given.forgotten_at:
        return Told(UNKNOWN, None, age_s, (f"{subject} {value}, before a break",))
    return Told(value, since, age_s, (f"{subject} {value}, {ago(age_s)}",))


def last_told(log: ReportLog, subject: str) -> TimedReport | None:
    """The last report of a subject."""
    reports = log.of(subject)
    return reports[-1] if reports else None


def _last_state(reports: tuple[TimedReport, ...]) -> tuple[str, float, float] | None:
    """The last state, when it began and when it was last told."""
    last: tuple[str, float, float] | None = None
    for timed in reports:
        value = timed.report.value
        if isinstance(value, str):
            same = last is not None and last[0] == value
            last = value, last[1] if same and last else timed.at, timed.at
    return last


def ago(age_s: float) -> str:
    """An age in few words.

    >>> ago(20), ago(130)
    ('now', '2 min ago')
    """
    return "now" if age_s < 60.0 else f"{age_s / 60.0:.0f} min ago"


def gauge_witness(reading: Reading, at: float) -> str:
    """A pressure reading in the words of a witness."""
    return f"gauge {_called(reading)}, {ago(at - reading.at)}"


def water_witness(reading: Reading, at: float) -> str:
    """A level reading in the words of a witness."""
    return f"water {_called(reading)}, {ago(at - reading.at)}"


def _called(reading: Reading) -> str:
    value, unit = reading.report.value, reading.report.unit
    return value if isinstance(value, str) else f"{value:g} {unit or ''}".rstrip()
