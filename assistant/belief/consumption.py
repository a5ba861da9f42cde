"""Water and fuel used so far, and how long the tank lasts. Reads a belief."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from assistant.belief.bands import weighted_quantile
from assistant.belief.estimate import Belief, mass_kg
from assistant.belief.forecast import COLD_M3_PER_KG
from assistant.boiler.feed import pump_m3_per_s, tank_minutes

COAL_J_PER_KG = 30e6  # UK DUKES table A.1
INTO_WATER = 0.4  # part of the coal's heat that reaches the water: miniature 0.25-0.5, from memory


@dataclass(frozen=True, slots=True)
class Used:
    """What was used so far; None where nothing shows it."""

    water_kg: float | None
    """gone out of the boiler"""
    fed_kg: float
    """put into the boiler, by the tank's readings"""
    fuel_kg: float | None
    """coal, rough"""
    tank_minutes: float | None
    """how long the tank lasts at this use"""
    why: str
    """the figures used, in words"""


def used(belief: Belief) -> Used:
    """Water and fuel used so far, and how long the tank lasts at this use."""
    tanks = belief.history.tanks
    from_tank = tanks[0].volume_m3 - tanks[-1].volume_m3 if len(tanks) > 1 else 0.0
    fed_kg = max(from_tank, 0.0) / COLD_M3_PER_KG
    water_kg = max(belief.filled_kg + fed_kg - mass_kg(belief), 0.0)
    minutes = None
    if len(tanks) > 1 and tanks[-1].at_s > tanks[0].at_s:
        rate = from_tank / (tanks[-1].at_s - tanks[0].at_s)
        minutes = tank_minutes(tanks[-1].volume_m3, rate)
    elif tanks and belief.history.state("feed") == "on":
        minutes = tank_minutes(tanks[-1].volume_m3, pump_m3_per_s(belief.engine))
    why = f"{water_kg:.1f} kilograms of water gone, {fed_kg:.1f} fed"
    return Used(water_kg, fed_kg, _fuel_kg(belief), minutes, why)


def _fuel_kg(belief: Belief) -> float | None:
    """Coal for the heat taken up so far; None before the lighting."""
    if belief.history.lit_s is None:
        return None
    position = weighted_quantile(belief.outlook.now, belief.outlook.weight, 0.5)
    heat_j = float(np.sum(belief.grid.heat_j[: int(position)]))
    return heat_j / (INTO_WATER * COAL_J_PER_KG)
