"""The state of a session at one moment: one value, replaced as a whole by each event."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from assistant.alarms.watch import Watch
from assistant.belief.estimate import Belief
from assistant.dialogue.estimates import LazyEstimates
from assistant.dialogue.wake_state import WakeState
from assistant.messages import Expected, ForecastMade, Meaning, Report
from assistant.picture.report_log import ReportLog, TimedReport
from assistant.procedure.checklist import Phase
from assistant.procedure.position import Progress
from assistant.understanding.retries import Evidence


@dataclass(frozen=True, slots=True)
class Doubt:
    """A meaning read back as a question; it counts only after a yes."""

    meaning: Meaning
    reason: str
    asked_at: float
    rival: Meaning | None = None
    """The other half of "one five, or five zero?"; a yes does not answer that."""
    again: bool = False
    """Whether the question was put a second time."""


@dataclass(frozen=True, slots=True)
class PlateQuestion:
    """The question at the start whether the engine file is this engine's."""

    phase: str
    """The phase in which it was asked."""
    floor_until: float
    """Until when a plain yes or no is its answer, and the list waits."""


@dataclass(frozen=True)
class SessionState:
    """The whole state of a session. Times are in seconds since it began."""

    belief: Belief
    """What is believed of the boiler."""
    progress: Progress
    """How far the list in hand has come."""
    watch: Watch
    """The alarms that stand."""
    phase: Phase
    """The phase of the steam-up."""
    at: float = 0.0
    """The time of the last event that was not skipped."""
    dial: str = "psi"
    """The unit in which pressures are called."""
    expected: Expected = field(default_factory=Expected)
    """What is listened for now."""
    doubt: Doubt | None = None
    """The question that waits for a yes or no."""
    reports: ReportLog = field(default_factory=ReportLog)
    """Every report that is believed, in order."""
    reading_asked: str | None = None
    """The reading that was asked for outside a step, if any."""
    reading_asked_at: float = 0.0
    """When it was last asked for."""
    reading_asked_times: int = 0
    """How often it was asked for without an answer."""
    reading_first_asked_at: float = 0.0
    """When it was first asked for."""
    misses: int = 0
    """Utterances in a row that were not understood."""
    evidence: Evidence | None = None
    """What the utterances that were not accepted may have been."""
    denied: tuple[Report, ...] = ()
    """What the operator last called wrong."""
    denied_at: float = 0.0
    """When the operator called it wrong."""
    last_said: str = ""
    """The last sentence, for "say again"."""
    step_asked_at: float = 0.0
    """When the step in hand was last put."""
    step_asked_times: int = 0
    """How often it was put."""
    step_first_asked_at: float = 0.0
    """When it was first put."""
    offered: str | None = None
    """The step last offered as work for the waiting time."""
    quiet_until: float = 0.0
    """The end of the quiet that the operator asked for; 0 when there is none."""
    heard_at: float = 0.0
    """When the operator was last understood."""
    resumed_at: float | None = None
    """When the session went on after its last break."""
    valve_warned_at: float = float("-inf")
    """When it was last said that the valve lifts again and again."""
    feed_checked: float | None = None
    """When the feed began whose gain was last compared with the glass."""
    recap_due: bool = False
    """An alarm was spoken, or there was a break: where we are is to be said."""
    away_s: float = 0.0
    """How long the last break was."""
    forecast: ForecastMade | None = None
    """The forecast that was last spoken or asked for."""
    forecast_at: float = float("-inf")
    """When it was made."""
    trend: tuple[str, str] | None = None
    """How the water moves and why, at the last glass reading."""
    trend_announced: tuple[str, str] | None = None
    """The trend that was last spoken."""
    plan_at: float | None = None
    """When working pressure was first expected."""
    plan_margin_s: float = 0.0
    """How far off that may be by its own band."""
    first_steam_by: float | None = None
    """The latest time at which the gauge should move, as expected at the lighting."""
    warm_since: float | None = None
    """When a warm engine was taken over."""
    parked: tuple[Progress, ...] = ()
    """The list that a remedy interrupted."""
    progress_before: tuple[tuple[TimedReport, Progress], ...] = ()
    """For each report that is believed, how far the list had come just before it."""
    estimates_at: float = float("-inf")
    """When the estimates were last made."""
    estimates: LazyEstimates = field(default_factory=LazyEstimates)
    """What the gauges are believed to show."""
    why: str = ""
    """The reason, with its numbers, of what was last told: the answer to "why?"."""
    lost_devices: frozenset[str] = frozenset()
    """The devices that do not work."""
    fault_told_at: float = float("-inf")
    """When the operator was last told of an internal error."""
    note_expected: bool = False
    """Whether the next words are a note."""
    plate: PlateQuestion | None = None
    """The question of the plate; None where it was not put (journals of earlier versions)."""
    wake: WakeState | None = None
    """Until when no wake phrase is needed; None where the session wants none."""
    over: bool = False
    """Whether the session has ended."""

    def changed(self, changes: Mapping[str, Any]) -> SessionState:
        """This state with some fields changed; faster than `replace`, which visits every field."""
        other = object.__new__(SessionState)
        vars(other).update(vars(self))
        vars(other).update(changes)
        return other

    def latest(self, subject: str) -> TimedReport | None:
        """The last report of one subject, if any."""
        reports = self.reports.of(subject)
        return reports[-1] if reports else None

    def latest_is(self, subject: str, value: str) -> bool:
        """Whether the last report of a subject was this state."""
        latest = self.latest(subject)
        return latest is not None and latest.report.value == value

    @property
    def lit_at(self) -> float | None:
        """When the fire was last lit."""
        return self.reports.lit_at

    @property
    def fire_in(self) -> bool:
        """Whether the fire has been lit, and neither drawn nor called dead since."""
        fire = self.latest("fire")
        return fire is not None and fire.report.value not in ("drawn", "dead")
