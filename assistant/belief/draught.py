"""How hard the fire is blown on the way up: from logged acts, and by habit where it lies ahead.

Draught here is an index: 0 blower shut and damper open, 1 both open, below 0 with the damper in.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from assistant.belief.bands import Array
from assistant.belief.history import History

OPENING: dict[str, float] = {"shut": 0.0, "crack": 0.25, "half": 0.6, "open": 1.0}
ALONE = 0.55  # draught of damper alone, as a part of damper and blower: common practice, no source


def index(history: History, at_s: float) -> float:
    """The draught index at a time."""
    blower = OPENING[history.state("blower", at_s) or "shut"]
    damper = OPENING[history.state("damper", at_s) or "open"]
    lit = history.lit_s
    if lit is not None and damper == 0.0 and history.since("damper", "shut") is not None:
        begun = history.since("damper", "shut")
        damper = 1.0 if begun is not None and begun <= lit else damper
    return (damper * (ALONE + (1.0 - ALONE) * blower) - ALONE) / (1.0 - ALONE)


def is_logged(history: History) -> bool:
    """Whether anything was said of the blower at all."""
    return any(act.what == "blower" for act in history.acts)


@dataclass(frozen=True, eq=False)
class Habit:
    """The draught as a rule, for each cell, and from how many logged runs."""

    level: Array
    runs: int = 0

    def after(self, seen: Array) -> Habit:
        """The habit with one run more; the rule of the trade counts as one run."""
        share = 1.0 / (self.runs + 2.0)
        return Habit(self.level + share * (seen - self.level), self.runs + 1)


def along(history: History, habit: Habit, times: Array, positions: Array, now: float) -> Array:
    """The draught in each cell: as logged up to position `now` [cells], by habit beyond.

    times, positions: where the water stood when, rising. Nothing logged: the habit everywhere.
    """
    cells = len(habit.level)
    middles = np.arange(cells) + 0.5
    if not is_logged(history):
        return habit.level
    when = np.interp(middles, positions, times) if len(times) else np.zeros(cells)
    present = index(history, np.inf)
    here = float(np.interp(now, middles, habit.level))
    room = (1.0 - present) / max(1.0 - here, 0.05)
    more = np.maximum(habit.level - here, 0.0) * min(max(room, 0.0), 3.0)
    less = np.minimum(habit.level - here, 0.0) * (present / here if here > 0.05 else 1.0)
    coming = np.clip(present + more + less, -1.2, 1.0)
    passed = np.array([index(history, t) for t in when])
    return np.where(middles <= now, passed, coming)
