"""One utterance: accepted, read back as a question, corrected, refused, or taken as a note."""

from __future__ import annotations

import pytest
from session_story import Story, in_steam, warm_engine

from assistant.messages import (
    AlarmChanged,
    Alternative,
    Answer,
    Heard,
    NoteTaken,
    Order,
    ReadingAccepted,
    ReadingCorrected,
    ReadingDoubted,
    ReadingRefused,
    Report,
)

WEEPS = "Note, the left washout plug weeps."


def by_ear(text: str, *alternatives: Alternative, log_ratio: float, clip: str | None) -> Heard:
    return Heard(100.0, "ear", alternatives, log_ratio, -3.0, 4.0, text, clip)


def test_a_note_in_one_breath_keeps_its_words_and_its_sound() -> None:
    story = in_steam()
    unlike = Alternative(Report("water", 0.5, "glass"), "water a half", 0.4)
    story.event(by_ear(WEEPS, unlike, log_ratio=-30.0, clip="note-001.flac"))
    assert story.got(NoteTaken) == [NoteTaken("the left washout plug weeps.", "note-001.flac")]
    assert story.got(ReadingAccepted) == []
    assert story.got(ReadingRefused) == []
    assert story.said()[0] == "Noted, with its sound."


def test_after_take_a_note_the_next_words_are_one() -> None:
    story = in_steam()
    story.say("take a note")
    assert story.said() == ["Speak your note."]
    assert story.session.expected.note
    story.event(by_ear("The clack is hot.", log_ratio=-30.0, clip="note-001.flac"))
    assert story.got(NoteTaken) == [NoteTaken("The clack is hot.", "note-001.flac")]
    assert not story.session.expected.note


def test_a_note_whose_sound_could_not_be_kept_says_so() -> None:
    story = in_steam()
    story.say("take a note")
    story.event(by_ear("The clack is hot.", log_ratio=-30.0, clip=None))
    assert story.said()[0] == "Noted, the words only."


def test_typed_notes_have_no_sound_and_say_nothing_of_it() -> None:
    story = in_steam()
    story.say("note the left washout plug weeps")
    assert story.got(NoteTaken) == [NoteTaken("the left washout plug weeps", None)]
    assert story.said()[0] == "Noted."
    story.say("note: gauge lamp flickers")
    assert story.got(NoteTaken) == [NoteTaken("gauge lamp flickers", None)]


def test_the_word_alone_still_asks_for_the_note() -> None:
    story = in_steam()
    story.say("note")
    assert story.got(NoteTaken) == []
    assert story.said() == ["Speak your note."]


def test_a_sure_danger_is_not_swallowed_by_a_note() -> None:
    story = in_steam()
    story.say("take a note")
    story.say("no water in sight")
    assert Report("water", "out of sight") in [e.report for e in story.got(ReadingAccepted)]


def test_a_reading_called_while_a_note_is_waited_for_is_a_reading() -> None:
    story = in_steam()
    story.say("take a note")
    story.say("pressure sixty one")
    assert [e.report for e in story.got(ReadingAccepted)] == [Report("pressure", 61.0, "psi")]
    assert story.got(NoteTaken) == []
    story.say("it hisses")
    assert story.got(NoteTaken) == []


def test_quiet_please_lets_the_note_be() -> None:
    story = in_steam()
    story.say("take a note")
    story.say("quiet please")
    assert story.got(NoteTaken) == []
    assert not story.session.expected.note


def test_not_yet_is_no_note() -> None:
    story = in_steam()
    heard = Alternative(Order("not yet"), "not yet", 0.99)
    story.event(Heard(100.0, "ear", (heard,), -0.1, -0.2, 1.0, "Note yet.", None))
    assert story.got(NoteTaken) == []


def test_a_yes_is_no_note_either() -> None:
    story = in_steam()
    story.say("take a note")
    heard = Alternative(Answer("yes"), "correct", 0.999)
    story.event(Heard(100.0, "ear", (heard,), -0.1, -0.2, 1.0, "Correct.", None))
    assert story.got(NoteTaken) == []


def test_a_long_note_that_begins_like_a_no_is_a_note() -> None:
    story = in_steam()
    heard = Alternative(Answer("no"), "no", 0.999)
    text = "Note, we had a bit of a struggle with damp wood this morning."
    story.event(Heard(100.0, "ear", (heard,), 0.0, -0.2, 9.8, text, "note-001.flac"))
    assert [note.clip for note in story.got(NoteTaken)] == ["note-001.flac"]
    assert story.session.state.latest("pressure").report == Report("pressure", 60.0, "psi")


def test_what_can_be_said_is_one_form_of_each_answer() -> None:
    story = Story()
    story.through("water half", "brake on and chocked")
    story.say("banana")
    assert "out of gear; still in gear; help" in story.text()
    story.through(
        "out of gear", "regulator shut", "drains open", "papers in date", "gloves are on",
        "boiler is tight", "firebox is dry", "blow down is shut", "safety valve free",
    )  # fmt: skip
    story.say("banana")
    assert "pressure seventy five; needle on the pin" in story.text()


def test_a_reading_may_be_called_wrong_some_turns_later() -> None:
    story = warm_engine("raising steam")
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
    story = warm_engine("raising steam")
    for _ in range(2):
        story.say("seven bar", after_s=60)
        assert "Pressure seven bar." in story.text()


def test_a_sure_reading_is_read_back_digits_first_and_stands() -> None:
    story = in_steam()
    story.wait(200)
    story.say("pressure sixty five")
    assert Report("pressure", 65.0, "psi") in [a.report for a in story.got(ReadingAccepted)]
    assert "Pressure sixty five." in story.said()


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


def test_nonsense_gets_three_things_that_can_be_said() -> None:
    story = Story()
    story.say("open the pod bay doors")
    assert story.said()[0].startswith("I did not follow. You can say:")


def test_a_yes_from_nowhere_confirms_nothing() -> None:
    story = in_steam()
    story.wait(60)
    seen = story.session.state.reports
    story.sound((Answer("yes"), 1.0))
    assert story.session.state.reports == seen
