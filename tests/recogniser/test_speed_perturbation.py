"""Speed perturbation: only for what is not clear, and there it helps."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from assistant.grammar import phrases
from assistant.lab.benches.hear_people import reading_trials
from assistant.lab.benches.recordings import speakers
from assistant.messages import SPEECH_RATE_HZ, Expected
from assistant.recogniser.base import Sound
from assistant.recogniser.constrained_whisper import (
    ConstrainedWhisper,
    DecodingSettings,
    load_model,
)
from assistant.recogniser.speed_perturbation import at_pace


def test_a_pace_moves_the_pitch_and_the_length() -> None:
    t = np.arange(SPEECH_RATE_HZ) / SPEECH_RATE_HZ
    quick = at_pace(np.sin(2 * np.pi * 500 * t).astype(np.float32), 1.1)
    assert len(quick) == pytest.approx(SPEECH_RATE_HZ / 1.1, abs=1)
    loudest = np.argmax(np.abs(np.fft.rfft(quick))) * SPEECH_RATE_HZ / len(quick)
    assert loudest == pytest.approx(550, abs=2)


@pytest.mark.ear
@pytest.mark.speech
def test_what_is_unclear_gains_and_what_is_clear_stays(recordings: Path) -> None:
    """People's digits in hiss; with the shipped settings against a single pass."""

    def noise(kind: str, seconds: float, rng: np.random.Generator) -> Sound:
        return rng.standard_normal(int(seconds * SPEECH_RATE_HZ)).astype(np.float32)

    model = load_model()
    once, again = ConstrainedWhisper(model, DecodingSettings(speeds=())), ConstrainedWhisper(model)
    grammar = phrases.grammar(Expected("pressure"))
    gains: list[float] = []
    clear = 0
    for trial in reading_trials(recordings, speakers(recordings), noise, 12.0, 16, 12):
        first, second = once.hear(trial.sound, grammar), again.hear(trial.sound, grammar)
        if first.alternatives[0].probability >= again.settings.clear:
            clear += 1
            # but for rounding: sums over tokens are taken in another order
            assert [a.words for a in second.alternatives] == [a.words for a in first.alternatives]
            assert [a.probability for a in second.alternatives] == pytest.approx(
                [a.probability for a in first.alternatives], abs=1e-5
            )
            continue
        shares = [
            sum(a.probability for a in heard.alternatives if a.meaning == trial.meant)
            for heard in (first, second)
        ]
        gains.append(shares[1] - shares[0])
    assert clear > 2
    assert len(gains) > 3
    assert sum(gains) > 0
