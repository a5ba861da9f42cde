"""While a danger stands: no word ends it, and more heat brings it back at once."""

from __future__ import annotations

import pytest
from session_story import Story, steaming

from assistant.messages import ReadingAccepted, ReadingCorrected, Report


def low_water() -> Story:
    story = steaming()
    story.say("water one quarter")
    story.say("damper shut")
    story.wait(40.0)
    assert "Danger. Water low. Blower shut." in story.said(), "one act is left"
    story.say("blower shut")
    story.wait(120.0)
    assert not any(text.startswith("Danger") for text in story.said()), "its acts were reported"
    return story


def test_all_safe_ends_no_danger_that_was_seen() -> None:
    story = low_water()
    story.say("all safe again")
    assert story.said()[0] == "Heard. Low water still stands."
    assert "Danger is over." not in story.text()


@pytest.mark.parametrize(
    "words", ["fire lit", "more coal on the fire", "damper wide open", "blower half open"]
)
def test_heat_put_on_is_answered_in_the_same_event_and_goes_on(words: str) -> None:
    story = low_water()
    story.say(words)
    assert story.said()[0] == "Danger. Water low. Stop the heat."
    said = [story.wait(30.0) and story.text() for _ in range(4)]
    assert all("Danger. Water low. Stop the heat." in text for text in said)


def test_no_list_asks_for_fire_or_draught_while_the_water_is_overdue() -> None:
    story = steaming()
    story.wait(1200.0)
    assert "Blower on." not in story.text() and "Coal now" not in story.text()


def test_a_fallen_gauge_is_not_told_to_be_near_the_wanted_pressure() -> None:
    story = steaming()
    story.say("pressure one hundred and twenty")
    story.say("blower half open", after_s=30.0)
    story.say("pressure sixty", after_s=60.0)
    story.say("that's right")
    story.wait(300.0)
    assert "Near the wanted pressure" not in story.text()


def test_a_lift_that_was_not_is_asked_about_then_taken_out_of_the_log() -> None:
    story = steaming()
    story.say("valve lifting")
    assert "Danger. Valve lifts, gauge low. Stop the heat." in story.text()
    story.say("the valve did not lift")
    assert story.said()[-1] == "The valve did not lift: is that right?"
    assert story.session.state.latest("valve") is not None, "nothing before the yes"
    story.say("that's right")
    assert story.got(ReadingCorrected) == [ReadingCorrected(Report("valve", "lifting"), None)]
    assert story.session.state.latest("valve") is None
    assert not story.session.state.watch.danger


def test_water_out_of_sight_is_not_taken_back_by_a_word() -> None:
    story = steaming()
    story.say("no water in sight")
    story.say("feed was not on")
    assert Report("withdrawn", "feed") in [each.report for each in story.got(ReadingAccepted)]
    assert story.session.state.latest_is("water", "out of sight")
    assert story.session.state.watch.danger
