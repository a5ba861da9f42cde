"""Sounds: rates, blocks, files."""

from __future__ import annotations

import os
from pathlib import Path

import numpy as np
import pytest
import soundfile

from assistant.devices.sound import Clip, Samples, as_file, at_rate, blocks, read_clip, read_samples
from assistant.errors import InputWrongError
from assistant.messages import SPEECH_RATE_HZ


def sine(hz: float, rate_hz: int, length_s: float = 1.0) -> Samples:
    t = np.arange(int(rate_hz * length_s)) / rate_hz
    return (0.5 * np.sin(2 * np.pi * hz * t)).astype(np.float32)


@pytest.mark.parametrize("rate_hz", [8_000, 22_050, 44_100, 48_000])
def test_another_rate_keeps_the_pitch_and_the_length(rate_hz: int) -> None:
    changed = at_rate(Clip(sine(440, rate_hz), rate_hz), 16_000)
    spectrum = np.abs(np.fft.rfft(changed.samples))
    assert np.argmax(spectrum) * 16_000 / len(changed.samples) == pytest.approx(440, abs=2)
    assert changed.duration_s == pytest.approx(1.0, abs=0.01)


def test_blocks_are_equal_and_lose_nothing() -> None:
    samples = np.arange(1, 1100, dtype=np.float32)
    parts = blocks(samples)
    assert {len(part) for part in parts} == {512}
    joined = np.concatenate(parts)
    assert (joined[:1099] == samples).all()
    assert not joined[1099:].any()


def test_a_file_of_two_channels_becomes_one(tmp_path: Path) -> None:
    both = np.stack([np.full(100, 0.5), np.full(100, -0.25)], axis=1)
    soundfile.write(tmp_path / "two.wav", both, 8_000)
    clip = read_clip(tmp_path / "two.wav")
    assert clip.rate_hz == 8_000
    assert clip.samples == pytest.approx(0.125, abs=1e-3)


def test_a_file_that_is_no_sound_is_told_in_one_line(tmp_path: Path) -> None:
    (tmp_path / "no.wav").write_text("not a sound")
    for name in ("no.wav", "missing.wav"):
        with pytest.raises(InputWrongError, match=name) as error:
            read_clip(tmp_path / name)
        assert "\n" not in str(error.value)


@pytest.mark.parametrize("kind", ["FLAC", "WAV"])
def test_a_sound_written_and_read_back_is_the_same_to_16_bits(tmp_path: Path, kind: str) -> None:
    clip = Clip(np.array([0.0, 0.5, -0.5, 2.0, -2.0], np.float32), SPEECH_RATE_HZ)
    (tmp_path / "kept").write_bytes(as_file(clip, kind))
    assert read_samples(tmp_path / "kept") == pytest.approx([0.0, 0.5, -0.5, 1.0, -1.0], abs=1e-4)


def test_a_pipe_is_no_sound_file_and_holds_nobody_up(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe.wav")
    with pytest.raises(InputWrongError, match="not an ordinary file"):
        read_clip(tmp_path / "pipe.wav")
