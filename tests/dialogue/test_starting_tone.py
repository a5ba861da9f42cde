"""A start with a loudspeaker: the tone of a danger first, and whether it was heard."""

from __future__ import annotations

from session_story import parts

from assistant.dialogue.session import Session
from assistant.messages import Grade, Say, Started, Tone


def test_the_tone_is_sounded_and_asked_about_before_anything_else() -> None:
    effects = Session(parts()).handle(Started(0.0, plate=True, tone=True))
    heard = [each for each in effects if isinstance(each, Say | Tone)]
    assert heard[0] == Tone(Grade.DANGER)
    assert isinstance(heard[1], Say)
    assert heard[1].text.startswith("That tone is a danger. Say: heard.")


def test_without_a_loudspeaker_no_tone_is_sounded() -> None:
    effects = Session(parts()).handle(Started(0.0, plate=True))
    assert not any(isinstance(each, Tone) for each in effects)
