"""Asking for a reading: repeated questions are counted only while nothing is understood."""

from __future__ import annotations

from session_story import Story, in_steam

from assistant.dialogue import asking
from assistant.dialogue.event_context import EventContext
from assistant.dialogue.session_config import SessionConfig
from assistant.dialogue.state import SessionState
from assistant.messages import Say, Tick


def asked(story: Story, state: SessionState, config: SessionConfig, at: float) -> SessionState:
    context = EventContext(config, state, Tick(at))
    context.begin(at, state.belief)
    asking.ask(context, "water")
    assert [type(effect) for effect in context.effects()] == [Say]
    return context.state


def test_the_same_question_in_silence_is_counted_and_a_word_starts_anew() -> None:
    story = in_steam()
    config, state = story.session._config, story.session.state.changed({"reading_asked": None})
    first = asked(story, state, config, 1000.0)
    assert (first.reading_asked, first.reading_asked_times) == ("water", 1)
    second = asked(story, first, config, 1060.0)
    assert second.reading_asked_times == 2
    assert (second.reading_first_asked_at, second.reading_asked_at) == (1000.0, 1060.0)
    answered = second.changed({"heard_at": 1070.0})
    third = asked(story, answered, config, 1120.0)
    assert (third.reading_asked_times, third.reading_first_asked_at) == (1, 1120.0)
