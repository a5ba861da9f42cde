"""The shaped voice is understood in more noise than the plain one, and the bench says so."""

from __future__ import annotations

import shutil
import sys

import numpy as np
import pytest

from assistant.devices.sound import Clip
from assistant.errors import WorldFailedError
from assistant.grammar.phrases import grammar
from assistant.lab.benches import own_sentences, voice_heard, voice_in_noise
from assistant.lab.benches.own_sentences import OwnSentence
from assistant.lab.benches.voice_in_noise import GRID_DB, NOISES, Spoken, gains_db, understood
from assistant.lab.commands import bench
from assistant.messages import Alternative, Expected
from assistant.recogniser.base import Grammar, NBest, Sound

SAID = tuple(
    OwnSentence(text, pace, "some")
    for text, pace in (
        ("Water near lower mark.", 140),
        ("Firehole door shut, blower on.", 140),
        ("Pressure one two five.", 100),
        ("Safety valve feathering.", 140),
        ("A.", 140),
    )
)


@pytest.fixture
def voices() -> list[Spoken]:
    if not shutil.which("espeak-ng"):
        pytest.skip("no espeak-ng here: the assistant's voice is not measured")
    return voice_in_noise.spoken(SAID, len(SAID))


@pytest.mark.sound
@pytest.mark.real  # the synthesiser is a process with a deadline by the clock
def test_the_shaped_voice_is_understood_in_more_noise(voices: list[Spoken]) -> None:
    pytest.importorskip("pystoi", reason="no pystoi here: how much is understood is not measured")
    assert len(voices) == 4  # one is too short to be measured
    found = understood(voices)
    assert found.plain.shape == (len(NOISES), 4, 3)
    assert found.shaped.shape == (len(NOISES), 4, len(GRID_DB))
    gains = gains_db(found.plain.mean((0, 1)).tolist(), found.shaped.mean((0, 1)).tolist())
    for gain, least in zip(gains, (7.0, 6.0, 5.0), strict=True):  # few sentences scatter by a dB
        assert gain is not None and gain >= least
    assert voice_in_noise.peak_db(voices) <= voice_in_noise.MOST_PEAK_DB
    unshaped = understood([Spoken(v.sentence, v.plain, v.plain) for v in voices[:1]], NOISES[:1])
    gains = gains_db(unshaped.plain.mean((0, 1)).tolist(), unshaped.shaped.mean((0, 1)).tolist())
    for gain in gains:  # the bench finds no gain where there is none
        assert gain == pytest.approx(0.0, abs=0.2)


def test_without_the_library_it_says_what_to_do(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "pystoi", None)
    with pytest.raises(WorldFailedError, match="pystoi, which is not installed: get what the te"):
        voice_in_noise.estoi()


@pytest.mark.parametrize(
    ("gains", "highest_db", "met"),
    [
        ([8.0, 7.0, 6.0], -1.01, True),
        ([7.9, 9.0, 9.0], -1.01, False),
        ([9.0, 9.0, None], -1.01, False),
        ([9.0, 9.0, 9.0], -0.9, False),
    ],
)
def test_the_verdict_follows_the_figures(
    gains: list[float | None], highest_db: float, met: bool
) -> None:
    assert voice_in_noise.verdict(gains, highest_db).endswith("): met" if met else "NOT MET")


def test_the_sentences_are_the_programs_own_and_any_beginning_has_all_sorts() -> None:
    said = own_sentences.spoken_in(["low water"])
    assert OwnSentence("Where is the water?", 140, "questions and acts") in said
    assert OwnSentence("Water near lower mark.", 140, "alarms") in said
    assert OwnSentence("Water half.", 100, "read-backs and answers") in said
    drawn = own_sentences.drawn(said)
    assert sorted(drawn, key=str) == sorted(said, key=str)
    assert {one.sort for one in drawn[:3]} == set(own_sentences.SORTS.values())
    assert own_sentences.drawn(said) == drawn != said


class LoudOnly:
    """An ear that follows only what is louder than this."""

    name = "loud only"

    def __init__(self, rms: float) -> None:
        self._rms = rms

    def prepare(self, grammar: Grammar) -> None: ...

    def hear(self, sound: Sound, listed: Grammar) -> NBest:
        words = "water half" if np.sqrt(np.mean(sound**2)) > self._rms else "what next"
        meaning = grammar(Expected()).meaning(words.split())
        assert meaning is not None
        return NBest(self.name, (Alternative(meaning, words, 1.0),))


def test_what_the_ear_follows_is_counted_plain_and_shaped() -> None:
    tone = np.sin(np.arange(16_000) / 5).astype(np.float32)
    one = Spoken(
        OwnSentence("water half", 140, "named forms"),
        Clip(0.1 * tone, 16_000),
        Clip(0.8 * tone, 16_000),
    )
    assert voice_heard.followed(LoudOnly(0.3), [one], NOISES, 10.0) == (0, 4)
    assert voice_heard.followed(LoudOnly(0.0), [one], NOISES, 10.0) == (4, 4)


def test_there_are_enough_named_forms_that_mean_something_at_any_time() -> None:
    assert len(voice_heard.named_forms()) >= bench.VOICE_FORMS
