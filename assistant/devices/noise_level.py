"""How loud is a recording of an engine alone, and is it usable? Pure sums over samples."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from assistant.devices.mic_check import CLIPPED_SHARE, FRAME_S, clipped_share, frame_levels_db
from assistant.devices.sound import Clip

SILENT_DB = -95.0  # of full scale; no microphone in a room is as quiet (16 bits end at -98)
_FAINT_DB = -70.0  # judgement: below it only the microphone's own hiss was recorded


@dataclass(frozen=True, slots=True)
class NoiseLevel:
    """The levels of a recording in dB of full scale."""

    level_db: float  # of the whole recording
    quietest_db: float  # of its quietest second
    loudest_db: float  # of its loudest second
    clipped_share: float  # of the samples

    @property
    def silent(self) -> bool:
        """Whether it holds no sound at all."""
        return self.level_db < SILENT_DB


def measure_noise(clip: Clip) -> NoiseLevel:
    """The levels of a recording.

    >>> measure_noise(Clip(np.zeros(16_000, np.float32), 16_000)).silent
    True
    """
    power = 10 ** (frame_levels_db(clip) / 10)
    second = max(1, round(1 / FRAME_S))
    whole = max(1, len(power) // second)
    seconds = np.resize(power, whole * second).reshape(whole, second).mean(axis=1)
    return NoiseLevel(
        float(10 * np.log10(power.mean())),
        float(10 * np.log10(seconds.min())),
        float(10 * np.log10(seconds.max())),
        clipped_share(clip.samples),
    )


def noise_lines(level: NoiseLevel) -> list[str]:
    """What was measured, one line each, for a person."""
    lines = [
        f"the noise: {level.level_db:.0f} dB of full scale; {level.quietest_db:.0f} in its "
        f"quietest second, {level.loudest_db:.0f} in its loudest"
    ]
    if level.clipped_share > CLIPPED_SHARE:
        lines.append(
            f"note: it clips ({level.clipped_share:.1%} of the time). Turn the microphone down, "
            "and record it again"
        )
    if level.level_db < _FAINT_DB:
        lines.append("note: it is faint. Was the engine running, and is it the right microphone?")
    return lines
