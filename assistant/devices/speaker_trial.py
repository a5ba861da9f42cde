"""Whether a speaker plays, tried with silence: a process of its own, which may hang and be ended.

python -m assistant.devices.speaker_trial [NAME]; exit code 0: it plays, 1: it does not.
"""

from __future__ import annotations

import os
import signal
import sys

import numpy as np

from assistant.devices.sound import Clip
from assistant.devices.sound_card import SoundCard
from assistant.errors import FootplateError
from assistant.messages import SPEECH_RATE_HZ

SILENCE_S = 0.05
MOST_S = 6  # it ends itself then, if whoever started it no longer does


def plays(card: SoundCard, name: str | None) -> bool:
    """Whether the speaker of that name, or the default one, takes a little silence to its end."""
    silence = Clip(np.zeros(int(SILENCE_S * SPEECH_RATE_HZ), np.float32), SPEECH_RATE_HZ)
    try:
        return card.play(silence, card.find(name, "speaker")).wait() == "said"
    except FootplateError:
        return False


def _try() -> bool:
    if hasattr(signal, "alarm"):
        signal.alarm(MOST_S)
    try:
        return plays(SoundCard(), sys.argv[1] if len(sys.argv) > 1 else None)
    except FootplateError:
        return False


if __name__ == "__main__":
    os._exit(0 if _try() else 1)  # waits for no thread of the sound library
