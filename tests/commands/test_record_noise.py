"""Recording one's own engine, from a microphone in memory to a kind of noise for a practice."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
import soundfile
from kept_output import KeptOutput

from assistant.cli import main
from assistant.commands import record_noise
from assistant.config import paths
from assistant.devices.clock import FakeClock
from assistant.devices.microphone import FakeSource, FileSource, OnBlock
from assistant.devices.sound import Clip, Samples
from assistant.errors import InputWrongError, WorldFailedError
from assistant.messages import SPEECH_RATE_HZ
from assistant.simulator import voices
from assistant.simulator.noise import engine_noise
from assistant.simulator.voices import SynthesiserVoice

pytestmark = pytest.mark.real  # a recording is named after its time


class Engine(FakeSource):
    """A microphone that brings this sound as soon as it is opened."""

    def __init__(self, sound: Samples, rate_hz: int = SPEECH_RATE_HZ) -> None:
        super().__init__(rate_hz)
        self._sound = sound

    def open(self, on_block: OnBlock) -> int:
        rate_hz = super().open(on_block)
        self.speak(self._sound)
        return rate_hz


def running(seconds: float) -> Samples:
    return engine_noise("chuff", seconds, np.random.default_rng(8))


def test_what_is_recorded_is_kept_told_and_can_be_fed_back() -> None:
    out = KeptOutput(json=True)
    source = FileSource(Clip(running(20), SPEECH_RATE_HZ), FakeClock())
    file = record_noise.record_noise(source, "USB headset", 12.0, None, out)
    assert file.parent == paths.noises_folder()
    assert file.suffix == ".flac"
    samples, rate_hz = soundfile.read(file, dtype="float32")
    assert (len(samples), rate_hz) == (12 * SPEECH_RATE_HZ, SPEECH_RATE_HZ)
    assert np.abs(samples - running(20)[SPEECH_RATE_HZ : 13 * SPEECH_RATE_HZ]).max() < 1e-4
    assert "be silent" in out.told[0]
    assert "12 seconds with USB headset" in out.told[0]
    (record,) = out.records
    assert record["file"] == str(file)
    assert record["level_db"] == pytest.approx(-26.0, abs=1.0)  # an RMS of 0.05
    assert any("-26 dB of full scale" in line for line in out.lines)
    assert any(f"--noise-kind {file.name}" in line for line in out.lines)
    assert record_noise.recording_names() == [file.name]
    noise, (kind,) = record_noise.noises(["recorded"])
    assert len(noise(kind, 3.0, np.random.default_rng(1))) == 3 * SPEECH_RATE_HZ


def test_a_named_file_at_another_rate(tmp_path: Path) -> None:
    out = KeptOutput(json=True)
    place = tmp_path / "deep" / "blower.wav"
    noise = np.random.default_rng(3).normal(0, 0.1, 8 * 48_000).astype(np.float32)
    assert record_noise.record_noise(Engine(noise, 48_000), "m", 5.0, place, out) == place
    assert soundfile.info(place).samplerate == SPEECH_RATE_HZ
    assert soundfile.info(place).frames == 5 * SPEECH_RATE_HZ
    assert any(f"--noise-kind {place}" in line for line in out.lines)
    with pytest.raises(InputWrongError, match="is there already"):
        record_noise.record_noise(Engine(noise, 48_000), "m", 5.0, place, out)


def test_the_time_left_is_told() -> None:
    out = KeptOutput(json=True)
    record_noise.record_noise(Engine(running(35)), "m", 30.0, None, out)
    assert out.told[1:] == ["... 21 s more", "... 11 s more"]


def test_silence_is_an_error_and_nothing_is_kept() -> None:
    with pytest.raises(WorldFailedError, match="only silence came from it"):
        record_noise.record_noise(
            Engine(np.zeros(8 * SPEECH_RATE_HZ, np.float32)), "m", 5.0, None, KeptOutput(json=True)
        )
    assert record_noise.recording_names() == []


def test_no_microphone_is_an_error_in_a_line() -> None:
    source = FakeSource()
    source.plugged = False
    with pytest.raises(WorldFailedError, match="there is no microphone"):
        record_noise.record_noise(source, "m", 5.0, None, KeptOutput(json=True))


def test_another_kind_of_file_is_refused_before_anybody_is_silent(tmp_path: Path) -> None:
    out = KeptOutput(json=True)
    with pytest.raises(InputWrongError, match="is kept as"):
        record_noise.record_noise(FakeSource(), "m", 5.0, tmp_path / "x.mp3", out)
    assert out.told == []


@pytest.mark.sound
def test_speech_in_it_is_told_with_its_times(voice: SynthesiserVoice) -> None:
    out = KeptOutput(json=True)
    sound = 0.02 * running(13)
    spoken = voices.speak(voice, "pressure seventy five pounds")
    at = 7 * SPEECH_RATE_HZ
    sound[at : at + len(spoken)] += spoken
    record_noise.record_noise(Engine(sound), "m", 12.0, None, out)
    ((begin, end),) = out.records[0]["speech_s"]
    assert begin == pytest.approx(6.0, abs=0.5)  # the first second is not kept
    assert end == pytest.approx(6.0 + len(spoken) / SPEECH_RATE_HZ, abs=0.7)
    assert any("speech was found in it, at 6 to" in line for line in out.lines)


@pytest.mark.parametrize(
    ("words", "code", "told"),
    [
        (["devices", "--record-noise", "2"], 2, "5 to 600 seconds"),
        (["devices", "--record-noise", "soon"], 2, "5 to 600 seconds"),
        (["rehearse", "--noise-kind", "blower"], 2, "wants --noise"),
        (["rehearse", "--noise", "10", "--noise-kind", "recorded"], 2, "no noise was recorded"),
        (["rehearse", "--noise", "10", "--noise-kind", "gone.wav"], 2, "gone.wav: no such file"),
        (["bench", "talk", "--kind", "blowr"], 2, "did you mean 'blower'"),
    ],
)
def test_trouble_is_one_line_and_the_right_code(
    words: list[str], code: int, told: str, capsys: pytest.CaptureFixture[str]
) -> None:
    try:
        got = main(words)
    except SystemExit as left:
        got = int(left.code or 0)
    out, err = capsys.readouterr()
    assert got == code
    assert told in err
    assert "Traceback" not in out + err
