"""The vocabulary of the house: meanings, events in, effects out. Values only, imports nothing.

Time is data: every event carries `at`, seconds since the session began. Quantities in messages are
as they were spoken (a value and the name of a unit); the thinking rooms turn them into SI.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import IntEnum
from typing import Literal

# --- meanings: what the operator may have meant -------------------------------------------------


SPEECH_RATE_HZ = 16_000  # samples a second of every sound that is listened to
OUT_OF_SIGHT = "out of sight"  # of the water: none is seen in the glass
READINGS = ("pressure", "water", "tank")  # the reports that have a number


@dataclass(frozen=True, slots=True)
class Report:
    """Something seen: a reading with a number and a unit, or a thing and its state in a word.

    `what` is one of the readings of the readings file (pressure, water, tank, fire, blower, damper,
    regulator, drains, feed, valve) or a checklist's own subject ("gear", "cocks").
    """

    what: str
    value: float | str
    unit: str | None = None


@dataclass(frozen=True, slots=True)
class Answer:
    """A spoken yes or no ("correct", "wrong")."""

    word: Literal["yes", "no"]


@dataclass(frozen=True, slots=True)
class Correction:
    """What was just read back is wrong, and this is right ("wrong, sixty five")."""

    report: Report


@dataclass(frozen=True, slots=True)
class Order:
    """Something the operator wants of the assistant: `name` is one word of `ORDERS`.

    `value` and `unit` carry a number that belongs to it ("how long to sixty pounds").
    """

    name: str
    value: float | None = None
    unit: str | None = None


@dataclass(frozen=True, slots=True)
class Several:
    """More than one thing reported in one breath ("pressure seventy five, water half")."""

    reports: tuple[Report, ...]


Meaning = Report | Answer | Correction | Order | Several

ORDERS: dict[str, str] = {
    "repeat": "say the last thing again",
    "next": "what comes next",
    "why": "the reason for the step or the last forecast",
    "how long": "time to working pressure, or to the pressure given",
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
    "call": "the wake phrase: what comes next is said to the assistant",
}


@dataclass(frozen=True, slots=True)
class Alternative:
    """One thing that may have been meant, the words heard, and the ear's probability for it."""

    meaning: Meaning
    words: str
    probability: float


ExpectedKind = Literal["any", "pressure", "water", "tank", "answer", "state"]


@dataclass(frozen=True, slots=True)
class Expected:
    """What the session is waiting to hear: it narrows the grammar and sets the stakes.

    kind: "any" outside a question; "pressure"/"water"/"tank" let a bare number or fraction count
    as that reading; "answer" waits for yes or no (or a correction); "state" for one of `answers`.
    answers: a step's own words with what they mean, besides what is always accepted.
    about: the reading just read back or asked about ("pressure", "water", "tank"), so that a bare
    correction ("wrong, sixty five") is in its terms; None: a number corrects the pressure, a
    fraction the water. pressure_unit: what a pressure said without a unit is in: the dial's.
    note: the next words are a note for the book, in any form of words.
    """

    kind: ExpectedKind = "any"
    answers: tuple[tuple[str, Report], ...] = ()
    about: str | None = None
    pressure_unit: str = "psi"
    note: bool = False


# --- events: what happened, past tense ----------------------------------------------------------


@dataclass(frozen=True, slots=True)
class DueSoon:
    """Something of the owner's due dates that runs out soon, or has: below nothing it is overdue.

    days_left: by the calendar. hours_left: in steam. None: not counted so.
    """

    name: str
    days_left: int | None = None
    hours_left: float | None = None


@dataclass(frozen=True, slots=True)
class Started:
    """A session began. `from_phase` names the phase to take over at, or None for a cold engine.

    due: what of the engine file's due dates is overdue or nearly; None when the file gives none.
    wake: what is said to us must begin with the wake phrase.
    """

    at: float
    from_phase: str | None = None
    seed: int = 0
    due: tuple[DueSoon, ...] | None = None
    wake: bool = False


@dataclass(frozen=True, slots=True)
class Resumed:
    """The session goes on after a break; `at` includes the time that was lost."""

    at: float
    away_s: float = 0.0
    wake: bool = False


@dataclass(frozen=True, slots=True)
class Tick:
    """Time passed."""

    at: float


@dataclass(frozen=True, slots=True)
class SpeechBegan:
    """Somebody began to speak."""

    at: float


@dataclass(frozen=True, slots=True)
class Heard:
    """An utterance ended and this is what the ears made of it.

    alternatives: best first; their probabilities add up to at most 1. Empty: speech, but none of
    our sentences. log_ratio: nats, best held score minus best unheld one; average: nats per token.
    Both are None for typed words, which are certain. clip: name of the sound kept, if any.
    called: whether it began with the wake phrase, which is left out of the words; None where none
    is wanted (typed, said over our own voice, or a session without it).
    """

    at: float
    ear: str
    alternatives: tuple[Alternative, ...]
    log_ratio: float | None = None
    average: float | None = None
    audio_s: float = 0.0
    text: str = ""
    clip: str | None = None
    called: bool | None = None


@dataclass(frozen=True, slots=True)
class Spoke:
    """A sentence of ours ended: all of it said, cut off, or failed (no speaker, deadline)."""

    at: float
    text: str
    ended: Literal["said", "cut", "failed"] = "said"


@dataclass(frozen=True, slots=True)
class DeviceLost:
    """A device went away or fell silent."""

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


Event = Started | Resumed | Tick | SpeechBegan | Heard | Spoke | DeviceLost | DeviceBack | StopAsked


# --- effects: orders to the devices, and facts for the book -------------------------------------


class Grade(IntEnum):
    """How grave an alarm is; a higher one interrupts a lower."""

    CAUTION = 1
    WARNING = 2
    DANGER = 3

    @property
    def word(self) -> str:
        """The spoken and written word: caution, warning, danger."""
        return self.name.lower()


class Urgency(IntEnum):
    """What may interrupt what among the things we say."""

    CHAT = 0  # forecasts, hints
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
    """Stop speaking at once, and forget what waits to be said."""


@dataclass(frozen=True, slots=True)
class Tone:
    """A tone before an alarm's words."""

    grade: Grade


@dataclass(frozen=True, slots=True)
class Listen:
    """From now on this is expected."""

    expected: Expected


@dataclass(frozen=True, slots=True)
class ReadingAccepted:
    """A reading stands (until contradicted)."""

    report: Report


@dataclass(frozen=True, slots=True)
class ReadingDoubted:
    """A reading was read back as a question; it counts only after a yes."""

    report: Report
    reason: str


@dataclass(frozen=True, slots=True)
class ReadingRefused:
    """A reading was not taken, and why, in words and numbers. `report` None: not understood."""

    report: Report | None
    reason: str


@dataclass(frozen=True, slots=True)
class ReadingCorrected:
    """`old` was taken back; `new` stands instead (None: only taken back)."""

    old: Report
    new: Report | None


@dataclass(frozen=True, slots=True)
class PhaseBegan:
    """A phase of the walk-through began."""

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
    """A step was left open aloud."""

    phase: str
    step: str


@dataclass(frozen=True, slots=True)
class AlarmChanged:
    """An alarm was raised, acknowledged, shelved or cleared; `reason` has the numbers used."""

    name: str
    grade: Grade
    state: Literal["raised", "acknowledged", "shelved", "cleared"]
    reason: str = ""


@dataclass(frozen=True, slots=True)
class ForecastMade:
    """Minutes to a pressure as told: 10, 50 and 90 % points, None when it will not be reached."""

    target_psi: float
    low: float | None
    mid: float | None
    high: float | None
    why: str


@dataclass(frozen=True, slots=True)
class NoteTaken:
    """A note for the book, in the words heard."""

    text: str
    clip: str | None = None


@dataclass(frozen=True, slots=True)
class Fault:
    """A bug of ours was caught; the session goes on and the operator was told."""

    message: str


@dataclass(frozen=True, slots=True)
class Ended:
    """The session is over."""

    reason: str


Effect = (
    Say | Hush | Tone | Listen
    | ReadingAccepted | ReadingDoubted | ReadingRefused | ReadingCorrected
    | PhaseBegan | PhaseDone | StepAsked | StepDone | StepSkipped
    | AlarmChanged | ForecastMade | NoteTaken | Fault | Ended
)  # fmt: skip
