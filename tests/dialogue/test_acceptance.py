"""Accepting and retracting reports: the log, the belief, the list and what stays in the journal."""

from __future__ import annotations

from session_story import Story, in_steam

from assistant.messages import ReadingAccepted, ReadingCorrected, Report, StepDone


def test_an_accepted_reading_answers_the_question_that_was_open() -> None:
    story = in_steam()
    while story.session.state.reading_asked != "pressure":
        story.wait(10)
        if story.session.state.reading_asked == "water":
            story.say("water half")
    story.say("pressure sixty five")
    assert story.got(ReadingAccepted)[0] == ReadingAccepted(Report("pressure", 65.0, "psi"))
    assert story.session.state.reading_asked != "pressure"


def test_undo_takes_the_report_out_of_log_and_belief_and_opens_its_step() -> None:
    story = Story()
    before = story.session.state
    story.say("regulator shut")
    assert [done.step for done in story.got(StepDone)] == ["regulator shut"]
    story.say("undo that")
    assert story.got(ReadingCorrected) == [ReadingCorrected(Report("regulator", "shut"), None)]
    after = story.session.state
    assert after.reports == before.reports == ()
    assert not after.progress.is_done("regulator shut")


def test_with_nothing_reported_there_is_nothing_to_undo() -> None:
    story = Story()
    state = story.session.state
    story.say("undo that")
    assert not story.got(ReadingCorrected)
    assert story.said()[0] == "Nothing to take back."
    assert story.session.state.progress.done == state.progress.done


def test_a_retracted_reading_no_longer_forbids_its_opposite() -> None:
    story = in_steam()
    story.wait(30)
    story.say("pressure one twenty")
    story.say("correct")
    assert story.session.state.latest("pressure").report.value == 120.0
    story.say("undo that")
    story.say("pressure sixty")
    assert story.got(ReadingAccepted) == [ReadingAccepted(Report("pressure", 60.0, "psi"))]
