"""How loud a recording of an engine is, on sounds of a known level."""

from __future__ import annotations

import numpy as np
import pytest

from assistant.devices.noise_level import measure_noise, noise_lines
from assistant.devices.sound import Clip, Samples

RATE_HZ = 16_000


def hiss(level_db: float, seconds: float = 4.0) -> Samples:
    rng = np.random.default_rng(2)
    count = int(seconds * RATE_HZ)
    return (rng.standard_normal(count) * 10 ** (level_db / 20)).astype(np.float32)


def test_levels_of_all_of_it_and_of_its_seconds() -> None:
    level = measure_noise(Clip(np.concatenate([hiss(-50), hiss(-30)]), RATE_HZ))
    assert level.level_db == pytest.approx(-33, abs=0.5)  # half of it at -30
    assert level.quietest_db == pytest.approx(-50, abs=0.5)
    assert level.loudest_db == pytest.approx(-30, abs=0.5)
    assert not level.silent
    assert noise_lines(level) == [
        "the noise: -33 dB of full scale; -50 in its quietest second, -30 in its loudest"
    ]


def test_clipping_and_faintness_are_told() -> None:
    clipped = measure_noise(Clip(np.clip(hiss(-6), -0.5, 0.5), RATE_HZ))
    assert any("clips" in line for line in noise_lines(clipped))
    assert any("faint" in line for line in noise_lines(measure_noise(Clip(hiss(-80), RATE_HZ))))


@pytest.mark.parametrize("samples", [np.zeros(RATE_HZ, np.float32), np.zeros(0, np.float32)])
def test_silence(samples: Samples) -> None:
    assert measure_noise(Clip(samples, RATE_HZ)).silent
