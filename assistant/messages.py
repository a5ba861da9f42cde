"""The messages of a session: meanings, events in, effects out. Values only, imports nothing.

Every event carries `at`, seconds since the session began. Quantities are as they were spoken, a
value and the name of a unit; whoever computes with them converts to SI.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import IntEnum
from typing import Literal

NOT_WRITTEN = {"written": False}  # of a field that no journal holds
SPEECH_RATE_HZ = 16_000  # sample rate of every sound that is listened to
TOO_LOUD = "the noise is too loud to trust speech"  # why a microphone is lost for a while
OUT_OF_SIGHT = "out of sight"  # of the water: none to be seen in the glass
LOOKED_AT = "looked at"  # of the boiler; after `BY` the name of who has looked
BY = "looked at by "
ON_WATCH = "on watch"  # a subject; its state is the name of who has the watch
NOT_NAMED = "not named"  # the watch was handed over to somebody whose name follows
IN_A_NOTE = "named in a note"  # to somebody whose name is in the note that was just taken
NAME_NOT_GIVEN = "looked at, name not given"  # of the boiler, when nobody answered who
BANKED_END = "banked for the night"  # why a session ended: the next one finds her warm
COAL_PUT_ON, WATER_PUT_IN = "coal put on", "water put in"  # subjects; their reports are counts
READINGS = ("pressure", "water", "tank")  # the subjects whose reports have a number

# --- meanings: what the operator may have meant -------------------------------------------------


@dataclass(frozen=True, slots=True)
class Report:
    """Something observed: a reading with a number and a unit, or a subject and its state."""

    what: str
    """A subject of the readings file ("pressure", "fire") or of a checklist ("gear", "cocks")."""
    value: float | str
    """The number of a reading, or the state in words."""
    unit: str | None = None
    """The name of the unit; None for a state."""


@dataclass(frozen=True, slots=True)
class Answer:
    """A spoken yes or no ("correct", "wrong")."""

    word: Literal["yes", "no"]


@dataclass(frozen=True, slots=True)
class Correction:
    """The reading just read back is wrong, and this is right ("wrong, sixty five")."""

    report: Report


@dataclass(frozen=True, slots=True)
class Order:
    """Something the operator wants of the assistant."""

    name: str
    """A key of `ORDERS`."""
    value: float | None = None
    """A number that belongs to it ("how long to sixty pounds")."""
    unit: str | None = None
    """The unit of the number."""


@dataclass(frozen=True, slots=True)
class Several:
    """Several reports in one utterance ("pressure seventy five, water half")."""

    reports: tuple[Report, ...]


Meaning = Report | Answer | Correction | Order | Several

ORDERS: dict[str, str] = {
    "repeat": "say the last thing again",
    "next": "what comes next",
    "how": "the acts of the step in hand, one at a time",
    "why": "the reason for the step or the last forecast",
    "how long": "time to wanted pressure, or to the pressure given",
    "how long water": "how long the water lasts",
    "if feed": "what putting in so many litres would cost",
    "is it expansion": "whether the water rises by itself",
    "when lift": "when the valve will lift if nothing is changed",
    "how much used": "water and fuel used so far",
    "where": "where we are in the walk-through",
    "open items": "read the open items",
    "ready": "the operator is ready for the next thing",
    "not yet": "the step asked for is not done yet",
    "wait": "be quiet for so many minutes",
    "skip": "leave this step open and go on",
    "back": "go back one step",
    "acknowledge": "the alarm is heard",
    "shelve": "be quiet about this alarm for a while",
    "hush": "stop talking",
    "stop": "end the session",
    "undo": "take back the last reading",
    "note": "a note for the book follows",
    "not here": "the step does not apply to this engine today, or is so already",
    "help": "the words that fit now, those for trouble first",
    "troubles": "the words for trouble",
    "call": "the wake phrase: what comes next is said to the assistant",
}


@dataclass(frozen=True, slots=True)
class Alternative:
    """One possible meaning, the words heard, and the recogniser's probability for it."""

    meaning: Meaning
    words: str
    probability: float


ExpectedKind = Literal["any", "pressure", "water", "tank", "answer", "state"]


@dataclass(frozen=True, slots=True)
class Expected:
    """What is listened for: it narrows the grammar and weights the meanings."""

    kind: ExpectedKind = "any"
    """A gauge ("pressure", "water", "tank") lets a bare number or fraction count as its reading;
    "answer" waits for yes, no or a correction; "state" for one of `answers`; "any" for nothing."""
    answers: tuple[tuple[str, Report], ...] = ()
    """Forms of words with their meanings, besides what is always accepted."""
    about: str | None = None
    """The gauge that a bare correction ("wrong, sixty five") corrects; None: a number corrects
    the pressure, a fraction the water."""
    pressure_unit: str = "psi"
    """The unit of a pressure said without one: the dial's."""
    note: bool = False
    """The next words are a note, in any form of words."""
    elsewhere: tuple[tuple[str, Report], ...] = field(
        default=(), compare=False, repr=False, metadata=NOT_WRITTEN
    )
    """Forms that answer steps of any list and say what they are about, the same all session. They
    follow from the session's lists, so no journal holds them."""
    another_phase: frozenset[Report] = field(
        default=frozenset(), compare=False, repr=False, metadata=NOT_WRITTEN
    )
    """Of the reports in `elsewhere`, those that belong to work that the engine has passed."""
    impossible: frozenset[Report] = field(
        default=frozenset(), compare=False, repr=False, metadata=NOT_WRITTEN
    )
    """Of the reports in `elsewhere`, those that want a fire or steam that is known not to be."""


# --- events: what happened, past tense ----------------------------------------------------------


@dataclass(frozen=True, slots=True)
class DueSoon:
    """One of the owner's due dates that is near or past; a negative number is overdue."""

    name: str
    days_left: int | None = None
    """By the calendar; None: not counted in days."""
    hours_left: float | None = None
    """In steam; None: not counted in hours."""


@dataclass(frozen=True, slots=True)
class Learner:
    """Who learns, and what was told him on this engine before. No word on what he can do."""

    name: str
    reasons: tuple[str, ...] = ()
    """The killers, as "list/step", whose reason was told."""
    anticipated: tuple[tuple[str, int], ...] = ()
    """For each step, as "list/step", in how many sessions it was done before it was asked."""


@dataclass(frozen=True, slots=True)
class Started:
    """A session began."""

    at: float
    from_phase: str | None = None
    """The phase at which a warm engine is taken over; None for a cold engine."""
    seed: int = 0
    """The seed of a rehearsal."""
    due: tuple[DueSoon, ...] | None = None
    """The due dates that are near or past; None when the engine file gives none."""
    wake: bool = False
    """What is said to the assistant must begin with the wake phrase."""
    plate: bool = False
    """The engine and her figures are said, and whether they are hers is asked: in every session
    since 0.2.0."""
    people: tuple[str, ...] = ()
    """Names given at the start, besides those of the engine file."""
    learner: Learner | None = None
    """Who learns; None: nobody."""
    tone: bool = False
    """The tone of a danger is sounded, and asked whether it was heard: where a loudspeaker is."""


@dataclass(frozen=True, slots=True)
class Resumed:
    """The session goes on after a break; `at` includes the time that was lost."""

    at: float
    away_s: float = 0.0
    wake: bool = False


@dataclass(frozen=True, slots=True)
class Away:
    """The machine did not run for a while: a shut lid, a stopped process. `at` includes it."""

    at: float
    away_s: float


@dataclass(frozen=True, slots=True)
class Tick:
    """Time passed."""

    at: float


@dataclass(frozen=True, slots=True)
class SpeechBegan:
    """Somebody began to speak."""

    at: float


TYPED = "typed"  # `Heard.ear` of typed words, which are certain
PRESSED = "pressed"  # how it begins for what was pressed on a board, as certain: "pressed on ..."


@dataclass(frozen=True, slots=True)
class Heard:
    """An utterance ended, with the recogniser's n-best list."""

    at: float
    ear: str
    """The name of the recogniser."""
    alternatives: tuple[Alternative, ...]
    """Best first, their probabilities sum to at most 1; empty: no sentence of the grammar."""
    log_ratio: float | None = None
    """Log-likelihood ratio against unconstrained speech [nats]; None for typed words."""
    average: float | None = None
    """Mean token log-probability [nats]; None for typed words."""
    audio_s: float = 0.0
    """Its length [s]."""
    text: str = ""
    """The words heard or typed."""
    clip: str | None = None
    """The name of the stored sound, if any."""
    called: bool | None = None
    """Whether it began with the wake phrase, which is not among the words; None where none is
    wanted: typed, said over the assistant's own voice, or in a session without it."""
    late_s: float = 0.0
    """How long ago it was said [s]: from the end of the speech to `at`, when it was understood."""

    @property
    def typed(self) -> bool:
        """Whether the words were typed, or pressed."""
        return self.ear == TYPED or self.pressed

    @property
    def pressed(self) -> bool:
        """Whether it was pressed on a board."""
        return self.ear.startswith(PRESSED)


@dataclass(frozen=True, slots=True)
class Spoke:
    """The assistant's sentence ended: said in full, cut off, or failed (no speaker, deadline)."""

    at: float
    text: str
    ended: Literal["said", "cut", "failed"] = "said"


@dataclass(frozen=True, slots=True)
class DeviceLost:
    """A device was lost or fell silent."""

    at: float
    device: Literal["microphone", "speaker"]
    reason: str = ""


@dataclass(frozen=True, slots=True)
class DeviceBack:
    """A lost device works again."""

    at: float
    device: Literal["microphone", "speaker"]


@dataclass(frozen=True, slots=True)
class StopAsked:
    """The person asked to end (Ctrl-C, end of input), outside the spoken words."""

    at: float


Event = (
    Started
    | Resumed
    | Away
    | Tick
    | SpeechBegan
    | Heard
    | Spoke
    | DeviceLost
    | DeviceBack
    | StopAsked
)


# --- effects: orders to the devices, and facts for the journal ----------------------------------


class Grade(IntEnum):
    """The grade of an alarm; a higher one interrupts a lower."""

    CAUTION = 1
    WARNING = 2
    DANGER = 3

    @property
    def word(self) -> str:
        """The spoken and written word: caution, warning, danger."""
        return self.name.lower()


class Urgency(IntEnum):
    """The priority of what is said."""

    CHAT = 0  # hints, such as forecasts
    PROMPT = 1  # the next step
    ANSWER = 2  # read-backs and answers to a question
    ALARM = 3  # caution and warning
    DANGER = 4


URGENCY_OF = {
    Grade.CAUTION: Urgency.ALARM,
    Grade.WARNING: Urgency.ALARM,
    Grade.DANGER: Urgency.DANGER,
}
"""The urgency with which an alarm of each grade is spoken."""


@dataclass(frozen=True, slots=True)
class Say:
    """Speak this. A higher urgency cuts a lower one off."""

    text: str
    urgency: Urgency = Urgency.PROMPT


@dataclass(frozen=True, slots=True)
class Hush:
    """Stop speaking at once, and drop what waits to be said."""


@dataclass(frozen=True, slots=True)
class Tone:
    """A tone before an alarm's words."""

    grade: Grade


@dataclass(frozen=True, slots=True)
class Listen:
    """From now on this is listened for."""

    expected: Expected


DecisionKind = Literal["accept", "confirm", "again", "ignore", "note"]


@dataclass(frozen=True, slots=True)
class Decided:
    """What became of an utterance, and by which rule; one for every `Heard`."""

    rule: str
    """The name of the rule, of `understanding.decide.RULES`."""
    kind: DecisionKind


@dataclass(frozen=True, slots=True)
class ReadingAccepted:
    """A report was accepted."""

    report: Report


@dataclass(frozen=True, slots=True)
class ReadingDoubted:
    """A report was read back as a question; it counts only after a yes."""

    report: Report
    reason: str


@dataclass(frozen=True, slots=True)
class ReadingRefused:
    """A report was not accepted, and why. `report` None: the utterance was not understood."""

    report: Report | None
    reason: str


@dataclass(frozen=True, slots=True)
class ReadingCorrected:
    """`old` was retracted; `new` replaces it (None: nothing does)."""

    old: Report
    new: Report | None


@dataclass(frozen=True, slots=True)
class PhaseBegan:
    """A phase began."""

    phase: str


@dataclass(frozen=True, slots=True)
class PhaseDone:
    """A phase ended, every hold in it answered."""

    phase: str


@dataclass(frozen=True, slots=True)
class StepAsked:
    """A step was put to the operator."""

    phase: str
    step: str


@dataclass(frozen=True, slots=True)
class StepDone:
    """A step was answered; `answer` is the state or value given, in words."""

    phase: str
    step: str
    answer: str


@dataclass(frozen=True, slots=True)
class StepSkipped:
    """A step was left open aloud, or left out for the day."""

    phase: str
    step: str
    reason: str = ""
    """Why it is left out for the day; "" for one left open, which is asked again."""


@dataclass(frozen=True, slots=True)
class StepOvertaken:
    """A step was not answered before its time was over; `because` says what the engine is now."""

    phase: str
    step: str
    because: str


@dataclass(frozen=True, slots=True)
class AlarmChanged:
    """An alarm was raised, acknowledged, shelved or cleared; `reason` has the numbers used."""

    name: str
    grade: Grade
    state: Literal["raised", "acknowledged", "shelved", "cleared"]
    reason: str = ""


@dataclass(frozen=True, slots=True)
class ForecastMade:
    """Minutes to a pressure: 10, 50 and 90 % points; None when it will not be reached."""

    target_psi: float
    low: float | None
    mid: float | None
    high: float | None
    why: str


@dataclass(frozen=True, slots=True)
class NoteTaken:
    """A note, in the words heard."""

    text: str
    clip: str | None = None


@dataclass(frozen=True, slots=True)
class Fault:
    """An internal error was caught; the session goes on."""

    message: str


@dataclass(frozen=True, slots=True)
class Ended:
    """The session is over."""

    reason: str


@dataclass(frozen=True, slots=True)
class LessonGiven:
    """What was done for the learner: of a step, as "list/step"."""

    step: str
    what: Literal["reason", "act", "anticipated", "prompt left out"]
    """Its reason or one of its acts was told; he did it unasked; it was not asked for that."""


Effect = (
    Say | Hush | Tone | Listen | Decided
    | ReadingAccepted | ReadingDoubted | ReadingRefused | ReadingCorrected
    | PhaseBegan | PhaseDone | StepAsked | StepDone | StepSkipped | StepOvertaken
    | AlarmChanged | ForecastMade | NoteTaken | LessonGiven | Fault | Ended
)  # fmt: skip
