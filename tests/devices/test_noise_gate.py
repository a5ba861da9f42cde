"""The valve lifts: told within a second, taken up again when it is quiet; speech is no noise."""

from __future__ import annotations

import numpy as np
import pytest

from assistant.devices.noise_gate import CLEAR_DB, TOO_LOUD_DB, NoiseGate
from assistant.devices.sound import BLOCK, Samples, blocks
from assistant.messages import SPEECH_RATE_HZ

RNG = np.random.default_rng(5)


def noise(level_db: float, seconds: float) -> Samples:
    length = int(seconds * SPEECH_RATE_HZ)
    return RNG.normal(0, 10 ** (level_db / 20), length).astype(np.float32)


def speech(level_db: float, seconds: float) -> Samples:
    """Noise in syllables of a quarter second with the gaps that speech has."""
    sound = noise(level_db, seconds)
    t = np.arange(len(sound)) / SPEECH_RATE_HZ
    return (sound * (np.mod(t, 0.25) < 0.18)).astype(np.float32)


def changes(noise_gate: NoiseGate, sound: Samples) -> list[tuple[float, str]]:
    told = [(n * BLOCK / SPEECH_RATE_HZ, noise_gate.feed(b)) for n, b in enumerate(blocks(sound))]
    return [(at_s, change) for at_s, change in told if change is not None]


@pytest.fixture
def heard() -> NoiseGate:
    noise_gate = NoiseGate()
    for _ in range(3):
        noise_gate.add_utterance(speech(-25, 1.2))
    changes(noise_gate, noise(-50, 2))
    return noise_gate


def test_a_valve_that_lifts_is_told_within_a_second_and_once(heard: NoiseGate) -> None:
    ((at_s, change),) = changes(heard, noise(-22, 20))
    assert change == "too loud"
    assert at_s <= 1.0


def test_quiet_again_is_told_within_a_second(heard: NoiseGate) -> None:
    changes(heard, noise(-22, 5))
    ((at_s, change),) = changes(heard, noise(-50, 5))
    assert change == "clear"
    assert at_s <= 1.0


def test_the_operators_own_speech_is_never_too_loud(heard: NoiseGate) -> None:
    assert changes(heard, speech(-15, 10) + noise(-50, 10)) == []


def test_a_blower_under_the_voice_is_left_alone(heard: NoiseGate) -> None:
    assert changes(heard, noise(-35, 20)) == []


def test_hunting_round_the_limit_is_told_once(heard: NoiseGate) -> None:
    level_db = -25 - (TOO_LOUD_DB + CLEAR_DB) / 2
    changes(heard, noise(-22, 3))
    assert changes(heard, noise(level_db + 1, 30)) == []


def test_before_the_operator_was_heard_nothing_is_said() -> None:
    assert changes(NoiseGate(), noise(-3, 10)) == []
