"""Whether the gauge glass is proved, broken or flat. Pure."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal

from assistant.messages import Report
from assistant.picture.flat_glass import stillness
from assistant.picture.given import Given
from assistant.picture.glass_history import (
    EMPTY,
    NEW,
    PROVED,
    PROVED_BY,
    SURE_AGAIN,
    TROUBLE,
    GlassHistory,
    glass_history,
)
from assistant.picture.part import ago
from assistant.picture.report_log import ReportLog
from assistant.picture.steam import had_steam

GlassState = Literal["unproved", "proved cold", "proved hot", "flat", "broken"]

TEST_S = 30.0  # a test said twice within this is one. Judgement
PUT_IN = "new"  # a new glass, not proved yet
BROKEN, OVER = "glass broken", "over"
COCKS_SHUT = Report("glass cocks", "shut")
AT_THE_COCKS = Report("try cocks", "show water")


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
    risen: str = ""
    """The figures of a rise that no heat explains, where one puts it in doubt."""
    compares_from: float = float("-inf")
    """Levels called before this are not compared with later ones [s]."""
    cocks_shut: bool = False
    """Whether it is broken, and its cocks were told to be shut since."""
    tried_at: float | None = None
    """When it was broken, or new, and water was last told of at the try cocks [s]."""
    emptied_at: float | None = None
    """When it stayed empty, blown through, and has not been proved since [s]: the level called
    before is disproved."""
    failed_again_at: float | None = None
    """When it failed a second test in a row [s]: it is not the calling."""
    stays_empty: bool = False
    """Whether that is the last that was told of it."""
    stands: bool = False
    """Whether the level was called again, not a calling step away, and it was not blown through
    since."""
    put_in_at: float | None = None
    """When another was put in for a broken one, not proved since [s]."""


@dataclass(frozen=True, slots=True)
class _Fold:
    broken_at: float | None = None
    cocks_shut: bool = False
    tried_at: float | None = None
    proved_at: float | None = None
    doubted_at: float | None = None
    """When it first failed its test, or was put in new and is to be proved."""
    reads_from: float = float("-inf")
    words: str = ""
    emptied_at: float | None = None
    failed_again_at: float | None = None
    put_in_at: float | None = None


def glass_of(given: Given) -> Glass:
    """The glass now."""
    history = glass_history(given)
    fold = given.reports.once("glass", _fold)
    return replace(
        _state(given, history),
        compares_from=history.compares_from,
        emptied_at=fold.emptied_at,
        failed_again_at=fold.failed_again_at if fold.doubted_at is not None else None,
        stands=stillness(given).stands,
        stays_empty=fold.emptied_at is not None and fold.words == EMPTY,
    )


def _state(given: Given, history: GlassHistory) -> Glass:
    fold = given.reports.once("glass", _fold)
    if fold.broken_at is not None:
        found = _glass(given, "broken", fold.broken_at, None, "glass broken")
        return replace(found, cocks_shut=fold.cocks_shut, tried_at=fold.tried_at)
    if fold.doubted_at is not None:
        found = _glass(given, "unproved", fold.doubted_at, None, f"glass {fold.words}")
        return replace(found, put_in_at=fold.put_in_at, tried_at=fold.tried_at)
    if history.risen_since is not None:
        glass = _glass(given, "unproved", history.risen_since, None, history.words)
        return replace(glass, risen=history.words)
    reads_from = max(fold.reads_from, history.proved_after)
    flat = stillness(given).flat_since
    if flat is not None:
        return _glass(given, "flat", flat, reads_from, "equal readings while it should have moved")
    if fold.proved_at is None:
        return Glass("unproved", None, None, reads_from, ())
    hot = had_steam(given, fold.proved_at)
    value: GlassState = "proved hot" if hot else "proved cold"
    return _glass(given, value, fold.proved_at, reads_from, f"glass {PROVED}")


def _glass(
    given: Given, value: GlassState, at: float, reads_from: float | None, words: str
) -> Glass:
    age_s = given.at - at
    return Glass(value, at, age_s, reads_from, (f"{words}, {ago(age_s)}",))


def _fold(log: ReportLog) -> _Fold:
    """What was told of the glass; a broken one ends by a test once the danger is over, or a new
    one was put in.

    The test may come before: nothing comes back in a broken glass, so it is of a new one.
    """
    broken_at: float | None = None
    proved_at: float | None = None
    doubted_at: float | None = None
    tested_at: float | None = None
    tried_at: float | None = None
    emptied_at: float | None = None
    failed_at: float | None = None
    again_at: float | None = None
    put_in_at: float | None = None
    over, shut, words, reads_from = False, False, "", float("-inf")
    for timed in log:
        report = timed.report
        if report.what == "emergency":
            if report.value == BROKEN:
                broken_at = timed.at if broken_at is None else broken_at
                proved_at, doubted_at, over, tested_at = None, None, False, None
                tried_at, shut, emptied_at = None, False, None
                failed_at, again_at = None, None
            elif report.value == OVER and broken_at is not None:
                over = True
                if tested_at is not None:
                    broken_at, words = None, PROVED
                    proved_at = reads_from = tested_at
        elif report.what == COCKS_SHUT.what:
            shut = report == COCKS_SHUT
            if shut and broken_at is None:  # whatever it shows from then on is no level
                proved_at, words = None, "cocks shut"
                doubted_at = timed.at if doubted_at is None else doubted_at
        elif report.what == AT_THE_COCKS.what:
            tried_at = timed.at if report == AT_THE_COCKS else None
        elif (report.what, report.value) == TROUBLE and broken_at is None:
            proved_at, words = None, "not sure"
            doubted_at = timed.at if doubted_at is None else doubted_at
        elif (report.what, report.value) == SURE_AGAIN and doubted_at is not None:
            reads_from, doubted_at, emptied_at = timed.at, None, None
            failed_at, again_at, put_in_at = None, None, None
        elif report.what == "glass" and isinstance(report.value, str):
            words = report.value
            if words == EMPTY:
                emptied_at = timed.at if emptied_at is None else emptied_at
            elif words in PROVED_BY:
                emptied_at = None
            if words == PUT_IN and broken_at is not None and tested_at is None:
                broken_at, proved_at, doubted_at = None, None, timed.at  # another, to be proved
                put_in_at = timed.at
                continue
            over = over or words == PUT_IN  # the broken one is no more
            if broken_at is not None and not (over and words in PROVED_BY):
                tested_at = timed.at if words == PROVED else None
                continue
            spoiled, broken_at = broken_at is not None, None
            if words == PROVED or (words == NEW and not spoiled):
                spoiled = spoiled or doubted_at is not None
                reads_from = timed.at if spoiled else reads_from
                proved_at, doubted_at = timed.at, None
                failed_at, again_at, put_in_at = None, None, None
            else:
                proved_at = None
                if failed_at is not None and again_at is None and timed.at - failed_at >= TEST_S:
                    again_at = timed.at
                failed_at = timed.at if failed_at is None else failed_at
                doubted_at = timed.at if doubted_at is None else doubted_at
    found = (broken_at, shut, tried_at, proved_at, doubted_at, reads_from, words, emptied_at)
    return _Fold(*found, again_at, put_in_at if doubted_at is not None else None)
