"""From when on levels of the glass may be compared, and whether one has risen as no heat lifts it.

Pure; by reports and file alone. Unfed water rises by expansion only: what rises by more is a false
level, most often with the top cock left shut after blowing through.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field

from assistant.boiler.glass import shown_for, water_shown_kg
from assistant.boiler.vessel import boiling_k
from assistant.messages import OUT_OF_SIGHT
from assistant.picture.feed_fold import AFTER_S, Run, feeds_told, ran_between
from assistant.picture.feed_names import feeds_of
from assistant.picture.given import Given
from assistant.picture.heat import Heat
from assistant.picture.readings import Reading, level_step, pressures, reading_of
from assistant.picture.report_log import ReportLog, TimedReport, began_warm
from assistant.picture.still_gauge import still_since

PROVED = "comes back at once"
EMPTY = "stays empty"
NEW = "new glass proved"
PROVED_BY = frozenset({PROVED, NEW})  # reports of the glass that prove it
TROUBLE = ("cure", "glass_trouble")  # told that it does not move, or cannot be seen through
SURE_AGAIN = ("glass trouble", "cured")
BROKEN = ("emergency", "glass broken")
LOOK_BACK_S = 2400.0  # levels older than this are not compared. Judgement
UNWATCHED_S = 600.0  # a gap between reports in which she may have been fed untold. Judgement
SETTLES_S = 120.0  # the level swells when steam is taken (Astrom & Bell 2000: 90 s)
ROUNDED, UNSURE = 0.125, 0.05  # of two levels called in eighths together; of the bound. Judgement
CALLED_S = 300.0  # a gauge called longer ago says nothing of the heat now. Judgement
PIN = 0.015  # of working pressure: below it the needle has not left its pin
FULL = 0.97  # of the glass: such a level is no level until it is proved
COLD_K = 278.15
SWELLS = frozenset({"regulator", "priming"})
FEED_WORDS = frozenset({"delivery", "feed test", "filled", "feeds"})


@dataclass(frozen=True, slots=True)
class GlassHistory:
    """What the levels called so far are worth beside each other."""

    risen_since: float | None = None
    """From when a level stands that has risen by more than heat explains [s]; None: none does."""
    proved_after: float = -math.inf
    """When the glass was proved after such a rise, or after it was full [s]: what it showed before
    is no level."""
    compares_from: float = -math.inf
    """From when levels may be compared: it was in doubt, and was proved then [s]."""
    words: str = ""
    """The figures of the rise."""


def glass_history(given: Given) -> GlassHistory:
    """What is to be said of the levels called so far."""
    return given.reports.once(f"glass history {given.long_breaks}", lambda log: _fold(log, given))


def _fold(log: ReportLog, given: Given) -> GlassHistory:
    following = _Following(given, feeds_told(given).runs, level_step(log, given.engine))
    breaks = list(given.long_breaks)
    for timed in log:
        while breaks and timed.at > breaks[0]:
            following.start_again(breaks.pop(0))
        following.hear(timed)
    return GlassHistory(
        following.risen_since, following.proved_after, following.compares_from, following.words
    )


@dataclass
class _Following:
    """The glass as far as the reports have come."""

    given: Given
    runs: tuple[Run, ...]
    step: float
    """In which levels are called."""
    risen_since: float | None = None
    proved_after: float = -math.inf
    compares_from: float = -math.inf
    words: str = ""
    levels: list[Reading] = field(default_factory=list)
    """The last one, and those before it that are young enough to be compared."""
    from_s: float = -math.inf
    """Levels called before this are not compared with later ones."""
    shown: float | None = None
    """The last look, where it showed a rise."""
    trusted: bool = False
    last_at: float = 0.0

    def __post_init__(self) -> None:
        self.heat = Heat(self.given.engine, began_warm(self.given.reports, self.given.warm_since))
        self.fitted = frozenset(feeds_of(self.given.engine)) | FEED_WORDS

    def start_again(self, at: float) -> None:
        """Levels called up to now are not compared with later ones."""
        self.from_s, self.shown = max(self.from_s, at), None

    def hear(self, timed: TimedReport) -> None:
        """The next report."""
        report, at = timed.report, timed.at
        told = report.what, str(report.value)
        self.heat.hear(report)
        if at - self.last_at > UNWATCHED_S or not self.heat.hot:
            self.start_again(at)
        self.last_at = at
        if report.what == "water":
            reading = reading_of(timed, self.given.engine)
            if report.value == OUT_OF_SIGHT or reading is None:
                self.start_again(at)
            else:
                self._called(reading)
        elif report.what in SWELLS or told in (("valve", "lifting"), ("cure", "priming")):
            self.start_again(at + SETTLES_S)
        elif report.what in self.fitted:
            self.start_again(at)
        elif report.what == "glass" or told in (TROUBLE, SURE_AGAIN, BROKEN):
            self._glass_told(told, at)

    def _glass_told(self, told: tuple[str, str], at: float) -> None:
        proved = told == SURE_AGAIN or (told[0] == "glass" and told[1] in PROVED_BY)
        full = bool(self.levels) and (self.levels[-1].value or 0.0) >= FULL
        doubted = self.risen_since is not None or self.shown is not None
        if proved and (doubted or not self.trusted or full):
            false = self.risen_since is not None or full
            self.proved_after = at if false else self.proved_after
            self.compares_from, self.risen_since = at, None
            self.start_again(at)
        self.trusted = proved

    def _called(self, now: Reading) -> None:
        bases = [(b, most) for b in self.levels if (most := self._shows(b, now)) is not None]
        before = self.levels[-1].value or 0.0 if self.levels else 1.0
        rises = (now.value or 0.0) - before >= 0.5 * ROUNDED - 1e-6
        borne_out = bases and self.shown is not None and (rises or len(bases) > 1)
        if self.risen_since is None and borne_out:
            base, most = bases[-1]
            self.risen_since = self.shown
            self.words = f"water {base.value:.2f} to {now.value:.2f}, heat lifts it {most:.2f}"
        self.shown = now.at if bases else None
        oldest = max(self.from_s, now.at - LOOK_BACK_S)
        self.levels = [*(base for base in self.levels if base.at >= oldest), now]

    def _shows(self, base: Reading, now: Reading) -> float | None:
        """The most that heat can have lifted it since, where it has risen by more; else None."""
        if base.value is None or now.value is None:
            return None
        if base.at < max(self.from_s, now.at - LOOK_BACK_S):  # the last may be older
            return None
        risen = now.value - base.value - max(ROUNDED, self.step) - UNSURE
        if risen <= 0.0 or ran_between(self.runs, base.at - AFTER_S, now.at):
            return None
        most = self._most(base, now)
        return most if risen > most else None

    def _most(self, base: Reading, now: Reading) -> float:
        """By how much heat may have lifted the level at most [of the glass]."""
        engine, level = self.given.engine, base.value or 0.0
        low_k, high_k = self._heat(base.at, now.at)
        kg = water_shown_kg(engine, level, low_k)
        return max(shown_for(engine, kg, high_k) - level, 0.0)

    def _heat(self, from_s: float, to_s: float) -> tuple[float, float]:
        """The least that the water may have had then, and the most that it may have now [K].

        A gauge that has not moved, or stands, or was not called, leaves everything up to the lift.
        """
        engine = self.given.engine
        called = [r for r in pressures(self.given.reports, engine) if r.at <= to_s]
        before = [r for r in called if r.at <= from_s][-1:]
        since = [*before, *(r for r in called if r.at > from_s)]
        values = [r.value or 0.0 for r in since]
        low_k = COLD_K
        if before and values[0] > PIN * engine.working_pressure_gauge_pa:
            low_k = boiling_k(min(values), engine.atmosphere_pa)
        told = bool(since) and to_s - since[-1].at <= CALLED_S and self._gauge_tells(values)
        high_pa = max(values) if told else engine.valve_lifts_gauge_pa
        return low_k, max(boiling_k(high_pa, engine.atmosphere_pa), low_k)

    def _gauge_tells(self, values: list[float]) -> bool:
        moved = values[-1] > PIN * self.given.engine.working_pressure_gauge_pa
        return moved and still_since(self.given) is None and self.given.conflict is None
