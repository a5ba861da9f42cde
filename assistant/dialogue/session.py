"""handle(event) -> effects: asks the parts in a fixed order, which is the safety rule. Stays short.

No clock, no file, no device: the same parts and the same events give the same effects. What
tells of the time only is passed over while nothing can come of that.
"""

from __future__ import annotations

import math

from assistant.alarms.watch import GRAIN_S, Watch
from assistant.belief import estimate
from assistant.dialogue import alarm_notices, checklist_flow, starting, utterance, wake_gate
from assistant.dialogue.event_context import EventContext
from assistant.dialogue.session_config import SessionConfig
from assistant.dialogue.state import SessionState
from assistant.messages import (
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

LONGEST_SKIP_S = 30.0  # no longer is time passed over, whatever the parts say: a second net
TIME_ONLY = (Tick, SpeechBegan, Spoke)  # a Tick looks at all that these two look at, and more


class Session:
    """One steam-up. `mind` is its whole state, replaced by each event that is thought through."""

    def __init__(self, parts: SessionConfig) -> None:
        self._parts = parts
        first = parts.lists[0]
        self.state = SessionState(
            belief=estimate.begin(parts.engine, 0.0, parts.past),
            progress=steps.start_list(first, parts.engine, 0.0),
            watch=Watch(),
            dial=parts.dial,
            phase=first.phase or Phase.PREPARATION,
        )
        self._skipped_at = -math.inf  # when something was passed over last
        self._idle_state = self.state  # time alone leaves this mind as it is ...
        self._idle_until = -math.inf  # ... until then

    @property
    def expected(self) -> Expected:
        """What is listened for now."""
        return self.state.expected

    def handle(self, event: Event) -> list[Effect]:
        """What comes of one event. A bug in a part is told and leaves the state as it was."""
        if self._skips(event):
            self._skipped_at = max(event.at, self._skipped_at)
            return []
        try:
            context = self._think(event)
        except Exception as bug:
            return [
                Fault(f"{type(bug).__name__}: {bug}"),
                Say(walkthrough.fault_words(), Urgency.DANGER),
            ]
        effects = context.effects()
        self._idle_until = self._until(context) if context.unchanged and not effects else -math.inf
        self.state = self._idle_state = context.state
        return effects

    def _skips(self, event: Event) -> bool:
        """Whether it tells of the time only, and nothing can come of that now."""
        if event.at >= self._idle_until or self.state is not self._idle_state:
            return False
        mere = isinstance(event, TIME_ONLY)
        return mere and not wake_gate.ends_ours(self.state.attention, event)

    def _until(self, context: EventContext) -> float:
        """Until when time alone changes nothing, after an event that changed nothing else [s]."""
        if isinstance(context.event, Tick):
            return min(context.next_deadline, context.at + LONGEST_SKIP_S) - GRAIN_S
        return self._idle_until if context.before is self._idle_state else -math.inf

    def _think(self, event: Event) -> EventContext:
        context = EventContext(self._parts, self.state, event)
        if self.state.over:
            return context
        at = max(event.at, self.state.at, self._skipped_at)
        context.begin(at, estimate.predict(context.state.belief, at))
        _devices(context)
        wake_gate.look_for_phrase(context)
        if isinstance(event, Heard):
            utterance.hear(context, event)
        if isinstance(event, Started):
            starting.start(context, event)
        elif isinstance(event, Resumed):
            starting.resume_after_break(context, event)
        elif isinstance(event, StopAsked):
            context.fact(Ended("stopped"))
            context.update(over=True)
        if not context.state.over:
            alarm_notices.watch_and_tell(context)
            checklist_flow.proceed(context)
            context.listen(checklist_flow.expected(context))
        context.remember()
        wake_gate.remember(context)
        return context


def _devices(context: EventContext) -> None:
    event = context.event
    if isinstance(event, DeviceLost):
        context.update(lost=context.state.lost | {event.device})  # the watch tells it
    elif isinstance(event, DeviceBack):
        context.update(lost=context.state.lost - {event.device})
        context.say(walkthrough.device_back_words(event.device), Urgency.ANSWER)
