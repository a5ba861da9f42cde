"""When to light up to be in steam by a time. Knows no clock: times are the caller's seconds."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from assistant.belief.bands import Band
from assistant.belief.estimate import begin, update
from assistant.belief.forecast import minutes_to
from assistant.belief.learning import EarlierRun
from assistant.boiler.figures import Engine
from assistant.messages import Report


@dataclass(frozen=True, slots=True)
class LightUp:
    """light_s: even chance of being ready; sure_s: the earlier time that makes it 90 %.

    minutes: from lighting to working pressure. runs: how many earlier runs it rests on, 0: the
    engine file alone.
    """

    light_s: float
    sure_s: float
    minutes: Band
    runs: int
    why: str


def light_up(engine: Engine, past: Sequence[EarlierRun], ready_by_s: float) -> LightUp:
    """When to light so that working pressure is there by a time [s].

    Raises ValueError where it will not come at all: a valve that lifts below it.
    """
    belief = update(begin(engine, 0.0, past), Report("fire", "lit"), 0.0)
    told = minutes_to(belief, engine.working_pressure_gauge_pa)
    if told.band is None:
        raise ValueError(told.why)
    minutes = told.band
    runs = belief.shared.runs
    source = f"{runs} earlier runs of this engine" if runs else "the engine file alone"
    return LightUp(
        ready_by_s - 60.0 * minutes.mid,
        ready_by_s - 60.0 * minutes.high,
        minutes,
        runs,
        f"{minutes.low:.0f} to {minutes.high:.0f} minutes from cold, from {source}",
    )
