"""Whether the glass falls by more than steam can take at most. Pure; by reports and file alone.

The belief weighs likely uses; here stands the bound of a careful person: what cannot be steam is a
loss, whatever else is believed. Knows no alarm.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise

from assistant.boiler.figures import Engine
from assistant.boiler.scales import LITRE_M3
from assistant.boiler.steam import EVAPORATION_J_PER_KG
from assistant.picture.feed_fold import Run, feeds_told, ran_between
from assistant.picture.given import Given
from assistant.picture.glass_history import glass_history
from assistant.picture.let_out import let_out_until
from assistant.picture.readings import EIGHTH, Reading, pressures, waters
from assistant.picture.report_log import ReportLog
from assistant.picture.slope import sloped_until
from assistant.procedure.scale import glass_litres

PRIMING = "priming"
LOOK_BACK_S = 2400.0  # levels older than this are not compared. Judgement
UNWATCHED_S = 600.0  # a gap between reports in which the valve may have blown untold. Judgement
GRAIN = 1e-3  # a fall of an eighth, whatever the levels were called in
ROUNDED = 0.125  # what two levels called in eighths may be wrong by together
COOLED = 0.125  # of working pressure: a fall of the gauge that shrinks the water. Judgement
KG_PER_M3 = 950.0
# The most that is taken, in parts of the evaporation at full fire; judgement. Standing has the
# blower at a crack and a valve that simmers untold; an engine at work takes all that a full fire
# makes; so does a valve that lifts, and for a while what the hot water gives besides.
STANDING = 0.2
PARTS = {
    ("regulator", "open"): 1.0,
    ("valve", "feathering"): 0.3,
    ("valve", "lifting"): 2.0,
}


@dataclass(frozen=True, slots=True)
class Loss:
    """A fall of the glass that steam cannot explain, shown by two looks."""

    since: float
    """The first look that showed it [s]."""
    before: float
    """The level from which it fell [of the glass]."""
    level: float
    """The level last called [of the glass]."""
    most_used: float
    """What steam may have taken at most [of the glass]."""


@dataclass(frozen=True, slots=True)
class _Shown:
    at: float
    level: float
    before: float
    most_used: float
    bases: int
    """How many levels called before show it."""


def loss_of(given: Given) -> Loss | None:
    """The loss that the last looks at the glass show; None: they show none.

    Two looks lower and lower, or a level that two earlier ones contradict: one that was misread
    is no loss, unless the look before it was lower, too.
    """
    if glass_history(given).risen_since is not None:
        return None  # what falls then was no level before
    looks = given.reports.once(f"loss {given.long_breaks}", lambda log: _last_looks(log, given))
    first, last = looks if len(looks) == 2 else (None, None)
    if last is None:
        return None
    if first is None:
        falling = last.bases >= 2 and _falls_twice(waters(given.reports, given.engine))
        return Loss(last.at, last.before, last.level, last.most_used) if falling else None
    if last.level >= first.level and last.bases < 2:
        return None
    return Loss(first.at, last.before, last.level, last.most_used)


def _falls_twice(called: tuple[Reading, ...]) -> bool:
    """Whether each of the last two levels was called an eighth or more below the one before."""
    levels = [reading.value for reading in called[-3:]]
    return len(levels) == 3 and all(
        before is not None and now is not None and before - now >= EIGHTH - GRAIN
        for before, now in pairwise(levels)
    )


def _last_looks(log: ReportLog, given: Given) -> list[_Shown | None]:
    """The last two levels called, each with what it shows."""
    called, runs = waters(log, given.engine), feeds_told(given).runs
    return [
        _shown(log, given, runs, called[: place + 1])
        for place in range(max(len(called) - 2, 0), len(called))
    ]


def _shown(
    log: ReportLog, given: Given, runs: tuple[Run, ...], called: tuple[Reading, ...]
) -> _Shown | None:
    """Steam that carries water over takes more: what was called before it is not compared."""
    engine, now = given.engine, called[-1]
    if now.value is None or not engine.fire_rate_w:
        return None
    from_s = max(_watched_since(log, given, now.at), now.at - LOOK_BACK_S)
    from_s = max(from_s, _went_over_at(log, now.at), glass_history(given).compares_from)
    from_s = max(from_s, let_out_until(log), sloped_until(log))
    near = ran_between(runs, from_s, now.at)
    found = [
        (before.value, used)
        for before in called[:-1]
        if before.value is not None
        and from_s <= before.at <= now.at - 60.0
        and not ran_between(near, before.at, now.at)
        and not _cooled(log, engine, before.at, now.at)
        and before.value - now.value >= EIGHTH - GRAIN
        and before.value - now.value > (used := most_used(log, engine, before.at, now.at)) + ROUNDED
    ]
    if not found:
        return None
    before_level, used = max(found, key=lambda each: each[0] - each[1])
    return _Shown(now.at, now.value, before_level, used, len(found))


def _watched_since(log: ReportLog, given: Given, at: float) -> float:
    """From when on reports came one after another."""
    times = [timed.at for timed in log if timed.at <= at]
    gaps = [later for earlier, later in pairwise(times) if later - earlier > UNWATCHED_S]
    return max([given.forgotten_at, *gaps[-1:]])


def _went_over_at(log: ReportLog, at: float) -> float:
    """When water was last told to go over with the steam [s]: how much, nobody knows."""
    calls = (t.at for t in log.of("cure") if t.report.value == PRIMING)
    answers = (t.at for t in log.of(PRIMING))
    return max((told for told in (*calls, *answers) if told <= at), default=-math.inf)


def _cooled(log: ReportLog, engine: Engine, from_s: float, to_s: float) -> bool:
    """Whether the water may have shrunk; so too where the gauge was not called."""
    called = pressures(log, engine)
    first = next((r.value for r in reversed(called) if r.at <= from_s), None)
    last = next((r.value for r in reversed(called) if r.at <= to_s), None)
    if first is None or last is None:
        return True
    return last < first - COOLED * engine.working_pressure_gauge_pa


def most_used(log: ReportLog, engine: Engine, from_s: float, to_s: float) -> float:
    """What steam may have taken at most between two times [of the glass]."""
    full_s = STANDING * (to_s - from_s) + sum(
        part * _seconds_of(log, what, value, from_s, to_s) for (what, value), part in PARTS.items()
    )
    return full_s * boiled_per_s(engine, KG_PER_M3)


def boiled_per_s(engine: Engine, kg_per_m3: float) -> float:
    """What a full fire boils away [of the glass in a second], of water of that density; infinite
    where the file tells no rate of the fire.
    """
    glass_kg = glass_litres(engine) * LITRE_M3 * kg_per_m3
    return (engine.fire_rate_w or math.inf) / EVAPORATION_J_PER_KG / glass_kg


def _seconds_of(log: ReportLog, what: str, value: str, from_s: float, to_s: float) -> float:
    """For how long between two times it was told to be so [s]."""
    told = [(timed.at, timed.report.value) for timed in log.of(what)]
    ends = [*(at for at, _ in told[1:]), math.inf] if told else []
    return sum(
        max(min(end, to_s) - max(at, from_s), 0.0)
        for (at, state), end in zip(told, ends, strict=True)
        if state == value
    )
