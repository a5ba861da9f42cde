"""Feed: what the pump delivers and how long the tank lasts. Knows no time of day."""

from __future__ import annotations

from assistant.boiler.figures import Engine
from assistant.boiler.scales import LITRE_M3

FILL_TIME_S = 1800.0  # from bottom to top of the glass: common practice, no source


def pump_m3_per_s(engine: Engine) -> float:
    """The delivery of the engine's pump [m3/s], estimated where its file gives none."""
    if engine.pump_m3_per_s is not None:
        return engine.pump_m3_per_s
    litres = [litre for _, litre in engine.glass.points]
    return (max(litres) - min(litres)) * LITRE_M3 / FILL_TIME_S


def tank_minutes(tank_m3: float, use_m3_per_s: float) -> float | None:
    """Minutes until the tank is empty; None when nothing is taken from it."""
    return tank_m3 / use_m3_per_s / 60.0 if use_m3_per_s > 0.0 else None
