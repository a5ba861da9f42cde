"""Log-mel spectrograms with the vocal tract perturbed (VTLP) and partly masked (SpecAugment).

Knows torch arrays; knows no sounds and no texts. A stretched frequency axis moves the resonances
but not the rate of the pitch; a masked patch makes the recogniser use more than one cue.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from assistant.enrolment.torch_whisper import Tensor, torch
from assistant.recogniser.mel import HOP, corners, to_hz, to_mel


@dataclass(frozen=True, slots=True)
class SpecAugment:
    """What is done to a spectrogram; false where nothing is."""

    warp: float = 0.0
    """Greatest share by which resonances are moved up or down."""
    bands: int = 0
    """Widest mask of mel bands, two in each spectrogram."""
    frames: int = 0
    """Widest mask of frames, two in each spectrogram."""

    def __bool__(self) -> bool:
        return bool(self.warp or self.bands or self.frames)


NO_MASKING = SpecAugment()


def spec_augmented(
    mel: Tensor, lengths: Tensor, masking: SpecAugment, rng: np.random.Generator
) -> Tensor:
    """[count, bands, frames]; lengths: samples of sound in each."""
    if masking.warp:
        mel = _warped(mel, rng.uniform(1 - masking.warp, 1 + masking.warp, len(mel)))
    if masking.bands or masking.frames:
        mel = _masked(mel, (lengths / HOP).long().tolist(), masking, rng)
    return mel


def _warped(mel: Tensor, factors: np.ndarray) -> Tensor:
    """Resonances moved by each factor, interpolated between bands."""
    library = torch()
    centres = corners()[1:-1]
    from_mel = to_mel(to_hz(centres)[None, :] / factors[:, None])
    place = np.clip((from_mel - centres[0]) / (centres[1] - centres[0]), 0, len(centres) - 1.001)
    low = np.floor(place).astype(np.int64)
    share = library.tensor((place - low).astype(np.float32), device=mel.device)[:, :, None]
    at = library.tensor(low, device=mel.device)[:, :, None].expand(-1, -1, mel.shape[2])
    return mel.gather(1, at) * (1 - share) + mel.gather(1, at + 1) * share


def _masked(
    mel: Tensor, lengths: list[int], masking: SpecAugment, rng: np.random.Generator
) -> Tensor:
    """Masks at the spectrogram's own mean. lengths: in frames."""
    keep = np.ones(tuple(mel.shape), bool)
    for spectrogram, length in zip(keep, lengths, strict=True):
        for _ in range(2):
            if masking.bands:
                width = int(rng.integers(0, masking.bands + 1))
                at = int(rng.integers(0, spectrogram.shape[0] - width + 1))
                spectrogram[at : at + width] = False
            if masking.frames and length > 4 * masking.frames:
                width = int(rng.integers(0, masking.frames + 1))
                at = int(rng.integers(0, length - width))
                spectrogram[:, at : at + width] = False
    return mel.where(torch().from_numpy(keep).to(mel.device), mel.mean((1, 2), keepdim=True))
