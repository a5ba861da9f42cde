"""The state of the wake gate, part of the state of a session that wants its wake phrase."""

from __future__ import annotations

import math
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class WakeState:
    """Which sentences may be answered, and until when no phrase is needed."""

    answerable: tuple[str, ...] = ()
    """The sentences last said that may be answered."""
    until: float = -math.inf
    """Speech that began before this needs no phrase [s since the session began]."""
