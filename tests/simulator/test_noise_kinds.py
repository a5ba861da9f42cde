"""An owner's recordings as kinds of noise: found, drawn from, and refused where of no use."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
import soundfile

from assistant.errors import InputWrongError
from assistant.messages import SPEECH_RATE_HZ
from assistant.recogniser.base import Sound
from assistant.simulator.noise import KINDS, Surroundings, engine_noise
from assistant.simulator.noise_kinds import Noises, noises_for, read_noise, recordings


def hiss(seconds: float, level: float = 0.1) -> Sound:
    rng = np.random.default_rng(4)
    return (level * rng.standard_normal(int(seconds * SPEECH_RATE_HZ))).astype(np.float32)


def kept(folder: Path, name: str, sound: Sound, rate_hz: int = SPEECH_RATE_HZ) -> Path:
    folder.mkdir(exist_ok=True)
    soundfile.write(folder / name, sound, rate_hz)
    return folder / name


def test_a_recording_is_a_kind_beside_the_made_ones(tmp_path: Path) -> None:
    kept(tmp_path, "valve lifting.flac", hiss(6))
    kept(tmp_path, "blower.wav", hiss(6, 0.02))
    (tmp_path / "read me.txt").write_text("not a noise")
    assert [file.name for file in recordings(tmp_path)] == ["blower.wav", "valve lifting.flac"]
    noises, names = noises_for(["mix", "blower", "valve lifting", "blower.wav"], tmp_path)
    assert names == ("mix", "blower", "valve lifting.flac", "blower.wav")
    assert noises.kinds == (*KINDS, "valve lifting.flac", "blower.wav")
    made = noises("blower", 1.0, np.random.default_rng(7))
    assert np.array_equal(made, engine_noise("blower", 1.0, np.random.default_rng(7)))
    own = noises("blower.wav", 1.0, np.random.default_rng(7))
    assert float(np.sqrt(np.mean(own**2))) == pytest.approx(0.02, rel=0.05)


def test_recorded_draws_from_all_of_them(tmp_path: Path) -> None:
    kept(tmp_path, "a.flac", hiss(6, 0.1))
    kept(tmp_path, "b.flac", hiss(6, 0.01))
    noises, (name,) = noises_for(["recorded"], tmp_path)
    rng = np.random.default_rng(1)
    levels = {round(float(np.sqrt(np.mean(noises(name, 1.0, rng) ** 2))), 2) for _ in range(20)}
    assert levels == {0.1, 0.01}


def test_a_long_stretch_goes_round_without_a_click(tmp_path: Path) -> None:
    t = np.arange(6 * SPEECH_RATE_HZ) / SPEECH_RATE_HZ
    hum = (0.3 * np.sin(2 * np.pi * 50.7 * t)).astype(np.float32)
    noises = Noises({"hum": read_noise(kept(tmp_path, "hum.flac", hum))})
    whole = noises("hum", 15.0, np.random.default_rng(3))
    assert len(whole) == 15 * SPEECH_RATE_HZ
    steps = np.abs(np.diff(whole))
    assert steps.max() < 2 * np.abs(np.diff(hum)).max()


def test_another_rate_and_two_channels_are_brought_to_ours(tmp_path: Path) -> None:
    both = np.stack([hiss(18), hiss(18)], axis=1)  # six seconds at 48 kHz
    assert len(read_noise(kept(tmp_path, "a.wav", both, 48_000))) == pytest.approx(
        6 * SPEECH_RATE_HZ, rel=0.02
    )


def test_the_ratio_holds_under_a_recording(tmp_path: Path) -> None:
    noises, (name,) = noises_for([str(kept(tmp_path, "mine.flac", hiss(6)))], tmp_path / "none")
    speech = np.zeros(2 * SPEECH_RATE_HZ, np.float32)
    speech[SPEECH_RATE_HZ // 2 : SPEECH_RATE_HZ] = 0.2
    where = Surroundings(10.0, name, noises)
    both = where.with_noise(speech, np.random.default_rng(5))
    under = float(np.sqrt(np.mean(both[SPEECH_RATE_HZ:].astype(np.float64) ** 2)))
    assert 20 * np.log10(0.2 / under) == pytest.approx(10, abs=0.3)


@pytest.mark.parametrize(
    ("sound", "why"),
    [(hiss(2), "too short"), (np.zeros(6 * SPEECH_RATE_HZ, np.float32), "only silence")],
)
def test_what_is_of_no_use_is_refused_in_a_line(tmp_path: Path, sound: Sound, why: str) -> None:
    with pytest.raises(InputWrongError, match=why) as wrong:
        read_noise(kept(tmp_path, "x.flac", sound))
    assert "\n" not in str(wrong.value)


def test_what_is_not_there_is_told_with_what_is(tmp_path: Path) -> None:
    with pytest.raises(InputWrongError, match="no noise was recorded yet"):
        noises_for(["recorded"], tmp_path / "none")
    with pytest.raises(InputWrongError, match="did you mean 'blower'"):
        noises_for(["blowr"], tmp_path)
    with pytest.raises(InputWrongError, match="no such file"):
        noises_for([str(tmp_path / "gone.wav")], tmp_path)
    (tmp_path / "text.wav").write_text("no sound")
    with pytest.raises(InputWrongError, match="not a sound file"):
        noises_for(["text.wav"], tmp_path)
