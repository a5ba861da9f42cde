"""Voices of the practice operator, by a synthesiser other than the assistant's own.

So a rehearsal never has one voice talk to itself. Knows no boiler.
"""

from __future__ import annotations

import shutil
import subprocess
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from tempfile import TemporaryDirectory

import numpy as np

from assistant.errors import WorldFailedError
from assistant.messages import SPEECH_RATE_HZ
from assistant.recogniser.base import Sound

DEADLINE_S = 20.0
# Voices that every recogniser understands well in a quiet room (measured on product sentences).
FLITE_VOICES = ("rms", "slt", "awb", "kal16")
ESPEAK_VOICES = ("en-us+m3", "en-us+f2", "en-us+m7")


@dataclass(frozen=True, slots=True)
class SynthesiserVoice:
    """One synthetic speaker: the synthesiser's program and the name of its voice."""

    program: str
    name: str

    def __str__(self) -> str:
        return f"{self.program}:{self.name}"


def available() -> tuple[SynthesiserVoice, ...]:
    """The voices of this machine, best first; raises WorldFailedError when there is none."""
    voices: list[SynthesiserVoice] = []
    if shutil.which("flite"):
        voices += [SynthesiserVoice("flite", name) for name in FLITE_VOICES]
    if shutil.which("espeak-ng"):
        voices += [SynthesiserVoice("espeak-ng", name) for name in ESPEAK_VOICES]
    if not voices:
        raise WorldFailedError(
            "no voice for the practice operator: install flite or espeak-ng "
            "(Debian and Ubuntu: apt-get install flite)"
        )
    return tuple(voices)


@lru_cache(maxsize=512)
def speak(voice: SynthesiserVoice, text: str, speed: float = 1.0) -> Sound:
    """`text` as 16 kHz mono sound; the same words in the same voice give the same sound.

    speed: 1.0 is the voice's own pace, 1.1 a tenth faster.
    """
    import soundfile
    import soxr

    try:
        with TemporaryDirectory() as folder:
            file = Path(folder) / "said.wav"
            subprocess.run(
                _command(voice, text, speed, file), capture_output=True, timeout=DEADLINE_S,
                check=True,
            )  # fmt: skip
            samples, rate = soundfile.read(file, dtype="float32")
    except (OSError, subprocess.SubprocessError, RuntimeError) as trouble:
        raise WorldFailedError(f"the practice operator's voice {voice} failed: {trouble}") from None
    if not len(samples):
        raise WorldFailedError(f"the practice operator's voice {voice} says nothing")
    return np.asarray(soxr.resample(samples, rate, SPEECH_RATE_HZ), dtype=np.float32)


def _command(voice: SynthesiserVoice, text: str, speed: float, file: Path) -> list[str]:
    if voice.program == "flite":
        stretch = f"duration_stretch={1 / speed:.3f}"
        return ["flite", "-voice", voice.name, "--setf", stretch, "-t", text, "-o", str(file)]
    if voice.program == "festival":
        text_file = file.with_suffix(".txt")
        text_file.write_text(text, encoding="utf-8")
        pace = f"(Parameter.set 'Duration_Stretch {1 / speed:.3f})"
        chosen = ["-eval", f"(voice_{voice.name})", "-eval", pace]
        return ["text2wave", *chosen, "-o", str(file), str(text_file)]
    return ["espeak-ng", "-v", voice.name, "-s", str(int(150 * speed)), "-w", str(file), text]


def in_a_room(sound: Sound, rng: np.random.Generator, quiet_s: float = 0.4) -> Sound:
    """The sound as a microphone a foot away receives it: early echoes, level, room tone around it.

    `quiet_s` of room tone precede the words and four times as much follow them: in noise the
    detector finds the end of speech late.
    """
    echo = np.zeros(int(0.12 * SPEECH_RATE_HZ))
    echo[0] = 1.0
    for delay in rng.uniform(0.004, 0.11, 12):
        echo[int(delay * SPEECH_RATE_HZ)] += rng.normal(0, 0.25) * np.exp(-delay / 0.04)
    wet = np.convolve(sound, echo)[: len(sound) + len(echo)]
    wet *= rng.uniform(0.15, 0.35) / max(1e-9, float(np.abs(wet).max()))
    before, after = int(quiet_s * SPEECH_RATE_HZ), int(4 * quiet_s * SPEECH_RATE_HZ)
    out = np.concatenate([np.zeros(before), wet, np.zeros(after)])
    return (out + 2e-4 * rng.standard_normal(len(out))).astype(np.float32)


def said_in_a_room(voice: SynthesiserVoice, text: str, rng: np.random.Generator) -> Sound:
    """`text` at a pace drawn around the voice's own, as a microphone receives it."""
    return in_a_room(speak(voice, text, float(rng.uniform(0.9, 1.05))), rng)
