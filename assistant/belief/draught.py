"""How hard the fire is blown in each cell: as logged so far, and as typical of the engine ahead.

Draught here is an index: 0 blower shut and damper open, 1 both open, below 0 with the damper in.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from assistant.belief.bands import Array
from assistant.belief.history import History

OPENING: dict[str, float] = {"shut": 0.0, "crack": 0.25, "half": 0.6, "open": 1.0}
DAMPER_ALONE = 0.55  # part of the full draught without the blower: common practice, no source


def draught_index(history: History, at_s: float) -> float:
    """The draught index at a time."""
    blower = OPENING[history.state("blower", at_s) or "shut"]
    damper = OPENING[history.state("damper", at_s) or "open"]
    lit_s, shut_s = history.lit_s, history.since("damper", "shut")
    if lit_s is not None and damper == 0.0 and shut_s is not None and shut_s <= lit_s:
        damper = 1.0  # shut before the lighting: nobody says when it was opened for the fire
    return (damper * (DAMPER_ALONE + (1.0 - DAMPER_ALONE) * blower) - DAMPER_ALONE) / (
        1.0 - DAMPER_ALONE
    )


def is_logged(history: History) -> bool:
    """Whether the blower was reported at all."""
    return any(act.what == "blower" for act in history.acts)


@dataclass(frozen=True, eq=False)
class TypicalDraught:
    """The draught that this engine is usually given."""

    by_cell: Array
    """index in each cell (CELLS)"""
    runs: int = 0
    """how many logged runs it was learned from"""

    def after(self, logged: Array) -> TypicalDraught:
        """With one run more; the trade's rule counts as one run."""
        share = 1.0 / (self.runs + 2.0)
        return TypicalDraught(self.by_cell + share * (logged - self.by_cell), self.runs + 1)


def draught_by_cell(
    history: History, typical: TypicalDraught, times: Array, positions: Array, now: float
) -> Array:
    """The draught in each cell: as logged up to position `now` [cells], as typical beyond.

    times, positions: where the water was when, rising. Nothing logged: typical everywhere.
    """
    cells = len(typical.by_cell)
    middles = np.arange(cells) + 0.5
    if not is_logged(history):
        return typical.by_cell
    when = np.interp(middles, positions, times) if len(times) else np.zeros(cells)
    present = draught_index(history, np.inf)
    here = float(np.interp(now, middles, typical.by_cell))
    room = (1.0 - present) / max(1.0 - here, 0.05)
    more = np.maximum(typical.by_cell - here, 0.0) * min(max(room, 0.0), 3.0)
    less = np.minimum(typical.by_cell - here, 0.0) * (present / here if here > 0.05 else 1.0)
    ahead = np.clip(present + more + less, -1.2, 1.0)
    logged = np.array([draught_index(history, t) for t in when])
    return np.where(middles <= now, logged, ahead)
