"""When a step is put, and when again."""

from __future__ import annotations

from session_story import Story

from assistant.dialogue.state import STEP
from assistant.messages import StepAsked


def test_a_step_is_put_once_and_again_at_growing_intervals() -> None:
    story = Story()
    (first,) = [a.step for a in story.got(StepAsked)]
    prompt = story.said()[-1]
    put_at = []
    for _ in range(200):
        if prompt in _said_in(story, 5.0):
            put_at.append(story.at)
    gaps = [later - earlier for earlier, later in zip([0.0, *put_at], put_at, strict=False)]
    assert len(gaps) >= 3
    assert gaps[0] >= 60.0 and gaps == sorted(gaps), gaps
    assert story.session.state.progress.asked == first


def _said_in(story: Story, seconds: float) -> list[str]:
    story.wait(seconds)
    return story.said()


def test_quiet_holds_a_repeated_step_back_but_not_a_new_one() -> None:
    story = Story()
    prompt = story.said()[-1]
    story.say("wait five minutes")
    assert not any(prompt in text for text in _said_in(story, 270.0))
    story.say("water half")
    assert [a.step for a in story.got(StepAsked)] == ["brake and chocks"]


def test_the_next_step_is_put_in_the_event_that_answers_the_last() -> None:
    story = Story()
    story.say("water half")
    assert len(story.got(StepAsked)) == 1
    asked = story.session.state.asked[STEP + first]
    assert (asked.first_at, asked.times) == (story.at, 1)
