"""Hands that are busy: coming back, waiting, several at once, skipping, work while waiting."""

from __future__ import annotations

from dataclasses import replace

import pytest
from session_story import PREPARED, Story, in_steam

from assistant.messages import (
    DeviceBack,
    DeviceLost,
    Effect,
    PhaseBegan,
    ReadingAccepted,
    ReadingDoubted,
    ReadingRefused,
    Say,
    Spoke,
    StepAsked,
    StepDone,
    StepSkipped,
)


def texts(effects: list[Effect]) -> list[str]:
    return [e.text for e in effects if isinstance(e, Say)]


def steaming() -> Story:
    """Sixty pounds, everything that taking over asks is answered."""
    story = in_steam()
    story.through("regulator shut", "fire is built", "blower half open", "damper wide open")
    return story


def taken_over(story: Story) -> None:
    """Answer whatever taking over still asks."""
    for _ in range(20):
        hand = story.session.state.progress
        step = next((s for s in hand.steps if s.id == hand.asked), None)
        if not story.session.state.parked or step is None:
            break
        story.say(step.replies[0].spoken[0] if step.replies else "water half")
    assert not story.session.state.parked


def test_after_a_long_silence_what_is_said_is_taken_and_then_where_we_are() -> None:
    story = steaming()
    step = story.session.state.progress.asked
    story.wait(200)
    story.say("pressure sixty five")
    assert [a.report.value for a in story.got(ReadingAccepted)] == [65.0]
    said = " ".join(story.said())
    assert said.index("Pressure six five") < said.index("Raising steam.")
    assert said.count("Where is the water?") == 1
    assert "Then: " in said and story.session.state.progress.asked == step
    story.say("water half")
    assert "Raising steam." not in " ".join(story.said()), "once"


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
    story.session.state = replace(state, progress=replace(state.progress, asked=None))
    story.say("pressure zero", after_s=600)
    assert not any("Last done" in text for text in story.said())


def test_after_an_alarm_where_we_are_is_said_once() -> None:
    story = steaming()
    story.say("tank empty", after_s=10)
    assert not any("Last done" in text for text in story.said()), "the alarm first"
    story.say("understood")
    assert any(text.startswith("Heard.") for text in story.said())
    assert any("Raising steam." in text for text in story.said())
    story.say("water half")
    assert not any("Raising steam." in text for text in story.said())


def test_two_reported_in_one_breath_answer_two_steps() -> None:
    story = Story()
    story.through(*PREPARED)
    story.say("ash pan clean tubes swept")
    done = {d.step for d in story.got(StepDone)}
    assert done == {"ash pan and bars", "tubes and smokebox"}


def test_wait_is_quiet_and_then_the_step_is_put_again() -> None:
    story = Story()
    step = story.session.state.progress.asked
    story.say("wait four minutes")
    assert texts(story.wait(235)) == []
    assert texts(story.wait(10)) == ["Regulator: open or shut?"]
    assert story.session.state.progress.asked == step


def test_alarms_speak_in_the_quiet_that_was_asked_for() -> None:
    story = steaming()
    story.say("water half")
    story.say("wait ten minutes")
    assert any("Water reading overdue" in text for text in texts(story.wait(320)))


def test_back_puts_the_last_step_again() -> None:
    story = Story()
    story.say("regulator shut")
    story.say("go back")
    assert story.said() == ["Regulator: open or shut?"]
    assert [a.step for a in story.got(StepAsked)] == ["regulator shut"]


def test_what_was_skipped_is_read_out_at_the_end_and_asked_at_the_next_gate() -> None:
    story = Story()
    story.through(*PREPARED)
    skipped: list[str] = []
    came: list[Effect] = []
    for _ in range(40):
        hand = next(
            s
            for s in story.session.state.progress.steps
            if s.id == story.session.state.progress.asked
        )
        if not hand.must and hand.id not in skipped and len(skipped) < 2:
            came += story.say("skip")
            skipped += [s.step for s in story.got(StepSkipped)]
        elif hand.id in skipped:
            came += story.say("skip")
        elif hand.kind == "value":
            came += story.say({"water": "water half", "tank": "tank full"}.get(hand.asks, "zero"))
        else:
            came += story.say(next(r for r in hand.replies if r.passes).spoken[0])
        if story.got(PhaseBegan):
            break
    assert len(skipped) == 2
    asked = [e.step for e in came if isinstance(e, StepAsked)]
    assert all(asked.count(step) >= 1 for step in skipped), "asked again at the gate"
    read_out = [text for text in texts(came) if "open items" in text]
    assert len(read_out) == 1 and all(step in read_out[0] for step in skipped)
    assert set(skipped) <= set(story.session.state.progress.skipped), "carried to the next list"


@pytest.mark.parametrize("order", ["open items", "where are we", "what next", "why", "say again"])
def test_a_question_changes_no_step(order: str) -> None:
    story = steaming()
    progress = story.session.state.progress
    story.say(order)
    assert story.said()
    assert story.session.state.progress == progress


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


def test_a_device_is_told_once_when_it_goes_and_once_when_it_comes() -> None:
    story = steaming()
    lost = story.event(DeviceLost(story.at + 1, "microphone", "unplugged"))
    assert texts(lost) == ["Warning. I cannot hear you. Check the microphone."]
    back = story.event(DeviceBack(story.at + 2, "microphone"))
    assert texts(back)[:1] == ["Microphone back. I hear you again."]
    assert len([text for text in texts(back) if "icrophone" in text]) == 1


def test_the_readings_come_before_the_next_work() -> None:
    """One thing is asked at a time: the water first, the step when it is called."""
    story = in_steam(pressure="pressure zero")
    story.through("fire is built", "blower shut", "damper wide open", "regulator shut")
    taken_over(story)
    story.wait(200)
    story.say("pressure eighteen")
    assert texts(story.effects)[-1] == "Where is the water?"
    assert not story.got(StepAsked)


def test_standing_by_can_be_asked_for_and_putting_away_after_it() -> None:
    story = Story(from_phase="pumping")
    story.through("water half", "comes back at once", "pressure one hundred", "fire is built")
    taken_over(story)
    story.say("standing by now")
    assert story.session.state.phase.value == "standing by"
    story.say("putting her away")
    assert story.session.state.phase.value == "putting away"
