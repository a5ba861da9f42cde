"""Whether the level stands still though expansion, feed or steam taken should have moved it.

Pure.
"""

from __future__ import annotations

from dataclasses import dataclass

from assistant.boiler.figures import Engine
from assistant.messages import Report
from assistant.picture.feed_fold import AFTER_S, Run, feeds_told, ran_between
from assistant.picture.feed_names import delivery_per_s
from assistant.picture.given import Given
from assistant.picture.glass_history import PROVED_BY, SURE_AGAIN
from assistant.picture.least_used import least_used
from assistant.picture.loss import LOOK_BACK_S, most_used
from assistant.picture.readings import Reading, level_step, reading_of
from assistant.picture.report_log import ReportLog

EQUAL = 3  # readings
CLEAR_STEPS = 1.5  # calling steps that it should have moved
GRAIN = 1e-6
STILL = 0.01  # of the glass: readings this near are equal


@dataclass(frozen=True, slots=True)
class Stillness:
    """How the level stands."""

    flat_since: float | None = None
    """From when it stands still though it should have moved [s]; None when it moves, or has not
    had to."""
    stands: bool = False
    """Whether it was called again and is not a calling step away, the glass not blown through."""


def stillness(given: Given) -> Stillness:
    """How the level stands now.

    It ends when the level is called a calling step away, or the glass is blown through.
    """
    return given.reports.once(f"flat {given.long_breaks}", lambda log: _fold(log, given))


def _fold(log: ReportLog, given: Given) -> Stillness:
    step = level_step(log, given.engine)
    runs = feeds_told(given).runs
    equal: list[Reading] = []
    flat: Reading | None = None
    first, stands = None, False
    for timed in log:
        report: Report = timed.report
        told = report.what, str(report.value)
        if told == SURE_AGAIN or (told[0] == "glass" and told[1] in PROVED_BY):
            equal, flat, first, stands = [], None, None, False
        if report.what != "water":
            continue
        reading = reading_of(timed, given.engine)
        if reading is None:
            continue
        if not equal or not _same(equal[-1], reading):
            equal = []
        equal.append(reading)
        stands = first is not None and _same(first, reading, step - GRAIN)
        first = first if stands else reading
        if flat is not None and not _same(flat, reading, step - GRAIN):
            flat = None
        if flat is None and len(equal) >= EQUAL and reading.value is not None:
            near = ran_between(runs, equal[0].at - AFTER_S, reading.at)
            due = _movement_due(log, given, near, equal[0].at, reading.at)
            flat = equal[0] if due >= CLEAR_STEPS * step else _worked(log, given, near, equal, step)
    return Stillness(None if flat is None else flat.at, stands)


def _worked(
    log: ReportLog, given: Given, runs: tuple[Run, ...], equal: list[Reading], step: float
) -> Reading | None:
    """The call, with two more like it, since which the engine at work has taken a calling step of
    water at the least, unfed; None: there is none.
    """
    now = equal[-1].at
    for base in equal[: 1 - EQUAL]:
        if base.at < now - LOOK_BACK_S or ran_between(runs, base.at - AFTER_S, now):
            continue
        used = log.move_once(
            "least used", base.at, now, lambda a, b: least_used(log, given.engine, a, b)
        )
        warmed = given.expansion(base.at, now) if used else 0.0
        if (used or 0.0) - max(warmed or 0.0, 0.0) >= step - GRAIN:
            return base
    return None


def _same(one: Reading, other: Reading, within: float = STILL) -> bool:
    if one.value is None or other.value is None:
        return one.value is other.value
    return abs(one.value - other.value) < within


def _movement_due(
    log: ReportLog, given: Given, runs: tuple[Run, ...], from_s: float, to_s: float
) -> float:
    """By how much the level should have moved between two times at the least, up or down.

    Where the valve blew or the engine worked against a feed, nobody knows which took the more; nor
    what a feed of unknown delivery gave.
    """
    fed = sum(_fed(given.engine, run, from_s, to_s) for run in runs)
    warmed, used = given.expansion(from_s, to_s), given.use(from_s, to_s)
    unused = fed + (warmed or 0.0)
    if any(
        delivery_per_s(given.engine, run.feed) is None and run.running_s(from_s, to_s) > 0.0
        for run in runs
    ):
        return max(unused - max(used or 0.0, most_used(log, given.engine, from_s, to_s)), 0.0)
    if fed <= 0.0 or not _drawn(log, from_s, to_s):
        return abs(unused - (used or 0.0))
    least = unused - most_used(log, given.engine, from_s, to_s)
    return min(abs(unused), abs(least)) if unused * least > 0.0 else 0.0


def _drawn(log: ReportLog, from_s: float, to_s: float) -> bool:
    """Whether the valve blew or the regulator was open in that time."""
    for what, states in (("valve", ("lifting",)), ("regulator", ("open",))):
        told = log.of(what)
        then = [t for t in told if t.at <= from_s][-1:]
        inside = [t for t in told if from_s < t.at <= to_s]
        if any(t.report.value in states for t in (*then, *inside)):
            return True
    return False


def _fed(engine: Engine, run: Run, from_s: float, to_s: float) -> float:
    per_s = delivery_per_s(engine, run.feed)
    return 0.0 if per_s is None else per_s * run.running_s(from_s, to_s)
