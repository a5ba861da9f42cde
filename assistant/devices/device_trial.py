"""Whether a device works, tried in a process of its own, which may hang and be ended.

python -m assistant.devices.device_trial HOW [NAME]; exit code 0: it works, 1: it does not.
"""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from typing import Literal

import numpy as np

from assistant.devices.device_list import Direction
from assistant.devices.sound import Clip
from assistant.devices.sound_card import SoundCard
from assistant.errors import FootplateError
from assistant.messages import SPEECH_RATE_HZ

How = Literal["plays", "speaker", "microphone"]
"""It plays a little silence to its end, or a device of that direction can be opened or is busy."""

COMMAND = (sys.executable, "-m", "assistant.devices.device_trial")
TRIAL_S = 4.0  # a trial that takes longer has failed; a busy machine takes up to 2 s. Judgement
SILENCE_S = 0.05
MOST_S = 6  # it ends itself then, if whoever started it no longer does


def passes(how: How, name: str | None, command: tuple[str, ...] = COMMAND) -> bool:
    """Try the device of that name, or the default one, for `TRIAL_S` at most."""
    try:
        tried = subprocess.run(
            [*command, how, *(() if name is None else (name,))],
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            timeout=TRIAL_S,
        )
    except (OSError, subprocess.TimeoutExpired):
        return False
    return tried.returncode == 0


def works(card: SoundCard, how: str, name: str | None) -> bool:
    """The trial itself."""
    try:
        if how == "plays":
            silence = Clip(np.zeros(int(SILENCE_S * SPEECH_RATE_HZ), np.float32), SPEECH_RATE_HZ)
            return card.play(silence, card.find(name, "speaker")).wait() == "said"
        direction: Direction = "microphone" if how == "microphone" else "speaker"
        device = card.find(name, direction)
        return card.available(device, device.rate_hz, direction)
    except FootplateError:
        return False


def _try() -> bool:
    if hasattr(signal, "alarm"):
        signal.alarm(MOST_S)
    try:
        return works(SoundCard(), sys.argv[1], sys.argv[2] if len(sys.argv) > 2 else None)
    except FootplateError:
        return False


if __name__ == "__main__":
    os._exit(0 if _try() else 1)  # waits for no thread of the sound library
