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
