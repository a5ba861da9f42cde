"""Messages of a journal, one after another, into what a story is made of. Knows no file."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from assistant.messages import (
    AlarmChanged,
    Away,
    Effect,
    Ended,
    Event,
    Fault,
    ForecastMade,
    LessonGiven,
    NoteTaken,
    PhaseBegan,
    PhaseDone,
    ReadingAccepted,
    ReadingCorrected,
    ReadingDoubted,
    ReadingRefused,
    Resumed,
    Started,
    StepAsked,
    StepDone,
    StepOvertaken,
    StepSkipped,
)
from assistant.report.story_values import (
    Call,
    CallState,
    Interval,
    Refusal,
    ShownAlarm,
    ShownStep,
)


@dataclass
class StoryBuilder:
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
    learner: str = ""
    lessons: list[tuple[float, LessonGiven]] = field(default_factory=list)
    doubt: ReadingDoubted | None = None

    def event(self, event: Event) -> None:
        """Take an event."""
        if isinstance(event, Started) and event.learner is not None:
            self.learner = event.learner.name
        if isinstance(event, Resumed | Away):
            self.breaks.append((event.at, event.away_s))
        if isinstance(event, Resumed):
            self.ended = None

    def effect(self, at_s: float, effect: Effect) -> None:
        """Take an effect."""
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
                left_out = effect.reason or None
                self.steps.append(ShownStep(at_s, effect.phase, effect.step, left_out, True))
            case StepOvertaken():
                self.steps.append(
                    ShownStep(at_s, effect.phase, effect.step, overtaken=effect.because)
                )
            case AlarmChanged():
                self._alarm(at_s, effect)
            case ForecastMade():
                self.forecasts.append((at_s, effect))
            case NoteTaken():
                self.notes.append((at_s, effect))
            case LessonGiven():
                self.lessons.append((at_s, effect))
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
        """The old one stays, marked as changed; the new one follows it with the same time."""
        index = next(
            (
                i
                for i in reversed(range(len(self.calls)))
                if self.calls[i].report == effect.old and self.calls[i].state == "stands"
            ),
            None,
        )
        first_s = at_s
        if index is not None:
            old = self.calls[index]
            first_s = old.at_s
            state: CallState = "taken back" if effect.new is None else "corrected"
            self.calls[index] = replace(old, state=state, changed_at_s=at_s)
        if effect.new is not None:
            new = Call(first_s, effect.new, changed_at_s=at_s, instead=effect.old)
            self.calls.insert(len(self.calls) if index is None else index + 1, new)

    def _phase(self, at_s: float, effect: PhaseBegan | PhaseDone) -> None:
        if isinstance(effect, PhaseBegan):
            self.phases.append(Interval(effect.phase, at_s))
            return
        index = _last_named(self.phases, effect.phase)
        if index is not None:
            self.phases[index] = replace(self.phases[index], to_s=at_s)

    def _alarm(self, at_s: float, effect: AlarmChanged) -> None:
        index = _last_named(self.alarms, effect.name)
        old = None if index is None else self.alarms[index]
        if index is None or old is None or old.cleared_s is not None:
            if effect.state == "raised":
                self.alarms.append(ShownAlarm(effect.name, effect.grade, at_s, effect.reason))
            return
        match effect.state:
            case "cleared":
                new = replace(old, cleared_s=at_s)
            case "shelved":
                new = replace(old, shelved_s=at_s)
            case "acknowledged":
                first_s = at_s if old.acknowledged_s is None else old.acknowledged_s
                new = replace(old, acknowledged_s=first_s)
            case "raised" if effect.grade > old.grade:
                new = replace(old, grade=effect.grade, reason=effect.reason)
            case _:
                new = old
        self.alarms[index] = new


def _last_named(rows: Sequence[Interval | ShownAlarm], name: str) -> int | None:
    """The index of the last one of that name."""
    return next((i for i in reversed(range(len(rows))) if rows[i].name == name), None)
