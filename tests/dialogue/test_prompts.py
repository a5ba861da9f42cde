"""What is said unasked: forecasts, requests for readings, work for the waiting time."""

from __future__ import annotations

from itertools import pairwise

from session_story import PREPARED, Story, in_steam, taken_over, texts, warm_engine

from assistant.messages import (
    Say,
    StepAsked,
)


def test_in_danger_the_gauge_that_would_end_it_is_asked_for_first() -> None:
    story = in_steam()
    story.wait(300)
    story.say("water one quarter")
    asked = [e.text for e in story.wait(125) if isinstance(e, Say) and e.text.startswith("Wh")]
    assert asked[:1] == ["Where is the water?"]


def test_a_gauge_at_rest_is_not_asked_for_because_the_match_was_put() -> None:
    story = Story()
    story.through(*PREPARED)
    state = story.session.state
    assert state.latest("pressure") is not None
    story.say("fire is lit", after_s=900)
    asked = [e.text for e in story.wait(120) if isinstance(e, Say)]
    assert "What is the pressure?" not in asked


def test_a_valve_that_lifts_again_and_again_wants_less_fire_and_a_feed() -> None:
    story = warm_engine()
    story.say("safety valve lifting")
    assert "blows water away" not in story.text(), "once is what a valve is for"
    story.say("safety valve shut", after_s=40)
    story.say("safety valve lifting", after_s=60)
    assert "The valve blows water away. Damper shut. Feed if there is room." in story.said()
    story.say("safety valve shut", after_s=20)
    story.say("damper shut")
    story.say("safety valve lifting", after_s=60)
    assert "blows water away" not in story.text(), "not at every lift"
    story.say("safety valve shut")
    story.say("water two thirds", after_s=100)
    story.say("safety valve lifting", after_s=200)
    assert "The valve blows water away. Feed if there is room." in story.said()


def test_the_reason_of_an_alarm_is_not_talked_over_by_a_forecast() -> None:
    story = warm_engine("raising steam")
    story.say("pressure ninety", after_s=200)
    assert "Pressure falling" in story.text()
    story.say("why")
    assert "nothing explains it" in story.text()


def test_a_broken_glass_is_not_asked_for() -> None:
    story = warm_engine()
    story.say("glass broken")
    asked = [e.text for e in story.wait(200) if isinstance(e, Say)]
    assert "Where is the water?" not in asked


def test_two_gauges_in_vain_are_asked_for_once_a_minute_at_most() -> None:
    """The water goes on being asked for: nobody is known to look at it. Pressure is rarer."""
    story = warm_engine("raising steam")
    asked: list[tuple[float, str]] = []
    while story.at < 3600.0:
        asked += [(story.at, text) for text in texts(story.wait(5.0)) if text.endswith(ASKED)]
    pressure = [at for at, text in asked if text == "What is the pressure?"]
    water = [at for at, text in asked if text.endswith(ASKED[1:])]
    assert 2 <= len(pressure) <= 12
    assert all(later - earlier >= 55.0 for earlier, later in pairwise(pressure[1:]))
    assert len(water) >= 60, "each half minute once it is late"
    assert all(30.0 <= later - earlier <= 65.0 for earlier, later in pairwise(water[1:]))


def test_an_open_question_about_air_does_not_keep_the_glass_waiting() -> None:
    story = warm_engine("standing by")
    story.say("raising steam again")
    assert story.session.state.phase.value == "raising steam"
    asked = {a.step for a in story.got(StepAsked)}
    assert "steam not air" not in asked
    story.say("pressure one hundred and one", after_s=60)
    story.say("blower half open")
    assert story.session.state.progress.asked != "steam not air"


ASKED = ("What is the pressure?", "Where is the water?", "Look at the glass.")


def test_the_readings_come_before_the_next_work() -> None:
    """One thing is asked at a time: the water first, the step when it is called."""
    story = in_steam(pressure="pressure zero")
    story.through("fire is built", "blower shut", "damper wide open", "regulator shut")
    taken_over(story)
    story.wait(100)
    story.say("pressure eighteen")
    assert texts(story.effects)[-1] == "Where is the water?"
    assert not story.got(StepAsked)
