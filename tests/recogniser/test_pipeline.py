"""The recognisers behind one interface: what becomes of an n-best list, of notes, of stop words."""

from __future__ import annotations

import numpy as np
import pytest

from assistant.grammar.wake_phrase import Wake
from assistant.messages import SPEECH_RATE_HZ, Alternative, Expected, Heard, Order
from assistant.recogniser.base import Grammar, NBest, Sound
from assistant.recogniser.dictation import Dictation
from assistant.recogniser.pipeline import STOP_WORDS, RecognitionPipeline, heard_from

HUSH = Alternative(Order("hush"), "quiet please", 0.97)
SOUND = np.zeros(2 * SPEECH_RATE_HZ, np.float32)


class Parrot:
    """A recogniser that always hears the same, and notes the grammars it was given."""

    name = "parrot"

    def __init__(self, n_best: NBest) -> None:
        self._n_best = n_best
        self.grammars: list[Grammar] = []

    def prepare(self, grammar: Grammar) -> None:
        self.grammars.append(grammar)

    def hear(self, sound: Sound, grammar: Grammar) -> NBest:
        self.grammars.append(grammar)
        return self._n_best


class Writer(Dictation):
    """Dictation that always writes the same."""

    def __init__(self, text: str) -> None:
        self._text = text
        self.asked = 0

    def write(self, sound: Sound) -> str:
        self.asked += 1
        return self._text


def hears(words: str, log_ratio: float | None, average: float | None = -0.2) -> Parrot:
    return Parrot(NBest("parrot", (Alternative(Order("hush"), words, 0.97),), log_ratio, average))


def test_the_words_of_the_best_stand_and_without_any_the_free_text() -> None:
    heard = heard_from(NBest("x", (HUSH,), -0.1, -0.2, "quite please"), 3.0, 1.23456)
    assert (heard.ear, heard.text, heard.audio_s) == ("x", "quiet please", 1.235)
    assert heard_from(NBest("x", (), text="quite please"), 0.0, 1.0).text == "quite please"


@pytest.mark.parametrize(
    ("log_ratio", "average", "stops"),
    [(-0.5, -0.5, True), (-2.0, -0.5, False), (-0.5, -2.0, False), (None, None, False)],
)
def test_only_what_is_surely_a_stop_word_stops(
    log_ratio: float | None, average: float | None, stops: bool
) -> None:
    parrot = hears("quiet please", log_ratio, average)
    assert (RecognitionPipeline(parrot).stop_word(SOUND) is not None) == stops
    assert parrot.grammars == [STOP_WORDS]


def test_what_is_prepared_is_what_is_heard_with() -> None:
    for wake in (None, Wake()):
        parrot = hears("quiet please", -0.1)
        pipeline = RecognitionPipeline(parrot, wake=wake)
        pipeline.prepare(Expected("pressure"))
        pipeline.heard(SOUND, Expected("pressure"), 0.0)
        assert parrot.grammars[0] is parrot.grammars[1]


def test_with_a_wake_phrase_it_is_said_whether_it_was_there() -> None:
    parrot = hears("engine minder quiet please", -0.1)
    called = RecognitionPipeline(parrot, wake=Wake()).heard(SOUND, Expected(), 0.0)
    assert called.called and called.alternatives[0].words == "quiet please"


def heard(words: str, log_ratio: float, audio_s: float = 2.0) -> Heard:
    alternative = Alternative(Order("hush"), words, 0.9)
    return Heard(0.0, "x", (alternative,), log_ratio, -0.2, audio_s, words)


@pytest.mark.parametrize(
    ("utterance", "note"),
    [
        (heard("quiet please", -5.0), "note the clack weeps"),
        (heard("quiet please", -0.1, 5.0), "note the clack weeps"),  # too slow for two words
        (heard("quiet please", -0.1), None),
        (heard("quiet please", -5.0, 1.0), None),
    ],
)
def test_a_note_in_one_breath_is_looked_for_where_the_sound_may_be_one(
    utterance: Heard, note: str | None
) -> None:
    writer = Writer(" note the clack weeps ")
    pipeline = RecognitionPipeline(hears("", -0.1), writer)
    assert pipeline.note(SOUND, utterance, Expected()) == note
    assert writer.asked == (note is not None)


def test_an_expected_note_is_any_words_and_other_talk_is_none() -> None:
    unsure = heard("quiet please", -5.0)
    pipeline = RecognitionPipeline(hears("", -0.1), Writer("lovely weather"))
    assert pipeline.note(SOUND, unsure, Expected(note=True)) == "lovely weather"
    assert pipeline.note(SOUND, unsure, Expected()) is None
    assert RecognitionPipeline(hears("", -0.1)).note(SOUND, unsure, Expected(note=True)) is None
