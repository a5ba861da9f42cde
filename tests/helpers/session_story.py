"""A session told as a story: say words, let time pass, look at what came of it."""

from __future__ import annotations

from copy import copy
from dataclasses import replace
from functools import lru_cache
from typing import Self, TypeVar

from assistant.commands.session_build import header_of, session_config_of
from assistant.config import engine_file
from assistant.dialogue.event_context import EventContext
from assistant.dialogue.session import Session
from assistant.dialogue.session_config import SessionConfig
from assistant.messages import (
    Alternative,
    Decided,
    Effect,
    Event,
    Heard,
    Learner,
    Meaning,
    Say,
    Started,
    Tick,
)
from assistant.procedure.position import Progress
from assistant.recogniser.typed_recogniser import hear_typed

E = TypeVar("E")


@lru_cache(maxsize=4)
def parts(engine: str = "practice") -> SessionConfig:
    found = engine_file.find_engine(engine)
    return session_config_of(header_of(found, "2026-05-01T09:00:00+00:00", 1, "test"))


class Counting(Session):
    """Counts the events it handles without skipping."""

    handled = 0

    def _run_parts(self, event: Event) -> EventContext:
        self.handled += 1
        return super()._run_parts(event)


class Thorough(Counting):
    """Skips no event."""

    def _skips(self, event: Event) -> bool:
        return False


class Story:
    """One session with a clock of its own."""

    def __init__(
        self,
        engine: str = "practice",
        from_phase: str | None = None,
        people: tuple[str, ...] = (),
        learner: Learner | None = None,
    ) -> None:
        self.session = Session(parts(engine))
        self.at = 0.0
        self.events: list[Event] = [Started(0.0, from_phase, people=people, learner=learner)]
        self.effects: list[Effect] = self.session.handle(self.events[0])

    def copied(self) -> Self:
        """Another story that has come to the same moment.

        What a session holds is frozen, but for what its log keeps as it grows.
        """
        other = copy(self)
        other.session = copy(self.session)
        reports = copy(self.session.state.reports)
        vars(reports)["_moves"] = dict(reports._moves)
        other.session.state = replace(self.session.state, reports=reports)
        other.events, other.effects = [*self.events], [*self.effects]
        return other

    def event(self, event: Event) -> list[Effect]:
        self.events.append(event)
        self.effects = self.session.handle(event)
        return self.effects

    def say(self, words: str, after_s: float = 5.0) -> list[Effect]:
        self.at += after_s
        return self.event(hear_typed(words, self.session.expected, self.at))

    def sound(self, *alternatives: tuple[Meaning, float], after_s: float = 5.0) -> list[Effect]:
        """An ear's opinion: surely speech for us, with these meanings and probabilities."""
        self.at += after_s
        found = tuple(Alternative(m, "...", p) for m, p in alternatives)
        return self.event(Heard(self.at, "test", found, log_ratio=3.0, average=-0.1))

    def wait(self, seconds: float, tick_s: float = 5.0) -> list[Effect]:
        """Let time pass; everything that came of it."""
        came: list[Effect] = []
        end = self.at + seconds
        while self.at < end:
            self.at = min(self.at + tick_s, end)
            came += self.event(Tick(self.at))
        self.effects = came
        return came

    def said(self) -> list[str]:
        return [effect.text for effect in self.effects if isinstance(effect, Say)]

    def text(self) -> str:
        """Everything that was said, as one text."""
        return " ".join(self.said())

    def got(self, kind: type[E]) -> list[E]:
        return [effect for effect in self.effects if isinstance(effect, kind)]

    def acts(self) -> list[Effect]:
        """What came of it, but for the record of how it was decided."""
        return [effect for effect in self.effects if not isinstance(effect, Decided)]

    def through(self, *lines: str) -> None:
        for line in lines:
            self.say(line)


PREPARED = (
    "brake on and chocked", "gear is out", "regulator shut", "drains open", "papers in date",
    "gloves are on", "blow down is shut", "pressure zero",
)  # fmt: skip


def warm_engine(phase: str = "tick-over", engine: str = "practice") -> Story:
    """A warm engine taken over, everything answered."""
    story = Story(engine, phase)
    story.through(
        "water half", "comes back at once", "pressure one hundred", "valve agreed today",
        "fire is built", "pump worked today", "regulator shut", "brake on and chocked",
        "gear is out",
    )  # fmt: skip
    assert not story.session.state.procedure.parked
    return story


def in_steam(engine: str = "practice", pressure: str = "pressure sixty") -> Story:
    """Taken over warm, the killer questions answered as far as pressure and water."""
    story = Story(engine, "raising steam")
    story.say("water half")
    story.say("comes back at once")
    story.say(pressure)
    return story


def steaming() -> Story:
    """Sixty pounds, everything that taking over asks is answered."""
    story = in_steam()
    story.through("regulator shut", "fire is built", "blower half open", "damper wide open")
    return story


def taken_over(story: Story) -> None:
    """Answer whatever taking over still asks."""
    for _ in range(20):
        hand = story.session.state.progress
        step = next((s for s in hand.steps if s.id == hand.asked), None)
        if not story.session.state.procedure.parked or step is None:
            break
        story.say(step.replies[0].spoken[0] if step.replies else "water half")
    assert not story.session.state.procedure.parked


def set_progress(story: Story, progress: Progress) -> None:
    """Let the list in hand have come so far."""
    state = story.session.state
    story.session.state = replace(state, procedure=replace(state.procedure, progress=progress))


def texts(effects: list[Effect]) -> list[str]:
    """What is said among the effects."""
    return [e.text for e in effects if isinstance(e, Say)]
