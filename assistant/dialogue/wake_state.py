"""To whom we listen, as a value: part of the mind of a session that wants its wake phrase."""

from __future__ import annotations

import math
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class WakeState:
    """asked: the sentences we said last that may be answered. until: no phrase is needed by then,
    seconds since the start, for what began to be said before."""

    asked: tuple[str, ...] = ()
    until: float = -math.inf
