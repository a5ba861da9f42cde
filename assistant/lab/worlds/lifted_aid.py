"""Forced draught by an aid that is lifted: a fan until there is steam, the own blower after.

Heat is mostly radiation from a bright bed and follows the draught; where the fan goes off the own
blower may draw better or much worse, by the steam there is. Nobody tells of the fan.
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

FLAME_K = 1350.0
DRAWS = Draws(41)


class AidedFire:
    """The bed, the fan and the own blower. full_w: heat under the fan, the bed bright [W]."""

    def __init__(
        self, full_w: float, pace: float, habit: np.random.Generator, day: np.random.Generator
    ) -> None:
        self.full_w = full_w
        self.catch_s = float(habit.uniform(60.0, 240.0)) * pace
        self.lifted_at = float(habit.uniform(0.12, 0.5)) * float(np.exp(0.15 * day.normal()))
        self.own = log_uniform(habit, 0.35, 1.5)
        self.chimney = float(habit.uniform(0.15, 0.4))
        self.change_s = float(day.uniform(30.0, 150.0))
        self.pause = (math.inf, 0.0)  # where the fan stands still: from, for how long [s]
        if day.random() < 0.25:
            self.pause = (
                float(day.uniform(300.0, 1500.0)) * pace,
                float(day.uniform(120.0, 480.0)),
            )
        self.restless = float(day.normal(0.0, 0.12))
        self.day, self.bright, self.lifted_s = day, 0.0, math.inf

    def heat_w(self, since_s: float, boiler: LumpedBoiler, log: Log) -> float:
        """Heat to the water in this step [W]."""
        if math.isinf(self.lifted_s) and boiler.part > self.lifted_at:
            self.lifted_s = since_s
            log.act("blower", "open")
        draught = self.chimney + (1.0 - self.chimney) * self._forced(since_s, boiler)
        self.bright += (min(draught, 1.1) - self.bright) * STEP_S / self.catch_s
        self.restless += -self.restless * STEP_S / 420.0 + 0.12 * math.sqrt(
            2.0 * STEP_S / 420.0
        ) * float(self.day.standard_normal())
        radiant = 1.0 - (boiler.kelvin / FLAME_K) ** 4
        return self.full_w * max(self.bright, 0.0) * radiant * math.exp(self.restless)

    def _forced(self, since_s: float, boiler: LumpedBoiler) -> float:
        """The draught of fan or blower, 1 for the fan."""
        if since_s < self.lifted_s:
            stopped = self.pause[0] <= since_s < self.pause[0] + self.pause[1]
            return 0.0 if stopped else 1.0
        if since_s < self.lifted_s + self.change_s:
            return 0.0
        return self.own * math.sqrt(min(boiler.part, 1.0))


def _true(seed: int) -> tuple[Engine, float, float]:
    """The true engine, its heat under the fan [W] and its pace against a small one."""
    draw, size = DRAWS.engine(seed, 0), (0, 0, 1, 2)[seed % 4]
    engine = drawn_engine(draw, size, f"aided {seed}")
    minutes = log_uniform(draw, *((8.0, 30.0), (25.0, 80.0), (60.0, 180.0))[size])
    return engine, heat_to_work_j(engine) / (60.0 * minutes), (1.0, 1.5, 2.5)[size]


def engine_of(seed: int) -> Engine:
    """The engine as its owner's file has it."""
    true, full_w, _ = _true(seed)
    return owners_file(true, full_w, DRAWS.engine(seed, 1))


def steam_up(seed: int, day: int) -> Told:
    """One day of an engine; in two of five another one drives each day."""
    true, full_w, pace = _true(seed)
    driver = drawn_driver(DRAWS.engine(seed, 2), 1.0 * pace, 5.0 * pace)
    draw = DRAWS.day(seed, day)
    fire = AidedFire(
        full_w * float(np.exp(0.08 * draw.normal())), pace, DRAWS.habits(seed, day), draw
    )
    height = filled_cold(true, draw)
    boiler = LumpedBoiler(true, float(draw.uniform(276.0, 295.0)), height, 0.0002 * full_w)
    return raise_steam(boiler, fire, driver, draw, 12 * 3600.0)
