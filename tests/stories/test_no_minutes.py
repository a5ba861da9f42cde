"""No time to a pressure is told where gauge, water or fire do not bear one."""

from __future__ import annotations

import pytest
from session_story import Story, in_steam, steaming

from assistant.messages import ForecastMade


def how_long(story: Story) -> str:
    story.say("how long")
    return story.text()


def test_with_everything_known_there_are_minutes() -> None:
    story = steaming()
    assert "to wanted pressure" in how_long(story)


@pytest.mark.parametrize(
    ("words", "why"),
    [
        (("water one quarter",), "the water is near the mark"),
        (("steam escaping",), "a danger stands"),
        (("valve is lifting",), "gauge and valve disagree"),
    ],
)
def test_what_stands_against_it_is_said(words: tuple[str, ...], why: str) -> None:
    story = in_steam(pressure="pressure one hundred")
    story.through(*words)
    assert how_long(story) in (f"No time while {why}.", "No time while a danger stands.")
    (made,) = story.got(ForecastMade)
    assert made.mid is None
    story.say("when will it lift")
    assert "About" not in story.text()


def test_old_water_is_not_known() -> None:
    story = steaming()
    story.wait(660.0)
    assert how_long(story) in (
        "No time while the water is not read.",
        "No time while a danger stands.",
    )


def test_a_falling_gauge_has_no_time() -> None:
    story = steaming()
    story.say("pressure fifty", after_s=200.0)
    assert "to wanted pressure" not in story.text()
    assert how_long(story) == "No time while the pressure falls."
    story.say("feed running")
    story.say("pressure forty five", after_s=60.0)
    assert "No time while the pressure falls." not in how_long(story), "the feed explains it"
