"""The practice boiler of the simulator as a world: its engines, its firemen, their days."""

from __future__ import annotations

from assistant.boiler.figures import Engine
from assistant.lab.worlds.lumped_boiler import Told
from assistant.simulator import steam_up as practised

FIRST = 21000  # engines that no other measurement uses


def engine_of(seed: int) -> Engine:
    """The engine of a seed."""
    return practised.invented_engine(FIRST + seed)


def steam_up(seed: int, day: int) -> Told:
    """One day of an engine; its fireman is the same each day."""
    engine_seed = FIRST + seed
    habits = practised.draw_habits(engine_seed, (1.0, 1.3, 2.0)[engine_seed % 3])
    run = practised.steam_up(engine_of(seed), engine_seed, day, habits)
    return Told(run.rows, run.reached_s)
