"""Alarm conditions for a pressure that falls. Pure; reads the picture."""

from __future__ import annotations

from assistant.alarms.condition import psi
from assistant.alarms.inputs import AlarmInputs
from assistant.alarms.water_rules import UNREAD
from assistant.picture.fall import Fall

NO_HEAT_AT = frozenset({"at the mark", "below the mark"})  # water that has the heat stopped


def _fall(inputs: AlarmInputs) -> Fall | None:
    return None if inputs.picture is None else inputs.picture.fall


def falling(inputs: AlarmInputs, at: float) -> str | None:
    """Falling with a fire in, and nothing that was reported explains it. Not while no more heat
    may be asked for.
    """
    fall = _fall(inputs)
    if fall is None or not fall.clear or fall.because or fall.sudden or heat_forbidden(inputs):
        return None
    if fall.now_pa >= inputs.engine.working_pressure_gauge_pa:  # steam is up, the fire held back
        return None
    return f"{psi(fall.peak_pa)}, now {psi(fall.now_pa)}, and nothing explains it"


def not_falling(inputs: AlarmInputs, at: float) -> bool:
    fall = _fall(inputs)
    return fall is None or bool(fall.because) or heat_forbidden(inputs)


def heat_forbidden(inputs: AlarmInputs) -> bool:
    """Whether the heat is to be down, so that a fall is meant: the level is not known or at the
    mark, the glass does not move, or she is not to be steamed.
    """
    seen = inputs.picture
    if seen is None:
        return False
    water = seen.water
    unknown = not water.readable or water.value in UNREAD or seen.glass.value == "flat"
    return unknown or water.value in NO_HEAT_AT or water.lost is not None


def not_out(inputs: AlarmInputs, at: float) -> str | None:
    """The fire was told to be out, and the pressure rises by more than is left in the metal."""
    seen = inputs.picture
    if seen is None or seen.fire.value != "drawn" or not seen.fire.asks_fire:
        return None
    return "the pressure rises, and the fire was told to be out"


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
