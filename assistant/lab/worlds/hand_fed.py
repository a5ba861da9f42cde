"""A fuel bed fed by hand through a fire door: wood, then coal; a blower once there is steam.

Heat follows how much of the bed burns and how hot the gas still is against the water. A charge
cools the bed, the open door cools the plates, and a driver who forgets lets the bed burn down.
"""

from __future__ import annotations

import math

import numpy as np

from assistant.boiler.figures import Engine
from assistant.lab.worlds.lumped_boiler import (
    AIR_K,
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

GAS_K = 1250.0  # of the gas over a full fire
DRAWS = Draws(31)


class HandFedBed:
    """The bed, its driver and the day. Amounts in charges; full_w: heat of a full fire [W]."""

    def __init__(
        self, full_w: float, pace: float, habit: np.random.Generator, day: np.random.Generator
    ) -> None:
        self.full_w, self.pace, self.day = full_w, pace, day
        self.natural = float(habit.uniform(0.45, 0.8))
        self.blower_from = float(habit.choice([0.06, 0.12, 0.25, 2.0]))  # 2: there is none
        self.charge = float(habit.uniform(0.5, 1.0))
        self.least = float(habit.uniform(0.5, 1.3))
        self.looks_s = float(habit.uniform(180.0, 540.0)) * pace
        self.burns_s = float(habit.uniform(420.0, 720.0)) * pace
        self.forgets = float(habit.choice([0.05, 0.15, 0.3]))
        self.fuel, self.glow, self.flue = 1.5, 0.05, 0.0
        self.door_until = self.dull_until = -1.0
        self.next_look = self.looks_s
        self.blown = False

    def heat_w(self, since_s: float, boiler: LumpedBoiler, log: Log) -> float:
        """Heat to the water in this step [W]."""
        self._feed(since_s, boiler, log)
        self._blow(boiler, log)
        draught = self.natural * (0.4 + 0.6 * self.flue)
        if self.blown:
            draught += 0.6 * math.sqrt(min(boiler.part, 1.0))
        alight = self.fuel / (self.fuel + 0.6)
        catch_s = (120.0 if since_s > self.dull_until else 300.0) * self.pace
        self.glow += (alight - self.glow) * STEP_S / catch_s
        burn = self.glow * draught**0.7
        self.fuel = max(self.fuel - burn * STEP_S / self.burns_s, 0.02)
        self.flue += (min(burn, 1.0) - self.flue) * STEP_S / (240.0 * self.pace)
        door = 0.35 if since_s < self.door_until else 1.0
        hot = (GAS_K - boiler.kelvin) / (GAS_K - AIR_K)
        return float(self.full_w * burn * door * hot)

    def _feed(self, since_s: float, boiler: LumpedBoiler, log: Log) -> None:
        if since_s < self.next_look:
            return
        self.next_look = since_s + self.looks_s * float(self.day.uniform(0.6, 1.5))
        if self.fuel > self.least or self.day.random() < self.forgets:
            return
        coal = boiler.gauge_pa > boiler.engine.wood_until_gauge_pa
        self.glow *= 1.0 - 0.3 * self.charge / (self.fuel + self.charge)
        self.fuel += self.charge * (1.0 if coal else 0.8)
        self.door_until = since_s + float(self.day.uniform(20.0, 120.0))
        self.dull_until = since_s + (240.0 * self.pace if coal else 0.0)
        if coal:
            log.act("fire", "coal")

    def _blow(self, boiler: LumpedBoiler, log: Log) -> None:
        if not self.blown and boiler.part > self.blower_from:
            self.blown = True
            log.act("blower", "open")


def _true(seed: int) -> tuple[Engine, float, float]:
    """The true engine, the heat of its full fire [W] and its pace against a small one."""
    draw, size = DRAWS.engine(seed, 0), seed % 3
    engine = drawn_engine(draw, size, f"hand-fed {seed}")
    minutes = log_uniform(draw, *((14.0, 35.0), (28.0, 75.0), (70.0, 200.0))[size])
    return engine, heat_to_work_j(engine) / (60.0 * minutes), (1.0, 1.5, 2.5)[size]


def engine_of(seed: int) -> Engine:
    """The engine as its owner's file has it."""
    true, full_w, _ = _true(seed)
    return owners_file(true, full_w, DRAWS.engine(seed, 1))


def steam_up(seed: int, day: int) -> Told:
    """One day of an engine; in two of five another one drives each day."""
    true, full_w, pace = _true(seed)
    driver = drawn_driver(DRAWS.engine(seed, 2), 2.0 * pace, 7.0 * pace)
    draw = DRAWS.day(seed, day)
    fire = HandFedBed(
        full_w * float(np.exp(0.08 * draw.normal())), pace, DRAWS.habits(seed, day), draw
    )
    height = filled_cold(true, draw)
    cold_k = float(draw.uniform(278.0, 293.0))
    boiler = LumpedBoiler(true, cold_k, height, 0.0003 * full_w)
    return raise_steam(boiler, fire, driver, draw, 12 * 3600.0)
