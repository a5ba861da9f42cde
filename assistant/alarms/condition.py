"""What a condition of the watch is: shown the engine, it gives a reason or nothing.

A condition returns the reason, made of the numbers used, or None. Its `inside` is stricter than
"not raised": it lies away from the limit by the deadband (EEMUA 191 practice, from memory: level
5 %, pressure 2 %). Few look at the time; those say when it raises them (`ByTime`).
"""

from __future__ import annotations

import math
from collections.abc import Callable

from assistant.alarms.inputs import AlarmInputs
from assistant.boiler.scales import PSI_PA

Condition = Callable[[AlarmInputs, float], str | None]
BackToNormal = Callable[[AlarmInputs, float], bool]
ByTime = Callable[[AlarmInputs], float]

LEVEL_DEADBAND = 0.05  # of the glass, of the tank
PRESSURE_DEADBAND = 0.02  # of working pressure
GRAIN = 1e-6  # a reading called exactly at a mark is at the mark


def never(s: AlarmInputs) -> float:
    """No time: it is raised by what is reported, not by time alone."""
    return math.inf


def psi(pressure_gauge_pa: float) -> str:
    """A pressure in words for a reason.

    >>> psi(689475.7)
    '100 psi'
    """
    return f"{pressure_gauge_pa / PSI_PA:.0f} psi"
