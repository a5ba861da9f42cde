"""The bench by noise: its rows, and what is said and not meant in it."""

from __future__ import annotations

import json
from pathlib import Path

import numpy as np
import pytest
import soundfile

from assistant.lab.benches import recordings as bench_sounds
from assistant.lab.benches.decision_outcomes import Outcomes
from assistant.lab.benches.hear_in_noise import (
    BY_NOISE,
    background_trials,
    digit_trials,
    noise_figures,
)
from assistant.messages import Report
from assistant.simulator.noise import Surroundings, engine_noise
from assistant.simulator.voices import SynthesiserVoice

RATE = 16_000


def outcomes(seconds: float, **counts: int) -> Outcomes:
    made = Outcomes()
    made.counts.update({name.replace("_", "-"): count for name, count in counts.items()})
    made.seconds = [seconds] * sum(counts.values())
    return made


def test_a_row_has_what_was_meant_and_what_was_not() -> None:
    meant = outcomes(0.25, right=6, asked=2, again=1, ignored=1)
    others = outcomes(0.3, ignored=17, again=1, asked_=1, wrong=1)
    header = BY_NOISE.header().replace("med s", "med").replace("95% s", "95%")
    row = BY_NOISE.row("blower", *noise_figures(meant, others))
    columns = dict(zip(header.split(), row.split()[1:], strict=True))
    assert columns["n"] == "10"
    assert (columns["right%"], columns["asked%"]) == ("60.0", "10.0")  # the last: of the others
    assert (columns["again%"], columns["ignored%"], columns["wrong%"]) == ("10.0", "10.0", "0.0")
    assert (columns["others"], columns["taken%"]) == ("20", "5.0")
    assert (columns["med"], columns["95%"]) == ("0.25", "0.25")


@pytest.fixture
def recordings(tmp_path: Path) -> Path:
    """Digits of two people and two orders, as tones."""
    (tmp_path / "digits").mkdir()
    (tmp_path / "commands").mkdir()
    tone = (0.2 * np.sin(np.arange(RATE // 4) / 8)).astype(np.float32)
    for digit in range(10):
        for who in ("ann", "bob"):
            soundfile.write(tmp_path / "digits" / f"{digit}_{who}_0.flac", tone, RATE)
    for name in ("a.flac", "b.flac"):
        soundfile.write(tmp_path / "commands" / name, tone, RATE)
    (tmp_path / "commands" / "labels.json").write_text(json.dumps({"a.flac": {}, "b.flac": {}}))
    return tmp_path


def test_peoples_digits_are_pressures_with_quiet_after_them(recordings: Path) -> None:
    made = list(digit_trials(recordings, Surroundings(), 60))
    assert len(made) == 4
    for trial in made:
        assert isinstance(trial.meant, Report) and trial.meant.what == "pressure"
        assert float(np.abs(trial.sound[-RATE:]).max()) < 0.01
        assert float(np.abs(trial.sound).max()) > 0.1
    again = list(digit_trials(recordings, Surroundings(), 60))
    assert all(np.array_equal(a.sound, b.sound) for a, b in zip(made, again, strict=True))


@pytest.mark.sound
def test_others_talk_in_every_share_of_voices_and_orders(
    recordings: Path, voice: SynthesiserVoice
) -> None:
    where = Surroundings(10.0, "blower", engine_noise)
    with_people = list(background_trials(recordings, where, 140))
    alone = list(background_trials(None, where, 140))
    assert all(trial.meant is None for trial in with_people)
    assert 3 <= len(alone) <= 6
    assert len(with_people) == len(alone) + 1  # the first of two orders


def test_who_is_meant_comes_from_the_recordings_where_there_are_any(recordings: Path) -> None:
    assert bench_sounds.orders(None) == []
    assert [file.name for file in bench_sounds.orders(recordings)] == ["a.flac", "b.flac"]
