"""Steam is let into a cylinder whose drain cocks are shut."""

from __future__ import annotations

import pytest
from session_story import Story

from assistant.messages import AlarmChanged


def raised(story: Story) -> list[str]:
    return [a.name for a in story.got(AlarmChanged) if a.state == "raised"]


def ticking_over() -> Story:
    story = Story(from_phase="tick-over")
    story.through("water half", "pressure one hundred")
    return story


def test_regulator_opened_on_shut_drains_is_answered_in_the_same_event() -> None:
    story = ticking_over()
    story.say("drain cocks shut")
    story.say("regulator open")
    assert raised(story) == ["regulator open, drains shut"]
    assert "Warning. Regulator shut. Drains first." in " ".join(story.said())
    story.say("regulator shut")
    assert not story.session.state.watch.alarms


def test_drains_shut_after_the_engine_turns_is_the_right_order() -> None:
    story = ticking_over()
    story.through("drain cocks open", "regulator open")
    story.say("drain cocks shut", after_s=120.0)
    assert raised(story) == []


def test_drains_never_spoken_of_claim_nothing() -> None:
    story = ticking_over()
    story.say("regulator open")
    assert raised(story) == []


def standing(story: Story) -> set[str]:
    return {alarm.name for alarm in story.session.state.watch.alarms}


@pytest.mark.parametrize(
    ("words", "warning"),
    [
        ("still in gear", "Warning. Regulator shut. Gear is in."),
        ("somebody is near", "Warning. Regulator shut. Somebody is near."),
    ],
)
def test_regulator_open_against_gear_or_people(words: str, warning: str) -> None:
    story = ticking_over()
    story.through("drain cocks open", words, "regulator open")
    assert warning in story.said()
    story.say("regulator shut")
    assert not standing(story)


def test_said_after_the_regulator_it_is_the_same() -> None:
    story = ticking_over()
    story.through("drain cocks open", "everyone is clear", "regulator open")
    assert raised(story) == []
    story.say("child by the wheel")
    assert raised(story) == ["regulator open, people near"]


def test_drains_shut_with_water_still_coming() -> None:
    story = ticking_over()
    story.through("drain cocks open", "everyone is clear", "regulator open", "still water")
    story.say("drain cocks shut")
    assert "Warning. Regulator shut. Drains first." in story.said()
    story.say("drain cocks open")
    assert not standing(story)


def test_people_never_told_of_are_asked_about_as_the_regulator_opens() -> None:
    story = ticking_over()
    story.through("drain cocks open", "regulator open")
    assert "Is everyone clear?" in story.said()
    story.say("no")
    assert raised(story) == ["regulator open, people near"]


def test_a_lubricator_that_stands_still_while_she_turns_shuts_the_regulator() -> None:
    story = ticking_over()
    story.through("drain cocks open", "regulator open")
    story.say("lubricator has stopped")
    assert raised(story) == ["regulator open, no oil"]
    assert "Warning. Regulator shut. The lubricator stands still." in story.said()
    story.say("regulator shut")
    assert not standing(story)
    story.say("regulator open")
    assert raised(story)[-1] == "regulator open, no oil"
    story.say("lubricator is moving")
    assert not standing(story)


def test_a_lubricator_that_stands_with_the_engine_is_no_fault() -> None:
    story = ticking_over()
    story.through("drain cocks open", "regulator shut", "lubricator stands still", "regulator open")
    assert raised(story) == []


def test_the_regulator_opened_on_a_hot_bearing_shuts_it_again() -> None:
    story = ticking_over()
    story.through("drain cocks open", "big end is hot", "regulator open")
    assert "Warning. Regulator shut. A bearing is hot." in story.said()
    story.say("bearings are cool")
    assert not standing(story)
