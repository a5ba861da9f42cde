"""Enrolment of an owner: what is asked again, and what is kept."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest

from assistant.enrolment import own_voice
from assistant.enrolment.own_folder import VoiceFolder
from assistant.enrolment.own_voice import (
    HELD_OUT,
    PHRASES,
    HeldOutScore,
    keep_or_discard,
    record_phrases,
)
from assistant.errors import WorldFailedError
from assistant.grammar.phrases import grammar
from assistant.messages import SPEECH_RATE_HZ, Alternative, Expected
from assistant.recogniser.base import Grammar, NBest, Sound

HUM = (0.2 * np.sin(np.arange(SPEECH_RATE_HZ) / 10)).astype(np.float32)


class FakeRecogniser:
    """Hears what it was given to hear, one thing after the other, then the last for ever."""

    name = "fake"

    def __init__(self, *heard: str) -> None:
        self._heard = list(heard)

    def prepare(self, grammar: Grammar) -> None:
        """Nothing to prepare."""

    def hear(self, sound: Sound, grammar: Grammar) -> NBest:
        words = self._heard.pop(0) if len(self._heard) > 1 else self._heard[0]
        meaning = grammar.meaning(tuple(words.split()))
        assert meaning is not None
        return NBest(self.name, (Alternative(meaning, words, 0.9),))


class FakeDesk:
    """A microphone and a screen: gives these sounds, keeps what was shown and said."""

    def __init__(self, *sounds: Sound) -> None:
        self._sounds: Iterator[Sound] = iter(sounds)
        self.asked: list[str] = []
        self.shown: list[str] = []

    def record(self) -> Sound:
        return next(self._sounds, HUM)

    def ask(self, words: str) -> str:
        self.asked.append(words)
        return "y"


def read(desk: FakeDesk, recogniser: FakeRecogniser, folder: VoiceFolder, *phrases: str) -> None:
    record_phrases(desk.record, desk.ask, desk.shown.append, recogniser, folder, phrases)


def test_every_phrase_is_one_that_is_accepted() -> None:
    anything = grammar(Expected("any"))
    refused = [p for p in PHRASES if anything.meaning(tuple(p.split())) is None]
    assert refused == []
    assert len(set(PHRASES)) == 20
    assert len(HELD_OUT) == 5 and set(range(20)) >= HELD_OUT


def test_a_good_recording_is_kept_and_shown_once(tmp_path: Path) -> None:
    desk, folder = FakeDesk(), VoiceFolder(tmp_path / "voice")
    read(desk, FakeRecogniser("water half"), folder, "water half")
    assert len(desk.asked) == 1 and "WATER HALF" in desk.asked[0]
    [(number, words, sound)] = folder.recordings()
    assert (number, words) == (0, ("water", "half"))
    assert np.abs(sound).max() == pytest.approx(0.2, abs=0.01)


def test_another_wording_of_the_same_will_do(tmp_path: Path) -> None:
    desk = FakeDesk()
    read(
        desk, FakeRecogniser("pressure seven five"), VoiceFolder(tmp_path), "pressure seventy five"
    )
    assert len(desk.asked) == 1


def test_silence_clipping_and_a_wrong_phrase_are_asked_again(tmp_path: Path) -> None:
    silence = np.zeros(SPEECH_RATE_HZ, np.float32)
    desk, folder = FakeDesk(silence, np.clip(9 * HUM, -1, 1)), VoiceFolder(tmp_path)
    read(desk, FakeRecogniser("water half"), folder, "water half")
    assert len(desk.asked) == 3
    assert "nothing was heard" in desk.shown[1] and "too loud" in desk.shown[2]

    desk = FakeDesk()
    read(desk, FakeRecogniser("say again", "say again", "water half"), folder, "water half")
    assert len(desk.asked) == 3 and "understood as 'say again'" in desk.shown[1]


def test_what_is_never_understood_is_kept_to_be_trained_on(tmp_path: Path) -> None:
    desk, folder = FakeDesk(), VoiceFolder(tmp_path)
    read(desk, FakeRecogniser("say again"), folder, "water half")
    assert "kept all the same" in desk.shown[-1]
    assert [words for _, words, _ in folder.recordings()] == [("water", "half")]


def test_a_dead_microphone_ends_it_in_plain_words(tmp_path: Path) -> None:
    silence = np.zeros(SPEECH_RATE_HZ, np.float32)
    with pytest.raises(WorldFailedError, match="devices --test"):
        read(
            FakeDesk(silence, silence, silence),
            FakeRecogniser("ready"),
            VoiceFolder(tmp_path),
            "ready",
        )


@pytest.mark.parametrize(
    ("answer", "kept"), [("y", True), ("YES", True), ("", False), ("n", False)]
)
def test_nothing_is_kept_without_a_yes(tmp_path: Path, answer: str, kept: bool) -> None:
    folder = VoiceFolder(tmp_path)
    tried = tmp_path / "tried.npz"
    tried.write_bytes(b"new")
    asked: list[str] = []

    def ask(words: str) -> str:
        asked.append(words)
        return answer

    before, after = HeldOutScore(9, 15, 0.61), HeldOutScore(13, 15, 0.84)
    assert keep_or_discard(folder, tried, before, after, ask) is kept
    assert folder.adapter.is_file() is kept
    assert not tried.is_file()
    assert "9 of 15 right" in asked[0] and "13 of 15 right" in asked[0]


def test_nothing_recorded_is_said_before_anything_is_loaded(tmp_path: Path) -> None:
    with pytest.raises(WorldFailedError, match="footplate tune --mine"):
        own_voice.train_adapter(VoiceFolder(tmp_path), "cpu", 0, print)
