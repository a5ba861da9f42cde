"""A note said aloud: in one breath or after being asked for; never at a danger's expense."""

from __future__ import annotations

from session_story import in_steam

from assistant.messages import (
    Alternative,
    Answer,
    Heard,
    NoteTaken,
    Order,
    ReadingAccepted,
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
