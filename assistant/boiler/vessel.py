"""Water, steam and metal in a closed vessel at one temperature: mass and energy. No fire, no time.

The steam over the water is saturated and free of air unless a function says otherwise.
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
    """volume_m3: all water and steam space; metal_j_per_k: heat capacity of what warms along."""

    volume_m3: float
    metal_j_per_k: float


@dataclass(frozen=True, slots=True)
class Contents:
    """What is inside: all water, liquid and steam together [kg], and its temperature [K]."""

    water_kg: float
    temperature_k: float


@dataclass(frozen=True, slots=True)
class Split:
    """How the water divides: liquid and steam [kg], and the room the liquid takes [m3]."""

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
    """All water in the vessel [kg] when the liquid takes so much room at a temperature."""
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
    """The temperature [K] at which the vessel holds so much energy [J]. Held to 0-350 C."""
    low, high = COLDEST_K, HOTTEST_K
    now = min(max(guess_k, low), high)
    for _ in range(60):
        off = energy_j(vessel, Contents(water_kg, now)) - energy
        low, high = (low, now) if off > 0 else (now, high)
        near = now + 0.01 if now + 0.01 <= HOTTEST_K else now - 0.01
        slope = (energy_j(vessel, Contents(water_kg, near)) - energy - off) / (near - now)
        step = now - off / slope
        step = step if low < step < high else (low + high) / 2.0
        if abs(step - now) < 1e-9:
            return step
        now = step
    return now


def heat_j(vessel: Vessel, water_kg: float, from_k: float, to_k: float) -> float:
    """Heat that takes the closed vessel from one temperature to another [J], nothing let out."""
    hot = energy_j(vessel, Contents(water_kg, to_k))
    return hot - energy_j(vessel, Contents(water_kg, from_k))


def exchanged(
    vessel: Vessel, contents: Contents, heat: float, fed_kg: float = 0.0, feed_j_per_kg: float = 0.0
) -> Contents:
    """The contents after heat [J] and feed water [kg] with its enthalpy [J/kg] went in."""
    energy = energy_j(vessel, contents) + heat + fed_kg * feed_j_per_kg
    water = contents.water_kg + fed_kg
    return Contents(water, temperature_k(vessel, water, energy, contents.temperature_k))


def drawn(vessel: Vessel, contents: Contents, steam_kg: float, heat: float = 0.0) -> Contents:
    """The contents after so much saturated steam [kg] was let out and heat [J] went in."""
    steps = max(1, int(np.ceil(abs(steam_kg) / (0.005 * contents.water_kg))))
    for _ in range(steps):
        half = _drawn_once(vessel, contents, contents.temperature_k, steam_kg / steps, heat / steps)
        middle = (contents.temperature_k + half.temperature_k) / 2.0
        contents = _drawn_once(vessel, contents, middle, steam_kg / steps, heat / steps)
    return contents


def _drawn_once(
    vessel: Vessel, contents: Contents, at_k: float, steam_kg: float, heat: float
) -> Contents:
    energy = energy_j(vessel, contents) + heat - steam_kg * saturated(at_k).hg
    water = contents.water_kg - steam_kg
    return Contents(water, temperature_k(vessel, water, energy, contents.temperature_k))


def heat_to_draw_j(
    vessel: Vessel, liquid_before_m3: float, liquid_after_m3: float, at_k: float
) -> float:
    """Heat [J] that holds the temperature while steam is drawn and the water falls so far."""
    before = Contents(water_for(vessel, liquid_before_m3, at_k), at_k)
    after = Contents(water_for(vessel, liquid_after_m3, at_k), at_k)
    gone_kg = before.water_kg - after.water_kg
    return energy_j(vessel, after) - energy_j(vessel, before) + gone_kg * saturated(at_k).hg


def feed_enthalpy_j_per_kg(temperature_k: float, pressure_abs_pa: float = 101_325.0) -> float:
    """Enthalpy of feed water [J/kg]."""
    return liquid(temperature_k, pressure_abs_pa).h


def trapped_air_pa(
    vessel: Vessel, contents: Contents, cold_k: float, cold_air_abs_pa: float
) -> float:
    """Part of the pressure [Pa] that is air shut in when it was filled cold. Perfect gas."""
    cold = split(vessel, Contents(contents.water_kg, cold_k)).liquid_m3
    warm = split(vessel, contents).liquid_m3
    room = max(vessel.volume_m3 - warm, 1e-3 * vessel.volume_m3)
    return cold_air_abs_pa * (vessel.volume_m3 - cold) / room * contents.temperature_k / cold_k


def gauge_pa(temperature_k: float, atmosphere_pa: float, air_pa: float = 0.0) -> float:
    """What a gauge shows [Pa gauge] over water of a temperature; `air_pa` from `trapped_air_pa`."""
    return saturation_pressure_abs_pa(temperature_k) + air_pa - atmosphere_pa


def gauge_pa_per_k(temperature_k: float) -> float:
    """How fast a gauge rises with the water's temperature [Pa/K]; the air is out."""
    below, above = temperature_k - 0.05, temperature_k + 0.05
    return (saturation_pressure_abs_pa(above) - saturation_pressure_abs_pa(below)) / 0.1


@lru_cache(maxsize=4096)
def boiling_k(pressure_gauge_pa: float, atmosphere_pa: float) -> float:
    """Temperature of the water [K] when a gauge shows so much and the air is out.

    Held to 0.6 kPa to 16 MPa absolute, where both phases exist.
    """
    return saturation_temperature_k(min(max(pressure_gauge_pa + atmosphere_pa, 620.0), 16.0e6))


def rates(
    vessel: Vessel, water_kg: float, energy: float, heat_w: float, feed_kg_per_s: float,
    feed_j_per_kg: float, draw_kg_per_s: float, at_k: float,
) -> tuple[float, float]:  # fmt: skip
    """Change of water [kg/s] and of energy [W] with fire, feed and steam drawn at `at_k`."""
    water = feed_kg_per_s - draw_kg_per_s
    power = heat_w + feed_kg_per_s * feed_j_per_kg - draw_kg_per_s * saturated(at_k).hg
    return water, power
