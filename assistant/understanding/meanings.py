"""What a meaning would put in the book, and how much care it wants. Knows no figures of an ear.

For whoever asks about a meaning without asking how sure its words were.
"""

from __future__ import annotations

from collections.abc import Callable
from enum import Enum

from assistant.messages import OUT_OF_SIGHT, Correction, Meaning, Report, Several

ALL_CLEAR = "over"  # of `Report("emergency", "over")`, which ends the emergency


class Mark(Enum):
    """Where a reported height of the water stands."""

    LOW = "low"  # at or below the lower mark: costliest to miss
    NEAR = "near"  # so near either mark that a misheard fraction would cross it


MarkOf = Callable[[Report], Mark | None]


def no_mark(report: Report) -> Mark | None:
    """Without an engine no height is near a mark."""
    return None


class Care(Enum):
    """How careful the situation requires one to be, whatever was said."""

    USUAL = "usual"
    MARK = "mark"  # the water is believed to be near one of its marks
    HOLD = "hold"  # the answer opens a hold or a killer step


def reports_in(meaning: Meaning | None) -> tuple[Report, ...]:
    """The reports that a meaning would enter in the book."""
    if isinstance(meaning, Several):
        return meaning.reports
    if isinstance(meaning, Correction):
        return (meaning.report,)
    return (meaning,) if isinstance(meaning, Report) else ()


def is_danger(meaning: Meaning, mark_of: MarkOf = no_mark) -> bool:
    """Whether it must never be ignored: water low or out of sight, or an emergency called.

    >>> is_danger(Report("water", OUT_OF_SIGHT)), is_danger(Report("water", 0.5, "glass"))
    (True, False)
    """
    return any(
        (report.what == "emergency" and report.value != ALL_CLEAR)
        or (report.what, report.value) == ("water", OUT_OF_SIGHT)
        or mark_of(report) is Mark.LOW
        for report in reports_in(meaning)
    )
