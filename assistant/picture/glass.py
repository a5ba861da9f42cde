"""Whether the gauge glass is proved, broken or flat. Pure."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from assistant.picture.flat_glass import flat_since
from assistant.picture.given import Given
from assistant.picture.part import ago
from assistant.picture.report_log import ReportLog
from assistant.picture.steam import had_steam

GlassState = Literal["unproved", "proved cold", "proved hot", "flat", "broken"]

PROVED = "comes back at once"
NEW = "new glass proved"
PUT_IN = "new"  # a new glass, not proved yet
PROVED_BY = frozenset({PROVED, NEW})  # reports of the glass that prove it
BROKEN, OVER = "glass broken", "over"
TROUBLE = ("cure", "glass_trouble")  # told that it does not move, or cannot be seen through
SURE_AGAIN = ("glass trouble", "cured")


@dataclass(frozen=True, slots=True)
class Glass:
    """The gauge glass."""

    value: GlassState
    since: float | None
    """When it was proved, broke or began to stand still [s]."""
    age_s: float | None
    """How long ago that was [s]; None: never told of."""
    reads_from: float | None
    """From when a level called of it is one [s]: after a breakage or a failed test from the test
    that proved it. None: no level may be read."""
    witnesses: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Fold:
    broken_at: float | None = None
    proved_at: float | None = None
    doubted_at: float | None = None
    """When it first failed its test, or was put in new and is to be proved."""
    reads_from: float = float("-inf")
    words: str = ""


def glass_of(given: Given) -> Glass:
    """The glass now."""
    fold = given.reports.once("glass", _fold)
    if fold.broken_at is not None:
        return _glass(given, "broken", fold.broken_at, None, "glass broken")
    if fold.doubted_at is not None:
        return _glass(given, "unproved", fold.doubted_at, None, f"glass {fold.words}")
    flat = flat_since(given)
    if flat is not None:
        return _glass(
            given, "flat", flat, fold.reads_from, "equal readings while it should have moved"
        )
    if fold.proved_at is None:
        return Glass("unproved", None, None, fold.reads_from, ())
    hot = had_steam(given, fold.proved_at)
    value: GlassState = "proved hot" if hot else "proved cold"
    return _glass(given, value, fold.proved_at, fold.reads_from, f"glass {PROVED}")


def _glass(
    given: Given, value: GlassState, at: float, reads_from: float | None, words: str
) -> Glass:
    age_s = given.at - at
    return Glass(value, at, age_s, reads_from, (f"{words}, {ago(age_s)}",))


def _fold(log: ReportLog) -> _Fold:
    """What was told of the glass; a broken one ends only by a test after the danger is over, or
    after a new one was put in."""
    broken_at: float | None = None
    proved_at: float | None = None
    doubted_at: float | None = None
    over, words, reads_from = False, "", float("-inf")
    for timed in log:
        report = timed.report
        if report.what == "emergency":
            if report.value == BROKEN:
                broken_at = timed.at if broken_at is None else broken_at
                proved_at, doubted_at, over = None, None, False
            elif report.value == OVER and broken_at is not None:
                over = True
        elif (report.what, report.value) == TROUBLE and broken_at is None:
            proved_at, words = None, "not sure"
            doubted_at = timed.at if doubted_at is None else doubted_at
        elif (report.what, report.value) == SURE_AGAIN and doubted_at is not None:
            reads_from, doubted_at = timed.at, None
        elif report.what == "glass" and isinstance(report.value, str):
            words = report.value
            over = over or words == PUT_IN  # the broken one is no more
            if broken_at is not None and not (over and words in PROVED_BY):
                continue
            spoiled, broken_at = broken_at is not None, None
            if words == PROVED or (words == NEW and not spoiled):
                spoiled = spoiled or doubted_at is not None
                reads_from = timed.at if spoiled else reads_from
                proved_at, doubted_at = timed.at, None
            else:
                proved_at = None
                doubted_at = timed.at if doubted_at is None else doubted_at
    return _Fold(broken_at, proved_at, doubted_at, reads_from, words)
