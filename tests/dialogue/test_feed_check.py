"""What a feed should give, and what the glass shows of it."""

from __future__ import annotations

from session_story import warm_engine


def test_the_feed_is_announced_and_judged_by_the_glass() -> None:
    story = warm_engine("pumping")
    story.through("water half", "tank full")
    story.say("bypass shut")
    assert any("should raise the glass by" in text for text in story.said())
    story.say("water three quarters", after_s=240)
    assert "The gain is as it should be." in story.said()
    story.say("water three quarters", after_s=60)
    assert "The gain is as it should be." not in story.said(), "once a feed"


def test_a_feed_that_gives_nothing_is_told() -> None:
    story = warm_engine("pumping")
    story.through("water half", "tank full", "bypass shut")
    story.say("water half", after_s=240)
    assert "Warning. Glass has not gained. Not proved: check feed." in story.text()
    story.say("why")
    assert "Water zero point five then zero point five" in story.text()
