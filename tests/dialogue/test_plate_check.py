"""Every start says the engine and asks whether the file is hers; nothing waits on the answer."""

from __future__ import annotations

from dataclasses import replace

import pytest
from session_story import Story, parts, set_progress

from assistant.boiler.scales import PSI_PA
from assistant.dialogue.session import Session
from assistant.messages import (
    AlarmChanged,
    PhaseDone,
    ReadingAccepted,
    Report,
    Say,
    Started,
    StepAsked,
    StepDone,
    StepSkipped,
)
from assistant.procedure.position import Done

QUESTION = "Is that her plate?"


def started(
    from_phase: str | None = None,
    allowed_psi: float | None = 120.0,
    dial: str = "psi",
) -> Story:
    config = parts()
    allowed = None if allowed_psi is None else allowed_psi * PSI_PA
    engine = replace(config.engine, allowed_pressure_gauge_pa=allowed)
    story = Story()
    story.session = Session(replace(config, engine=engine, dial=dial))
    story.events.clear()
    story.event(Started(0.0, from_phase, plate=True))
    return story


@pytest.mark.parametrize("from_phase", [None, "raising steam", "tick-over", "standing by"])
def test_every_start_says_the_engine_last_of_all_and_asks(from_phase: str | None) -> None:
    story = started(from_phase)
    assert story.said()[-1] == (
        "Practice engine. Allowed a hundred and twenty pounds."
        f" Lower mark one quarter, upper eighty five percent. {QUESTION}"
    )
    assert [asked.step for asked in story.got(StepAsked)] == ["her plate"]


def test_on_a_bar_dial_it_speaks_bar() -> None:
    assert "Allowed eight point three bar." in started(dial="bar").text()
    told = started(allowed_psi=None, dial="bar").text()
    assert "Wanted pressure eight point three bar. Valve lifts at ten bar." in told


@pytest.mark.parametrize("words", ["that's right", "yes", "correct", "plate is right"])
def test_right_goes_on_with_the_list(words: str) -> None:
    story = started()
    story.say(words)
    assert ReadingAccepted(Report("plate", "right")) in story.effects
    assert StepDone("preparation", "her plate", "plate right") in story.effects
    assert [asked.step for asked in story.got(StepAsked)] == ["water in the glass"]
    story.say("open items")
    assert "plate" not in story.text()


@pytest.mark.parametrize("words", ["wrong", "no", "that's wrong", "plate is wrong"])
def test_wrong_says_what_to_do_and_ends_nothing(words: str) -> None:
    story = started()
    story.say(words)
    assert ReadingAccepted(Report("plate", "wrong")) in story.effects
    assert "Then stop. Give me the right engine file." in story.text()
    assert not story.got(StepDone)
    assert not story.session.state.clock.over
    story.say("open items")
    assert "her plate" in story.text()
    story.say("plate is right")
    assert [done.step for done in story.got(StepDone)] == ["her plate"]


def test_silence_confirms_nothing_and_holds_the_list_up_for_a_while_only() -> None:
    story = started()
    early = story.wait(40.0)
    assert not [effect for effect in early if isinstance(effect, StepAsked)]
    late = story.wait(20.0)
    assert [effect.step for effect in late if isinstance(effect, StepAsked)] == [
        "water in the glass"
    ]
    story.say("yes")  # belongs to what was put last
    assert not story.got(ReadingAccepted)
    story.say("open items")
    assert "her plate" in story.text()


def test_a_report_answers_the_list_at_once_and_leaves_the_plate_open() -> None:
    story = started()
    story.say("water half")
    assert [done.step for done in story.got(StepDone)] == ["water in the glass"]
    asked = [asked.step for asked in story.got(StepAsked)]
    assert asked == ["water in the glass", "brake and chocks"]
    assert story.session.state.latest("plate") is None
    story.say("wrong")  # of the water
    assert story.session.state.latest("plate") is None
    assert story.session.state.latest("water") is None


def test_why_and_say_again_keep_the_question() -> None:
    story = started()
    story.say("why")
    assert "comes from the engine file" in story.text()
    story.say("say again")
    story.say("that's right")
    assert StepDone("preparation", "her plate", "plate right") in story.effects


def test_left_open_aloud() -> None:
    story = started()
    story.say("skip")
    assert StepSkipped("preparation", "her plate") in story.effects
    assert "Left open: her plate." in story.text()
    assert [asked.step for asked in story.got(StepAsked)] == ["water in the glass"]


def test_what_was_not_followed_is_told_the_answers() -> None:
    story = started()
    story.say("what a lovely morning")
    assert "that's right" in story.text()


def test_an_alarm_does_not_wait_for_it() -> None:
    story = started("raising steam")
    story.say("someone is hurt")
    assert any(isinstance(effect, AlarmChanged) for effect in story.effects)
    assert "Danger" in story.text()


def test_taken_back_it_is_asked_again() -> None:
    story = started()
    story.say("yes")
    story.say("undo that")
    assert QUESTION in story.text()
    assert [asked.step for asked in story.got(StepAsked)] == ["her plate"]


def test_where_a_phase_ends_it_is_named_until_it_is_answered() -> None:
    for answered in (False, True):
        story = started()
        story.wait(60.0)
        if answered:
            story.say("plate is right")
        progress = story.session.state.progress
        done = tuple(Done(step.id, "done", 60.0) for step in progress.steps)
        progress = replace(progress, done=done)
        set_progress(story, progress)
        story.wait(5.0)
        assert story.got(PhaseDone)
        assert ("Still open: plate right, or plate wrong?" in story.text()) != answered


def test_a_journal_of_an_earlier_version_asks_nothing() -> None:
    story = Story()
    assert not any(QUESTION in e.text for e in story.effects if isinstance(e, Say))
    assert [asked.step for asked in story.got(StepAsked)] == ["water in the glass"]
    assert not any("plate" in form for form, _ in story.session.expected.answers)
