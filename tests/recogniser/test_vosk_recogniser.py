"""The vosk recogniser, for real, with a Korean model that is installed for tests only."""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path

import numpy as np
import pytest

from assistant.errors import WorldFailedError
from assistant.messages import SPEECH_RATE_HZ, Answer, Report
from assistant.recogniser import vosk_recogniser
from assistant.recogniser.base import ListedGrammar, Sound
from assistant.recogniser.vosk_recogniser import VoskRecogniser, read_result

# hana one, dul two, aniyo no
GRAMMAR = ListedGrammar(
    {
        ("압력", "하나"): Report("pressure", 1.0, "bar"),
        ("압력", "둘"): Report("pressure", 2.0, "bar"),
        ("아니요",): Answer("no"),
        ("물", "zzz"): Report("water", 0.5, "glass"),
    }
)


@pytest.fixture(scope="module")
def vosk(korean_model: Path) -> VoskRecogniser:
    return VoskRecogniser(korean_model)


def spoken(text: str, tmp_path: Path) -> Sound:
    """The synthesiser's Korean, with a little room noise around it."""
    import soundfile
    import soxr

    program = shutil.which("espeak-ng")
    if program is None:
        pytest.skip("no espeak-ng here")
    wav = tmp_path / "spoken.wav"
    subprocess.run([program, "-v", "ko", "-s", "130", "-w", str(wav), text], check=True)
    sound, rate = soundfile.read(wav, dtype="float32")
    padded = np.pad(
        soxr.resample(sound, rate, SPEECH_RATE_HZ), (SPEECH_RATE_HZ // 3, SPEECH_RATE_HZ)
    )
    room = 0.001 * np.random.default_rng(1).standard_normal(len(padded))
    return np.asarray(padded + room, dtype=np.float32)


@pytest.mark.ear
@pytest.mark.sound
def test_it_hears_by_utterance_and_by_stream(vosk: VoskRecogniser, tmp_path: Path) -> None:
    sound = spoken("압력 둘", tmp_path)
    n_best = vosk.hear(sound, GRAMMAR)
    assert n_best.alternatives[0].meaning == Report("pressure", 2.0, "bar")
    assert n_best.alternatives[0].probability <= vosk_recogniser.NEVER_SURER
    parts = [vosk.feed(sound[at : at + 1600], GRAMMAR) for at in range(0, len(sound), 1600)]
    ended = [part.n_best for part in parts if part.ended and part.n_best is not None]
    assert any(each.alternatives and each.alternatives[0].words == "압력 둘" for each in ended)


@pytest.mark.ear
def test_noise_gives_no_alternative(vosk: VoskRecogniser) -> None:
    noise = (0.05 * np.random.default_rng(1).standard_normal(2 * SPEECH_RATE_HZ)).astype(np.float32)
    assert vosk.hear(noise, GRAMMAR).alternatives == ()


@pytest.mark.ear
def test_a_grammar_it_knows_no_sentence_of_is_refused(vosk: VoskRecogniser) -> None:
    """Handed to vosk as an empty list it would end the process."""
    for sentences in ({}, {("zzz",): Answer("yes")}, {(): Answer("yes")}):
        with pytest.raises(WorldFailedError, match="knows no sentence"):
            vosk.prepare(ListedGrammar(sentences))


@pytest.mark.ear
def test_it_is_reset_every_few_minutes(vosk: VoskRecogniser) -> None:
    quiet = np.zeros(SPEECH_RATE_HZ, np.float32)
    vosk.hear(quiet, GRAMMAR)
    first = vosk._recognizer
    vosk._heard_s = vosk_recogniser.RESET_AFTER_S + 1
    vosk.hear(quiet, GRAMMAR)
    assert vosk._recognizer is not first
    assert vosk._heard_s < 2


def test_a_result_without_alternatives_is_empty() -> None:
    assert read_result('{"text": "water half"}') == []
    assert read_result('{"alternatives": [{"text": ""}]}') == []
