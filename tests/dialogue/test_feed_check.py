"""What a feed should give, and what the glass shows of it."""

from __future__ import annotations

from session_story import warm_engine


def test_the_feed_is_announced_and_judged_by_the_glass() -> None:
    story = warm_engine("pumping")
    story.through("water half", "tank full", "regulator open")
    story.say("bypass shut")
    assert any("minutes: glass up" in text for text in story.said())
    story.say("water three quarters", after_s=240)
    assert "Gain as it should be." in story.said()
    story.say("water three quarters", after_s=60)
    assert "Gain as it should be." not in story.said(), "once a feed"


def test_a_feed_that_gives_nothing_is_told() -> None:
    story = warm_engine("pumping")
    story.through("water half", "tank full", "bypass shut")
    story.say("water half", after_s=240)
    assert "Warning. Glass has not gained. Not proved: check feed." in story.text()
    story.say("why")
    assert "Water zero point five then zero point five" in story.text()


def test_its_gain_is_not_praised_beside_a_caution_that_stops_it() -> None:
    story = warm_engine("pumping")
    story.through("water half", "tank full", "bypass shut")
    story.say("water seven eighths", after_s=300)
    assert "No feed." in story.text()
    assert "Gain as it should be." not in story.text()
    assert "rising by feed" not in story.text()
