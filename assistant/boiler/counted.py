"""Coal and water that were counted on and in, as totals with their uncertainty. Pure."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from assistant.boiler.figures import Engine
from assistant.boiler.scales import TENTH_SD, VOLUME_M3
from assistant.messages import COAL_PUT_ON, WATER_PUT_IN, Report

# Standard deviations, as parts (judgement, no source): of one filling from the next, and of the
# size in the file from the bucket or shovel that is used. Litres and gallons are read off a mark.
FILLING, SIZE, MARK = 0.2, 0.1, 0.05


@dataclass(frozen=True, slots=True)
class Total:
    """What was counted of coal or of water."""

    counts: tuple[tuple[str, float], ...]
    """each unit with how many of it, in the order in which they were first called"""
    low: float | None
    """[kg of coal, m3 of water]: nine times in ten it is more; None where a size is not known"""
    mid: float | None
    """as reckoned; None where the engine's file does not tell a size"""
    high: float | None
    """nine times in ten it is less; None where a size is not known"""


def coal_total(engine: Engine, reports: Iterable[Report]) -> Total | None:
    """Coal put on, as counted [kg]; None where none was."""
    sizes = {"bucket": engine.bucket_kg, "shovel": engine.shovel_kg}
    return _total(COAL_PUT_ON, sizes, reports)


def water_total(engine: Engine, reports: Iterable[Report]) -> Total | None:
    """Water put in, as counted [m3]; None where none was."""
    return _total(WATER_PUT_IN, {"bucket": engine.water_bucket_m3, **VOLUME_M3}, reports)


def _total(what: str, sizes: dict[str, float | None], reports: Iterable[Report]) -> Total | None:
    counts: dict[str, float] = {}
    for report in reports:
        if report.what == what and not isinstance(report.value, str) and report.unit in sizes:
            counts[report.unit] = counts.get(report.unit, 0.0) + report.value
    if not counts:
        return None
    mid = variance = 0.0
    for unit, count in counts.items():
        size = sizes[unit]
        if size is None:
            return Total(tuple(counts.items()), None, None, None)
        filling, common = (MARK, 0.0) if unit in VOLUME_M3 else (FILLING, SIZE)
        mid += count * size
        variance += count * (filling * size) ** 2 + (common * count * size) ** 2
    spread = TENTH_SD * math.sqrt(variance)
    return Total(tuple(counts.items()), max(mid - spread, 0.0), mid, mid + spread)
