"""One event's work in progress: the mind so far, the facts found, the sentences to say.

The parts of the session add to it in their order; `effects` puts out what came of it, alarms first.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from typing import Any, TypeVar

from assistant.belief.estimate import Belief
from assistant.dialogue.estimates import Outlook
from assistant.dialogue.session_config import Parts
from assistant.dialogue.state import Mind
from assistant.messages import Effect, Event, Expected, Fault, Listen, Report, Say, Urgency
from assistant.wording import walkthrough

Value = TypeVar("Value")

FAULT_EVERY_S = 600.0  # the same trouble is told no oftener


class Turn:
    """Gathers what one event does. Only the session makes one, and it lives for one event."""

    def __init__(self, parts: Parts, mind: Mind, event: Event) -> None:
        self.parts = parts
        self.event = event
        self.before = mind
        self.mind = self._begun = mind
        self.taken: list[Report] = []  # the reports that were accepted in this event
        self.taken_back: list[str] = []  # the gauges of reports that were taken back in it
        self.ready = False  # the operator said so
        self.understood = False  # something that was said was taken
        self.order = ""  # the order that was given in this event
        self.resumed = False  # the session goes on after a break
        self.alarmed = False  # an alarm was raised or said again in it
        self.stands_until = math.inf  # until then time alone changes no answer given in it [s]
        self._facts: list[Effect] = []
        self._alarms: list[Effect] = []
        self._says: list[Say] = []

    @property
    def at(self) -> float:
        """Now, in seconds since the start: the time of the event."""
        return self.mind.at

    def begin(self, at: float, belief: Belief) -> None:
        """The time of the event, and what is believed then."""
        self.mind = self._begun = self.mind.changed({"at": at, "belief": belief})

    @property
    def unchanged(self) -> bool:
        """Whether nothing but the time has changed."""
        return self.mind is self._begun

    def passed(self, since: float, seconds: float = 0.0) -> bool:
        """Whether so many seconds have passed since a time [s].

        Whatever may come up by time alone asks here, never `at` itself: so it is known how long the
        answers stand, and a Tick before that is nothing to do.
        """
        if self.at - since >= seconds:
            return True
        self.asks_again(since + seconds)
        return False

    def asks_again(self, at: float) -> None:
        """What was decided in this event stands until then at most, should nothing be reported."""
        self.stands_until = min(self.stands_until, at)

    def now(self, **changes: Any) -> None:
        """Change the mind, where anything is changed."""
        if any(getattr(self.mind, name) is not value for name, value in changes.items()):
            self.mind = self.mind.changed(changes)

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
        if self.at - self.mind.fault_at >= FAULT_EVERY_S:
            self.now(fault_at=self.at)
            self.say(walkthrough.fault(), Urgency.ALARM)

    def believed(self, of: Callable[[Outlook], Value], unknown: Value) -> Value:
        """What is believed of the boiler; a sum that fails leaves all of it unknown for a while."""
        try:
            return of(self.mind.outlook)
        except Exception as bug:
            self.now(outlook=Outlook())
            self.failed(bug)
            return unknown

    @property
    def spoke(self) -> bool:
        """Whether anything is to be said."""
        return bool(self._says or any(isinstance(e, Say) for e in self._alarms))

    def listen(self, expected: Expected) -> None:
        """From now on this is expected."""
        awaited = replace(expected, note=self.mind.noting)
        if awaited != self.mind.expected:
            self.now(expected=awaited)

    def remember(self) -> None:
        """Keep what is said now for "say again"; chat and alarms apart."""
        told = [say.text for say in self._says if say.urgency in (Urgency.PROMPT, Urgency.ANSWER)]
        if told:
            self.now(said=" ".join(told))

    def effects(self) -> list[Effect]:
        """Everything that came of the event: facts, then alarms, then words, then listening."""
        out = [*self._facts, *self._alarms, *self._says]
        if self.mind.expected != self.before.expected:
            out.append(Listen(self.mind.expected))
        return out
