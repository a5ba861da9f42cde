"""A session that wants its wake phrase: what counts with it, what without, and for how long."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

from session_story import Story, Thorough, in_steam, parts

from assistant.app import Loop
from assistant.commands.replay import differences
from assistant.commands.session_build import header_of, session_config_of
from assistant.config import engine_file
from assistant.dialogue.session import Session
from assistant.grammar.wake_phrase import ANSWER, CALL, REPLY_S
from assistant.journal import reader
from assistant.journal.writer import Journal
from assistant.messages import (
    Alternative,
    Answer,
    Effect,
    Heard,
    Meaning,
    NoteTaken,
    Order,
    ReadingAccepted,
    ReadingDoubted,
    Report,
    Resumed,
    Say,
    Spoke,
    Started,
)
from assistant.recogniser.typed_recogniser import hear_typed

SIXTY_ONE = Report("pressure", 61.0, "psi")
OUT = Report("water", "out of sight")


class Called(Story):
    """A session with the wake phrase, taken over warm; nobody speaks to it without `called`."""

    def __init__(self) -> None:
        self.session = Session(parts("practice"))
        self.at = 0.0
        self.events = [Started(0.0, "raising steam", wake=True)]
        self.effects = self.session.handle(self.events[0])
        self.through("water half", "comes back at once", "pressure sixty")
        self.wait(15.0)

    def ear(
        self, meaning: Meaning, words: str, called: bool, share: float = 0.999, after_s: float = 5.0
    ) -> None:
        """What the ear made of an utterance of a second and a half."""
        self.at += after_s
        found = (Alternative(meaning, words, share),)
        self.event(Heard(self.at, "ear", found, 0.0, -0.1, 1.5, words, None, called))

    def spoken(self, after_s: float = 2.0) -> None:
        """All that is to be said now is said to its end."""
        for text in self.said():
            self.at += after_s
            self.event(Spoke(self.at, text))

    def readings(self) -> list[Report]:
        return [effect.report for effect in self.got(ReadingAccepted)]


def test_the_phrase_and_what_is_wanted_in_one_breath() -> None:
    story = Called()
    story.ear(SIXTY_ONE, "pressure sixty one", called=True)
    assert story.readings() == [SIXTY_ONE]


def test_the_phrase_then_what_is_wanted() -> None:
    story = Called()
    story.ear(CALL, "engine minder", called=True)
    assert story.said() == [ANSWER]
    story.ear(SIXTY_ONE, "pressure sixty one", called=False, after_s=6.0)
    assert story.readings() == [SIXTY_ONE]
    story.ear(Report("water", 0.5, "glass"), "water half", called=False, after_s=3.0)
    assert story.acts() == []


def test_a_call_is_listened_to_for_ten_seconds_from_the_end_of_the_answer() -> None:
    story = Called()
    story.ear(CALL, "engine minder", called=True)
    story.spoken()
    story.ear(SIXTY_ONE, "pressure sixty one", called=False, after_s=REPLY_S + 1.0)
    assert story.readings() == [SIXTY_ONE]  # it began before they were over
    late = Called()
    late.ear(CALL, "engine minder", called=True)
    late.spoken()
    late.ear(SIXTY_ONE, "pressure sixty one", called=False, after_s=REPLY_S + 2.0)
    assert late.acts() == []


def test_without_the_phrase_nothing_comes_of_it() -> None:
    story = Called()
    for meaning, words in (
        (SIXTY_ONE, "pressure sixty one"),
        (Report("water", 0.5, "glass"), "water half"),
        (Order("stop"), "end the session"),
        (Answer("no"), "wrong"),
        (Report("emergency", "over"), "it is over"),
    ):
        story.ear(meaning, words, called=False, after_s=20.0)
        assert not story.got(Say), words
        assert not story.got(ReadingAccepted), words
    assert story.session.state.latest("pressure").report.value == 60.0


def test_doubtful_words_without_the_phrase_are_not_asked_about() -> None:
    story = Called()
    story.ear(SIXTY_ONE, "pressure sixty one", called=False, share=0.9)
    assert story.acts() == []
    story.ear(SIXTY_ONE, "pressure sixty one", called=True, share=0.9)
    assert [effect.report for effect in story.got(ReadingDoubted)] == [SIXTY_ONE]


def test_what_answers_us_needs_no_phrase() -> None:
    story = Called()
    story.ear(SIXTY_ONE, "pressure sixty one", called=True, share=0.9)
    story.spoken()
    story.ear(Answer("yes"), "that's right", called=False)
    assert story.readings() == [SIXTY_ONE]
    story.spoken()  # a reading that was read back wrongly can be contradicted at once
    story.ear(Answer("no"), "wrong", called=False)
    assert story.session.state.latest("pressure").report.value == 60.0


def test_a_hint_that_nobody_asked_for_opens_nothing() -> None:
    story = Called()
    attention = story.session.state.hearing.wake
    story.event(Spoke(story.at + 1.0, "About ten minutes to wanted pressure."))
    assert story.session.state.hearing.wake == attention
    story.ear(SIXTY_ONE, "pressure sixty one", called=False)
    assert story.acts() == []


def test_what_was_never_said_aloud_opens_nothing() -> None:
    story = Called()
    story.ear(SIXTY_ONE, "pressure sixty one", called=True, share=0.9)
    (text, *_) = story.said()
    story.event(Spoke(story.at + 1.0, text, "failed"))
    story.ear(Answer("yes"), "that's right", called=False)
    assert story.readings() == []


def test_a_danger_needs_no_phrase() -> None:
    for meaning, words in (
        (OUT, "no water in sight"),
        (Report("emergency", "someone hurt"), "someone is hurt"),
        (Report("water", 0.1, "glass"), "water one tenth"),
    ):
        story = Called()
        story.ear(meaning, words, called=False)
        assert story.readings() == [meaning]
    unsure = Called()
    unsure.ear(OUT, "no water in sight", called=False, share=0.7)
    assert [effect.report for effect in unsure.got(ReadingDoubted)] == [OUT]


def test_stop_words_over_our_own_voice_and_typed_lines_need_none() -> None:
    story = Called()
    hush = Heard(
        story.at + 1.0, "ear", (Alternative(Order("hush"), "quiet please", 0.99),), 0.0, 0.0
    )
    story.event(hush)
    assert [type(effect).__name__ for effect in story.acts()] == ["Hush"]
    story.say("pressure sixty one", after_s=20.0)
    assert story.readings() == [SIXTY_ONE]


def test_a_note_that_is_waited_for_is_still_waited_for_after_other_talk() -> None:
    story = Called()
    story.say("take a note")
    unlike = Alternative(Report("water", 0.5, "glass"), "water half", 0.4)
    talk = Heard(story.at + 30.0, "ear", (unlike,), -30.0, -3.0, 2.0, "lovely day", None, False)
    story.event(talk)
    assert story.got(NoteTaken) == []
    story.event(replace(talk, at=story.at + 40.0, text="the plug weeps", called=True))
    assert story.got(NoteTaken) == [NoteTaken("the plug weeps")]


def test_a_question_in_doubt_is_put_again_after_a_call() -> None:
    story = Called()
    story.ear(SIXTY_ONE, "pressure sixty one", called=True, share=0.9)
    story.ear(CALL, "engine minder", called=True, after_s=12.0)
    assert story.said() == [ANSWER]
    story.ear(Answer("yes"), "that's right", called=False)
    assert story.readings() == [SIXTY_ONE]


def test_without_the_option_the_phrase_is_an_ordinary_call_and_nothing_needs_it() -> None:
    story = in_steam()
    assert story.session.state.hearing.wake is None
    story.say("engine minder")
    assert story.said() == [ANSWER]
    story.event(Spoke(story.at + 1.0, ANSWER))
    assert story.session.state.hearing.wake is None


def test_it_is_wanted_or_not_anew_after_a_break() -> None:
    story = Called()
    story.event(Resumed(story.at + 600.0, 590.0))
    assert story.session.state.hearing.wake is None
    story.event(Resumed(story.at + 900.0, 290.0, wake=True))
    assert story.session.state.hearing.wake is not None


def test_its_journal_replays_without_any_ear(tmp_path: Path) -> None:
    story = Called()
    story.ear(CALL, "engine minder", called=True)
    story.spoken()
    story.ear(SIXTY_ONE, "pressure sixty one", called=False)
    story.ear(Report("pressure", 62.0, "psi"), "pressure sixty two", called=False, after_s=30.0)
    path = tmp_path / "day.jsonl"
    header = header_of(engine_file.find_engine("practice"), "2026-05-01T09:00:00+00:00", 1, "test")
    with Journal.create(path, header) as journal:
        loop = Loop(Session(session_config_of(header)), journal)
        for event in story.events:
            loop.process(event)
    entered = [turn.event.at for turn in reader.read(path).exchanges() if accepted(turn.effects)]
    assert len(entered) == 4  # three to take her over, and the one that was called
    assert differences(path) == (len(story.events), [])


def accepted(effects: tuple[Effect, ...]) -> bool:
    return any(isinstance(effect, ReadingAccepted) for effect in effects)


def test_the_end_of_a_sentence_that_may_be_answered_is_never_skipped() -> None:
    story = Called()
    story.ear(SIXTY_ONE, "pressure sixty one", called=True, share=0.9)
    asked = story.said()
    story.wait(8.0, tick_s=1.0)
    for text in asked:
        story.event(Spoke(story.at + 0.1, text))
    story.ear(Answer("yes"), "that's right", called=False, after_s=9.0)
    assert story.readings() == [SIXTY_ONE]
    thorough, quick = Thorough(parts("practice")), Session(parts("practice"))
    for event in story.events:
        assert quick.handle(event) == thorough.handle(event), event
    assert thorough.handled == len(story.events)


def test_the_phrase_does_not_hinder_what_is_typed() -> None:
    heard = hear_typed("engine minder", Story().session.expected, 1.0)
    assert heard.alternatives[0].meaning == CALL
    assert heard.called is None
