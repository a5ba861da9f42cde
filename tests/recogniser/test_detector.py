"""Where speech begins and ends: with the test's probabilities, and with the real network."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

import numpy as np
import pytest

from assistant.errors import WorldFailedError
from assistant.messages import SPEECH_RATE_HZ
from assistant.recogniser.base import Sound
from assistant.recogniser.detector import (
    STEP,
    Detection,
    Detector,
    DetectorLimits,
    SileroProbability,
)

BLOCK_S = STEP / SPEECH_RATE_HZ


def events_of(
    probabilities: Iterable[float], detector: Detector | None = None
) -> list[tuple[int, Detection]]:
    """Events with the number of their block; block n is full of the number n."""
    given = list(probabilities)
    detector = detector or Detector(lambda block: given[int(block[0])])
    return [
        (number, event)
        for number in range(len(given))
        for event in detector.feed(np.full(STEP, number, np.float32))
    ]


def test_an_utterance_begins_and_ends_with_what_was_around_it() -> None:
    probabilities = [0.0] * 30 + [0.9] * 20 + [0.0] * 40
    (began, first), (ended, second) = events_of(probabilities)
    assert first.sound is None
    assert second.sound is not None
    assert 30 < began <= 33
    spoken_end = 50
    assert (ended + 1 - spoken_end) * BLOCK_S <= 0.8
    assert second.sound[0] <= 30 - 0.25 / BLOCK_S
    assert spoken_end + 0.25 / BLOCK_S <= second.sound[-1] <= ended


def test_a_click_is_not_speech() -> None:
    assert events_of([0.0] * 10 + [0.9] * 2 + [0.0] * 40) == []


def test_a_pause_between_figures_does_not_end_it() -> None:
    events = events_of([0.9] * 15 + [0.0] * round(0.45 / BLOCK_S) + [0.9] * 15 + [0.0] * 30)
    assert [event.sound is None for _, event in events] == [True, False]


def test_endless_speech_is_cut() -> None:
    events = events_of([0.9] * 600)
    lengths = [len(event.sound) / SPEECH_RATE_HZ for _, event in events if event.sound is not None]
    assert lengths[0] == pytest.approx(DetectorLimits().longest_s, abs=0.1)


def test_muted_it_hears_nothing_and_drops_what_it_had() -> None:
    probabilities = [0.9] * 100
    detector = Detector(lambda block: probabilities[int(block[0])])
    assert len(events_of([0.9] * 10, detector)) == 1
    detector.mute()
    assert events_of([0.9] * 50, detector) == []
    detector.unmute()
    assert [event.sound for _, event in events_of([0.9] * 10, detector)] == [None]


@pytest.mark.ear
@pytest.mark.real  # onnxruntime writes into the home folder when it is imported
@pytest.mark.parametrize("level", [0.003, 0.05, 0.3])
def test_the_network_hears_no_speech_in_noise(level: float) -> None:
    rng = np.random.default_rng(3)
    rumble = np.cumsum(rng.standard_normal(10 * SPEECH_RATE_HZ))
    rumble -= np.convolve(rumble, np.ones(400) / 400, "same")
    hiss = rng.standard_normal(10 * SPEECH_RATE_HZ)
    sound: Sound = (level * (hiss + rumble / rumble.std())).astype(np.float32)
    detector = Detector()
    events = [
        e for at in range(0, len(sound) - STEP, STEP) for e in detector.feed(sound[at : at + STEP])
    ]
    assert events == []


@pytest.mark.ear
@pytest.mark.real  # as above
def test_the_network_forgets_on_reset() -> None:
    network = SileroProbability()
    noise = np.random.default_rng(1).standard_normal((20, STEP)).astype(np.float32)
    first = [network(block) for block in noise]
    network.reset()
    assert [network(block) for block in noise] == first


@pytest.mark.real  # as above
def test_a_missing_network_is_one_clear_line(tmp_path: Path) -> None:
    with pytest.raises(WorldFailedError, match="speech detector"):
        SileroProbability(tmp_path / "none.onnx")
