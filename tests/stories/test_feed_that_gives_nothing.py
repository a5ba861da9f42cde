"""A feed is on and the glass does not gain, or falls; then no feed is left."""

from __future__ import annotations

from session_story import Story, steaming, taken_over

FALLING = "Warning. Water falling, feed on. Check the feed."
NOT_GAINED = (
    "Warning. Glass has not gained. Not proved: check feed. Or the glass is stuck: blow it through."
)


def feeding() -> Story:
    story = steaming()
    taken_over(story)
    story.say("water three quarters", after_s=60)
    story.say("bypass shut")
    return story


def test_equal_readings_are_said_not_to_prove_it() -> None:
    story = feeding()
    story.say("water three quarters", after_s=240)
    assert NOT_GAINED in story.said()
    assert "No feed works" not in story.text(), "one thing at a time"
    story.say("delivery cool and gaining")
    assert {a.name for a in story.session.state.watch.alarms} >= {"feed dead"}


def test_each_further_fall_with_the_feed_on_is_said_at_once() -> None:
    story = feeding()
    story.say("water five eighths", after_s=200)
    assert FALLING in story.said()
    story.say("water half", after_s=60)
    assert FALLING in story.said()


def test_with_no_feed_left_the_damper_then_the_blower() -> None:
    story = feeding()
    story.say("pressure seventy")
    story.say("water five eighths", after_s=240)
    assert "Warning. No feed works. Damper shut, no firing. Try any other feed." in story.said()
    story.say("pressure eighty", after_s=60)
    assert "minutes" not in story.text()
    story.say("water half", after_s=120)
    story.say("water three eighths", after_s=120)
    assert story.said()[0] == (
        "Danger. No feed, water falling. Damper shut now. Blower shut, no firing."
    )
    assert "Feed now" not in story.text()


def test_a_remedy_goes_on_while_no_feed_works() -> None:
    story = feeding()
    story.say("water three quarters", after_s=240)
    story.say("pump trouble", after_s=90)
    assert "Bypass shut, suction cock open. Pumping now?" in story.text()
    story.say("no better")
    assert "Tank full, strainer clean. Pumping now?" in story.text()
