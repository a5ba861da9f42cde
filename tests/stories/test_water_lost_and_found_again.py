"""No water in sight over a fire, then feed, a new fire, a move: not until a person has looked."""

from __future__ import annotations

import pytest
from session_story import Story, in_steam, warm_engine

from assistant.messages import AlarmChanged, Grade, PhaseBegan, ReadingAccepted, StepAsked


def standing(story: Story) -> set[str]:
    return {alarm.name for alarm in story.session.state.watch.alarms}


def lost() -> Story:
    story = in_steam()
    story.through("coal on the fire", "no water in sight")
    story.say("that's right")
    assert "water out of sight" in standing(story)
    return story


def test_feed_put_on_then_is_a_danger_at_once() -> None:
    story = lost()
    story.say("feed is running")
    raised = [a for a in story.got(AlarmChanged) if a.state == "raised"]
    assert [(a.name, a.grade) for a in raised] == [("feed after lost water", Grade.DANGER)]
    assert "Danger. Stop the feed. Level unknown." in " ".join(story.said())
    story.say("feed is stopped")
    assert "feed after lost water" not in standing(story)


def test_water_that_shows_again_allows_neither_feed_nor_fire() -> None:
    story = lost()
    story.through("fire drawn", "water half", "water half")
    story.say("feed is running")
    assert "feed after lost water" in standing(story)
    story.through("feed is stopped")
    story.say("fire lit")
    assert "fire after lost water" in standing(story)
    assert "Danger. No fire, no steam. Water was lost." in " ".join(story.said())


def test_a_person_who_has_looked_ends_it() -> None:
    story = lost()
    story.through("fire drawn", "water half", "water half", "pressure nothing")
    story.through("that is right", "boiler has been looked at")
    story.through("fire lit", "feed is running")
    assert not standing(story) & {"feed after lost water", "fire after lost water"}


@pytest.mark.parametrize(
    "wanted", ["raising steam again", "moving off again", "time to feed again"]
)
def test_no_move_but_putting_away(wanted: str) -> None:
    story = Story(from_phase="standing by")
    story.through("water half", "coal on the fire", "no water in sight", "that's right")
    story.through("fire drawn", "water half", "water half")
    story.say(wanted)
    assert story.got(PhaseBegan) == []
    assert "Not steamed until looked at, cold." in " ".join(story.said())


def test_over_a_cold_boiler_it_is_only_a_glass_to_be_filled() -> None:
    story = Story()
    story.through("no water in sight", "that's right", "water half", "fire lit", "feed is running")
    assert not standing(story) & {"feed after lost water", "fire after lost water"}


def test_withdrawn_as_misheard_it_never_was() -> None:
    story = in_steam()
    story.through("coal on the fire", "no water in sight", "that's right")
    story.say("wrong, water half", after_s=10.0)
    assert story.said() == ["Water is in sight: is that right?"]
    story.through("that's right", "water half", "feed is running")
    assert "feed after lost water" not in standing(story)


def test_nothing_is_called_known_when_no_water_is_in_sight() -> None:
    """An estimate of low water stood before; its end is the driver's own report."""
    story = in_steam()
    story.say("coal on the fire")
    story.wait(1800.0)
    story.say("no water in sight")
    story.say("that's right")
    assert not any("known" in text and "unknown" not in text for text in story.said())


def test_water_that_comes_back_is_not_to_be_trusted() -> None:
    story = lost()
    story.say("water half", after_s=60)
    assert story.said()[0] == (
        "Danger. Water doubted. No heat, no feed. Blow through. "
        "Do not trust it. Then call it twice, a minute apart."
    )
    assert "above the mark" not in story.text() and "in sight again" not in story.text()
    story.say("comes back at once", after_s=20)
    assert story.got(ReadingAccepted), "understood though no list asks"
    story.say("water half", after_s=65)
    assert "Danger. Not to be steamed. Stop the heat." in story.said()
    story.through("damper shut", "blower shut")
    assert standing(story) == {"not to be steamed"}
    story.say("what next")
    assert story.text() == "Warning. Not to be steamed. Put her away."


def test_no_list_but_putting_away_goes_on_and_none_asks_for_feed() -> None:
    story = lost()
    story.through("fire drawn", "comes back at once", "water half")
    story.say("water half", after_s=65)
    came = story.wait(400)
    assert not any(isinstance(effect, StepAsked) for effect in came)
    assert "eed" not in story.text(), "no feed is spoken of"
    story.say("putting away")
    assert [began.phase for began in story.got(PhaseBegan)] == ["putting away"]
    came = story.wait(70)
    assert "Feed to" not in story.text(), came
    story.say("water half", after_s=20)
    assert "feed" not in story.text()


def test_she_is_put_away_even_while_the_danger_stands() -> None:
    story = lost()
    story.say("fire drawn")
    story.say("putting away")
    assert [began.phase for began in story.got(PhaseBegan)] == ["putting away"]


def test_feed_that_was_on_when_it_was_lost_is_told_to_stop_within_a_minute() -> None:
    story = in_steam()
    story.through("coal on the fire", "feed is running", "no water in sight")
    assert "Stop the feed" not in story.text()
    came = story.wait(70)
    assert "Danger. Stop the feed. Level unknown." in story.said(), came


def test_with_the_fire_out_and_no_water_in_sight_putting_away_asks_for_no_feed() -> None:
    story = warm_engine("putting away")
    said: list[str] = []
    for words in ("fire drawn", "pressure zero", "no water in sight", "what next", "where are we"):
        story.say(words, after_s=30.0)
        said += story.said()
    assert "Where is the water?" in " ".join(said[said.index("No water in sight.") :])
    assert "Feed to" not in " ".join(said[said.index("No water in sight.") :])
