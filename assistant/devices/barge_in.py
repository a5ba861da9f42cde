"""Somebody speaks while we do: finds the stretch, with our own voice taken off. Knows no words."""

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
STEP_BLOCKS = round(0.3 / BLOCK_S)  # how often it is looked for
_LEAST = round(1.0 / BLOCK_S)  # blocks needed before the path through the room can be found
OVER_FLOOR_DB = 10.0
UNEXPLAINED_DB = 10.0  # ours, where nobody else speaks, is taken down by more than this
_FAINT_DB = 18.0  # under the loudest: the end of the room's echo, which the path leaves out
_SPOKEN = round(0.16 / BLOCK_S)  # blocks of speech in `_NEAR` that make an utterance
_NEAR = round(0.32 / BLOCK_S)
GAP = round(0.35 / BLOCK_S)  # blocks without speech that end it
MARGIN = round(0.25 / BLOCK_S)


class BargeInDetector:
    """Fed with every block that came while we spoke."""

    def __init__(self, own: EchoReference) -> None:
        self._own = own
        self.reset()

    def reset(self) -> None:
        """We are silent again: what was kept is of no use."""
        self._blocks: deque[Samples] = deque(maxlen=_WINDOW)
        self._until_look = STEP_BLOCKS
        self._told_s = 0.0

    def feed(self, block: Samples, at_s: float) -> list[Samples]:
        """The utterance that has just ended, if one has; at_s: when the block came."""
        self._blocks.append(block)
        self._until_look -= 1
        if self._until_look > 0 or len(self._blocks) < _LEAST:
            return []
        self._until_look = STEP_BLOCKS
        recorded = np.concatenate(self._blocks)
        began_s = at_s - len(self._blocks) * BLOCK_S
        reach = round(REACH_S * SPEECH_RATE_HZ)
        rest = cancel_echo(
            recorded, self._own.sent(began_s - REACH_S + AHEAD_S, len(recorded) + reach)
        )
        told = max(0, round((self._told_s - began_s) / BLOCK_S))
        found = _utterance(rest, recorded, told)
        if found is None:
            return []
        self._told_s = began_s + (found[1] + _NEAR) * BLOCK_S
        first, last = max(0, found[0] - MARGIN), found[1] + MARGIN
        return [rest[first * BLOCK : last * BLOCK]]


def _utterance(rest: Samples, recorded: Samples, told: int = 0) -> tuple[int, int] | None:
    """First and last block of speech that is not ours and has ended; None while there is none.

    rest: what remained of `recorded`. told: blocks at the beginning that were dealt with.
    """
    spoken = _spoken(rest, recorded)
    spoken[:told] = False
    dense = np.convolve(spoken, np.ones(_NEAR), mode="same") >= _SPOKEN
    where = np.flatnonzero(dense)
    if len(where) == 0 or where[-1] >= len(spoken) - GAP:
        return None
    breaks = np.flatnonzero(np.diff(where) > GAP)
    first = int(where[breaks[-1] + 1]) if len(breaks) else int(where[0])
    return first, int(where[-1])


def _spoken(rest: Samples, recorded: Samples) -> npt.NDArray[np.bool_]:
    left_db = frame_levels_db(Clip(rest, SPEECH_RATE_HZ))
    all_db = frame_levels_db(Clip(recorded, SPEECH_RATE_HZ))
    floor_db = np.percentile(left_db, 10)
    return (
        (left_db > floor_db + OVER_FLOOR_DB)
        & (left_db > all_db - UNEXPLAINED_DB)
        & (left_db > np.percentile(all_db, 90) - _FAINT_DB)
    )
