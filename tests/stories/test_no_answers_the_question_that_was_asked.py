"""A bare "no": it answers the check of a remedy, and never takes back a second good reading."""

from __future__ import annotations

from session_story import in_steam

from assistant.messages import ReadingCorrected, StepDone


def test_no_to_the_check_of_a_remedy_leads_to_the_next_check() -> None:
    story = in_steam()
    story.say("pump trouble")
    story.wait(5.0)
    hand = story.session.state.progress.asked
    assert story.session.state.procedure.parked, "the remedy is in hand"
    story.say("no")
    assert story.got(ReadingCorrected) == [], "pump trouble is not taken back"
    story.wait(5.0)
    assert story.session.state.procedure.parked
    assert story.session.state.progress.asked != hand


def test_yes_ends_no_remedy_that_is_said_in_its_own_words() -> None:
    story = in_steam()
    story.say("pump trouble")
    story.wait(5.0)
    story.say("yes")
    assert story.got(StepDone) == []
    assert story.session.state.procedure.parked
    story.say("pump works again")
    assert story.session.state.procedure.parked == ()


def test_after_a_reading_in_between_no_contradicts_the_reading() -> None:
    story = in_steam()
    story.say("pump trouble")
    story.wait(5.0)
    story.say("pressure sixty five")
    story.say("no")
    assert [c.old.value for c in story.got(ReadingCorrected)] == [65.0]


def test_no_said_three_times_takes_back_one_reading() -> None:
    story = in_steam()
    story.say("pressure seventy")
    story.say("wrong")
    assert [c.old.value for c in story.got(ReadingCorrected)] == [70.0]
    for _ in range(2):
        story.say("no")
        assert story.got(ReadingCorrected) == []
    water = story.session.state.latest("water")
    assert water is not None and water.report.value == 0.5
