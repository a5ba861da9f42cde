"""What the worlds share: a boiler of one temperature, a driver's calls, an owner's guessed file.

All figures are invented, by what physics.md of the reference calls usual; seeds decide.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Protocol

import numpy as np

from assistant.boiler import glass
from assistant.boiler.figures import Engine, Glass
from assistant.boiler.scales import PSI_PA
from assistant.boiler.steam import saturation_pressure_abs_pa
from assistant.messages import Report
from assistant.simulator.steam_up import Rows

STEP_S = 10.0
AIR_K = 286.0
OFF_BY = 1.0 / 3.0  # by how much an owner's figure may be wrong


@dataclass(frozen=True)
class Told:
    """One steam-up as it was called, and when working pressure was reached."""

    rows: Rows
    reached_s: float | None
    """None: not within the limit"""


@dataclass(frozen=True, slots=True)
class Driver:
    """How one driver calls."""

    call_min: float
    """minutes between two calls"""
    step_psi: float
    """to which the dial is read"""
    forgets: float
    """share of the calls left out"""
    reports_acts: float
    """share of the acts that are told"""


def drawn_driver(draw: np.random.Generator, least_min: float, most_min: float) -> Driver:
    """An eager, a lazy, a coarse or a forgetful driver, or something between."""
    return Driver(
        float(np.exp(draw.uniform(np.log(least_min), np.log(most_min)))),
        float(draw.choice([1.0, 2.0, 5.0, 5.0, 10.0])),
        float(draw.choice([0.0, 0.1, 0.4])),
        float(draw.choice([0.0, 0.6, 1.0])),
    )


class LumpedBoiler:
    """Water and metal at one temperature; no steam space, no air.

    Heat capacity of water by a line through 4186 J/kgK at 290 K and 4330 at 430 K.
    """

    def __init__(self, engine: Engine, kelvin: float, height: float, loss_w_per_k: float) -> None:
        self.engine, self.kelvin, self.loss_w_per_k = engine, kelvin, loss_w_per_k
        self.height = height
        self.water_kg = glass.water_shown_kg(engine, height, kelvin)

    @property
    def j_per_k(self) -> float:
        """Heat capacity now [J/K]."""
        return (
            self.water_kg * (4186.0 + 1.03 * (self.kelvin - 290.0)) + self.engine.metal_heat_j_per_k
        )

    @property
    def gauge_pa(self) -> float:
        """What the gauge shows [Pa gauge]; 0 below boiling."""
        above = float(saturation_pressure_abs_pa(self.kelvin)) - self.engine.atmosphere_pa
        return max(above, 0.0)

    @property
    def part(self) -> float:
        """Gauge pressure as a part of the working pressure."""
        return self.gauge_pa / self.engine.working_pressure_gauge_pa

    @property
    def glass_height(self) -> float:
        """Height in the glass [fraction]: risen by a tenth of the glass at 130 K above cold."""
        return self.height + 0.1 * max(self.kelvin - AIR_K, 0.0) / 130.0

    def warm(self, heat_w: float, seconds: float) -> None:
        """Let the heat [W] less the loss to the air work for so long [s]."""
        net_w = heat_w - self.loss_w_per_k * (self.kelvin - AIR_K)
        self.kelvin += net_w * seconds / self.j_per_k


class Log:
    """What is called, with times."""

    def __init__(self, driver: Driver, draw: np.random.Generator) -> None:
        self.driver, self.draw = driver, draw
        self.at_s = 0.0
        self.rows: list[tuple[float, Report]] = []
        self._next_s = 0.0
        self._moved = False

    def say(self, what: str, value: float | str, unit: str | None = None) -> None:
        """One report now."""
        self.rows.append((self.at_s, Report(what, value, unit)))

    def act(self, what: str, state: str) -> None:
        """An act, where this driver tells it."""
        if self.draw.random() < self.driver.reports_acts:
            self.say(what, state)

    def call(self, boiler: LumpedBoiler) -> None:
        """Gauge and glass, where it is time; the first movement is mostly called at once."""
        driver, shown_psi = self.driver, boiler.gauge_pa / PSI_PA
        first = not self._moved and shown_psi > 2.5 and self.draw.random() < 0.1
        if not first and self.at_s < self._next_s:
            return
        self._next_s = self.at_s + 60.0 * driver.call_min * float(self.draw.uniform(0.6, 1.4))
        if self.draw.random() < driver.forgets and not first:
            return
        if shown_psi > 1.0:
            self._moved = self._moved or shown_psi > 2.5
            read = shown_psi + 0.15 * driver.step_psi * float(self.draw.standard_normal())
            self.say("pressure", max(round(read / driver.step_psi), 0) * driver.step_psi, "psi")
        if self.draw.random() < 0.5:
            self.say("water", min(max(round(boiler.glass_height * 8.0), 0), 8) / 8.0, "glass")


class WorldFire(Protocol):
    """A fire with the one who tends it."""

    def heat_w(self, since_s: float, boiler: LumpedBoiler, log: Log) -> float:
        """Heat to the water in this step [W]; tells acts. since_s: since lighting [s]."""


def raise_steam(
    boiler: LumpedBoiler, fire: WorldFire, driver: Driver, draw: np.random.Generator, limit_s: float
) -> Told:
    """From before the lighting to working pressure, or to the limit."""
    log = Log(driver, draw)
    log.say("water", min(max(round(boiler.height * 8.0), 0), 8) / 8.0, "glass")
    lit_s = round(float(draw.uniform(60.0, 900.0)), -1)
    log.at_s = lit_s
    log.say("fire", "lit")
    while log.at_s < lit_s + limit_s:
        boiler.warm(fire.heat_w(log.at_s - lit_s, boiler, log), STEP_S)
        log.at_s += STEP_S
        if boiler.part >= 1.0:
            return Told(tuple(log.rows), log.at_s)
        log.call(boiler)
    return Told(tuple(log.rows), None)


def drawn_engine(draw: np.random.Generator, size: int, name: str) -> Engine:
    """A true engine: 0 a small copper one, 1 a steel one of middle size, 2 one of full size."""
    litres = log_uniform(draw, *((5.0, 25.0), (50.0, 220.0), (500.0, 1500.0))[size])
    per_litre = float(draw.uniform(*((0.7, 1.2), (2.2, 4.5), (2.0, 3.2))[size]))
    working = 5.0 * round(float(draw.uniform(*((50, 110), (80, 180), (100, 200))[size])) / 5.0)
    low, span = litres * float(draw.uniform(0.52, 0.64)), litres * float(draw.uniform(0.18, 0.28))
    return Engine(
        name=name,
        working_pressure_gauge_pa=working * PSI_PA,
        valve_lifts_gauge_pa=1.12 * working * PSI_PA,
        valve_feathers_gauge_pa=1.05 * working * PSI_PA,
        volume_m3=litres / 1000.0,
        metal_kg={("copper", "steel", "steel")[size]: per_litre * litres},
        barrel_diameter_m=None,
        barrel_length_m=None,
        glass=Glass((0.06, 0.16, 0.25)[size], 0.25, 0.85, 0.5, ((0.0, low), (1.0, low + span))),
        wood_until_gauge_pa=float(draw.uniform(0.1, 0.35)) * working * PSI_PA,
    )


def owners_file(true: Engine, full_w: float, draw: np.random.Generator) -> Engine:
    """The engine as its owner's file has it: metal, water and rate each off by a third at most,
    and in two files of five no rate. full_w: heat to the water at full fire [W]."""

    def off() -> float:
        return log_uniform(draw, 1.0 - OFF_BY, 1.0 + OFF_BY)

    water = min(off(), 1.1)  # no more than the vessel holds
    points = tuple((height, water * litres) for height, litres in true.glass.points)
    return replace(
        true,
        metal_kg={name: off() * kg for name, kg in true.metal_kg.items()},
        glass=replace(true.glass, points=points),
        fire_rate_w=off() * full_w if draw.random() < 0.6 else None,
    )


@dataclass(frozen=True, slots=True)
class Draws:
    """The random numbers of one world; seed: of an engine in it."""

    world: int
    """Its number: another for each world, two apart."""

    def engine(self, seed: int, part: int) -> np.random.Generator:
        """What decides the true engine (part 0), its owner's file (1) or its driver (2)."""
        return np.random.default_rng([seed, part, self.world])

    def habits(self, seed: int, day: int) -> np.random.Generator:
        """What decides the habits of one day's driver: two engines in five have a new one each
        day.
        """
        return np.random.default_rng([seed, 3, self.world] + ([day] if seed % 5 < 2 else []))

    def day(self, seed: int, day: int) -> np.random.Generator:
        """What decides the rest of one day."""
        return np.random.default_rng([seed, day, self.world + 1])


def log_uniform(draw: np.random.Generator, low: float, high: float) -> float:
    """A number between two, each factor as likely as another."""
    return float(np.exp(draw.uniform(np.log(low), np.log(high))))


def filled_cold(engine: Engine, draw: np.random.Generator, off: float = 0.08) -> float:
    """To where she is filled that day [of the glass]."""
    return engine.glass.cold_fill + float(draw.uniform(-off, off))


def heat_to_work_j(engine: Engine) -> float:
    """Heat from cold to working pressure [J], roughly: for the size of a fire."""
    water_kg = glass.water_shown_kg(engine, 0.5, AIR_K)
    return (water_kg * 4250.0 + engine.metal_heat_j_per_k) * 155.0
