"""One steam-up as a story: what a journal says happened, in order, ready to be shown.

Knows messages and the book; nothing of pages, charts or colours. Nothing is left out or mended.
"""

from __future__ import annotations

import datetime
from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Literal

from assistant.config.engine_file import EngineFile, engine_from_text
from assistant.errors import FootplateError, InputWrongError
from assistant.journal import reader
from assistant.journal.codec import NotAMessageError, effect_from_record, event_from_record
from assistant.journal.header import Header
from assistant.journal.reader import JournalRecords
from assistant.messages import (
    AlarmChanged,
    Effect,
    Ended,
    Event,
    Fault,
    ForecastMade,
    Grade,
    NoteTaken,
    PhaseBegan,
    PhaseDone,
    ReadingAccepted,
    ReadingCorrected,
    ReadingDoubted,
    ReadingRefused,
    Report,
    Resumed,
    StepAsked,
    StepDone,
    StepSkipped,
)

NO_STORY = ("Tick", "SpeechBegan", "Spoke", "Say", "Listen", "Tone")  # nine in ten of all records
CallState = Literal["stands", "corrected", "taken back"]


@dataclass(frozen=True, slots=True)
class Call:
    """A reading in the book. instead: it stands in the place of this earlier one, at its time.

    changed_at_s: when it was taken back or put in another's place. asked: only after a yes.
    """

    at_s: float
    report: Report
    state: CallState = "stands"
    changed_at_s: float | None = None
    instead: Report | None = None
    asked: str = ""


@dataclass(frozen=True, slots=True)
class Refusal:
    """Something heard and not taken, and why."""

    at_s: float
    report: Report | None
    reason: str


@dataclass(frozen=True, slots=True)
class Interval:
    """A phase: from when to when; to None: it was not ended."""

    name: str
    from_s: float
    to_s: float | None = None


@dataclass(frozen=True, slots=True)
class ShownStep:
    """A step of the walk-through. answer None: not answered (asked, or left open aloud)."""

    at_s: float
    phase: str
    name: str
    answer: str | None = None
    skipped: bool = False


@dataclass(frozen=True, slots=True)
class ShownAlarm:
    """One raising of an alarm, and what became of it. The grade is the gravest that it had."""

    name: str
    grade: Grade
    raised_s: float
    reason: str
    heard_s: float | None = None
    shelved_s: float | None = None
    cleared_s: float | None = None


@dataclass(frozen=True)
class Story:
    """Everything of one journal. engine None: its kept text is no engine file of today's form."""

    kept: JournalRecords
    header: Header
    engine: EngineFile | None
    length_s: float
    calls: tuple[Call, ...]
    refusals: tuple[Refusal, ...]
    phases: tuple[Interval, ...]
    steps: tuple[ShownStep, ...]
    alarms: tuple[ShownAlarm, ...]
    forecasts: tuple[tuple[float, ForecastMade], ...]
    notes: tuple[tuple[float, NoteTaken], ...]
    faults: tuple[tuple[float, str], ...]
    breaks: tuple[tuple[float, float], ...]
    ended: str | None

    @property
    def started(self) -> datetime.datetime | None:
        """When it began, by the clock of the machine; None when that cannot be read."""
        try:
            return datetime.datetime.fromisoformat(self.header.started)
        except ValueError:
            return None

    @property
    def standing(self) -> tuple[Call, ...]:
        """The readings that stand at the end."""
        return tuple(call for call in self.calls if call.state == "stands")

    @property
    def open_steps(self) -> tuple[ShownStep, ...]:
        """What was left open aloud, or asked and not answered since; once each."""
        last = {(step.phase, step.name): step for step in self.steps}
        return tuple(step for step in last.values() if step.answer is None)


def read_story(path: Path) -> Story:
    """The story of a journal, as far as its chain holds.

    Raises InputWrongError when there is no such file, a newer program wrote it, or not even its
    first records are there.
    """
    kept = reader.read(path, without=NO_STORY)
    return story_of(kept, reader.require_header(kept))


def story_of(kept: JournalRecords, header: Header) -> Story:
    """The story of a book that has been read. InputWrongError for a record that is no message."""
    gathering = _Gathering()
    for record in kept.records:
        try:
            if record.kind == "event":
                gathering.event(event_from_record(record.payload.get("event")))
            elif record.kind == "effect":
                gathering.effect(record.at, effect_from_record(record.payload.get("effect")))
        except NotAMessageError as wrong:
            raise InputWrongError(f"{kept.path}: record {record.n}: {wrong}") from wrong
    return Story(
        kept,
        header,
        _engine_of(header),
        max((record.at for record in kept.records), default=0.0),
        tuple(gathering.calls),
        tuple(gathering.refusals),
        tuple(gathering.phases),
        tuple(gathering.steps),
        tuple(gathering.alarms),
        tuple(gathering.forecasts),
        tuple(gathering.notes),
        tuple(gathering.faults),
        tuple(gathering.breaks),
        gathering.ended,
    )


def _engine_of(header: Header) -> EngineFile | None:
    kept = header.text_of("engine")
    try:
        return None if kept is None else engine_from_text(kept.text, Path(kept.file))
    except FootplateError:
        return None


@dataclass
class _Gathering:
    """Takes a journal's messages one after another and keeps what a page needs."""

    calls: list[Call] = field(default_factory=list)
    refusals: list[Refusal] = field(default_factory=list)
    phases: list[Interval] = field(default_factory=list)
    steps: list[ShownStep] = field(default_factory=list)
    alarms: list[ShownAlarm] = field(default_factory=list)
    forecasts: list[tuple[float, ForecastMade]] = field(default_factory=list)
    notes: list[tuple[float, NoteTaken]] = field(default_factory=list)
    faults: list[tuple[float, str]] = field(default_factory=list)
    breaks: list[tuple[float, float]] = field(default_factory=list)
    ended: str | None = None
    doubt: ReadingDoubted | None = None

    def event(self, event: Event) -> None:
        if isinstance(event, Resumed):
            self.breaks.append((event.at, event.away_s))
            self.ended = None

    def effect(self, at_s: float, effect: Effect) -> None:
        match effect:
            case ReadingDoubted():
                self.doubt = effect
            case ReadingAccepted() | ReadingCorrected() | ReadingRefused():
                self._reading(at_s, effect)
            case PhaseBegan() | PhaseDone():
                self._phase(at_s, effect)
            case StepAsked():
                self.steps.append(ShownStep(at_s, effect.phase, effect.step))
            case StepDone():
                self.steps.append(ShownStep(at_s, effect.phase, effect.step, effect.answer))
            case StepSkipped():
                self.steps.append(ShownStep(at_s, effect.phase, effect.step, skipped=True))
            case AlarmChanged():
                self._alarm(at_s, effect)
            case ForecastMade():
                self.forecasts.append((at_s, effect))
            case NoteTaken():
                self.notes.append((at_s, effect))
            case Fault():
                self.faults.append((at_s, effect.message))
            case Ended():
                self.ended = effect.reason

    def _reading(
        self, at_s: float, effect: ReadingAccepted | ReadingCorrected | ReadingRefused
    ) -> None:
        if isinstance(effect, ReadingRefused):
            self.refusals.append(Refusal(at_s, effect.report, effect.reason))
        elif isinstance(effect, ReadingCorrected):
            self._correct(at_s, effect)
        else:
            doubt = self.doubt
            asked = doubt.reason if doubt is not None and doubt.report == effect.report else ""
            self.calls.append(Call(at_s, effect.report, asked=asked))
        self.doubt = None

    def _correct(self, at_s: float, effect: ReadingCorrected) -> None:
        """The old one is kept and struck; the new one stands at the time the old one was called."""
        place = next(
            (
                i
                for i in reversed(range(len(self.calls)))
                if self.calls[i].report == effect.old and self.calls[i].state == "stands"
            ),
            None,
        )
        first_s = at_s
        if place is not None:
            old = self.calls[place]
            first_s = old.at_s
            state: CallState = "taken back" if effect.new is None else "corrected"
            self.calls[place] = replace(old, state=state, changed_at_s=at_s)
        if effect.new is not None:
            new = Call(first_s, effect.new, changed_at_s=at_s, instead=effect.old)
            self.calls.insert(len(self.calls) if place is None else place + 1, new)

    def _phase(self, at_s: float, effect: PhaseBegan | PhaseDone) -> None:
        if isinstance(effect, PhaseBegan):
            self.phases.append(Interval(effect.phase, at_s))
            return
        place = _last(self.phases, effect.phase)
        if place is not None:
            self.phases[place] = replace(self.phases[place], to_s=at_s)

    def _alarm(self, at_s: float, effect: AlarmChanged) -> None:
        place = _last(self.alarms, effect.name)
        old = None if place is None else self.alarms[place]
        if place is None or old is None or old.cleared_s is not None:
            if effect.state == "raised":
                self.alarms.append(ShownAlarm(effect.name, effect.grade, at_s, effect.reason))
            return
        match effect.state:
            case "cleared":
                new = replace(old, cleared_s=at_s)
            case "shelved":
                new = replace(old, shelved_s=at_s)
            case "acknowledged":
                new = replace(old, heard_s=at_s if old.heard_s is None else old.heard_s)
            case "raised" if effect.grade > old.grade:
                new = replace(old, grade=effect.grade, reason=effect.reason)
            case _:
                new = old
        self.alarms[place] = new


def _last(kept: Sequence[Interval | ShownAlarm], name: str) -> int | None:
    """The place of the last one of that name."""
    return next((i for i in reversed(range(len(kept))) if kept[i].name == name), None)
