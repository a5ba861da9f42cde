"""Hands that are busy: coming back, waiting, several at once, skipping, work while waiting."""

from __future__ import annotations

from dataclasses import replace

from session_story import PREPARED, Story, in_steam, set_progress, steaming, texts

from assistant.messages import (
    ReadingAccepted,
    ReadingDoubted,
    ReadingRefused,
    Report,
    Resumed,
    Spoke,
)


def test_after_a_long_silence_what_is_said_is_taken_without_a_lecture() -> None:
    story = steaming()
    step = story.session.state.progress.asked
    story.wait(200)
    story.say("pressure sixty five")
    assert [a.report.value for a in story.got(ReadingAccepted)] == [65.0]
    said = " ".join(story.said())
    assert "Pressure sixty five" in said and "Last done" not in said
    assert said.count("Where is the water?") == 1
    assert story.session.state.progress.asked == step


def test_an_answer_in_its_time_brings_no_lecture() -> None:
    story = Story()
    story.through(*PREPARED)
    for _ in range(3):
        story.say("ready", after_s=50)
        assert not any("Last done" in text for text in story.said())


def test_nothing_asked_and_nothing_said_is_not_wandering_off() -> None:
    story = Story()
    story.say("regulator shut")
    state = story.session.state
    set_progress(story, replace(state.progress, asked=None))
    story.say("pressure zero", after_s=600)
    assert not any("Last done" in text for text in story.said())


def test_a_doubt_is_asked_about_once_more_and_then_dropped() -> None:
    story = steaming()
    story.say("pressure one twenty")
    assert story.got(ReadingDoubted)
    came = story.wait(120)
    again = [text for text in texts(came) if text.endswith("is that right?")]
    assert len(again) == 1
    assert [r.reason for r in story.got(ReadingRefused)] == ["no answer"]
    assert "What is the pressure?" in texts(came)


def test_a_doubt_is_asked_about_once_more_though_something_else_fell_on_that_moment() -> None:
    story = steaming()
    story.say("pressure one twenty")
    assert story.got(ReadingDoubted)
    story.wait(29)
    story.at += 1.5
    story.event(Spoke(story.at, "something"))  # half a minute has passed, and no tick
    again = [text for text in texts(story.wait(50)) if text.endswith("is that right?")]
    assert len(again) == 1


def test_after_a_break_where_we_are_is_said_once() -> None:
    story = Story()
    story.through("regulator shut", "brake on and chocked", "gear is out")
    story.at += 300
    story.event(Resumed(story.at, 300.0))
    assert "Last done: out of gear." in story.text()
    story.say("brake is on")
    assert "Preparation." not in story.text()


SIXTY = Report("pressure", 60.0, "psi")


def test_silence_never_confirms_a_doubtful_reading() -> None:
    story = in_steam()
    story.say("pressure one twenty")
    assert story.got(ReadingDoubted)
    story.wait(1800)
    assert not story.got(ReadingAccepted)
    assert story.session.state.latest("pressure").report == SIXTY


def test_resuming_says_where_we_were_and_asks_the_water() -> None:
    story = in_steam()
    story.event(Resumed(story.at + 600, 600.0))
    assert "Where is the water?" in " ".join(story.said())
    assert story.session.expected.kind == "water"
