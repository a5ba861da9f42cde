"""Golden conversations: what the operator says, and what must come of it."""

from __future__ import annotations

import pytest
from session_story import Story, in_steam

from assistant.belief import forecast
from assistant.dialogue import checklist_flow
from assistant.messages import (
    AlarmChanged,
    Answer,
    DeviceLost,
    Ended,
    Fault,
    Grade,
    Hush,
    PhaseDone,
    ReadingAccepted,
    ReadingCorrected,
    ReadingDoubted,
    ReadingRefused,
    Report,
    Resumed,
    Say,
    StepAsked,
    StepDone,
    StopAsked,
    Tone,
    Urgency,
)

SIXTY = Report("pressure", 60.0, "psi")


def test_begins_with_the_cautions_and_the_first_step() -> None:
    story = Story()
    assert "never replace looking at the gauges" in story.said()[0]
    assert [asked.step for asked in story.got(StepAsked)] == ["regulator shut"]


def test_a_sure_reading_is_read_back_digits_first_and_stands() -> None:
    story = in_steam()
    story.wait(200)
    story.say("pressure sixty five")
    assert Report("pressure", 65.0, "psi") in [a.report for a in story.got(ReadingAccepted)]
    assert "Pressure six five. Sixty five." in story.said()


def test_wrong_and_a_value_corrects_the_last_reading() -> None:
    story = in_steam()
    story.wait(100)
    story.say("pressure fifty five")
    if story.got(ReadingDoubted):
        pytest.fail("fifty five after sixty is plausible within minutes")
    story.say("wrong, sixty five")
    corrected = story.got(ReadingCorrected)
    assert [(c.old.value, c.new and c.new.value) for c in corrected] == [(55.0, 65.0)]
    assert not story.got(ReadingAccepted)
    assert story.session.state.latest("pressure").report.value == 65.0


def test_a_jump_that_physics_forbids_is_asked_about_with_the_reason() -> None:
    story = in_steam()
    story.wait(30)
    story.say("pressure one twenty")
    (doubted,) = story.got(ReadingDoubted)
    assert doubted.report.value == 120.0
    assert "sixty to" in story.said()[0].lower()
    assert not story.got(ReadingAccepted)


def test_what_was_called_wrong_is_asked_about_however_surely_it_is_heard_again() -> None:
    fifty_five, sixty_five = (Report("pressure", value, "psi") for value in (55.0, 65.0))
    story = in_steam()
    story.wait(100)
    story.sound((fifty_five, 1.0))
    assert story.got(ReadingAccepted)
    story.say("wrong")
    story.sound((fifty_five, 1.0))
    assert story.got(ReadingDoubted) and not story.got(ReadingAccepted)
    story.say("wrong")
    story.sound((sixty_five, 1.0))
    assert [taken.report for taken in story.got(ReadingAccepted)] == [sixty_five]


@pytest.mark.parametrize(("reply", "stands"), [("correct", True), ("wrong", False)])
def test_only_a_spoken_yes_lets_a_doubtful_reading_count(reply: str, stands: bool) -> None:
    story = in_steam()
    story.wait(30)
    story.say("pressure one twenty")
    story.say(reply)
    taken = [a.report.value for a in story.got(ReadingAccepted)]
    assert (120.0 in taken) is stands
    if not stands:
        assert [r.report.value for r in story.got(ReadingRefused)] == [120.0]
        assert story.said() == ["What is the pressure?"]


def test_silence_never_confirms_a_doubtful_reading() -> None:
    story = in_steam()
    story.say("pressure one twenty")
    assert story.got(ReadingDoubted)
    story.wait(1800)
    assert not story.got(ReadingAccepted)
    assert story.session.state.latest("pressure").report == SIXTY


def test_a_question_in_between_leaves_the_doubt_standing() -> None:
    story = in_steam()
    story.say("pressure one twenty")
    story.say("why")
    assert any("is that right?" in text for text in story.said())
    story.say("correct")
    assert [a.report.value for a in story.got(ReadingAccepted)] == [120.0]


def test_a_value_off_the_gauge_is_refused_with_the_reason() -> None:
    story = in_steam()
    story.say("pressure two hundred and ninety")
    (refused,) = story.got(ReadingRefused)
    assert refused.report.value == 290.0
    assert "gauge ends at" in refused.reason
    assert not story.got(ReadingAccepted)


def test_an_unsure_ear_is_asked_again_and_nothing_is_entered() -> None:
    story = in_steam()
    story.sound((Report("pressure", 65.0, "psi"), 0.5), (Report("pressure", 55.0, "psi"), 0.45))
    assert not story.got(ReadingAccepted)
    assert story.said()


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


def test_nonsense_gets_three_things_that_can_be_said() -> None:
    story = Story()
    story.say("open the pod bay doors")
    assert story.said()[0].startswith("I did not follow. You can say:")


def test_answers_may_come_out_of_order() -> None:
    story = Story()
    story.say("brake is on")
    assert [done.step for done in story.got(StepDone)] == ["brake and chocks"]
    story.say("regulator shut")
    assert [done.step for done in story.got(StepDone)] == ["regulator shut"]


def test_low_water_sounds_before_anything_is_said_and_cuts_what_is_being_said() -> None:
    story = in_steam()
    story.wait(60)
    effects = story.say("no water in sight")
    kinds = [type(effect) for effect in effects]
    first_say = kinds.index(Say)
    assert kinds.index(Hush) < kinds.index(Tone) < first_say
    assert effects[kinds.index(Tone)].grade is Grade.DANGER
    assert effects[first_say].urgency is Urgency.DANGER
    assert effects[first_say].text.startswith("Danger.")
    raised = [a for a in story.got(AlarmChanged) if a.state == "raised"]
    assert {a.grade for a in raised} == {Grade.DANGER}
    assert not [a for a in story.wait(600) if isinstance(a, AlarmChanged) and a.state == "cleared"]


def test_an_overdue_water_reading_is_an_alarm_within_ten_seconds() -> None:
    story = in_steam()
    began = story.session.state.latest("water").at
    overdue: list[float] = []
    for _ in range(80):
        came = story.wait(5)
        overdue += [story.at for e in came if isinstance(e, AlarmChanged) and "water" in e.name]
    interval = story.session.state.progress.engine.water_interval_s
    assert overdue
    assert interval <= overdue[0] - began <= interval + 10


def test_the_microphone_lost_is_told() -> None:
    story = in_steam()
    story.event(DeviceLost(story.at + 1, "microphone", "no sound for 2 s"))
    assert any("cannot hear" in text.lower() for text in story.said())


def test_taking_over_asks_what_could_hurt_first() -> None:
    story = Story(from_phase="tick-over")
    assert story.session.state.phase.value == "tick-over"
    asked = [a.step for a in story.got(StepAsked)]
    assert asked == ["water on taking over"]
    story.say("ready")
    assert not story.got(StepDone)


def test_resuming_says_where_we_were_and_asks_the_water() -> None:
    story = in_steam()
    story.event(Resumed(story.at + 600, 600.0))
    assert "Where is the water?" in " ".join(story.said())
    assert story.session.expected.kind == "water"


def test_ending_is_asked_twice() -> None:
    story = in_steam()
    story.say("end session")
    assert not story.got(Ended)
    story.say("correct")
    assert story.got(Ended)


def test_stopping_from_outside_ends_at_once_and_nothing_comes_after() -> None:
    story = in_steam()
    story.event(StopAsked(story.at + 1))
    assert story.got(Ended)
    assert story.say("pressure seventy") == []


def test_a_bug_of_ours_is_told_and_changes_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    story = in_steam()
    before = story.session.state

    def broken(turn: object) -> None:
        raise RuntimeError("invented")

    monkeypatch.setattr(checklist_flow, "proceed", broken)
    effects = story.say("pressure sixty five")
    assert [type(e) for e in effects] == [Fault, Say]
    assert effects[1].text == "Assistant fault. Trust the gauges."
    assert story.session.state is before


def test_a_sum_that_fails_is_told_once_and_the_alarms_go_on(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    story = in_steam()

    def broken(belief: object) -> float:
        raise RuntimeError("invented")

    monkeypatch.setattr(forecast, "water_middle", broken)
    effects = story.say("pressure sixty five")
    assert [e.message for e in effects if isinstance(e, Fault)] == ["RuntimeError: invented"]
    assert "Assistant fault. Trust the gauges." in story.said()
    story.wait(60, tick_s=1.0)
    assert not story.got(Fault)
    story.say("no water in sight")
    assert "water out of sight" in [change.name for change in story.got(AlarmChanged)]


def test_a_yes_from_nowhere_confirms_nothing() -> None:
    story = in_steam()
    story.wait(60)
    seen = story.session.state.reports
    story.sound((Answer("yes"), 1.0))
    assert story.session.state.reports == seen


def test_a_cure_is_called_by_its_symptom_and_comes_back() -> None:
    story = in_steam()
    story.say("pump trouble")
    assert story.session.state.parked
    cure = story.session.state.progress.checklist.name
    assert cure == "pump_trouble"
    story.say("where are we")
    for _ in range(12):
        hand = story.session.state.progress
        if not story.session.state.parked:
            break
        last = next(s for s in hand.steps if s.id == hand.asked)
        failing = [r for r in last.replies if r.state != "cured"]
        story.say(failing[0].spoken[0] if failing else last.replies[0].spoken[0])
    assert not story.session.state.parked
    assert story.session.state.phase.value == "raising steam"
