"""A story under the monitor of the random days: which promises were broken in it."""

from __future__ import annotations

from collections.abc import Sequence

from session_story import Story, parts

from assistant.dialogue.session import Session
from assistant.lab.days.day_monitor import DayMonitor
from assistant.messages import Effect, Event, Say, Tick


class WatchedStory(Story):
    """A story whose events and effects the monitor sees."""

    def __init__(self, engine: str = "practice", from_phase: str | None = None) -> None:
        config = parts(engine)
        self.monitor = DayMonitor(config.engine, config.dial)
        super().__init__(engine, from_phase)
        self.monitor.see(self.events[0], self.effects)

    def event(self, event: Event) -> list[Effect]:
        effects = super().event(event)
        self.monitor.see(event, effects)
        return effects

    @property
    def broken(self) -> set[str]:
        """The keys of the promises that were broken so far."""
        return set(self.monitor.violations)


class Tampered(Session):
    """A session whose effects are changed before anybody sees them."""

    def __init__(
        self, session: Session, without: Sequence[str] = (), deaf_to_ticks: bool = False
    ) -> None:
        super().__init__(session._config)
        self.state = session.state
        self._without, self._deaf = tuple(without), deaf_to_ticks
        self.also: list[Say] = []
        """What is said besides, at the next event."""

    def handle(self, event: Event) -> list[Effect]:
        if self._deaf and isinstance(event, Tick):
            return []
        said, self.also = self.also, []
        return [e for e in super().handle(event) if not self._is_dropped(e)] + list(said)

    def _is_dropped(self, effect: Effect) -> bool:
        return isinstance(effect, Say) and any(w in effect.text.lower() for w in self._without)
