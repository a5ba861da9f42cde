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
    """When to light up, and what that rests on."""

    light_s: float
    """lighting then gives an even chance of being ready [s]"""
    sure_s: float
    """the earlier time that gives nine chances in ten [s]"""
    minutes: Band
    """from lighting to working pressure"""
    runs: int
    """how many earlier runs it rests on; 0: the engine file alone"""
    why: str
    """the figures used, in words"""


def light_up(engine: Engine, past: Sequence[EarlierRun], ready_by_s: float) -> LightUp:
    """When to light up so that working pressure is reached by a time [s].

    Raises ValueError where it is never reached: a valve that lifts below it.
    """
    belief = update(begin(engine, 0.0, past), Report("fire", "lit"), 0.0)
    forecast = minutes_to(belief, engine.working_pressure_gauge_pa)
    if forecast.band is None:
        raise ValueError(forecast.why)
    minutes = forecast.band
    runs = belief.shared.runs
    alone = "the engine file alone" if engine.usual is None else "the owner's word"
    source = f"{runs} earlier runs of this engine" if runs else alone
    return LightUp(
        ready_by_s - 60.0 * minutes.mid,
        ready_by_s - 60.0 * minutes.high,
        minutes,
        runs,
        f"{minutes.low:.0f} to {minutes.high:.0f} minutes from cold, from {source}",
    )
