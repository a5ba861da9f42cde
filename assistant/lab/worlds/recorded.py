"""A world after timed steam-ups of real boilers: how fast, when the needle moves, what comes after.

Figures of the fitting half of those records (`benches/timed_records.py` has the rule of halving);
fires and drivers beside them are invented. The fire does not change but for its restlessness.
"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from assistant.boiler.figures import Engine
from assistant.boiler.scales import PSI_PA
from assistant.lab.worlds.lumped_boiler import (
    STEP_S,
    Draws,
    Log,
    LumpedBoiler,
    Told,
    drawn_driver,
    drawn_engine,
    filled_cold,
    owners_file,
    raise_steam,
)

# Mean rise from cold to the last pressure told [K/min], and whether the boiler is of full size.
# J. Braidwood, Fire Prevention and Fire Extinction (1866), trials of 1862 and 1863: Merryweather
# (mean of two), Easton (mean of two), Gray, Butt (mean of two), Lee, the Deluge, Shand's small one.
# Naval pinnace of 1881: Scientific American Supplement 484 (1885). Westonzoyland Engine Trust,
# diary of 19 December 2012. Advance-Rumely traction engine: The Record newspaper (G. Sutherby).
PACES = (
    (14.4, False), (11.9, False), (10.6, False), (9.3, False), (13.0, False), (12.7, False),
    (5.2, False), (3.2, False), (1.1, True), (1.0, True),
)  # fmt: skip
# K/min after the needle moved, over K/min before: Merryweather and Easton 1.05, the Deluge 0.80 (as
# above, the third trials and 1862). Their log has mean -0.04 and deviation 0.15; three are few.
GROWTH_LOG, GROWTH_SD = -0.04, 0.20
PACE_SD = 0.15  # of the log, about each of the paces above. Judgement
DAY_SD = 0.04  # of the log: the first and third trials of one engine differ by 0.02 to 0.06
DRAWS = Draws(61)


class RecordedFire:
    """An even fire. even_w: heat before the needle moves [W]; delay_s: until there is any [s]."""

    def __init__(
        self, even_w: float, growth: float, delay_s: float, day: np.random.Generator
    ) -> None:
        self.even_w, self.growth, self.delay_s, self.day = even_w, growth, delay_s, day
        self.reach_s = max(4.0 * delay_s, 120.0)
        self.restless = 0.0

    def heat_w(self, since_s: float, boiler: LumpedBoiler, log: Log) -> float:
        """Heat to the water in this step [W]."""
        del log
        kick = 0.1 * math.sqrt(2.0 * STEP_S / self.reach_s) * float(self.day.standard_normal())
        self.restless += kick - self.restless * STEP_S / self.reach_s
        if since_s < self.delay_s:
            return 0.0
        grown = self.growth ** min(boiler.gauge_pa / (20.0 * PSI_PA), 1.0)
        return float(self.even_w * grown * math.exp(self.restless))


def _true(seed: int) -> tuple[Engine, float, float, float]:
    """The true engine, its even heat [W], its growth and its delay [s]."""
    draw = DRAWS.engine(seed, 0)
    pace, full_size = PACES[seed % len(PACES)]
    engine = drawn_engine(draw, 2 if full_size else 1, f"recorded {seed}")
    kelvin_per_s = pace * math.exp(PACE_SD * float(draw.normal())) / 60.0
    growth = math.exp(GROWTH_LOG + GROWTH_SD * float(draw.normal()))
    even_w = LumpedBoiler(engine, 370.0, 0.5, 0.0).j_per_k * kelvin_per_s
    delay_s = float(draw.uniform(0.02, 0.15)) * 150.0 / kelvin_per_s  # invented: none was timed
    even_w /= 1.0 - delay_s * kelvin_per_s / 150.0
    return engine, even_w, growth, delay_s


def engine_of(seed: int) -> Engine:
    """The engine as its owner's file has it."""
    true, even_w, growth, _ = _true(seed)
    return owners_file(true, even_w * max(growth, 1.0), DRAWS.engine(seed, 1))


def steam_up(seed: int, day: int) -> Told:
    """One day of an engine; its driver is the same each day."""
    true, even_w, growth, delay_s = _true(seed)
    draw = DRAWS.day(seed, day)
    quick = delay_s < 300.0
    driver = drawn_driver(DRAWS.engine(seed, 2), 0.5 if quick else 4.0, 2.0 if quick else 15.0)
    driver = replace(driver, step_psi=min(driver.step_psi, 5.0))
    today, delay = np.exp(DAY_SD * draw.normal(size=2))
    fire = RecordedFire(even_w * float(today), growth, delay_s * float(delay), draw)
    height = filled_cold(true, draw, 0.05)
    boiler = LumpedBoiler(true, float(draw.uniform(280.0, 293.0)), height, 0.0)
    return raise_steam(boiler, fire, driver, draw, 12 * 3600.0)
