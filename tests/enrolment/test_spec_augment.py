"""Spectrograms warped and masked. Needs torch."""

from __future__ import annotations

import numpy as np
import pytest

from assistant.enrolment.spec_augment import NO_MASKING, SpecAugment, spec_augmented
from assistant.recogniser.mel import BANDS, log_mel

torch = pytest.importorskip("torch", reason="no torch here: masking is not tested")
RATE = 16_000


def spectrogram(hz: float) -> np.ndarray:
    tone = 0.3 * np.sin(2 * np.pi * hz * np.arange(RATE) / RATE)
    return log_mel(tone.astype(np.float32), 100)


def augmented(spectrograms: list[np.ndarray], how: SpecAugment, seed: int = 0) -> np.ndarray:
    mel = torch.from_numpy(np.stack(spectrograms))
    lengths = torch.full((len(spectrograms),), RATE)
    return np.asarray(spec_augmented(mel, lengths, how, np.random.default_rng(seed)))


def test_nothing_is_done_where_nothing_is_wanted() -> None:
    assert not NO_MASKING
    assert np.array_equal(augmented([spectrogram(1000)], NO_MASKING)[0], spectrogram(1000))


def test_a_tone_is_moved_by_its_factor_and_no_further() -> None:
    # The log-mel of the moved tone itself is the yardstick, to the band and low and high alike.
    for tone in (500, 1000, 3000):
        peaks = (
            augmented([spectrogram(tone)] * 400, SpecAugment(warp=0.1)).mean(axis=2).argmax(axis=1)
        )
        low, high = (int(spectrogram(tone * by).mean(axis=1).argmax()) for by in (0.9, 1.1))
        assert abs(peaks.min() - low) <= 1 and abs(peaks.max() - high) <= 1 and low < high


def test_masks_are_no_wider_than_was_asked() -> None:
    before = [spectrogram(1000)] * 100
    after = augmented(before, SpecAugment(bands=6, frames=8))
    changed = np.abs(after - np.stack(before)) > 1e-6
    rows, columns = changed.mean(axis=2) > 0.9, changed.mean(axis=1) > 0.9
    assert 0 < rows.sum(axis=1).max() <= 12 and 0 < columns.sum(axis=1).max() <= 16
    assert changed.shape[1] == BANDS


def test_the_same_seed_masks_the_same() -> None:
    how = SpecAugment(0.1, 6, 8)
    assert np.array_equal(
        augmented([spectrogram(700)], how, 3), augmented([spectrogram(700)], how, 3)
    )
    assert not np.array_equal(
        augmented([spectrogram(700)], how, 3), augmented([spectrogram(700)], how, 4)
    )
