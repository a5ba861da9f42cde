"""One event's work in progress: the mind so far, the facts found, the sentences to say.

The parts of the session add to it in their order; `effects` puts out what came of it, alarms first.
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

FAULT_EVERY_S = 600.0  # the same trouble is told no oftener


class EventContext:
    """Gathers what one event does. Only the session makes one, and it lives for one event."""

    def __init__(self, parts: SessionConfig, state: SessionState, event: Event) -> None:
        self.parts = parts
        self.event = event
        self.before = state
        self.state = self._begun = state
        self.accepted: list[Report] = []  # the reports that were accepted in this event
        self.retracted: list[str] = []  # the gauges of reports that were taken back in it
        self.ready = False  # the operator said so
        self.understood = False  # something that was said was taken
        self.order = ""  # the order that was given in this event
        self.resumed = False  # the session goes on after a break
        self.alarmed = False  # an alarm was raised or said again in it
        self.next_deadline = math.inf  # until then time alone changes no answer given in it [s]
        self._facts: list[Effect] = []
        self._alarms: list[Effect] = []
        self._says: list[Say] = []

    @property
    def at(self) -> float:
        """Now, in seconds since the start: the time of the event."""
        return self.state.at

    def begin(self, at: float, belief: Belief) -> None:
        """The time of the event, and what is believed then."""
        self.state = self._begun = self.state.changed({"at": at, "belief": belief})

    @property
    def unchanged(self) -> bool:
        """Whether nothing but the time has changed."""
        return self.state is self._begun

    def elapsed(self, since: float, seconds: float = 0.0) -> bool:
        """Whether so many seconds have passed since a time [s].

        Whatever may come up by time alone asks here, never `at` itself: so it is known how long the
        answers stand, and a Tick before that is nothing to do.
        """
        if self.at - since >= seconds:
            return True
        self.wake_at(since + seconds)
        return False

    def wake_at(self, at: float) -> None:
        """What was decided in this event stands until then at most, should nothing be reported."""
        self.next_deadline = min(self.next_deadline, at)

    def update(self, **changes: Any) -> None:
        """Change the mind, where anything is changed."""
        if any(getattr(self.state, name) is not value for name, value in changes.items()):
            self.state = self.state.changed(changes)

    @property
    def facts(self) -> tuple[Effect, ...]:
        """What this event has put into the book so far."""
        return tuple(self._facts)

    def fact(self, effect: Effect) -> None:
        """Something for the book."""
        self._facts.append(effect)

    def alarm(self, effect: Effect) -> None:
        """Something that goes before every other sound."""
        self._alarms.append(effect)

    def say(self, text: str, urgency: Urgency = Urgency.PROMPT) -> None:
        """Something to be said, after the alarms, in the order added. Empty text says nothing."""
        if text:
            self._says.append(Say(text, urgency))

    def failed(self, bug: Exception) -> None:
        """A sum of ours failed; what rests on it stays unknown, everything else goes on."""
        self.fact(Fault(f"{type(bug).__name__}: {bug}"))
        if self.at - self.state.fault_at >= FAULT_EVERY_S:
            self.update(fault_at=self.at)
            self.say(walkthrough.fault_words(), Urgency.ALARM)

    def believed(self, of: Callable[[LazyEstimates], _Result], unknown: _Result) -> _Result:
        """What is believed of the boiler; a sum that fails leaves all of it unknown for a while."""
        try:
            return of(self.state.outlook)
        except Exception as bug:
            self.update(outlook=LazyEstimates())
            self.failed(bug)
            return unknown

    @property
    def spoke(self) -> bool:
        """Whether anything is to be said."""
        return bool(self._says or any(isinstance(e, Say) for e in self._alarms))

    def listen(self, expected: Expected) -> None:
        """From now on this is expected."""
        awaited = replace(expected, note=self.state.noting)
        if awaited != self.state.expected:
            self.update(expected=awaited)

    def remember(self) -> None:
        """Keep what is said now for "say again"; chat and alarms apart."""
        told = [say.text for say in self._says if say.urgency in (Urgency.PROMPT, Urgency.ANSWER)]
        if told:
            self.update(said=" ".join(told))

    def effects(self) -> list[Effect]:
        """Everything that came of the event: facts, then alarms, then words, then listening."""
        out = [*self._facts, *self._alarms, *self._says]
        if self.state.expected != self.before.expected:
            out.append(Listen(self.state.expected))
        return out
