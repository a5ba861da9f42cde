"""A practice as a scene: who speaks when, and that every sentence comes to its end."""

from __future__ import annotations

import numpy as np
import pytest
from session_story import parts

from assistant.dialogue.session import Session
from assistant.messages import Effect, Ended, Event, Say, Spoke, StopAsked
from assistant.simulator import practice
from assistant.simulator.operator import Operator
from assistant.simulator.practice_boiler import PracticeBoiler
from assistant.simulator.scene import NoWaiting, Scene
from assistant.simulator.sound_rig import TypedRig


def played(engine: str, seed: int) -> tuple[list[tuple[Event, list[Effect]]], list[float]]:
    """A whole silent practice: each event with its effects, and the times in their order."""
    what = parts(engine)
    session = Session(what)
    came: list[tuple[Event, list[Effect]]] = []

    def turn(event: Event) -> list[Effect]:
        effects = session.handle(event)
        came.append((event, effects))
        return effects

    cast = practice.Cast(what.engine, what.lists, TypedRig(), NoWaiting(), seed)
    practice.play(cast, turn, lambda: session.expected, lambda at, who, shown: None)
    return came, [event.at for event, _ in came]


@pytest.mark.parametrize(("engine", "seed"), [("practice", 1), ("practice", 5), ("copper", 2)])
def test_every_sentence_comes_to_its_end(engine: str, seed: int) -> None:
    """As many Spoke as Say, the same words in the same order, up to the event that ends the day."""
    came, times = played(engine, seed)
    assert times == sorted(times)
    end = next(n for n, (event, _) in enumerate(came) if isinstance(event, StopAsked))
    *before, last = came[:end]
    said = [e.text for _, effects in before for e in effects if isinstance(e, Say)]
    spoken = [event.text for event, _ in came if isinstance(event, Spoke)]
    assert len(said) > 100
    assert spoken == said
    assert any(isinstance(e, Ended) for e in came[end][1])
    assert last[1], "what ended it was an event of which something came"


def test_the_end_of_a_sentence_is_later_than_its_beginning() -> None:
    what = parts()
    session = Session(what)
    boiler = PracticeBoiler(what.engine, 1)
    operator = Operator(boiler, what.lists, np.random.default_rng(1))
    events: list[Event] = []

    def turn(event: Event) -> list[Effect]:
        events.append(event)
        return [Say("three short words")] if not isinstance(event, Spoke) else []

    scene = Scene(turn, lambda: session.expected, operator, boiler, TypedRig(), NoWaiting())
    scene._event(StopAsked(0.0))
    assert [type(event) for event in events] == [StopAsked, Spoke]
    assert events[1].at == pytest.approx(3 / 2.4)
