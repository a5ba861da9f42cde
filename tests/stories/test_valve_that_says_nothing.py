"""The pressure is past the valve's figure and nobody has said that the valve moves."""

from __future__ import annotations

import pytest
from session_story import Story, in_steam

from assistant.messages import AlarmChanged


def raised(story: Story) -> list[str]:
    return [a.name for a in story.got(AlarmChanged) if a.state == "raised"]


def test_past_the_feather_it_is_asked_whether_the_valve_moves() -> None:
    story = in_steam(pressure="pressure one hundred and thirty")
    assert "valve silent" not in raised(story)
    story.say("pressure one hundred and forty", after_s=120.0)
    assert "valve silent" in raised(story)
    assert "Warning. Valve should move by now. Does it?" in " ".join(story.said())


def test_a_valve_that_moves_answers_it() -> None:
    story = in_steam(pressure="pressure one hundred and forty")
    story.say("valve is feathering", after_s=20.0)
    assert "valve silent" not in {a.name for a in story.session.state.watch.alarms}


def test_once_gauge_and_valve_have_agreed_it_is_not_asked_again() -> None:
    story = in_steam(pressure="pressure one hundred and thirty five")
    story.say("valve is lifting", after_s=20.0)
    story.say("valve is shut", after_s=60.0)
    story.say("pressure one hundred and forty", after_s=600.0)
    assert "valve silent" not in raised(story)


@pytest.mark.parametrize("pressure", ["pressure one hundred", "pressure one hundred and thirty"])
def test_under_the_figure_nothing_is_asked(pressure: str) -> None:
    assert "valve silent" not in raised(in_steam(pressure=pressure))


def at_the_lift() -> Story:
    story = in_steam(pressure="pressure one hundred and thirty")
    story.say("pressure one hundred and forty six", after_s=120.0)
    return story


def test_at_the_lift_it_is_asked_whether_it_lifts() -> None:
    assert "Does it?" in at_the_lift().text()
    story = in_steam(pressure="pressure one hundred and thirty four")
    story.say("pressure one hundred and forty", after_s=60.0)
    story.say("pressure one hundred and forty five", after_s=60.0)
    assert "Valve should lift now. Does it?" in story.text()


def test_no_to_that_is_a_danger_at_once() -> None:
    story = at_the_lift()
    story.say("no")
    assert raised(story) == ["over-pressure"]
    assert "Taken back" not in story.text()


def test_nothing_said_of_it_by_the_next_reading_is_a_danger() -> None:
    story = at_the_lift()
    story.say("pressure one hundred and forty seven", after_s=60.0)
    assert "over-pressure" in raised(story)


def test_yes_is_a_valve_that_lifts() -> None:
    story = at_the_lift()
    story.say("yes")
    story.say("pressure one hundred and forty seven", after_s=30.0)
    assert raised(story) == []


def test_rising_over_the_feather_with_the_damper_shut() -> None:
    story = in_steam(pressure="pressure one hundred and thirty")
    story.say("damper shut")
    story.say("pressure one hundred and thirty five", after_s=60.0)
    assert "Blower off?" not in story.text(), "one question at a time: the valve first"
    story.wait(60.0)
    assert "Blower off? Regulator, leaks? Feed if there is room." in story.text()


def test_no_feed_is_asked_for_beside_a_feed_that_runs() -> None:
    story = in_steam(pressure="pressure one hundred and thirty")
    story.say("damper shut")
    story.say("hand pump going")
    story.say("pressure one hundred and thirty five", after_s=60.0)
    story.wait(60.0)
    assert "Blower off? Regulator, leaks?" in story.text()
    assert "Feed if there is room." not in story.text()
