"""A detector of speech for trials: whatever is loud."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from assistant.devices.sound import Samples


@dataclass
class Detected:
    """Began, or ended as this sound."""

    sound: Samples | None


class LevelDetector:
    """Speech is what is loud."""

    def __init__(self) -> None:
        self._loud: list[Samples] = []

    def feed(self, block: Samples) -> list[Detected]:
        """Began at the first loud block, ended at the first quiet one."""
        if block.max() > 0.1:
            self._loud.append(block)
            return [Detected(None)] if len(self._loud) == 1 else []
        if not self._loud:
            return []
        sound = np.concatenate(self._loud)
        self._loud = []
        return [Detected(sound)]

    def reset(self) -> None:
        """Forget."""
        self._loud = []
