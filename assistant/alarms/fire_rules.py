"""Alarm conditions for a pressure that falls. Pure; reads the picture."""

from __future__ import annotations

from assistant.alarms.condition import psi
from assistant.alarms.inputs import AlarmInputs
from assistant.picture.fall import Fall


def _fall(inputs: AlarmInputs) -> Fall | None:
    return None if inputs.picture is None else inputs.picture.fall


def falling(inputs: AlarmInputs, at: float) -> str | None:
    """Falling with a fire in, and nothing that was reported explains it."""
    fall = _fall(inputs)
    if fall is None or not fall.clear or fall.because or fall.sudden:
        return None
    if fall.now_pa >= inputs.engine.working_pressure_gauge_pa:  # steam is up, the fire held back
        return None
    return f"{psi(fall.peak_pa)}, now {psi(fall.now_pa)}, and nothing explains it"


def not_falling(inputs: AlarmInputs, at: float) -> bool:
    fall = _fall(inputs)
    return fall is None or bool(fall.because)


def fire_held(inputs: AlarmInputs, at: float) -> bool:
    """Whether no fire is in, or it is held back: what falls then was meant to."""
    picture = inputs.picture
    return picture is not None and (
        not picture.fire.burning or picture.fire.value == "banked" or picture.damper.value == "shut"
    )


def lost(inputs: AlarmInputs, at: float) -> str | None:
    """Most of the pressure went between two calls: it was asked about, and is so."""
    fall = _fall(inputs)
    if fall is None or not fall.sudden:
        return None
    return f"{psi(fall.peak_pa)}, now {psi(fall.now_pa)}: no use of steam takes that much"
