"""Finds speech over the assistant's own voice, with its echo taken off. Knows no words."""

from __future__ import annotations

from collections import deque

import numpy as np
import numpy.typing as npt

from assistant.devices.echo_canceller import REACH_S, EchoReference, cancel_echo
from assistant.devices.mic_check import frame_levels_db
from assistant.devices.sound import BLOCK, Clip, Samples
from assistant.messages import SPEECH_RATE_HZ

BLOCK_S = BLOCK / SPEECH_RATE_HZ
AHEAD_S = 0.3  # some sound servers play a buffer's worth ahead of the clock
_WINDOW = round(2.5 / BLOCK_S)  # blocks: a stop word and the silence round it
SEARCH_EVERY = round(0.3 / BLOCK_S)  # blocks between two searches
_LEAST = round(1.0 / BLOCK_S)  # blocks needed to estimate the echo path
OVER_FLOOR_DB = 10.0  # speech stands this far above the residual's noise floor
UNEXPLAINED_DB = 10.0  # where only the assistant speaks, the canceller takes off more than this
_FAINT_DB = 18.0  # below the loudest: the room's late echo, which the path leaves out
_SPOKEN = round(0.16 / BLOCK_S)  # blocks of speech in `_NEAR` that make an utterance
_NEAR = round(0.32 / BLOCK_S)
GAP = round(0.35 / BLOCK_S)  # blocks without speech that end it
MARGIN = round(0.25 / BLOCK_S)


class BargeInDetector:
    """Fed with every block that is captured while the assistant speaks."""

    def __init__(self, reference: EchoReference) -> None:
        self._reference = reference
        self.reset()

    def reset(self) -> None:
        """Forget everything: the assistant no longer speaks."""
        self._blocks: deque[Samples] = deque(maxlen=_WINDOW)
        self._until_search = SEARCH_EVERY
        self._reported_until_s = 0.0

    def feed(self, block: Samples, at_s: float) -> list[Samples]:
        """The utterance that has just ended, if one has; at_s: when the block was captured."""
        self._blocks.append(block)
        self._until_search -= 1
        if self._until_search > 0 or len(self._blocks) < _LEAST:
            return []
        self._until_search = SEARCH_EVERY
        recorded = np.concatenate(self._blocks)
        began_s = at_s - len(self._blocks) * BLOCK_S
        reach = round(REACH_S * SPEECH_RATE_HZ)
        played = self._reference.played(began_s - REACH_S + AHEAD_S, len(recorded) + reach)
        residual = cancel_echo(recorded, played)
        reported = max(0, round((self._reported_until_s - began_s) / BLOCK_S))
        utterance = _last_utterance(residual, recorded, reported)
        if utterance is None:
            return []
        first, last = utterance
        self._reported_until_s = began_s + (last + _NEAR) * BLOCK_S
        return [residual[max(0, first - MARGIN) * BLOCK : (last + MARGIN) * BLOCK]]


def _last_utterance(
    residual: Samples, recorded: Samples, reported: int = 0
) -> tuple[int, int] | None:
    """First and last block of somebody else's speech that has ended; None while there is none.

    residual: what the echo canceller left of `recorded`. reported: leading blocks already reported.
    """
    speech = _speech_blocks(residual, recorded)
    speech[:reported] = False
    dense = np.convolve(speech, np.ones(_NEAR), mode="same") >= _SPOKEN
    where = np.flatnonzero(dense)
    if len(where) == 0 or where[-1] >= len(speech) - GAP:
        return None
    breaks = np.flatnonzero(np.diff(where) > GAP)
    first = int(where[breaks[-1] + 1]) if len(breaks) else int(where[0])
    return first, int(where[-1])


def _speech_blocks(residual: Samples, recorded: Samples) -> npt.NDArray[np.bool_]:
    """Which blocks hold speech that the echo does not explain."""
    residual_db = frame_levels_db(Clip(residual, SPEECH_RATE_HZ))
    recorded_db = frame_levels_db(Clip(recorded, SPEECH_RATE_HZ))
    floor_db = np.percentile(residual_db, 10)
    return (
        (residual_db > floor_db + OVER_FLOOR_DB)
        & (residual_db > recorded_db - UNEXPLAINED_DB)
        & (residual_db > np.percentile(recorded_db, 90) - _FAINT_DB)
    )
