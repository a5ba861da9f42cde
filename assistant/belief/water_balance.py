"""Steam that leaves and feed that comes, by what was reported and nominal figures."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from assistant.belief.bands import Array
from assistant.belief.draught import OPENING
from assistant.belief.history import History
from assistant.boiler.feed import pump_m3_per_s
from assistant.boiler.figures import Engine

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


@dataclass(frozen=True, eq=False)
class Passed:
    """Nominal feed and steam since the first act [kg] at the times [s] at which rates change."""

    time_s: Array
    fed_kg: Array
    taken_kg: Array
    fed_kg_per_s: float
    taken_kg_per_s: float

    def at(self, times: tuple[float, ...]) -> tuple[Array, Array]:
        """Feed and steam up to each of these times [kg]."""
        when = np.array(times)
        on = np.maximum(when - self.time_s[-1], 0.0)
        fed = np.interp(when, self.time_s, self.fed_kg) + on * self.fed_kg_per_s
        taken = np.interp(when, self.time_s, self.taken_kg) + on * self.taken_kg_per_s
        return np.asarray(fed, dtype=float), np.asarray(taken, dtype=float)


def passed(engine: Engine, history: History, full_w: float) -> Passed:
    """What was reported to pass, at nominal rates. full_w: the full fire [W]."""
    turns = sorted(set(history.acts.times)) or [0.0]
    rates = [(feed_kg_per_s(engine, history, t), steam_kg_per_s(full_w, history, t)) for t in turns]
    held_s = np.diff(turns)
    fed, taken = (np.array([rate[i] for rate in rates]) for i in (0, 1))
    return Passed(
        np.array(turns),
        np.append(0.0, np.cumsum(fed[:-1] * held_s)),
        np.append(0.0, np.cumsum(taken[:-1] * held_s)),
        float(fed[-1]),
        float(taken[-1]),
    )
