"""What the reports say of each feed, followed in their order: runs, words and proofs. Pure."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import Literal

from assistant.messages import Report
from assistant.picture.feed_names import FeedName, delivery_per_s, feed_in, feeds_of
from assistant.picture.feed_proof import (
    GRAIN,
    Proof,
    Window,
    judge,
    lowest_before_a_gain,
    stands_still,
    tells_after_s,
)
from assistant.picture.given import Given
from assistant.picture.readings import Reading, level_step, reading_of
from assistant.picture.report_log import ReportLog, TimedReport
from assistant.procedure.scale import options

BASE_S = 600.0  # a level called longer before the feed began tells nothing of it. Judgement
AFTER_S = 120.0  # a level called so soon after the feed stopped still tells of it. Judgement
BLOWS_S = 300.0  # a valve that lifts and is told of no more has shut again by then. Judgement
SETTLES_S = 120.0  # the level swells as steam is drawn (Astrom & Bell 2000: 90 s)
BASES = 3  # levels that a new one is compared with, to find that it stands still
FailedBy = Literal["", "word", "no gain", "little gain"]
SHOWN = frozenset({"no gain", "little gain"})  # failures by readings, which no word clears
GAINS = frozenset({"gaining", "cool and gaining"})
NONE_WORKS = ("feeds", "none works")
FAILS = frozenset({"hot", "gives no gain"})


@dataclass(frozen=True, slots=True)
class Run:
    """One time that a feed was on."""

    feed: FeedName
    began: float
    ended: float | None = None
    levels: tuple[Reading, ...] = ()
    """Those called for it; the first is where it began."""

    def running_s(self, from_s: float, to_s: float) -> float:
        """For how long of that time it ran [s]."""
        end = to_s if self.ended is None else min(to_s, self.ended)
        return max(end - max(from_s, self.began), 0.0)


def ran_between(runs: tuple[Run, ...], from_s: float, to_s: float) -> tuple[Run, ...]:
    """Those of the runs that were on in some part of that time."""
    return tuple(
        run
        for run in runs
        if run.began < to_s and (run.ended is None or run.ended > max(from_s, run.began))
    )


@dataclass(frozen=True, slots=True)
class Tried:
    """What is known of one feed."""

    taken_at: float | None = None
    """When it was said to work."""
    proved_at: float | None = None
    """When two readings proved it."""
    failed_at: float | None = None
    """When it failed, by word or by two readings."""
    failed_by: FailedBy = ""
    proof: Proof | None = None
    """The outcome of the last reading in its last run; None: no reading yet."""
    words: str = ""
    """The witness for that."""


@dataclass(frozen=True, slots=True)
class FeedsTold:
    """What the reports say of the feeds."""

    feeds: dict[FeedName, Tried] = field(default_factory=dict)
    runs: tuple[Run, ...] = ()
    may_run_since: float | None = None
    """From when a feed was told to run that may be another than the pump, which then stood with the
    engine [s]; None: there is none."""


def feeds_told(given: Given) -> FeedsTold:
    """The feeds by the reports so far. A run or success before a long break is forgotten."""
    return given.reports.once(f"feeds {given.long_breaks}", lambda log: _fold(log, given))


def _fold(log: ReportLog, given: Given) -> FeedsTold:
    following = _Following(given, level_step(log, given.engine))
    breaks = list(given.long_breaks)
    for timed in log:
        while breaks and timed.at > breaks[0]:
            following.forget(breaks.pop(0))
        following.hear(timed.report, timed.at)
        if timed.report.what == "water":
            reading = reading_of(timed, given.engine)
            following.level_called(reading)
    for began in breaks:
        following.forget(began)
    return FeedsTold(following.feeds, tuple(following.runs), following.may_run_since)


class _Following:
    """The feeds as far as the reports have come."""

    def __init__(self, given: Given, step: float) -> None:
        self._given, self._step = given, step
        self._fitted = feeds_of(given.engine)
        self.feeds: dict[FeedName, Tried] = dict.fromkeys(self._fitted, Tried())
        self.runs: list[Run] = []
        self._last: FeedName | None = None
        self._level: Reading | None = None
        self._standing = False  # the regulator is shut
        self._drawn = False  # the regulator is open
        self._geared = "geared pump" in options(given.engine)
        self._halted = False  # the pump is on, and stands with the engine
        self._unnamed = False  # what runs was told without the name of its feed
        self.may_run_since: float | None = None
        self._blew_until = float("-inf")  # the level swells while the valve lifts
        self._gauge_pa: float | None = None

    def hear(self, report: Report, at: float) -> None:
        """The next report."""
        if report.what == "valve":
            self._valve_told(report.value == "lifting", at)
            return
        if report.what == "regulator":
            self._regulator_told(report.value == "open", at)
            return
        if report.what == "pressure":
            called = reading_of(TimedReport(report, at), self._given.engine)
            self._gauge_pa = None if called is None else called.value
            return
        if (report.what, report.value) == NONE_WORKS:
            for fitted in self._fitted:
                self._say(fitted, at, "no feed works", works=False)
            return
        feed = feed_in(report, self._fitted, self._last, self._standing)
        if feed is None:
            return
        state = report.value
        if report.what in ("bypass", "feed"):
            self._halted = self._halted and feed != "pump"
            self._unnamed, self.may_run_since = report.what == "feed", None
            if (report.what, state) in (("bypass", "shut"), ("feed", "on")):
                self._last = feed
                self._begin(feed, at)
            else:
                self._end(feed, at)
            return
        self._judged_by_word(feed, report, at)

    def _judged_by_word(self, feed: FeedName, report: Report, at: float) -> None:
        words = f"{report.what} {report.value}"
        match report.what:
            case "injector" | "hand pump":
                self._last = feed
                self._say(feed, at, words, works=report.value == "works")
                if report.value == "fails":  # it knocks off, or nobody goes on pumping
                    self._end(feed, at)
            case "delivery" | "pipe" if report.value in FAILS:
                self._say(feed, at, words, works=False)
            case "delivery" if report.value in GAINS:
                self._say(feed, at, words, works=True)
            case "feed test" if report.value == "done today":
                self._say(feed, at, words, works=True)
            case "cure":
                self._say(feed, at, f"{feed} trouble", works=False)
            case "pump trouble" | "injector trouble":
                self._say(feed, at, words, works=report.value == "cured")

    def level_called(self, level: Reading | None) -> None:
        """The next reading of the glass."""
        self._level = level
        for i, run in enumerate(self.runs):
            if level is None or (run.ended is not None and level.at > run.ended + AFTER_S):
                continue
            if level.value is None:  # nothing can be told from across that
                self.runs[i] = replace(run, levels=())
                continue
            run = replace(run, levels=self._settled(run.levels, level))
            run = self._from_where_it_gained(run, level)
            failed = bool(run.levels) and self._prove(run, level) == "no"
            # after a failure the gain counts anew: the bypass may have been shut since
            self.runs[i] = replace(run, levels=(level,) if failed else (*run.levels, level))

    def _settled(self, levels: tuple[Reading, ...], now: Reading) -> tuple[Reading, ...]:
        """The levels without those of a swell that is over by now: they are no beginning."""
        if now.at <= self._blew_until:
            return levels
        return tuple(level for level in levels if level.at > self._blew_until)

    def _from_where_it_gained(self, run: Run, level: Reading) -> Run:
        """The run from its lowest level on, once readings with the feed on show a gain from there.

        That ends a failure that earlier readings of the run showed: the bypass may have been shut
        since, a valve may have seated.
        """
        low = lowest_before_a_gain(run.levels, level, self._step, self._given.expansion)
        if low is None or (low < 1 and self.feeds[run.feed].failed_by not in SHOWN):
            return run
        tried = self.feeds[run.feed]
        if tried.failed_by in SHOWN:
            words = f"water {run.levels[low].value:.2f} then {level.value:.2f}: it gains"
            tried = Tried(level.at, None, None, "", "not yet", words)
            self.feeds[run.feed] = tried
        return replace(run, levels=run.levels[low:])

    def forget(self, at: float) -> None:
        """A long break began: nothing runs any more that is known, and no success is left."""
        for feed in list(self.feeds):
            self._end(feed, at)
            tried = self.feeds[feed]
            self.feeds[feed] = tried if tried.failed_at is not None else Tried()
        self._level = self._last = None
        self._standing = self._halted = False
        self.may_run_since = None

    def _valve_told(self, lifting: bool, at: float) -> None:
        self._blew_until = at + BLOWS_S if lifting else min(self._blew_until, at)

    def _regulator_told(self, is_open: bool, at: float) -> None:
        """A geared pump stops and goes on with the engine; the level falls back from its swell."""
        if is_open or self._drawn:
            self._blew_until = max(self._blew_until, at + SETTLES_S)
        self._drawn = is_open
        self._standing = not is_open
        if not self._geared:
            return
        running = any(run.feed == "pump" and run.ended is None for run in self.runs)
        if is_open and self._halted:
            self._begin("pump", at)
            self._halted = False
        elif not is_open and running:
            if self._unnamed and len(self._fitted) > 1:
                began = (r.began for r in self.runs if r.feed == "pump" and r.ended is None)
                self.may_run_since = next(began)
            self._end("pump", at)
            self._halted = True

    def _begin(self, feed: FeedName, at: float) -> None:
        if any(run.feed == feed and run.ended is None for run in self.runs):
            return
        level = self._level
        near = level is not None and level.value is not None and at - level.at <= BASE_S
        self.runs.append(Run(feed, at, None, (level,) if level is not None and near else ()))
        self.feeds[feed] = replace(self.feeds.get(feed, Tried()), proof=None)

    def _end(self, feed: FeedName, at: float) -> None:
        for i, run in enumerate(self.runs):
            if run.feed == feed and run.ended is None:
                self.runs[i] = replace(run, ended=at)

    def _say(self, feed: FeedName, at: float, words: str, works: bool) -> None:
        """A word: it never clears a failure that two readings showed."""
        tried = self.feeds.get(feed, Tried())
        if not works and self._too_soon(feed):
            return
        if not works:
            shown = tried.failed_by in SHOWN
            tried = replace(
                tried,
                failed_at=at,
                proved_at=None,
                words=words,
                failed_by=tried.failed_by if shown else "word",
            )
        elif tried.failed_by not in SHOWN:
            words = tried.words if tried.proved_at is not None else words
            tried = replace(tried, taken_at=at, failed_at=None, failed_by="", words=words)
        self.feeds[feed] = tried

    def _too_soon(self, feed: FeedName) -> bool:
        """Whether the pressure is below that from which the injector starts at all."""
        starts_pa = self._given.engine.injector_starts_gauge_pa
        return feed == "injector" and self._gauge_pa is not None and self._gauge_pa < starts_pa

    def _prove(self, run: Run, level: Reading) -> Proof | None:
        """What the readings of a run say of its feed, with one reading more."""
        first = run.levels[0]
        alone = all(r.feed == run.feed for r in self._runs_since(first.at))
        tried = self.feeds.get(run.feed, Tried())
        proof = tried.proof if tried.proof == "yes" else self._judged(run, level, alone)
        base = self._stood_still(run, level)
        if base is not None:
            first, proof = base, "no"
        elif proof == tried.proof == "yes":
            return proof
        if proof == "no" and self._too_soon(run.feed):
            proof = "not yet"
        words = f"water {first.value:.2f} then {level.value:.2f} in {level.at - first.at:.0f} s"
        match proof:
            case "yes":
                tried = Tried(tried.taken_at, level.at, None, "", proof, words)
            case "no":
                gained = (level.value or 0.0) > (first.value or 0.0) + GRAIN
                by: FailedBy = "little gain" if gained else "no gain"
                tried = Tried(tried.taken_at, None, level.at, by, proof, words)
            case _:
                tried = replace(tried, proof=proof)
        self.feeds[run.feed] = tried
        return proof

    def _runs_since(self, at: float) -> list[Run]:
        """The runs that had not ended by then."""
        return [run for run in self.runs if run.ended is None or run.ended > at]

    def _judged(self, run: Run, level: Reading, alone: bool) -> Proof:
        first = run.levels[0]
        if not alone or first.at <= self._blew_until:
            return "not yet"
        return judge(self._window(run, first, level))

    def _stood_still(self, run: Run, level: Reading) -> Reading | None:
        """The last level that is no lower, though the feed has run for long enough since."""
        after_s = tells_after_s(self._step, delivery_per_s(self._given.engine, run.feed))
        tried = 0
        for base in reversed(run.levels):
            if base.at <= self._blew_until or tried == BASES:
                return None
            if run.running_s(base.at, level.at) < after_s * (1.0 - 1e-9):
                continue
            tried += 1
            fallen = (level.value or 0.0) <= (base.value or 0.0)
            if fallen and stands_still(self._window(run, base, level)):
                return base
        return None

    def _window(self, run: Run, base: Reading, level: Reading) -> Window:
        given, runs = self._given, self._runs_since(base.at)
        return Window(
            (level.value or 0.0) - (base.value or 0.0),
            sum(r.running_s(base.at, level.at) for r in runs if r.feed == run.feed),
            given.expansion(base.at, level.at),
            given.use(base.at, level.at) or 0.0,
            self._step,
            delivery_per_s(given.engine, run.feed),
        )
