"""Feed put in and steam taken, by what was reported and nominal figures."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from assistant.belief.bands import Array
from assistant.belief.draught import OPENING
from assistant.belief.history import History
from assistant.boiler.feed import pump_m3_per_s
from assistant.boiler.figures import Engine
from assistant.boiler.steam import EVAPORATION_J_PER_KG

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


def steam_kg_per_s(full_fire_w: float, history: History, at_s: float) -> float:
    """Nominal steam taken at a time [kg/s] by what is reported open."""
    part = BLOWER * OPENING[history.state("blower", at_s) or "shut"]
    if history.state("regulator", at_s) == "open":
        part += TICK_OVER
        part += DRAINS if history.state("drains", at_s) == "open" else 0.0
    valve = history.state("valve", at_s)
    part += LIFTING if valve == "lifting" else FEATHERING if valve == "feathering" else 0.0
    return part * full_fire_w / EVAPORATION_J_PER_KG


@dataclass(frozen=True, eq=False)
class NominalFlows:
    """Nominal feed and steam since the first act, at the times at which the rates change."""

    time_s: Array
    """when the rates change [s]"""
    fed_kg: Array
    """feed up to each time [kg]"""
    steam_kg: Array
    """steam taken up to each time [kg]"""
    fed_kg_per_s: float
    """rate of feed after the last time [kg/s]"""
    steam_kg_per_s: float
    """rate of steam after the last time [kg/s]"""

    def at(self, times: tuple[float, ...]) -> tuple[Array, Array]:
        """Feed and steam up to each of these times [kg]."""
        when = np.array(times)
        since_last_s = np.maximum(when - self.time_s[-1], 0.0)
        fed = np.interp(when, self.time_s, self.fed_kg) + since_last_s * self.fed_kg_per_s
        steam = np.interp(when, self.time_s, self.steam_kg) + since_last_s * self.steam_kg_per_s
        return np.asarray(fed, dtype=float), np.asarray(steam, dtype=float)


def nominal_flows(engine: Engine, history: History, full_fire_w: float) -> NominalFlows:
    """Feed and steam as reported, at nominal rates. full_fire_w: the full fire [W]."""
    times = sorted(set(history.acts.times)) or [0.0]
    rates = [
        (feed_kg_per_s(engine, history, t), steam_kg_per_s(full_fire_w, history, t)) for t in times
    ]
    span_s = np.diff(times)
    fed, steam = (np.array([rate[i] for rate in rates]) for i in (0, 1))
    return NominalFlows(
        np.array(times),
        np.append(0.0, np.cumsum(fed[:-1] * span_s)),
        np.append(0.0, np.cumsum(steam[:-1] * span_s)),
        float(fed[-1]),
        float(steam[-1]),
    )
