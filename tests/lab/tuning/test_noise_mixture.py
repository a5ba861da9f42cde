"""Noise to learn under, made and recorded."""

from __future__ import annotations

import numpy as np
import pytest
from small_corpus import hum

from assistant.lab.tuning.noise_mixture import NoiseMixture


@pytest.mark.parametrize("share", [0.0, 1.0])
def test_it_is_as_long_as_wanted_at_an_rms_of_one(share: float) -> None:
    rng = np.random.default_rng(0)
    for count in (300, 40_000):
        sound = NoiseMixture((hum(300, 0.5),), share)(count, rng)
        assert len(sound) == count and sound.dtype == np.float32
        assert float(np.sqrt(np.mean(sound**2))) == pytest.approx(1, rel=0.01)


def test_without_recordings_it_is_made() -> None:
    assert len(NoiseMixture((), 1.0)(800, np.random.default_rng(0))) == 800
