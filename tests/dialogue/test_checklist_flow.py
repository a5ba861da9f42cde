"""Answers to steps, phases, remedies, moves asked for."""

from __future__ import annotations

from dataclasses import replace

import pytest
from session_story import PREPARED, Story, in_steam, set_progress, taken_over, texts, warm_engine

from assistant.messages import (
    Effect,
    PhaseBegan,
    PhaseDone,
    ReadingAccepted,
    Report,
    StepAsked,
    StepDone,
    StepSkipped,
)


def test_what_is_wrong_is_answered_though_nobody_asked_yet() -> None:
    story = Story()
    story.say("papers out of date")
    assert "no steam today" in story.text()
    assert not story.got(StepDone)


def test_water_at_the_lower_mark_is_no_water_to_light_up_on() -> None:
    story = Story()
    story.through(*PREPARED)
    set_progress(story, replace(story.session.state.progress, asked="water in the glass"))
    story.say("water one quarter")
    assert "water in the glass" not in {d.step for d in story.got(StepDone)}
    assert "Too low to light" in story.text()


def test_a_phase_called_for_is_named_once() -> None:
    story = warm_engine()
    story.say("standing by now")
    assert story.text().count("Standing by.") == 1
    story.say("pump trouble")
    assert story.text().count("Pump trouble.") == 1


def test_a_phase_called_by_mistake_is_taken_back() -> None:
    story = warm_engine()
    before = story.session.state.progress
    story.say("putting her away")
    assert story.session.state.phase.value == "putting away"
    story.say("wrong")
    assert story.session.state.phase.value == "tick-over"
    assert story.session.state.progress.done == before.done
    assert [p.phase for p in story.got(PhaseBegan)] == ["tick-over"]


def test_a_cure_called_by_mistake_is_taken_back() -> None:
    story = warm_engine()
    story.say("pump trouble")
    assert story.session.state.procedure.parked
    story.say("take that back")
    assert not story.session.state.procedure.parked
    assert story.session.state.progress.checklist.name == "tick_over"


def test_standing_by_lets_go_as_soon_as_the_water_was_seen() -> None:
    story = warm_engine()
    story.say("standing by now")
    story.say("moving off again")
    assert story.session.state.phase.value == "tick-over", "the water was seen a moment ago"
    story.say("standing by now")
    story.say("moving off again", after_s=150)
    assert story.session.state.phase.value == "standing by", "too long ago to move on"
    assert "Moving off waits for the water. Where is it?" in story.text()
    story.say("water five eighths")
    story.say("moving off again")
    assert story.session.state.phase.value == "tick-over"


def test_the_reading_that_ends_a_list_also_begins_the_next() -> None:
    story = warm_engine("pumping")
    story.through("water half", "tank full", "she is turning", "bypass shut")
    story.wait(100)
    story.through("glass is gaining", "pipe is cool", "bypass open")
    story.say("water five eighths")
    assert [p.phase for p in story.got(PhaseDone)] == ["pumping"]
    assert "water well up" in {d.step for d in story.got(StepDone)}
    assert "Where is the water?" not in story.text()


def test_the_last_list_says_that_it_is_done_once() -> None:
    story = warm_engine()
    story.say("putting her away")
    story.through(
        "water seven eighths", "regulator shut", "brake on and chocked", "gear is out",
        "drains open", "fire run down", "fire is dead", "chimney capped", "no blow down",
        "ash is out", "pipes drained", "no frost tonight", "nothing to mend",
    )  # fmt: skip
    story.say("log signed")
    assert "Fire dead, gauge at nothing? Then say: end the session." in story.said()
    assert [p.phase for p in story.got(PhaseDone)] == ["putting away"]
    story.say("water half")
    assert not story.got(PhaseDone) and "end the session" not in story.text()
    assert "while there is steam to feed" not in story.text(), "it shrinks as it cools"


def test_a_reading_called_in_passing_answers_the_question_that_comes_next() -> None:
    story = warm_engine("pumping")
    story.through("water half", "tank full", "she is turning", "bypass shut", "cool and gaining")
    assert Report("delivery", "cool and gaining") in [a.report for a in story.got(ReadingAccepted)]
    story.say("water five eighths")
    assert "feed proved" in {d.step for d in story.got(StepDone)}
    assert not [a for a in story.got(StepAsked) if a.step == "feed proved"]


def test_of_an_engine_in_steam_nobody_asks_for_the_first_steam() -> None:
    story = warm_engine("raising steam")
    assert "steam not air" in {d.step for d in story.session.state.progress.done}
    cold = Story(from_phase="raising steam")
    cold.through(
        "water half", "comes back at once", "pressure zero", "valve agreed today", "fire is built",
        "pump worked today", "regulator shut", "brake on and chocked", "gear is out",
    )  # fmt: skip
    assert "steam not air" not in {d.step for d in cold.session.state.progress.done}


def test_a_match_before_the_water_is_proved_is_told_at_once() -> None:
    story = Story()
    story.say("fire is lit")
    assert "Lit too soon. First: water in the glass, brake and chocks, " in story.text()
    assert not story.got(StepDone)


def test_what_guards_a_fire_lit_too_soon_is_asked_before_the_rest() -> None:
    story = Story()
    story.through("water half", "brake on and chocked", "gear is out", "regulator shut")
    story.through("drains open", "papers in date", "gloves are on")
    story.say("fire is lit")
    assert "Safety valve: free, or held?" in story.text()
    story.say("safety valve free")
    story.say("what next")
    assert "What does it read?" in story.text()


def test_a_fire_that_was_lit_early_is_not_asked_for_when_it_counts() -> None:
    story = Story()
    story.through(*PREPARED, "safety valve free", "fire is lit", "fire built up")
    for _ in range(40):
        state = story.session.state
        if state.phase.value == "raising steam":
            break
        if state.progress.asked is None:  # the steps that guard the fire come first: not put yet
            story.wait(30.0)
            continue
        step = next(s for s in state.progress.steps if s.id == state.progress.asked)
        said = {"water": "water half", "tank": "tank full", "pressure": "zero"}
        passing = [r for r in step.replies if r.passes]
        story.say(passing[0].spoken[0] if step.kind != "value" else said[step.asks])
        assert not {"fire lit", "wood bed"} & {a.step for a in story.got(StepAsked)}
    assert story.session.state.phase.value == "raising steam"


def test_above_the_upper_mark_nothing_is_fed() -> None:
    story = Story(from_phase="pumping")
    story.through(
        "water half", "comes back at once", "pressure one hundred", "valve agreed today",
        "fire is built", "pump worked today", "regulator shut", "brake on and chocked",
    )  # fmt: skip
    story.say("water seven eighths", after_s=100)
    story.say("gear is out")
    assert story.session.state.progress.checklist.name == "pumping"
    story.say("water seven eighths", after_s=30)
    assert "High enough. No feed now." in story.text()
    assert "water before feeding" not in {d.step for d in story.session.state.progress.done}


@pytest.mark.parametrize("words", ["ready", "correct", "yes", "skip", "carry on"])
def test_a_killer_step_is_not_passed_by_a_word(words: str) -> None:
    story = Story()
    story.say(words)
    assert not story.got(StepDone)
    assert story.said(), "the operator is told what is wanted"


def test_a_hold_is_not_passed_by_time_noise_or_nonsense() -> None:
    story = Story()
    for words in ("la la la", "how are you", "seventeen green bottles", "ready", "yes", "skip"):
        story.say(words)
        story.wait(300)
        assert not story.got(PhaseDone)
    assert story.session.state.phase.value == "preparation"


def test_answers_may_come_out_of_order() -> None:
    story = Story()
    story.say("brake on and chocked")
    assert [done.step for done in story.got(StepDone)] == ["brake and chocks"]
    story.say("regulator shut")
    assert [done.step for done in story.got(StepDone)] == ["regulator shut"]


def test_a_cure_is_called_by_its_symptom_and_comes_back() -> None:
    story = in_steam()
    story.say("pump trouble")
    assert story.session.state.procedure.parked
    cure = story.session.state.progress.checklist.name
    assert cure == "pump_trouble"
    story.say("where are we")
    for _ in range(12):
        hand = story.session.state.progress
        if not story.session.state.procedure.parked:
            break
        last = next(s for s in hand.steps if s.id == hand.asked)
        failing = [r for r in last.replies if r.state != "cured"]
        story.say(failing[0].spoken[0] if failing else last.replies[0].spoken[0])
    assert not story.session.state.procedure.parked
    assert story.session.state.phase.value == "raising steam"


def test_two_reported_in_one_breath_answer_two_steps() -> None:
    story = Story()
    story.through(*PREPARED)
    story.say("ash pan clean tubes swept")
    done = {d.step for d in story.got(StepDone)}
    assert done == {"ash pan and bars", "tubes and smokebox"}


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


def test_standing_by_can_be_asked_for_and_putting_away_after_it() -> None:
    story = Story(from_phase="pumping")
    story.through("water half", "comes back at once", "pressure one hundred", "fire is built")
    taken_over(story)
    story.say("standing by now")
    assert story.session.state.phase.value == "standing by"
    story.say("putting her away")
    assert story.session.state.phase.value == "putting away"
