"""Engine figures that are allowed and yet hardly those of an engine: asked about, never refused.

Knows figures that should agree; what a file may hold is known by engine_file.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from assistant.boiler.figures import Engine
from assistant.config.engine_file import EngineFile
from assistant.errors import Problem

# Judgement, all of it: three times off what the figures of small boilers are among themselves.
APART = 3.0  # between volumes that should be about the same
METAL_KG_PER_LITRE = (0.5, 15.0)  # of the whole volume; shipped engines have 2 to 4
FILLS_MIN = 3.0  # a pump that fills the boiler sooner
FEED_DAYS_MIN = 24 * 60.0  # a pump that takes longer than a day
HEATS_MIN = (3.0, 24 * 60.0)  # from cold to boiling at full fire
WATER_J_PER_KG_K = 4186.0  # of liquid water near 15 degrees, rounded
COLD_TO_BOILING_K = 85.0


def engine_cautions(engine: EngineFile) -> tuple[Problem, ...]:
    """A line for each figure that is probably a slip of unit or of a digit."""
    lines = engine.text.splitlines()

    def line_of(word: str) -> int:
        found = (n for n, line in enumerate(lines, 1) if word in line.partition("#")[0])
        return next(found, 0)

    return tuple(
        Problem(str(engine.path), line_of(f"{key}:"), 1, f"{message}: is that right?")
        for key, message in _doubts(engine.engine)
    )


def _doubts(engine: Engine) -> Iterator[tuple[str, str]]:
    litres = engine.volume_m3 * 1000.0
    diameter_m = engine.barrel_diameter_m
    if diameter_m and engine.barrel_length_m:
        barrel = math.pi / 4.0 * diameter_m**2 * engine.barrel_length_m * 1000.0
        if not litres / APART <= barrel <= litres * APART:
            yield (
                "barrel",
                f"a barrel of {_amount(barrel)} litre in a boiler of {_amount(litres)} litre",
            )
        if engine.glass.visible_m > diameter_m:
            yield (
                "visible",
                f"a glass of {engine.glass.visible_m * 1000:.0f} mm on a barrel of"
                f" {diameter_m * 1000:.0f} mm",
            )
    most = max(at_litre for _, at_litre in engine.glass.points)
    if most < litres / APART:
        yield (
            "water",
            f"at most {_amount(most)} litre of water in a boiler of {_amount(litres)} litre",
        )
    kg = sum(engine.metal_kg.values())
    least_kg, most_kg = (each * litres for each in METAL_KG_PER_LITRE)
    if not least_kg <= kg <= most_kg:
        yield "metal", f"{_amount(kg)} kg of metal around {_amount(litres)} litre"
    if engine.pump_m3_per_s:
        minutes = engine.volume_m3 / engine.pump_m3_per_s / 60.0
        if minutes < FILLS_MIN:
            yield "delivers", f"a pump that fills her in {_span(minutes)}"
        if minutes > FEED_DAYS_MIN:
            yield "delivers", f"a pump that takes {_span(minutes)} to fill her"
    if engine.fire_rate_w:
        heat_j = (most * WATER_J_PER_KG_K + engine.metal_heat_j_per_k) * COLD_TO_BOILING_K
        minutes = heat_j / engine.fire_rate_w / 60.0
        if not HEATS_MIN[0] <= minutes <= HEATS_MIN[1]:
            yield "rate", f"a full fire that has her boiling in {_span(minutes)}"


def _amount(number: float) -> str:
    """A number as a person would write it.

    >>> _amount(1246.9), _amount(4.25)
    ('1247', '4.2')
    """
    return f"{number:.0f}" if number >= 10.0 else f"{number:.2g}"


def _span(minutes: float) -> str:
    """A length of time in its own unit.

    >>> _span(0.5), _span(12.0), _span(600.0)
    ('30 seconds', '12 minutes', '10 hours')
    """
    if minutes < 2.0:
        return f"{minutes * 60.0:.0f} seconds"
    return f"{minutes:.0f} minutes" if minutes < 120.0 else f"{minutes / 60.0:.0f} hours"
