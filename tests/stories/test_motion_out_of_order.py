"""Steam is let into a cylinder whose drain cocks are shut."""

from __future__ import annotations

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
