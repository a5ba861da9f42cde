"""A danger that may have been called: silence neither confirms nor dismisses it."""

from __future__ import annotations

import pytest
from session_story import Story, steaming, texts

from assistant.messages import OUT_OF_SIGHT, Grade, Report, Tone

LOST = Report("water", OUT_OF_SIGHT)


def half_heard(meaning: Report = LOST) -> Story:
    story = steaming()
    story.sound((meaning, 0.9))
    assert story.session.state.doubt is not None
    return story


def test_after_fifteen_seconds_it_is_a_warning() -> None:
    story = half_heard()
    came = story.wait(20.0)
    assert [e.grade for e in came if isinstance(e, Tone)] == [Grade.WARNING]
    assert any(text.startswith("Warning. ") and text.endswith("?") for text in texts(came))


def test_nobody_answers_and_the_water_is_asked_for() -> None:
    story = half_heard()
    came = story.wait(100.0)
    assert story.session.state.reports[-1].report != LOST, "silence never confirms"
    assert any("Where is the water?" in text for text in texts(came)), "and never dismisses"


def test_a_yes_is_the_danger_itself() -> None:
    story = half_heard()
    story.wait(20.0)
    story.say("yes")
    assert "water out of sight" in {alarm.name for alarm in story.session.state.watch.alarms}


@pytest.mark.parametrize("what", [LOST, Report("water", 0.2, "glass")])
def test_water_at_the_mark_and_out_of_sight_are_as_grave(what: Report) -> None:
    came = half_heard(what).wait(20.0)
    assert [e for e in came if isinstance(e, Tone)] != []


def test_another_doubt_is_put_again_as_it_was() -> None:
    story = steaming()
    story.say("pressure ten")
    came = story.wait(25.0)
    assert not [e for e in came if isinstance(e, Tone)]
