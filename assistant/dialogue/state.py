"""What the session knows at one moment: a value, replaced as a whole by each event."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any, TypeVar

from assistant.alarms.watch import Watch
from assistant.belief.estimate import Belief
from assistant.dialogue.estimates import LazyEstimates
from assistant.dialogue.wake_state import WakeState
from assistant.messages import Expected, ForecastMade, Meaning, Report
from assistant.procedure.checklist import Phase
from assistant.procedure.position import Progress
from assistant.understanding.retries import Evidence

_Result = TypeVar("_Result")


@dataclass(frozen=True, slots=True)
class TimedReport:
    """A report that stands, when it was said, and how far the list had come just before it."""

    report: Report
    at: float
    progress_before: Progress


class ReportLog(tuple[TimedReport, ...]):
    """The reports that stand, in order; asked for by subject at every tick, so sorted only once."""

    @cached_property
    def _by_subject(self) -> dict[str, tuple[TimedReport, ...]]:
        found: dict[str, list[TimedReport]] = {}
        for seen in self:
            found.setdefault(seen.report.what, []).append(seen)
        return {what: tuple(several) for what, several in found.items()}

    @property
    def subjects(self) -> Collection[str]:
        """What the reports are of, in the order they were first told."""
        return self._by_subject.keys()

    def of(self, what: str) -> tuple[TimedReport, ...]:
        """The reports of one thing, in order."""
        return self._by_subject.get(what, ())

    def and_one(self, seen: TimedReport) -> ReportLog:
        """These and one more; what follows from the reports of other things stays."""
        what, told = seen.report.what, ReportLog((*self, seen))
        vars(told)["_by_subject"] = {**self._by_subject, what: (*self.of(what), seen)}
        vars(told)["_worked_of"] = {k: v for k, v in self._worked_of.items() if k != what}
        return told

    @cached_property
    def _worked_of(self) -> dict[str, Any]:
        return {}

    def once_of(self, what: str, work: Callable[[tuple[TimedReport, ...]], _Result]) -> _Result:
        """What follows from the reports of one thing (and one engine), worked out once."""
        if what not in self._worked_of:
            self._worked_of[what] = work(self.of(what))
        found: _Result = self._worked_of[what]
        return found

    @cached_property
    def _worked(self) -> dict[str, Any]:
        return {}

    def once(self, name: str, work: Callable[[ReportLog], _Result]) -> _Result:
        """What follows from these reports (and one engine), worked out once under its name."""
        if name not in self._worked:
            self._worked[name] = work(self)
        found: _Result = self._worked[name]
        return found

    @cached_property
    def lit_at(self) -> float | None:
        """When the fire was lit last."""
        return next((s.at for s in reversed(self.of("fire")) if s.report.value == "lit"), None)


@dataclass(frozen=True, slots=True)
class Doubt:
    """Something put back as a question; it counts only after a yes.

    rival: the other half of "one five, or five zero?"; then a yes says nothing.
    again: asked about a second time.
    """

    meaning: Meaning
    reason: str
    asked_at: float
    rival: Meaning | None = None
    again: bool = False


@dataclass(frozen=True)
class SessionState:
    """The whole state of a session.

    at: seconds since the start, at the last event that was thought through. dial: the unit
    pressures are called in. phase, progress: the list in hand. seen: every report that stands, in
    order. asking: the reading that was asked for outside a step, if any. misses: utterances in a
    row that were not understood; evidence: what they were heard as. denied, denied_at: what was
    called wrong last, and when.
    said: the last sentence, for "say again". asked_at, asked_times: when and
    how often the step in hand was put; asked_since: when it was put first. asking_at,
    asking_times, asking_since: the same of `asking`.
    quiet_until: the operator asked for quiet. heard_at: when the operator was last understood.
    resumed_at: when the session went on after its last break.
    valve_told_at: when it was last said that the valve lifts again.
    feed_judged: when the feed began whose gain was judged last.
    come_back: an alarm was told, or there was a break: where we are is to be said; away_s: how long
    the break was.
    forecast_at, trend_told: what was told last; trend: of the last glass. plan_at: when working
    pressure was first expected, and plan_within_s: how far off that may be by its own band.
    first_steam_by: when the gauge should have moved at the latest, as expected at the lighting.
    warm_since: a warm engine was taken over then. parked: the list that a cure interrupted.
    outlook: what was believed at believed_at. lost: devices that do not work.
    fault_at: when a fault of ours was told. noting: the next words are a note. attention: to whom
    we listen, where the wake phrase is wanted. why: the numbers behind what was told.
    """

    belief: Belief
    progress: Progress
    watch: Watch
    phase: Phase
    at: float = 0.0
    dial: str = "psi"
    expected: Expected = field(default_factory=Expected)
    doubt: Doubt | None = None
    seen: ReportLog = field(default_factory=ReportLog)
    asking: str | None = None
    asking_at: float = 0.0
    asking_times: int = 0
    asking_since: float = 0.0
    misses: int = 0
    evidence: Evidence | None = None
    denied: tuple[Report, ...] = ()
    denied_at: float = 0.0
    said: str = ""
    asked_at: float = 0.0
    asked_times: int = 0
    asked_since: float = 0.0
    offered: str | None = None
    quiet_until: float = 0.0
    heard_at: float = 0.0
    resumed_at: float | None = None
    valve_told_at: float = float("-inf")
    feed_judged: float | None = None
    come_back: bool = False
    away_s: float = 0.0
    forecast: ForecastMade | None = None
    forecast_at: float = float("-inf")
    trend: tuple[str, str] | None = None
    trend_told: tuple[str, str] | None = None
    plan_at: float | None = None
    plan_within_s: float = 0.0
    first_steam_by: float | None = None
    warm_since: float | None = None
    parked: tuple[Progress, ...] = ()
    believed_at: float = float("-inf")
    outlook: LazyEstimates = field(default_factory=LazyEstimates)
    why: str = ""
    lost: frozenset[str] = frozenset()
    fault_at: float = float("-inf")
    noting: bool = False
    attention: WakeState | None = None
    over: bool = False

    def changed(self, changes: Mapping[str, Any]) -> SessionState:
        """This mind with some fields changed; `replace` would go through all of them every time."""
        other = object.__new__(SessionState)
        vars(other).update(vars(self))
        vars(other).update(changes)
        return other

    def latest(self, what: str) -> TimedReport | None:
        """The last report of one thing, if any."""
        told = self.seen.of(what)
        return told[-1] if told else None

    def latest_is(self, what: str, value: str) -> bool:
        """Whether the last report of a thing was this state."""
        seen = self.latest(what)
        return seen is not None and seen.report.value == value

    @property
    def lit_at(self) -> float | None:
        """When the fire was lit last."""
        return self.seen.lit_at

    @property
    def fire_in(self) -> bool:
        """Whether the fire has been lit and not drawn since."""
        fire = self.latest("fire")
        return fire is not None and fire.report.value not in ("drawn",)
