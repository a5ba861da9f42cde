"""handle(event) -> effects: calls the parts in a fixed order, which is a safety rule. Stays short.

No clock, no file, no device: the same configuration and events give the same effects. Events that
only carry time are skipped until the next deadline.
"""

from __future__ import annotations

import math
from collections.abc import Callable

from assistant.alarms.watch import GRAIN_S
from assistant.belief import estimate
from assistant.dialogue import (
    acceptance,
    alarm_notices,
    checklist_flow,
    ending,
    expectation,
    starting,
    utterance,
    wake_gate,
)
from assistant.dialogue.event_context import EventContext
from assistant.dialogue.owners import boiler, clock, devices, hearing, log, told
from assistant.dialogue.session_config import SessionConfig
from assistant.dialogue.state import Believed, Clock, Procedure, SessionState
from assistant.messages import (
    TOO_LOUD,
    Away,
    DeviceBack,
    DeviceLost,
    Effect,
    Ended,
    Event,
    Expected,
    Fault,
    Heard,
    Resumed,
    Say,
    SpeechBegan,
    Spoke,
    Started,
    StopAsked,
    Tick,
    Urgency,
)
from assistant.procedure import progress as steps
from assistant.procedure.checklist import Phase
from assistant.wording import walkthrough

Part = Callable[[EventContext], None]
LONGEST_SKIP_S = 30.0  # upper bound on skipping, as a safety net
TIME_ONLY = (Tick, SpeechBegan, Spoke)  # the last two change no more than a Tick does


class Session:
    """One steam-up. `state` is its whole state, replaced by each event that is handled."""

    def __init__(self, config: SessionConfig) -> None:
        self._config = config
        first = config.lists[0]
        self.state = SessionState(
            clock=Clock(),
            believed=Believed(estimate.begin(config.engine, 0.0, config.past)),
            procedure=Procedure(
                steps.start_list(first, config.engine, 0.0), first.phase or Phase.PREPARATION
            ),
        )
        self._skipped_at = -math.inf  # the time of the last event that was skipped
        self._idle_state = self.state  # time alone leaves this state as it is ...
        self._idle_until = -math.inf  # ... until then

    @property
    def config(self) -> SessionConfig:
        """What it was made of."""
        return self._config

    @property
    def expected(self) -> Expected:
        """What is listened for now."""
        return self.state.hearing.expected

    def handle(self, event: Event) -> list[Effect]:
        """The effects of one event. An internal error is told and leaves the state as it was."""
        if self._skips(event):
            self._skipped_at = max(event.at, self._skipped_at)
            return []
        try:
            context = self._run_parts(event)
        except Exception as bug:
            return [
                Fault(f"{type(bug).__name__}: {bug}"),
                Say(walkthrough.fault_words(), Urgency.DANGER),
            ]
        effects = context.effects()
        unchanged = context.unchanged and not effects
        self._idle_until = self._next_deadline(context) if unchanged else -math.inf
        self.state = self._idle_state = context.state
        return effects

    def _skips(self, event: Event) -> bool:
        """Whether the event only carries time and comes before the next deadline."""
        if event.at >= self._idle_until or self.state is not self._idle_state:
            return False
        time_only = isinstance(event, TIME_ONLY)
        return time_only and not wake_gate.ends_answerable(self.state.hearing.wake, event)

    def _next_deadline(self, context: EventContext) -> float:
        """Until when time alone changes nothing, after an event that changed nothing else [s]."""
        if isinstance(context.event, Tick):
            return min(context.next_deadline, context.at + LONGEST_SKIP_S) - GRAIN_S
        return self._idle_until if context.before is self._idle_state else -math.inf

    def _run_parts(self, event: Event) -> EventContext:
        context = EventContext(self._config, self.state, event)
        if self.state.clock.over:
            return context
        at = max(event.at, self.state.at, self._skipped_at)
        clock.begin(context, at)
        boiler.predict(context, at)
        context.mark_begun()
        for part in (_note_devices, wake_gate.open_gate, _hear, _begin_or_end):
            _attempt(context, part)
        if not context.state.clock.over:
            for part in (
                alarm_notices.watch_and_tell,
                acceptance.answer_all_clear,
                checklist_flow.proceed,
                _listen,
            ):
                _attempt(context, part)
        if context.remembered:
            told.said(context, context.remembered)
        wake_gate.remember_answerable(context)
        return context


def _attempt(context: EventContext, part: Part) -> None:
    """Run one part. One that fails is told as our fault, and the others go on.

    What it had changed is undone, but for the reports that it took: those are never lost.
    """
    before = context.state
    try:
        part(context)
    except Exception as bug:
        taken = context.state.reports
        context.go_back_to(before)
        log.keep(context, taken)
        context.report_fault(bug)


def _hear(context: EventContext) -> None:
    if isinstance(context.event, Heard):
        utterance.hear(context, context.event)


def _begin_or_end(context: EventContext) -> None:
    match context.event:
        case Started() as event:
            starting.start(context, event)
        case Resumed() | Away() as event:
            starting.resume_after_break(context, event)
        case StopAsked():
            context.record(Ended("stopped"))
            context.say(ending.ended(context) if ending.in_her(context) else "", Urgency.ALARM)
            clock.end(context)


def _listen(context: EventContext) -> None:
    hearing.listen_for(context, expectation.expected(context))


def _note_devices(context: EventContext) -> None:
    event = context.event
    if isinstance(event, DeviceLost):  # spoken by its alarm
        devices.lost(context, devices.HEARING if event.reason == TOO_LOUD else event.device)
    elif isinstance(event, DeviceBack):
        only_noise = devices.only_noise(context, event.device)
        devices.back(context, event.device)
        words = walkthrough.hears_again() if only_noise else ""
        context.say(words or walkthrough.device_back_words(event.device), Urgency.ANSWER)
        if event.device == "microphone":
            hearing.came_back(context)
