"""What raises an alarm and what clears it: the types of both, and their deadbands.

A condition returns the reason, made of the numbers used, or None. Back to normal is stricter than
not raised: away from the limit by the deadband (EEMUA 191 practice, from memory: level 5 %,
pressure 2 %). A condition that depends on time has a deadline, at which time alone raises it.
"""

from __future__ import annotations

import math
from collections.abc import Callable

from assistant.alarms.inputs import AlarmInputs, TimedValue
from assistant.boiler.scales import PSI_PA

Condition = Callable[[AlarmInputs, float], str | None]
BackToNormal = Callable[[AlarmInputs, float], bool]
Deadline = Callable[[AlarmInputs], float]

LEVEL_DEADBAND = 0.05  # of the glass, of the tank
PRESSURE_DEADBAND = 0.02  # of working pressure
GRAIN = 1e-6  # a reading called exactly at a mark is at the mark


def no_deadline(inputs: AlarmInputs) -> float:
    """Time alone never raises it, only a report."""
    return math.inf


def never(inputs: AlarmInputs, at: float) -> bool:
    """It is never so."""
    return False


def no_longer(condition: Condition) -> BackToNormal:
    """Back to normal as soon as it would not be raised any more: there is nothing to flicker."""
    return lambda inputs, at: condition(inputs, at) is None


def told_unread(inputs: AlarmInputs, gauge: str, value: str) -> TimedValue | None:
    """That a gauge was told in words to be so, where it was not called since; None otherwise."""
    told, last = inputs.states.get(f"{gauge} told"), inputs.last(gauge)
    if told is None or told.value != value or (last is not None and last.at >= told.at):
        return None
    return told


def psi(pressure_gauge_pa: float) -> str:
    """A pressure in words for a reason.

    >>> psi(689475.7)
    '100 psi'
    """
    return f"{pressure_gauge_pa / PSI_PA:.0f} psi"
