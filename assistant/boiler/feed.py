"""Feed: pump, bypass and tank. Knows no boiler's state and no time of day."""

from __future__ import annotations

import math

from assistant.boiler.figures import Engine
from assistant.boiler.scales import LITRE_M3


def ram_delivery_m3_per_s(
    bore_m: float, stroke_m: float, strokes_per_min: float, slip: float = 0.04
) -> float:
    """Delivery of a single-acting ram pump [m3/s]. slip: the part that does not arrive [fraction].

    Well-packed pumps slip 3-5 % (pump handbook); small model pumps deliver 70-90 % (from memory).
    """
    swept = math.pi / 4.0 * bore_m**2 * stroke_m
    return swept * strokes_per_min / 60.0 * (1.0 - slip)


def slip(theoretical_m3_per_s: float, actual_m3_per_s: float) -> float:
    """The part of a pump's swept delivery that does not arrive [fraction]."""
    return 1.0 - actual_m3_per_s / theoretical_m3_per_s


def into_boiler_m3_per_s(delivery_m3_per_s: float, bypass_open: float) -> float:
    """What reaches the boiler [m3/s] with the bypass open so far [0 shut .. 1 open].

    Open, all goes back to the tank; between, in proportion (common practice, no source).
    """
    return delivery_m3_per_s * (1.0 - min(max(bypass_open, 0.0), 1.0))


def pump_m3_per_s(engine: Engine) -> float:
    """The engine's pump [m3/s]; where the file is silent, one that moves the glass in half an hour.

    Half an hour: common practice, no source.
    """
    if engine.pump_m3_per_s is not None:
        return engine.pump_m3_per_s
    litres = [litre for _, litre in engine.glass.points]
    return (max(litres) - min(litres)) * LITRE_M3 / 1800.0


def tank_minutes(tank_m3: float, use_m3_per_s: float) -> float | None:
    """Minutes until the tank is empty; None when nothing is taken from it."""
    return tank_m3 / use_m3_per_s / 60.0 if use_m3_per_s > 0.0 else None
