"""handle(event) -> effects: asks the parts in a fixed order, which is the safety rule. Stays short.

No clock, no file, no device: the same parts and the same events give the same effects. What
tells of the time only is passed over while nothing can come of that.
"""

from __future__ import annotations

import math

from assistant.alarms.watch import GRAIN_S, Watch
from assistant.belief import estimate
from assistant.dialogue import alarm_notices, checklist_flow, starting, utterance, wake_gate
from assistant.dialogue.event_context import Turn
from assistant.dialogue.session_config import Parts
from assistant.dialogue.state import Mind
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

PASSED_OVER_S = 30.0  # no longer is time passed over, whatever the parts say: a second net
MERE_TIME = (Tick, SpeechBegan, Spoke)  # a Tick looks at all that these two look at, and more


class Session:
    """One steam-up. `mind` is its whole state, replaced by each event that is thought through."""

    def __init__(self, parts: Parts) -> None:
        self._parts = parts
        first = parts.lists[0]
        self.mind = Mind(
            belief=estimate.begin(parts.engine, 0.0, parts.past),
            progress=steps.begin(first, parts.engine, 0.0),
            watch=Watch(),
            dial=parts.dial,
            phase=first.phase or Phase.PREPARATION,
        )
        self._passed_at = -math.inf  # when something was passed over last
        self._still = self.mind  # time alone leaves this mind as it is ...
        self._still_until = -math.inf  # ... until then

    @property
    def expected(self) -> Expected:
        """What is listened for now."""
        return self.mind.expected

    def handle(self, event: Event) -> list[Effect]:
        """What comes of one event. A bug in a part is told and leaves the state as it was."""
        if self._passes_over(event):
            self._passed_at = max(event.at, self._passed_at)
            return []
        try:
            turn = self._think(event)
        except Exception as bug:
            return [
                Fault(f"{type(bug).__name__}: {bug}"),
                Say(walkthrough.fault(), Urgency.DANGER),
            ]
        effects = turn.effects()
        self._still_until = self._until(turn) if turn.unchanged and not effects else -math.inf
        self.mind = self._still = turn.mind
        return effects

    def _passes_over(self, event: Event) -> bool:
        """Whether it tells of the time only, and nothing can come of that now."""
        if event.at >= self._still_until or self.mind is not self._still:
            return False
        mere = isinstance(event, MERE_TIME)
        return mere and not wake_gate.ends_ours(self.mind.attention, event)

    def _until(self, turn: Turn) -> float:
        """Until when time alone changes nothing, after an event that changed nothing else [s]."""
        if isinstance(turn.event, Tick):
            return min(turn.stands_until, turn.at + PASSED_OVER_S) - GRAIN_S
        return self._still_until if turn.before is self._still else -math.inf

    def _think(self, event: Event) -> Turn:
        turn = Turn(self._parts, self.mind, event)
        if self.mind.over:
            return turn
        at = max(event.at, self.mind.at, self._passed_at)
        turn.begin(at, estimate.predict(turn.mind.belief, at))
        _devices(turn)
        wake_gate.look(turn)
        if isinstance(event, Heard):
            utterance.hear(turn, event)
        if isinstance(event, Started):
            starting.start(turn, event)
        elif isinstance(event, Resumed):
            starting.resume(turn, event)
        elif isinstance(event, StopAsked):
            turn.fact(Ended("stopped"))
            turn.now(over=True)
        if not turn.mind.over:
            alarm_notices.look(turn)
            checklist_flow.proceed(turn)
            turn.listen(checklist_flow.expected(turn))
        turn.remember()
        wake_gate.remember(turn)
        return turn


def _devices(turn: Turn) -> None:
    event = turn.event
    if isinstance(event, DeviceLost):
        turn.now(lost=turn.mind.lost | {event.device})  # the watch tells it
    elif isinstance(event, DeviceBack):
        turn.now(lost=turn.mind.lost - {event.device})
        turn.say(walkthrough.device_back(event.device), Urgency.ANSWER)
