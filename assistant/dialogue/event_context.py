"""One event being handled: the state so far, the records for the journal, the sentences to say.

The parts of the session add to it in their order; `effects` returns the result, alarms first.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import TypeVar

from assistant.alarms.inputs import AlarmInputs
from assistant.boiler.figures import AMERICAN
from assistant.dialogue.session_config import SessionConfig
from assistant.dialogue.state import SessionState
from assistant.messages import Effect, Event, Fault, Listen, Report, Say, Urgency
from assistant.picture.picture import Picture
from assistant.picture.report_log import ReportLog
from assistant.wording import fittings, walkthrough
from assistant.wording.american import american

_Result = TypeVar("_Result")

FAULT_EVERY_S = 600.0  # internal errors are spoken no oftener; common practice, no source


@dataclass(frozen=True, slots=True)
class PictureMade:
    """A picture, and what it was made of."""

    reports: ReportLog
    at: float
    picture: Picture


class EventContext:
    """Collects what one event does. The session makes one for each event it handles."""

    def __init__(self, config: SessionConfig, state: SessionState, event: Event) -> None:
        self.config = config
        self.event = event
        self.before = state
        self.state = self._begun = state
        self.accepted: list[Report] = []  # reports accepted in this event
        self.retracted: list[str] = []  # subjects of the reports retracted in it
        self.ready = False  # the operator said so
        self.understood = False  # an utterance was accepted
        self.order = ""  # the order that was given
        self.next_asked = False  # the agenda is to say what comes next
        self.resumed = False  # the session goes on after a break
        self.alarmed = False  # a warning or danger was raised
        self.alarm_inputs = AlarmInputs(config.engine)  # what the watch looked at
        self.picture_made: PictureMade | None = None  # by `picture_now`
        self.next_deadline = math.inf  # until then time alone changes no answer given here [s]
        self._records: list[Effect] = []
        self._alarms: list[Effect] = []
        self._says: list[Say] = []
        self._answered: list[Say] = []  # read back only where no prompt follows

    @property
    def dial(self) -> str:
        """The unit in which pressures are called: of the last one, else the engine's own."""
        called = self.state.latest("pressure")
        return (called.report.unit if called is not None else None) or self.config.dial

    @property
    def at(self) -> float:
        """The time of the event, in seconds since the session began."""
        return self.state.at

    def mark_begun(self) -> None:
        """Time and belief are those of the event: what follows are changes made by it."""
        self._begun = self.state

    @property
    def unchanged(self) -> bool:
        """Whether nothing but the time has changed."""
        return self.state is self._begun

    def elapsed(self, since: float, seconds: float = 0.0) -> bool:
        """Whether so many seconds have passed since a time [s].

        Ask elapsed time only here, never from `at`: this records the next deadline, and a Tick
        before the deadline need not be handled.
        """
        if self.at - since >= seconds:
            return True
        self.wake_at(since + seconds)
        return False

    def wake_at(self, at: float) -> None:
        """A Tick at this time must be handled even if nothing is reported until then."""
        self.next_deadline = min(self.next_deadline, at)

    def become(self, state: SessionState) -> None:
        """The state from now on. Only the owners of its parts (`owners/`) call this."""
        self.state = state

    def go_back_to(self, state: SessionState) -> None:
        """What a part that failed has changed is undone; what it recorded and said stays."""
        self.state = state

    @property
    def records(self) -> tuple[Effect, ...]:
        """What this event has recorded in the journal so far."""
        return tuple(self._records)

    def record(self, effect: Effect) -> None:
        """Record something in the journal."""
        self._records.append(effect)

    def alarm(self, effect: Effect) -> None:
        """Add something that comes before every other sound."""
        self._alarms.append(effect)

    def say(self, text: str, urgency: Urgency = Urgency.PROMPT) -> None:
        """Add something to be said, after the alarms, in the order added. Empty: nothing."""
        if text:
            self._says.append(Say(text, urgency))

    def answered_by_next(self, text: str) -> None:
        """What was read back is harmless: where a prompt follows in this event, that is enough."""
        self._answered.append(Say(text, Urgency.ANSWER))

    def report_fault(self, bug: Exception) -> None:
        """Record an internal error, and tell the operator unless that was done lately."""
        self.record(Fault(f"{type(bug).__name__}: {bug}"))
        if self.at - self.state.fault_told_at >= FAULT_EVERY_S:
            self.become(replace(self.state, fault_told_at=self.at))
            self.say(walkthrough.fault_words(), Urgency.ALARM)

    def or_none(self, work: Callable[[], _Result]) -> _Result | None:
        """The result of `work`; None, with the fault reported, when it fails."""
        try:
            return work()
        except Exception as bug:
            self.report_fault(bug)
            return None

    @property
    def spoke(self) -> bool:
        """Whether anything is to be said."""
        return bool(self._says or any(isinstance(e, Say) for e in self._alarms))

    @property
    def remembered(self) -> str:
        """What is said now for "say again", without hints and alarms."""
        texts = [say.text for say in self._says if say.urgency in (Urgency.PROMPT, Urgency.ANSWER)]
        return " ".join(texts)

    def _fitted(self, effects: list[Effect]) -> list[Effect]:
        """What is said, without words about a fitting that this engine has not got.

        What is read back is left as it is: he said it.
        """
        missing = self.config.fittings_missing
        if not missing:
            return effects
        said = [
            replace(each, text=fittings.without(each.text, missing))
            if isinstance(each, Say) and each.urgency is not Urgency.ANSWER
            else each
            for each in effects
        ]
        return [each for each in said if not isinstance(each, Say) or each.text]

    def in_his_words(self, text: str) -> str:
        """A text without words about what she has not got, in the words he is spoken to in."""
        fitting = fittings.without(text, self.config.fittings_missing)
        return self._worded(fitting)

    def _worded(self, text: str) -> str:
        return american(text) if self.config.engine.words == AMERICAN else text

    def effects(self) -> list[Effect]:
        """The effects of the event: records, then alarms, then words, then listening."""
        prompted = any(say.urgency is Urgency.PROMPT for say in self._says)
        left_out = self._answered if prompted and not self._alarms else []
        says = [say for say in self._says if say not in left_out]
        said = [
            replace(each, text=self._worded(each.text)) if isinstance(each, Say) else each
            for each in self._fitted([*self._alarms, *says])
        ]
        out = [*self._records, *said]
        expected = self.state.hearing.expected
        if expected != self.before.hearing.expected:
            out.append(Listen(expected))
        return out
