"""handle(event) -> effects: asks the parts in a fixed order, which is the safety rule. Stays short.

No clock, no file, no device: the same parts and the same events give the same effects.
"""

from __future__ import annotations

from assistant.boiler import estimate
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
    Started,
    StopAsked,
    Urgency,
)
from assistant.procedure import progress as steps
from assistant.procedure.checklist import Phase
from assistant.talk import walking
from assistant.turn import alarms, readings, starting, walk
from assistant.turn.mind import Mind
from assistant.turn.parts import Parts
from assistant.turn.turn import Turn
from assistant.watch.watch import Watch


class Session:
    """One steam-up. `mind` is its whole state, replaced by each event."""

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

    @property
    def expected(self) -> Expected:
        """What is listened for now."""
        return self.mind.expected

    def handle(self, event: Event) -> list[Effect]:
        """What comes of one event. A bug in a part is told and leaves the state as it was."""
        try:
            turn = self._think(event)
        except Exception as bug:
            return [
                Fault(f"{type(bug).__name__}: {bug}"),
                Say(walking.fault(), Urgency.DANGER),
            ]
        self.mind = turn.mind
        return turn.effects()

    def _think(self, event: Event) -> Turn:
        turn = Turn(self._parts, self.mind, event)
        if self.mind.over:
            return turn
        at = max(event.at, self.mind.at)
        turn.now(at=at, belief=estimate.predict(turn.mind.belief, at))
        _devices(turn)
        if isinstance(event, Heard):
            readings.hear(turn, event)
        if isinstance(event, Started):
            starting.start(turn, event)
        elif isinstance(event, Resumed):
            starting.resume(turn, event)
        elif isinstance(event, StopAsked):
            turn.fact(Ended("stopped"))
            turn.now(over=True)
        if not turn.mind.over:
            alarms.look(turn)
            walk.proceed(turn)
            turn.listen(walk.expected(turn))
        turn.remember()
        return turn


def _devices(turn: Turn) -> None:
    event = turn.event
    if isinstance(event, DeviceLost):
        turn.now(lost=turn.mind.lost | {event.device})  # the watch tells it
    elif isinstance(event, DeviceBack):
        turn.now(lost=turn.mind.lost - {event.device})
        turn.say(walking.device_back(event.device), Urgency.ANSWER)
