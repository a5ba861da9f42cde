"""Full size, slow and sparing: half a day, the damper in, banked for a while, still warm at times.

The heat is what the driver lets through: a setting that he changes seldom, growing with the hours
as brickwork and chimney warm. Nothing of it is told but coal now and then.
"""

from __future__ import annotations

import math

import numpy as np

from assistant.boiler.figures import Engine
from assistant.lab.worlds.lumped_boiler import (
    STEP_S,
    Draws,
    Log,
    LumpedBoiler,
    Told,
    drawn_driver,
    drawn_engine,
    filled_cold,
    heat_to_work_j,
    log_uniform,
    owners_file,
    raise_steam,
)

BANKED = 0.12  # of the heat, while banked
DRAWS = Draws(51)


class SparingFire:
    """A damped fire. even_w: the heat that would take the usual time [W]; usual_s: that time."""

    def __init__(
        self, even_w: float, usual_s: float, habit: np.random.Generator, day: np.random.Generator
    ) -> None:
        self.even_w, self.usual_s, self.day = even_w, usual_s, day
        self.first = float(habit.uniform(0.3, 1.0))  # of the heat at the beginning
        self.unsteady = float(habit.choice([0.1, 0.2, 0.3]))
        self.change_s = float(habit.uniform(1200.0, 3600.0))
        self.setting, self.next_change = self.unsteady * float(day.normal()), self.change_s
        self.banked = (math.inf, 0.0)  # from, for how long [s]
        if habit.random() < 0.5 and day.random() < 0.6:
            self.banked = (
                usual_s * float(day.uniform(0.1, 0.7)),
                float(day.uniform(1200.0, 4800.0)),
            )

    def heat_w(self, since_s: float, boiler: LumpedBoiler, log: Log) -> float:
        """Heat to the water in this step [W]."""
        if since_s > self.next_change:
            self.next_change += self.change_s * float(self.day.uniform(0.5, 1.5))
            self.setting = 0.5 * self.setting + self.unsteady * float(self.day.normal())
            log.act("fire", "coal")
        if self.banked[0] <= since_s < sum(self.banked):
            return BANKED * self.even_w
        caught = 1.0 - math.exp(-(since_s + STEP_S) / (0.06 * self.usual_s))
        grown = self.first + (1.0 - self.first) * min(since_s / (0.8 * self.usual_s), 1.0)
        return 1.35 * self.even_w * caught * grown * math.exp(self.setting)


def _true(seed: int) -> tuple[Engine, float, float]:
    """The true engine, the even heat of its usual time [W] and that time [s]."""
    draw = DRAWS.engine(seed, 0)
    engine = drawn_engine(draw, 2 if seed % 4 else 1, f"sparing {seed}")
    usual_s = 3600.0 * log_uniform(draw, 4.0, 11.0)
    return engine, heat_to_work_j(engine) / usual_s, usual_s


def engine_of(seed: int) -> Engine:
    """The engine as its owner's file has it: its rate a full fire's, twice the sparing one."""
    true, even_w, _ = _true(seed)
    return owners_file(true, 2.0 * even_w, DRAWS.engine(seed, 1))


def steam_up(seed: int, day: int) -> Told:
    """One day of an engine; in two of five another one drives each day."""
    true, even_w, usual_s = _true(seed)
    driver = drawn_driver(DRAWS.engine(seed, 2), 6.0, 25.0)
    draw = DRAWS.day(seed, day)
    fire = SparingFire(
        even_w * float(np.exp(0.08 * draw.normal())),
        usual_s,
        DRAWS.habits(seed, day),
        draw,
    )
    warm = draw.random() < 0.15
    cold_k = float(draw.uniform(305.0, 335.0) if warm else draw.uniform(276.0, 295.0))
    height = filled_cold(true, draw)
    boiler = LumpedBoiler(true, cold_k, height, 0.0008 * even_w)
    return raise_steam(boiler, fire, driver, draw, 30 * 3600.0)
