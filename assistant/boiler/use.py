"""Steam that leaves and feed that comes, by what was reported and nominal figures."""

from __future__ import annotations

from assistant.boiler.draught import OPENING
from assistant.boiler.feed import pump_m3_per_s
from assistant.boiler.figures import Engine
from assistant.boiler.history import History

KG_PER_M3 = 999.0  # cold feed

# Steam taken, as a part of what the full fire can evaporate. Common practice, no source.
BLOWER = 0.04
TICK_OVER = 0.15
DRAINS = 0.05
LIFTING = 1.0
FEATHERING = 0.05


def feed_kg_per_s(engine: Engine, history: History, at_s: float) -> float:
    """Nominal feed at a time [kg/s]: the pump's figure while feed is reported on."""
    return KG_PER_M3 * pump_m3_per_s(engine) if history.state("feed", at_s) == "on" else 0.0


def steam_kg_per_s(full_w: float, history: History, at_s: float) -> float:
    """Nominal steam taken at a time [kg/s] by what is reported open. full_w: the full fire [W]."""
    part = BLOWER * OPENING[history.state("blower", at_s) or "shut"]
    if history.state("regulator", at_s) == "open":
        part += TICK_OVER
        part += DRAINS if history.state("drains", at_s) == "open" else 0.0
    valve = history.state("valve", at_s)
    part += LIFTING if valve == "lifting" else FEATHERING if valve == "feathering" else 0.0
    return part * full_w / 2.05e6  # heat of evaporation near 100 psi, J/kg (IF97)


def passed_kg(
    engine: Engine, history: History, full_w: float, times: tuple[float, ...]
) -> tuple[list[float], list[float]]:
    """Nominal feed and steam from the first of these rising times up to each [kg]."""
    turns = sorted({a.at_s for a in history.acts} | set(times))
    fed, taken, fed_at, taken_at = 0.0, 0.0, {}, {}
    for start, end in zip(turns, [*turns[1:], turns[-1]], strict=True):
        fed_at[start], taken_at[start] = fed, taken
        if start >= times[0]:
            fed += feed_kg_per_s(engine, history, start) * (end - start)
            taken += steam_kg_per_s(full_w, history, start) * (end - start)
    return [fed_at[t] for t in times], [taken_at[t] for t in times]
