"""What an experienced driver found wrong, missing or silly in whole sessions, and how it is now."""

from __future__ import annotations

from dataclasses import replace

import pytest
from session_story import PREPARED, Story, in_steam

from assistant.messages import (
    AlarmChanged,
    PhaseBegan,
    PhaseDone,
    ReadingAccepted,
    ReadingCorrected,
    Report,
    Resumed,
    Say,
    StepAsked,
    StepDone,
)
from assistant.wording import forecast_words, walkthrough


def told(story: Story) -> str:
    return " ".join(story.said())


def warm(phase: str = "tick-over", engine: str = "practice") -> Story:
    """A warm engine taken over, everything answered."""
    story = Story(engine, phase)
    story.through(
        "water half", "comes back at once", "pressure one hundred", "fire is built",
        "regulator shut", "gear is out", "pump worked today", "valve agreed today",
    )  # fmt: skip
    assert not story.session.state.parked
    return story


def test_where_we_are_ends_with_the_step_as_it_is_put() -> None:
    story = Story()
    story.say("where are we")
    assert story.said()[0].endswith("to go. Regulator: open or shut?")
    story = warm()
    story.session.state = replace(
        story.session.state, progress=replace(story.session.state.progress, asked=None, steps=())
    )
    story.say("where are we")
    assert "None to go" in told(story) and "Waiting for pressure" not in told(story)


def test_a_hold_that_cannot_be_skipped_says_why_and_asks_again() -> None:
    story = Story()
    story.say("skip")
    assert story.said() == ["This one stays: it must be seen. Regulator: open or shut?"]


def test_what_can_be_said_is_one_form_of_each_answer() -> None:
    story = Story()
    story.say("regulator shut")
    story.say("banana")
    assert "out of gear; still in gear; not yet" in told(story)
    story.through("out of gear", "brake is on", "drains open", "papers in date")
    story.say("banana")
    assert "pressure seventy five; needle on the pin" in told(story)


def test_what_is_wrong_is_answered_though_nobody_asked_yet() -> None:
    story = Story()
    story.say("papers out of date")
    assert "no steam today" in told(story)
    assert not story.got(StepDone)


@pytest.mark.parametrize("words", ["oiled round", "oil is round"])
def test_work_done_early_is_reported_in_the_words_of_the_list(words: str) -> None:
    story = Story()
    story.say(words)
    assert [d.step for d in story.got(StepDone)] == ["oiled round"]


def test_water_at_the_lower_mark_is_no_water_to_light_up_on() -> None:
    story = Story()
    story.through(*PREPARED)
    story.session.state = replace(
        story.session.state,
        progress=replace(story.session.state.progress, asked="water in the glass"),
    )
    story.say("water one quarter")
    assert "water in the glass" not in {d.step for d in story.got(StepDone)}
    assert "Too low to light" in told(story)


def test_an_alarms_act_is_not_said_twice_running() -> None:
    story = in_steam()
    story.say("water one quarter")
    assert "Danger. Water low. Stop the heat. Damper shut, blower off." in told(story)
    assert told(story).count("Stop the heat") == 1


def test_in_danger_why_gives_the_reason_and_what_next_the_acts() -> None:
    story = in_steam()
    story.say("water one quarter")
    story.say("why")
    assert "Bare plates weaken" in told(story)
    story.say("what next")
    assert told(story).startswith("Stop the heat.") and "competent person" in told(story)


def test_in_danger_the_gauge_that_would_end_it_is_asked_for_first() -> None:
    story = in_steam()
    story.wait(300)
    story.say("water one quarter")
    asked = [e.text for e in story.wait(125) if isinstance(e, Say) and e.text.startswith("Wh")]
    assert asked[:1] == ["Where is the water?"]


def test_a_called_danger_ends_with_its_own_words_only() -> None:
    story = in_steam()
    story.say("someone is hurt")
    story.say("danger is over")
    assert [c.state for c in story.got(AlarmChanged)] == ["cleared"]
    assert "Danger is over." in told(story) and "cleared" not in told(story)


def test_a_phase_called_for_is_named_once() -> None:
    story = warm()
    story.say("standing by now")
    assert told(story).count("Standing by.") == 1
    story.say("pump trouble")
    assert told(story).count("Pump trouble.") == 1


def test_taking_over_asks_first_and_what_was_told_is_not_asked_again() -> None:
    story = Story(from_phase="tick-over")
    assert "First the people" not in told(story)
    story = warm()
    assert "First the people" in told(story)
    done = {d.step for d in story.session.state.progress.done}
    assert "out of gear" in done
    assert story.session.state.progress.asked == "everyone clear"


def test_a_phase_called_by_mistake_is_taken_back() -> None:
    story = warm()
    before = story.session.state.progress
    story.say("putting her away")
    assert story.session.state.phase.value == "putting away"
    story.say("wrong")
    assert story.session.state.phase.value == "tick-over"
    assert story.session.state.progress.done == before.done
    assert [p.phase for p in story.got(PhaseBegan)] == ["tick-over"]


def test_a_cure_called_by_mistake_is_taken_back() -> None:
    story = warm()
    story.say("pump trouble")
    assert story.session.state.parked
    story.say("take that back")
    assert not story.session.state.parked
    assert story.session.state.progress.checklist.name == "tick_over"


def test_standing_by_lets_go_as_soon_as_the_water_was_seen() -> None:
    story = warm()
    story.say("standing by now")
    story.say("moving off again")
    assert story.said()[-1].startswith("Not yet. First: water well up.") or (
        "Not yet. First: water well up." in told(story)
    )
    story.say("water five eighths")
    story.say("moving off again", after_s=150)
    assert story.session.state.phase.value == "standing by", "the water comes back at the gate"
    assert "Where is the water?" in told(story)
    story.say("water five eighths")
    story.say("moving off again")
    assert story.session.state.phase.value == "tick-over"


def test_the_reading_that_ends_a_list_also_begins_the_next() -> None:
    story = warm("pumping")
    story.through("water half", "tank full", "bypass shut")
    story.wait(100)
    story.say("cool and gaining")
    story.say("bypass open")
    story.say("water five eighths")
    assert [p.phase for p in story.got(PhaseDone)] == ["pumping"]
    assert "water well up" in {d.step for d in story.got(StepDone)}
    assert "Where is the water?" not in told(story)


def test_the_last_list_says_that_it_is_done_once() -> None:
    story = warm()
    story.say("putting her away")
    story.through(
        "water seven eighths", "fire run down", "regulator shut", "drains open",
        "chimney capped", "no blow down", "pipes drained", "ash is out", "nothing to mend",
    )  # fmt: skip
    story.say("log signed")
    assert "Put away. To close the book, say: end the session." in story.said()
    assert [p.phase for p in story.got(PhaseDone)] == ["putting away"]
    story.say("water half")
    assert not story.got(PhaseDone) and "Put away." not in told(story)
    assert "while there is steam to feed" not in told(story), "it shrinks as it cools"


def test_with_the_fire_out_and_no_steam_no_reading_is_missed() -> None:
    story = warm()
    story.say("putting her away")
    story.through("water seven eighths", "fire drawn", "pressure zero")
    came = story.wait(3600, tick_s=30)
    raised = [e.name for e in came if isinstance(e, AlarmChanged) and e.state == "raised"]
    assert raised == []


def test_after_a_night_the_readings_are_asked_for_not_alarmed_about() -> None:
    story = warm()
    story.at += 50_000
    story.event(Resumed(story.at, 50_000.0))
    assert not [c for c in story.got(AlarmChanged) if c.state == "raised"]
    story.say("water half")
    came = [*story.effects, *story.wait(60)]
    assert not [c for c in came if isinstance(c, AlarmChanged) and c.state == "raised"]
    assert "What is the pressure?" in [e.text for e in came if isinstance(e, Say)]


def test_a_gauge_at_rest_is_not_asked_for_because_the_match_was_put() -> None:
    story = Story()
    story.through(*PREPARED)
    state = story.session.state
    assert state.latest("pressure") is not None
    story.say("fire is lit", after_s=900)
    asked = [e.text for e in story.wait(120) if isinstance(e, Say)]
    assert "What is the pressure?" not in asked


def test_the_feed_is_announced_and_judged_by_the_glass() -> None:
    story = warm("pumping")
    story.through("water half", "tank full")
    story.say("bypass shut")
    assert any("should raise the glass by" in text for text in story.said())
    story.say("water three quarters", after_s=240)
    assert "The gain is as it should be." in story.said()
    story.say("water three quarters", after_s=60)
    assert "The gain is as it should be." not in story.said(), "once a feed"


def test_a_feed_that_gives_nothing_is_told() -> None:
    story = warm("pumping")
    story.through("water half", "tank full", "bypass shut")
    story.say("water half", after_s=240)
    assert "Less gain than the pump should give. Check bypass and tank." in story.said()
    story.say("why")
    assert "hundredths" in told(story)


def test_small_amounts_are_told_as_such() -> None:
    assert forecast_words.used_words(0.2, 0.3) == "Hardly any water and hardly any coal."
    assert (
        forecast_words.used_words(0.8, 1.2)
        == "About one litre of water and about one kilogram of coal."
    )
    assert "pressure hardly down" in forecast_words.feed_cost_words(2, "litre", 0.2, "psi", 0.1)
    reason = "glass +0.12 in 8 minutes: +0.13 expansion, -0.01 use"
    assert walkthrough.why(forecast_words.trend_reason(reason)) == (
        "Glass up twelve hundredths in eight minutes: up thirteen by expansion, down one by use."
    )
    assert forecast_words.trend_reason("no water in sight") == "no water in sight"


def test_a_reading_called_in_passing_answers_the_question_that_comes_next() -> None:
    story = warm("pumping")
    story.through("water half", "tank full", "bypass shut", "cool and gaining")
    assert Report("delivery", "cool and gaining") in [a.report for a in story.got(ReadingAccepted)]
    story.say("water five eighths")
    assert "gain seen" in {d.step for d in story.got(StepDone)}
    assert not [a for a in story.got(StepAsked) if a.step == "gain seen"]


def test_a_valve_that_lifts_again_and_again_wants_less_fire_and_a_feed() -> None:
    story = warm()
    story.say("safety valve lifting")
    assert "blows water away" not in told(story), "once is what a valve is for"
    story.say("safety valve shut", after_s=40)
    story.say("safety valve lifting", after_s=60)
    assert "The valve blows water away. Damper shut. Feed if there is room." in story.said()
    story.say("safety valve shut", after_s=20)
    story.say("damper shut")
    story.say("safety valve lifting", after_s=60)
    assert "blows water away" not in told(story), "not at every lift"
    story.say("safety valve shut")
    story.say("safety valve lifting", after_s=300)
    assert "The valve blows water away. Feed if there is room." in story.said()


def test_of_an_engine_in_steam_nobody_asks_for_the_first_steam() -> None:
    story = warm("raising steam")
    assert "steam not air" in {d.step for d in story.session.state.progress.done}
    cold = Story(from_phase="raising steam")
    cold.through(
        "water half", "comes back at once", "pressure zero", "fire is built", "regulator shut",
        "gear is out", "pump worked today", "valve agreed today",
    )  # fmt: skip
    assert "steam not air" not in {d.step for d in cold.session.state.progress.done}


def test_a_reading_may_be_called_wrong_some_turns_later() -> None:
    story = warm("raising steam")
    story.say("pressure one hundred and ten", after_s=100)
    story.through("water half", "blower half open")
    before = story.session.state.progress.done
    story.say("wrong pressure one hundred")
    (corrected,) = story.got(ReadingCorrected)
    assert (corrected.old.value, corrected.new and corrected.new.value) == (110.0, 100.0)
    assert not story.got(ReadingAccepted), "it is no new reading"
    assert not [c for c in story.got(AlarmChanged) if c.state == "raised"], "nothing has fallen"
    assert story.session.state.progress.done == before, "what was said since stands"
    pressures = [s.report.value for s in story.session.state.reports if s.report.what == "pressure"]
    assert pressures[-1] == 100.0 and 110.0 not in pressures


def test_another_unit_than_the_dials_is_always_said_back() -> None:
    story = warm("raising steam")
    for _ in range(2):
        story.say("seven bar", after_s=60)
        assert "Pressure seven bar." in told(story)


def test_the_reason_of_an_alarm_is_not_talked_over_by_a_forecast() -> None:
    story = warm("raising steam")
    story.say("pressure ninety", after_s=200)
    assert "Pressure falling" in told(story)
    story.say("why")
    assert "while raising steam" in told(story)


def test_what_is_heard_is_named_gravest_first() -> None:
    story = warm()
    story.say("tank empty")
    story.say("steam escaping")
    story.say("understood")
    assert "Heard. Steam escaping, tank empty still stand." in story.said()


def test_a_broken_glass_is_not_asked_for() -> None:
    story = warm()
    story.say("glass broken")
    asked = [e.text for e in story.wait(200) if isinstance(e, Say)]
    assert "Where is the water?" not in asked


def test_a_match_before_the_water_is_proved_is_told_at_once() -> None:
    story = Story()
    story.say("fire is lit")
    assert "Lit too soon. First: regulator shut, out of gear, " in told(story)
    assert not story.got(StepDone)


def test_a_fire_that_was_lit_early_is_not_asked_for_when_it_counts() -> None:
    story = Story()
    story.through(*PREPARED, "safety valve free", "fire is lit", "fire built up")
    for _ in range(40):
        state = story.session.state
        if state.phase.value == "raising steam":
            break
        step = next(s for s in state.progress.steps if s.id == state.progress.asked)
        said = {"water": "water half", "tank": "tank full", "pressure": "zero"}
        passing = [r for r in step.replies if r.passes]
        story.say(passing[0].spoken[0] if step.kind != "value" else said[step.asks])
        assert not {"fire lit", "wood bed"} & {a.step for a in story.got(StepAsked)}
    assert story.session.state.phase.value == "raising steam"


def test_two_gauges_in_vain_are_not_asked_for_without_end() -> None:
    story = warm("raising steam")
    came = [e.text for e in story.wait(3600) if isinstance(e, Say)]
    asked = [text for text in came if text in ("What is the pressure?", "Where is the water?")]
    assert 4 <= len(asked) <= 12, len(asked)


def test_an_open_question_about_air_does_not_keep_the_glass_waiting() -> None:
    story = warm("standing by")
    story.say("raising steam again")
    assert story.session.state.phase.value == "raising steam"
    asked = {a.step for a in story.got(StepAsked)}
    assert "steam not air" not in asked
    story.say("pressure one hundred and one", after_s=60)
    story.say("blower half open")
    assert story.session.state.progress.asked == "glass blown through"


def test_above_the_upper_mark_nothing_is_fed() -> None:
    story = Story(from_phase="pumping")
    story.through(
        "water half", "comes back at once", "pressure one hundred", "fire is built",
        "regulator shut", "gear is out", "pump worked today",
    )  # fmt: skip
    story.say("water seven eighths", after_s=100)
    story.say("valve agreed today")
    assert story.session.state.progress.checklist.name == "pumping"
    story.say("water seven eighths", after_s=30)
    assert "Full enough. No feed now." in told(story)
    assert "water before feeding" not in {d.step for d in story.session.state.progress.done}


def test_after_a_break_where_we_are_is_said_once() -> None:
    story = Story()
    story.through("regulator shut", "gear is out")
    story.at += 300
    story.event(Resumed(story.at, 300.0))
    assert "Last done: out of gear." in told(story)
    story.say("brake is on")
    assert "Preparation." not in told(story)


def test_an_end_that_was_not_meant_goes_on() -> None:
    story = Story()
    story.say("end the session")
    story.say("no")
    assert story.said() == ["Then we go on."]
