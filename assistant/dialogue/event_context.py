"""One event being handled: the state so far, the records for the journal, the sentences to say.

The parts of the session add to it in their order; `effects` returns the result, alarms first.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from typing import Any, TypeVar

from assistant.belief.estimate import Belief
from assistant.dialogue.estimates import LazyEstimates
from assistant.dialogue.session_config import SessionConfig
from assistant.dialogue.state import SessionState
from assistant.messages import Effect, Event, Expected, Fault, Listen, Report, Say, Urgency
from assistant.wording import walkthrough

_Result = TypeVar("_Result")

FAULT_EVERY_S = 600.0  # internal errors are spoken no oftener; common practice, no source


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
        self.resumed = False  # the session goes on after a break
        self.alarmed = False  # an alarm was raised or repeated
        self.next_deadline = math.inf  # until then time alone changes no answer given here [s]
        self._records: list[Effect] = []
        self._alarms: list[Effect] = []
        self._says: list[Say] = []

    @property
    def at(self) -> float:
        """The time of the event, in seconds since the session began."""
        return self.state.at

    def begin(self, at: float, belief: Belief) -> None:
        """Set the time of the event and the belief at that time."""
        self.state = self._begun = self.state.changed({"at": at, "belief": belief})

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

    def update(self, **changes: Any) -> None:
        """Change fields of the state; the same values leave the same state."""
        if any(getattr(self.state, name) is not value for name, value in changes.items()):
            self.state = self.state.changed(changes)

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

    def report_fault(self, bug: Exception) -> None:
        """Record an internal error, and tell the operator unless that was done lately."""
        self.record(Fault(f"{type(bug).__name__}: {bug}"))
        if self.at - self.state.fault_told_at >= FAULT_EVERY_S:
            self.update(fault_told_at=self.at)
            self.say(walkthrough.fault_words(), Urgency.ALARM)

    def or_none(self, work: Callable[[], _Result]) -> _Result | None:
        """The result of `work`; None, with the fault reported, when it fails."""
        try:
            return work()
        except Exception as bug:
            self.report_fault(bug)
            return None

    def estimate(self, of: Callable[[LazyEstimates], _Result], unknown: _Result) -> _Result:
        """One of the estimates; when it fails, all are unknown until they are made again."""
        try:
            return of(self.state.estimates)
        except Exception as bug:
            self.update(estimates=LazyEstimates())
            self.report_fault(bug)
            return unknown

    @property
    def spoke(self) -> bool:
        """Whether anything is to be said."""
        return bool(self._says or any(isinstance(e, Say) for e in self._alarms))

    def listen(self, expected: Expected) -> None:
        """Set what is listened for from now on."""
        with_note = replace(expected, note=self.state.note_expected)
        if with_note != self.state.expected:
            self.update(expected=with_note)

    def remember_said(self) -> None:
        """Keep what is said now for "say again", without hints and alarms."""
        texts = [say.text for say in self._says if say.urgency in (Urgency.PROMPT, Urgency.ANSWER)]
        if texts:
            self.update(last_said=" ".join(texts))

    def effects(self) -> list[Effect]:
        """The effects of the event: records, then alarms, then words, then listening."""
        out = [*self._records, *self._alarms, *self._says]
        if self.state.expected != self.before.expected:
            out.append(Listen(self.state.expected))
        return out
