"""A gauge that falls by most of its reading in a minute was misheard, or something has let go."""

from __future__ import annotations

import pytest
from session_story import in_steam

from assistant.messages import ReadingAccepted, ReadingDoubted


@pytest.mark.parametrize("phase_words", [(), ("standing by now",), ("fire banked", "damper shut")])
def test_it_is_asked_about_whatever_the_phase(phase_words: tuple[str, ...]) -> None:
    story = in_steam(pressure="pressure one hundred")
    story.through(*phase_words)
    story.say("pressure ten", after_s=60.0)
    assert [d.report.value for d in story.got(ReadingDoubted)] == [10.0]
    assert story.got(ReadingAccepted) == []
    story.say("that's right")
    assert [a.report.value for a in story.got(ReadingAccepted)] == [10.0]


@pytest.mark.parametrize(
    ("later", "after_s"), [("pressure eighty", 60.0), ("pressure fifty", 900.0)]
)
def test_a_fall_that_steam_drawn_or_time_explains_is_taken(later: str, after_s: float) -> None:
    story = in_steam(pressure="pressure one hundred")
    story.through("fire banked", "regulator open")
    story.say(later, after_s=after_s)
    assert story.got(ReadingDoubted) == []
