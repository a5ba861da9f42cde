"""Asking for a reading: repeated questions are counted only while nothing is understood."""

from __future__ import annotations

from dataclasses import replace

from session_story import Story, in_steam

from assistant.dialogue import asking
from assistant.dialogue.event_context import EventContext
from assistant.dialogue.owners import clock
from assistant.dialogue.session_config import SessionConfig
from assistant.dialogue.state import Asked, SessionState
from assistant.messages import Say, Tick


def asked(story: Story, state: SessionState, config: SessionConfig, at: float) -> SessionState:
    context = EventContext(config, state, Tick(at))
    clock.begin(context, at)
    context.mark_begun()
    asking.ask(context, "water")
    assert [type(effect) for effect in context.effects()] == [Say]
    return context.state


def test_the_same_question_in_silence_is_counted_and_a_word_starts_anew() -> None:
    story = in_steam()
    config, state = story.session._config, replace(story.session.state, asked={})
    first = asked(story, state, config, 1000.0)
    assert first.asked["water"] == Asked("water", 1000.0, 1000.0, 1)
    second = asked(story, first, config, 1060.0)
    assert second.asked["water"] == Asked("water", 1000.0, 1060.0, 2)
    answered = replace(second, person=replace(second.person, heard_at=1070.0))
    third = asked(story, answered, config, 1120.0)
    assert third.asked["water"] == Asked("water", 1120.0, 1120.0, 1)
