"""Speech and noise at a ratio: what is mixed in is what is estimated, near enough."""

from __future__ import annotations

import numpy as np
import pytest

from assistant.messages import SPEECH_RATE_HZ
from assistant.recogniser.base import Sound
from assistant.recogniser.snr import active_rms, estimated_snr_db, in_noise, mix

SPEECH = np.zeros(2 * SPEECH_RATE_HZ, np.float32)
SPEECH[SPEECH_RATE_HZ // 2 : -SPEECH_RATE_HZ // 2] = 0.1 * np.sin(np.arange(SPEECH_RATE_HZ))


def hiss(kind: str, seconds: float, rng: np.random.Generator) -> Sound:
    return rng.standard_normal(int(seconds * SPEECH_RATE_HZ)).astype(np.float32)


@pytest.mark.parametrize("snr_db", [5.0, 10.0, 20.0])
def test_the_ratio_that_was_asked_for_is_there(snr_db: float) -> None:
    both = in_noise(SPEECH, hiss, snr_db, [1])
    under = both[: SPEECH_RATE_HZ // 4]
    ratio = active_rms(SPEECH) / float(np.sqrt(np.mean(under**2)))
    assert 20 * np.log10(ratio) == pytest.approx(snr_db, abs=0.5)
    assert estimated_snr_db(both) == pytest.approx(snr_db, abs=3.0), "half of it is silence"


def test_the_same_seed_gives_the_same_noise_and_no_ratio_none() -> None:
    assert np.array_equal(in_noise(SPEECH, hiss, 10.0, [1]), in_noise(SPEECH, hiss, 10.0, [1]))
    assert not np.array_equal(in_noise(SPEECH, hiss, 10.0, [1]), in_noise(SPEECH, hiss, 10.0, [2]))
    assert in_noise(SPEECH, hiss, None, [1]) is SPEECH


def test_a_mixture_does_not_clip_and_short_noise_is_refused() -> None:
    loud = np.ones(SPEECH_RATE_HZ, np.float32)
    assert np.abs(mix(loud, loud, 0.0)).max() <= 1.0
    with pytest.raises(ValueError, match="shorter"):
        mix(loud, loud[:-1], 0.0)


def test_no_sound_has_no_ratio() -> None:
    assert estimated_snr_db(np.zeros(0, np.float32)) == 0.0
    assert estimated_snr_db(np.zeros(100, np.float32)) == pytest.approx(0.0)
