"""The picture of a sound (log-mel) changed as if another throat had made it, and partly covered.

Knows arrays of torch; knows no sounds and no texts. A frequency axis that is stretched moves the
resonances without the pitch's beat; a covered patch makes the ear listen to more than one cue.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from assistant.enrolment.torch_whisper import Tensor, torch
from assistant.recogniser.mel import corners, to_hz, to_mel


@dataclass(frozen=True, slots=True)
class SpecAugment:
    """warp: greatest share by which resonances are moved up or down. bands, moments: the widest
    patch of mel bands and of hundredths of a second that may be covered; each twice a picture."""

    warp: float = 0.0
    bands: int = 0
    moments: int = 0

    def __bool__(self) -> bool:
        return bool(self.warp or self.bands or self.moments)


NO_MASKING = SpecAugment()


def spec_augmented(
    mel: Tensor, lengths: Tensor, veil: SpecAugment, rng: np.random.Generator
) -> Tensor:
    """[count, bands, frames] changed; lengths: samples of sound in each (16 kHz)."""
    if veil.warp:
        mel = _warped(mel, rng.uniform(1 - veil.warp, 1 + veil.warp, len(mel)))
    if veil.bands or veil.moments:
        mel = _covered(mel, (lengths / 160).long().tolist(), veil, rng)
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


def _covered(mel: Tensor, frames: list[int], veil: SpecAugment, rng: np.random.Generator) -> Tensor:
    """Patches at the picture's own mean."""
    keep = np.ones(tuple(mel.shape), bool)
    for own, length in zip(keep, frames, strict=True):
        for _ in range(2):
            if veil.bands:
                wide = int(rng.integers(0, veil.bands + 1))
                at = int(rng.integers(0, own.shape[0] - wide + 1))
                own[at : at + wide] = False
            if veil.moments and length > 4 * veil.moments:
                wide = int(rng.integers(0, veil.moments + 1))
                at = int(rng.integers(0, length - wide))
                own[:, at : at + wide] = False
    kept = torch().from_numpy(keep).to(mel.device)
    return mel.where(kept, mel.mean((1, 2), keepdim=True))
