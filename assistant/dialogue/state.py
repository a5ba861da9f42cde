"""The state of a session at one moment: some ten small frozen values, each replaced by one owner.

The modules of `owners/` are the only ones that replace a part; everybody may read. Times are in
seconds since the session began.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from assistant.alarms.watch import Watch
from assistant.belief.estimate import Belief
from assistant.dialogue.estimates import LazyEstimates
from assistant.dialogue.wake_state import WakeState
from assistant.messages import READINGS, Expected, ForecastMade, Learner, Meaning, Report
from assistant.picture.report_log import ReportLog, TimedReport
from assistant.procedure.checklist import Phase
from assistant.procedure.position import Progress
from assistant.understanding.retries import Evidence

# Names of needs in `SessionState.asked` begin so; a reading is named by its gauge.
ALARM, STEP = "alarm: ", "step: "
NOT_TODAY = "not today"  # `Report(NOT_TODAY, name of the need)`: it ended for the day
MOVE_WAITS = "move waits"  # a move that was asked for waits for the water
AHEAD = "engine ahead"  # the question whether to follow the engine


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
    again_at: float = 0.0
    """When it was last put again [s]."""


@dataclass(frozen=True, slots=True)
class PlateQuestion:
    """The question at the start whether the engine file is this engine's."""

    phase: str
    """The phase in which it was asked."""
    floor_until: float
    """Until when a plain yes or no is its answer, and the list waits."""


@dataclass(frozen=True, slots=True)
class Asked:
    """A question or need that was put, and how often, without an answer."""

    what: str
    """The gauge or the id of the step; of an overdue reading, the alarm as which it was put."""
    first_at: float
    last_at: float
    times: int


@dataclass(frozen=True, slots=True)
class Clock:
    """Where the session is in time."""

    at: float = 0.0
    """The time of the last event that was not skipped."""
    resumed_at: float | None = None
    """When the session went on after its last break."""
    away_s: float = 0.0
    """How long the last break was, until it was told."""
    breaks: tuple[tuple[float, float], ...] = ()
    """The gaps in time: when each began and ended."""
    over: bool = False
    """Whether the session has ended."""


@dataclass(frozen=True, slots=True)
class Believed:
    """What is believed of the boiler."""

    belief: Belief
    estimates: LazyEstimates = field(default_factory=LazyEstimates)
    """What the gauges are believed to show."""
    estimates_at: float = float("-inf")
    """When the estimates were last made."""


@dataclass(frozen=True, slots=True)
class Question:
    """What is open between the two speakers."""

    doubt: Doubt | None = None
    """The question that waits for a yes or no."""
    note_expected: bool = False
    """Whether the next words are a note."""
    plate: PlateQuestion | None = None
    """The question of the plate; None where it was not put (journals of earlier versions)."""


@dataclass(frozen=True, slots=True)
class Procedure:
    """Where the work has come to."""

    progress: Progress
    """How far the list in hand has come."""
    phase: Phase
    """The phase of the steam-up."""
    parked: tuple[Progress, ...] = ()
    """The list that a remedy interrupted."""
    warm_since: float | None = None
    """When a warm engine was taken over."""
    offered: str | None = None
    """The step last offered as work for the waiting time."""
    before: tuple[tuple[TimedReport, Progress], ...] = ()
    """For each report that is believed, how far the list had come just before it."""


@dataclass(frozen=True, slots=True)
class Hearing:
    """What is listened for, and what was heard badly."""

    expected: Expected = field(default_factory=Expected)
    """What is listened for now."""
    evidence: Evidence | None = None
    """What the utterances that were not accepted may have been."""
    misses: int = 0
    """Utterances in a row that were not understood."""
    denied: tuple[Report, ...] = ()
    """What the operator last called wrong."""
    denied_at: float = 0.0
    """When the operator called it wrong."""
    back_at: float = 0.0
    """From when he would be heard again, after microphone or noise kept us from it."""
    wake: WakeState | None = None
    """Until when no wake phrase is needed; None where the session wants none."""
    unsettled: tuple[TimedReport, ...] = ()
    """What was heard, doubted or taken back, and is no report; the newest of each subject."""


@dataclass(frozen=True, slots=True)
class Told:
    """What was told, so that it is neither repeated nor left unexplained."""

    last_said: str = ""
    """The last sentence, for "say again"."""
    why: str = ""
    """The reason, with its numbers, of what was last told: the answer to "why?"."""
    forecast: ForecastMade | None = None
    """The forecast that was last spoken or asked for."""
    forecast_at: float = float("-inf")
    """When it was made."""
    plan_at: float | None = None
    """When working pressure was first expected."""
    plan_margin_s: float = 0.0
    """How far off that may be by its own band."""
    first_steam_by: float | None = None
    """The latest time at which the gauge should move, as expected at the lighting."""
    trend: tuple[str, str] | None = None
    """How the water moves and why, at the last glass reading."""
    trend_announced: tuple[str, str] | None = None
    """The trend that was last spoken."""
    valve_warned_at: float = float("-inf")
    """When it was last said that the valve lifts again and again."""
    feed_checked: float | None = None
    """When the feed began whose gain was last compared with the glass."""


@dataclass(frozen=True, slots=True)
class Person:
    """Who is there."""

    heard_at: float = 0.0
    """When the operator was last understood."""
    quiet_until: float = 0.0
    """The end of the quiet that the operator asked for; 0 when there is none."""
    named: tuple[str, ...] = ()
    """Names given at the start, besides those of the engine file."""


@dataclass(frozen=True, slots=True)
class Lesson:
    """What is done for a learner, and the acts being given. Steps are named "list/step"."""

    learner: Learner | None = None
    """Who learns; None: nobody."""
    put: frozenset[str] = frozenset()
    """The steps put in this session, and those counted as done unasked."""
    acts_of: str = ""
    """The step whose acts are being given."""
    acts: tuple[str, ...] = ()
    """Those that are still to be given, each after "next"."""


@dataclass(frozen=True)
class SessionState:
    """The whole state of a session."""

    clock: Clock
    believed: Believed
    procedure: Procedure
    watch: Watch = field(default_factory=Watch)
    """The alarms that stand."""
    reports: ReportLog = field(default_factory=ReportLog)
    """Every report that is believed, in order."""
    question: Question = field(default_factory=Question)
    asked: Mapping[str, Asked] = field(default_factory=dict)
    """For each need that was put and is not answered, when and how often."""
    hearing: Hearing = field(default_factory=Hearing)
    told: Told = field(default_factory=Told)
    person: Person = field(default_factory=Person)
    lesson: Lesson = field(default_factory=Lesson)
    lost_devices: frozenset[str] = frozenset()
    """The devices that do not work."""
    fault_told_at: float = float("-inf")
    """When the operator was last told of an internal error; owned by `event_context`."""

    @property
    def at(self) -> float:
        """The time of the last event that was not skipped."""
        return self.clock.at

    @property
    def belief(self) -> Belief:
        """What is believed of the boiler."""
        return self.believed.belief

    @property
    def phase(self) -> Phase:
        """The phase of the steam-up."""
        return self.procedure.phase

    @property
    def progress(self) -> Progress:
        """How far the list in hand has come."""
        return self.procedure.progress

    @property
    def lists_in_hand(self) -> frozenset[str]:
        """The names of the list in hand and of those that wait for it."""
        lists = (self.procedure.progress, *self.procedure.parked)
        return frozenset(each.checklist.name for each in lists)

    @property
    def doubt(self) -> Doubt | None:
        """The question that waits for a yes or no."""
        return self.question.doubt

    @property
    def put_last(self) -> str | None:
        """The name of the question put last that is open: bare answers belong to it."""
        asked = (name for name in self.asked if name not in (AHEAD, MOVE_WAITS))
        questions = [name for name in asked if not name.startswith(ALARM)]
        return max(questions, key=lambda name: self.asked[name].last_at, default=None)

    @property
    def reading_asked(self) -> str | None:
        """The gauge that was put last, if it was no step that asked for it."""
        last = self.put_last
        return last if last in READINGS else None

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
        """Whether the fire has been lit, and neither drawn nor called run down or dead since."""
        fire = self.latest("fire")
        return fire is not None and fire.report.value not in ("drawn", "run down", "dead")
