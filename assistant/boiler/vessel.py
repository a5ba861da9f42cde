"""Water, steam and metal in a closed vessel at one temperature: mass and energy. No fire, no time.

The steam over the water is saturated and free of air.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from assistant.boiler.figures import Engine
from assistant.boiler.steam import (
    COLDEST_K,
    HOTTEST_K,
    liquid,
    saturated,
    saturated_arrays,
    saturation_pressure_abs_pa,
    saturation_temperature_k,
)


@dataclass(frozen=True, slots=True)
class Vessel:
    """A closed space and the metal around it."""

    volume_m3: float
    """water and steam space together [m3]"""
    metal_j_per_k: float
    """heat capacity of the metal that warms with the water [J/K]"""


@dataclass(frozen=True, slots=True)
class Contents:
    """What is inside: all water, liquid and steam together [kg], and its temperature [K]."""

    water_kg: float
    temperature_k: float


@dataclass(frozen=True, slots=True)
class Split:
    """How the water divides: liquid and steam [kg], and the volume of the liquid [m3]."""

    liquid_kg: float
    steam_kg: float
    liquid_m3: float


def vessel_of(engine: Engine) -> Vessel:
    """The vessel of an engine file."""
    return Vessel(engine.volume_m3, engine.metal_heat_j_per_k)


def split(vessel: Vessel, contents: Contents) -> Split:
    """Liquid and steam at saturation. A vessel too full or dry is all liquid or all steam."""
    row = saturated(contents.temperature_k)
    steam_kg = (vessel.volume_m3 - contents.water_kg * row.vf) / (row.vg - row.vf)
    steam_kg = min(max(steam_kg, 0.0), contents.water_kg)
    liquid_kg = contents.water_kg - steam_kg
    return Split(liquid_kg, steam_kg, liquid_kg * row.vf)


def water_for(vessel: Vessel, liquid_m3: float, temperature_k: float) -> float:
    """All water in the vessel [kg], steam too, for a volume of liquid at a temperature."""
    row = saturated(temperature_k)
    return liquid_m3 / row.vf + max(vessel.volume_m3 - liquid_m3, 0.0) / row.vg


def energy_j(vessel: Vessel, contents: Contents) -> float:
    """Internal energy of water, steam and metal [J], above liquid water at 0 C."""
    row, parts = saturated(contents.temperature_k), split(vessel, contents)
    metal = vessel.metal_j_per_k * (contents.temperature_k - COLDEST_K)
    return parts.liquid_kg * row.uf + parts.steam_kg * row.ug + metal


def energy_curve_j(
    vessel: Vessel, water_kg: float | NDArray[np.float64], temperature_k: NDArray[np.float64]
) -> NDArray[np.float64]:
    """`energy_j` for many temperatures at once, to 5e-5."""
    rows = saturated_arrays(temperature_k)
    steam_kg = (vessel.volume_m3 - water_kg * rows.vf) / (rows.vg - rows.vf)
    steam_kg = np.clip(steam_kg, 0.0, water_kg)
    metal = vessel.metal_j_per_k * (temperature_k - COLDEST_K)
    return (water_kg - steam_kg) * rows.uf + steam_kg * rows.ug + metal


def temperature_k(vessel: Vessel, water_kg: float, energy: float, guess_k: float = 400.0) -> float:
    """The temperature [K] at which the vessel holds this energy [J], within 0 to 350 C."""
    low, high = COLDEST_K, HOTTEST_K
    estimate = min(max(guess_k, low), high)
    for _ in range(60):
        excess = energy_j(vessel, Contents(water_kg, estimate)) - energy
        low, high = (low, estimate) if excess > 0 else (estimate, high)
        near = estimate + 0.01 if estimate + 0.01 <= HOTTEST_K else estimate - 0.01
        slope = (energy_j(vessel, Contents(water_kg, near)) - energy - excess) / (near - estimate)
        step = estimate - excess / slope
        step = step if low < step < high else (low + high) / 2.0
        if abs(step - estimate) < 1e-9:
            return step
        estimate = step
    return estimate


def exchanged(
    vessel: Vessel, contents: Contents, heat: float, fed_kg: float = 0.0, feed_j_per_kg: float = 0.0
) -> Contents:
    """The contents after heat [J] and feed water [kg] with its enthalpy [J/kg] went in."""
    energy = energy_j(vessel, contents) + heat + fed_kg * feed_j_per_kg
    water = contents.water_kg + fed_kg
    return Contents(water, temperature_k(vessel, water, energy, contents.temperature_k))


def feed_enthalpy_j_per_kg(temperature_k: float, pressure_abs_pa: float = 101_325.0) -> float:
    """Enthalpy of feed water [J/kg]."""
    return liquid(temperature_k, pressure_abs_pa).h


def gauge_pa(temperature_k: float, atmosphere_pa: float) -> float:
    """What a gauge shows [Pa gauge] over water of a temperature; the air is out."""
    return saturation_pressure_abs_pa(temperature_k) - atmosphere_pa


@lru_cache(maxsize=4096)
def boiling_k(pressure_gauge_pa: float, atmosphere_pa: float) -> float:
    """Temperature of the water [K] by the gauge, the air out.

    Clamped to 0.6 kPa to 16 MPa absolute, where both phases exist.
    """
    return saturation_temperature_k(min(max(pressure_gauge_pa + atmosphere_pa, 620.0), 16.0e6))
