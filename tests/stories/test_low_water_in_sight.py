"""Water near the lower mark, at it, and below it, all the while in sight."""

from __future__ import annotations

from session_story import Story, steaming

from assistant.messages import ForecastMade, Grade, Tone


def near_the_mark() -> Story:
    story = steaming()
    story.say("water half", after_s=60)
    story.say("water three eighths", after_s=120)
    return story


def at_the_mark() -> Story:
    story = near_the_mark()
    story.say("water one quarter", after_s=120)
    return story


def test_near_the_mark_the_list_the_valve_and_the_minutes_wait() -> None:
    story = near_the_mark()
    assert "Caution. Water near lower mark. Feed now." in story.said()
    story.say("pressure one hundred and twenty five", after_s=30)
    assert "minutes" not in story.text() and "valve" not in story.text()
    came = story.wait(120)
    assert not any("valve" in text for text in story.said()), came
    story.say("how long")
    assert "the water comes first." in story.text()
    assert [made.mid for made in story.got(ForecastMade)] == [None]
    story.say("what next")
    assert story.text() == "Caution. Water near lower mark. Feed now."


def test_at_the_mark_the_level_is_known_and_feed_is_the_engines_own_to_say() -> None:
    story = at_the_mark()
    assert story.said()[0] == "Danger. Water low. Stop the heat."
    assert "Water in sight: feed only if your engine's instructions say so." in story.text()
    assert "unknown" not in story.text()
    story.say("feed is running")
    assert "Stop the feed" not in story.text()


def test_one_good_reading_is_answered_by_what_is_still_wanted() -> None:
    story = at_the_mark()
    story.say("damper shut")
    story.say("water three eighths", after_s=60)
    assert story.said()[0] == "Danger still. Call it once more in a minute. Until then no heat."
    assert [tone.grade for tone in story.got(Tone)] == [Grade.DANGER]
    assert "Water low" not in story.text()
    story.say("water three eighths", after_s=60)
    assert "Water above the mark again." in story.said()
    assert not story.session.state.watch.danger


def test_a_bad_reading_after_a_good_one_is_the_danger_again() -> None:
    story = at_the_mark()
    story.say("water three eighths", after_s=60)
    story.say("water one quarter", after_s=60)
    came = [*story.said(), *(story.wait(35) and story.said())]
    assert "Danger. Water low. Stop the heat." in came


def test_heat_put_on_after_one_good_reading_brings_the_danger_back() -> None:
    story = at_the_mark()
    story.say("water three eighths", after_s=60)
    story.say("blower half open")
    assert "Danger still. Stop the heat." in story.said()


def test_fire_after_one_good_reading_is_stopped_without_calling_the_water_low() -> None:
    story = steaming()
    story.say("water one eighth")
    story.say("water half", after_s=30.0)
    story.say("fire is lit", after_s=20.0)
    assert "Danger. Doubt the glass. Stop the heat." in story.said(), "it gained too much"
    assert "Water low" not in story.text()
