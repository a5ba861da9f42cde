"""How a practice boiler differs from its engine file, and the size of its fire. Knows no time.

Invented, so that no belief can be right by having the simulator's own figures.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from assistant.boiler.figures import Engine


@dataclass(frozen=True, slots=True)
class Trim:
    """Factors on the figures of the file, drawn from the engine's seed."""

    heat: float  # of the full fire
    metal: float  # heat capacity of the metal
    glass: float  # litres for the whole glass
    glass_zero: float  # added to the shown height
    pump: float  # delivery
    valve: float  # setting of the safety valve
    loss: float  # of heat
    engine_use: float  # steam at tick-over


def draw_trim(engine_seed: int, spread: float) -> Trim:
    """The trim of one engine. spread: 0 as in its file, 1 as engines usually differ."""
    draw = np.random.default_rng([engine_seed, 1])

    def factor(sigma: float) -> float:
        return float(np.exp(spread * sigma * draw.standard_normal()))

    return Trim(
        heat=factor(0.30),
        metal=factor(0.12),
        glass=factor(0.03),
        glass_zero=0.015 * spread * float(draw.standard_normal()),
        pump=0.85 * factor(0.12),
        valve=factor(0.012),
        loss=factor(0.25),
        engine_use=factor(0.2),
    )


def full_fire_w(engine: Engine) -> float:
    """Heat to the water at full fire, from the file or as usual for the size [W].

    Usual: 28 kW for 110 litre of water and steam, with the power 0.72 of the size (invented).
    """
    if engine.fire_rate_w is not None:
        return engine.fire_rate_w
    return float(28e3 * (engine.volume_m3 / 0.110) ** 0.72)


def heat_to_working_pressure_j(engine: Engine) -> float:
    """Roughly the heat from cold to working pressure [J]."""
    return 165.0 * (engine.metal_heat_j_per_k + 4200.0 * 720.0 * engine.volume_m3)
