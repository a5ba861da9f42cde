"""The fire of the practice boiler: wood, green coal and glowing coal on the bars, and the draught.

Invented, after what firemen see: slow to catch, quick under the blower. Green coal dulls the glow
and burns its gas as flame. Amounts are in charges, of about ten minutes at full fire each.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

OPENINGS: dict[str, float] = {"shut": 0.0, "crack": 0.2, "half": 0.55, "open": 1.0}


@dataclass(frozen=True, slots=True)
class FireTrim:
    """How a fire burns."""

    pace: float  # time scale against a small boiler's fire
    catch_s: float  # time constant of kindling
    natural: float  # draught without the blower
    wood_heat: float  # of wood against coal
    restless: float  # standard deviation of its random variation (of the logarithm)
    restless_s: float  # correlation time of that variation


def _draw_trim(heat_scale_j: float, full_w: float, engine_seed: int, spread: float) -> FireTrim:
    draw = np.random.default_rng([engine_seed, 2])

    def factor(sigma: float) -> float:
        return float(np.exp(spread * sigma * draw.standard_normal()))

    pace = (heat_scale_j / full_w / 1500.0) ** 0.5
    return FireTrim(
        pace=pace * factor(0.15),
        catch_s=110.0 * pace * factor(0.3),
        natural=0.68 * factor(0.15),
        wood_heat=1.0 * factor(0.15),
        restless=0.12 * factor(0.2),
        restless_s=480.0 * pace * factor(0.3),
    )


class Fire:
    """A fire bed; `step` gives the heat that reaches the water [W].

    full_w: heat at full fire. heat_scale_j: heat that the boiler takes to working pressure.
    """

    def __init__(
        self,
        full_w: float,
        heat_scale_j: float,
        seed: int,
        trim: FireTrim | None = None,
        engine_seed: int = 0,
        spread: float = 1.0,
    ) -> None:
        self.trim = trim or _draw_trim(heat_scale_j, full_w, engine_seed, spread)
        self._draw = np.random.default_rng([seed, engine_seed, 3])
        self._day = float(np.exp(0.10 * spread * self._draw.standard_normal()))
        self._full_w = full_w
        self._variation = self.trim.restless * float(self._draw.standard_normal())
        self._draws: list[float] = []
        self.wood = self.green = self.glow = 0.0  # charges
        self._alight = 0.0  # of the wood, 0 to 1
        self._flue = 0.0  # 0 cold .. 1 hot
        self._heat_w = 0.0  # what the plates pass on, which lags the flame
        self._banked = False

    def light(self) -> None:
        """Kindling alight on the bars."""
        self.wood, self._alight = max(self.wood, 1.6), max(self._alight, 0.03)

    def glowing(self) -> None:
        """A fire that has burnt for an hour."""
        self.glow, self._alight, self._flue = 1.2, 1.0, 0.9

    def add_wood(self, charges: float) -> None:
        """Wood on top."""
        self.wood = min(self.wood + charges, 4.0)
        self._banked = False

    def add_coal(self, charges: float) -> None:
        """Coal on top: green until it has dried and caught."""
        self.green = min(self.green + charges, 4.0)
        self._banked = False

    def bank(self) -> None:
        """Pushed back and covered."""
        self._banked = True

    def drop(self) -> None:
        """Out of the firebox."""
        self.wood = self.green = self.glow = self._alight = 0.0

    def die(self, dt: float) -> None:
        """Go out, whatever is put on."""
        left = math.exp(-dt / 240.0)
        self.wood, self.green, self.glow = self.wood * left, self.green * left, self.glow * left

    def step(self, dt: float, blower: float, damper: float, water_k: float) -> float:
        """Burn for `dt` [s], blower and damper 0 to 1 open. Returns the heat to the water [W]."""
        trim, minute = self.trim, 60.0 * self.trim.pace
        air = (0.08 + 0.92 * damper) * trim.natural * (0.5 + 0.5 * self._flue)
        air = (air + 0.38 * blower * (0.35 + 0.65 * damper)) * (0.25 if self._banked else 1.0)
        fuel_hot = self.glow + 0.8 * self.wood * self._alight
        caught = fuel_hot / (fuel_hot + 0.3)
        self._alight += (
            self._alight * (1.0 - self._alight) * dt / trim.catch_s if self.wood else 0.0
        )
        woods = self._alight * (0.25 + air) * self.wood / (self.wood + 0.8) * 1.3
        catching = self.green * caught * (0.3 + air) / (5.0 * minute)
        coals = air * self.glow / (self.glow + 0.45) * 1.45
        self.wood = max(self.wood - woods * dt / (8.0 * minute), 0.0)
        self.green = max(self.green - catching * dt, 0.0)
        self.glow = max(self.glow + (0.9 * catching - coals / (10.0 * minute)) * dt, 0.0)
        dulled = 1.0 - 0.30 * self.green / (self.green + 1.2)
        gas = 1.2 * minute * catching  # the part that burns as flame when coal catches
        power = min((coals + trim.wood_heat * woods + gas) * dulled, 0.3 + 1.15 * air)
        power *= self._random_factor(dt)
        wasted = 1.0 + 0.18 * air * air
        flame_w = self._full_w * self._day * power / wasted
        # the hotter the water, the less heat the plates take from the flame
        flame_w *= 1.0 - 0.16 * max(water_k - 373.0, 0.0) / 85.0
        self._flue += (min(power, 1.0) - self._flue) * min(dt / (3.0 * minute), 1.0)
        self._heat_w += (flame_w - self._heat_w) * min(dt / (0.8 * minute), 1.0)
        return self._heat_w

    def _random_factor(self, dt: float) -> float:
        """The fire's random variation about 1: a first-order autoregressive process."""
        if not self._draws:
            self._draws = list(self._draw.standard_normal(512))
        left = math.exp(-dt / self.trim.restless_s)
        self._variation *= left
        self._variation += self.trim.restless * math.sqrt(1.0 - left * left) * self._draws.pop()
        return math.exp(self._variation)
