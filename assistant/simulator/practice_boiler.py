"""A boiler to practise on: fire bed, water, steam, fittings and faults, and only what can be seen.

It shares the steam tables with `boiler/` and no formula for fire, losses, drawing or the glass.
Every figure without a source here is invented so that times come out as the trade knows them.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from assistant.boiler.figures import Engine
from assistant.boiler.steam import saturated, saturation_temperature_k
from assistant.simulator.practice_fire import OPENINGS, Fire, FireTrim

FAULTS = frozenset(
    {
        "feed stuck",  # the clack's ball is stuck: the pump works, nothing arrives
        "low water",  # water is lost unseen
        "gauge cock shut",  # the pressure gauge stays at nothing
        "fire dies",
        "valve late",  # the safety valve lifts well above its setting
        "glass stuck",  # a choked water passage: the glass stays as it was
    }
)

LEAK_S = 1200.0  # a whole glass is lost in so long: no practice ends before it shows

_FIRST_K = 274
_STEP_S = 2.0


@lru_cache(maxsize=1)
def _rows() -> tuple[list[float], ...]:
    rows = [saturated(float(k)) for k in range(_FIRST_K, 500)]
    return (
        [r.pressure_abs_pa for r in rows],
        [1.0 / r.vf for r in rows],
        [1.0 / r.vg for r in rows],
        [r.hf for r in rows],
        [r.hg for r in rows],
    )


def _look(column: list[float], kelvin: float) -> float:
    place = min(max(kelvin - _FIRST_K, 0.0), len(column) - 1.001)
    whole = int(place)
    return column[whole] + (place - whole) * (column[whole + 1] - column[whole])


@dataclass(frozen=True, slots=True)
class Trim:
    """How this boiler really is, against its file: factors, drawn from the seed."""

    heat: float  # full-fire heat
    metal: float
    glass: float  # litres for the whole glass
    glass_zero: float  # added height
    pump: float
    valve: float
    loss: float
    engine_use: float  # steam at tick-over


def _trim(engine_seed: int, spread: float) -> Trim:
    draw = np.random.default_rng([engine_seed, 1])

    def factor(sigma: float) -> float:
        return float(np.exp(spread * sigma * draw.standard_normal()))

    return Trim(
        heat=factor(0.30),
        metal=factor(0.12),
        glass=factor(0.03),
        glass_zero=0.015 * spread * float(draw.standard_normal()),
        pump=0.85 * factor(0.12),
        valve=factor(0.012),
        loss=factor(0.25),
        engine_use=factor(0.2),
    )


class PracticeBoiler:
    """Call the acts, then `step(dt_s)`, then read what an operator would see.

    seed: this day (coal, weather, the fire's luck). engine_seed: how far this very engine is off
    its file; the same for every run of one engine. start_gauge_pa: already in steam.
    """

    def __init__(
        self,
        engine: Engine,
        seed: int = 0,
        *,
        faults: Iterable[str] = (),
        engine_seed: int = 0,
        spread: float = 1.0,
        cold_k: float = 285.0,
        start_gauge_pa: float | None = None,
        start_height: float | None = None,
        air_out: bool = True,
        fault_at: float = 0.4,
        trim: Trim | None = None,
        fire_trim: FireTrim | None = None,
    ) -> None:
        unknown = set(faults) - FAULTS
        if unknown:
            raise ValueError(f"unknown fault {sorted(unknown)}; known: {sorted(FAULTS)}")
        self.engine, self.faults = engine, frozenset(faults)
        self.trim = trim or _trim(engine_seed, spread)
        self.at_s = 0.0
        self._fault_at = fault_at
        self._ambient_k = cold_k
        self._full_w = full_fire_w(engine) * self.trim.heat
        self.fire = Fire(self._full_w, _heat_scale_j(engine), seed, fire_trim, engine_seed, spread)
        self.temperature_k = cold_k
        if start_gauge_pa is not None:
            self.temperature_k = saturation_temperature_k(start_gauge_pa + engine.atmosphere_pa)
            self.fire.glowing()
        self.water_kg = self._water_for(
            engine.glass.cold_fill if start_height is None else start_height
        )
        self._air_pa_per_k = 0.0 if air_out else engine.atmosphere_pa / cold_k
        self._cold_room_m3 = engine.volume_m3 - self._liquid_m3()
        self._bubbles_m3 = 0.0
        self._stuck_height: float | None = None
        self._leaking = False
        self._lifted = False
        self._settings = {"blower": "shut", "damper": "open", "regulator": "shut"}
        self._settings |= {"drains": "shut", "bypass": "open"}
        self._feeding = False
        self._tank_m3 = engine.tank_m3 if engine.tank_m3 is not None else math.inf
        self.fed_kg = self.steam_used_kg = self.lost_kg = 0.0

    # --- acts ------------------------------------------------------------------------------------

    def light(self) -> None:
        """Kindling and wood on the bars, and a match."""
        self.fire.light()

    def wood(self, charges: float = 1.0) -> None:
        """More wood."""
        self.fire.add_wood(charges)

    def coal(self, charges: float = 1.0) -> None:
        """A thin round of coal (one charge burns in about ten minutes at full fire)."""
        self.fire.add_coal(charges)

    def bank(self) -> None:
        """Bank the fire: fuel pushed back, little air."""
        self.fire.bank()

    def draw_fire(self) -> None:
        """Drop the fire out."""
        self.fire.drop()

    def blower(self, opening: str) -> None:
        """shut, crack, half or open."""
        self._set("blower", opening)

    def damper(self, opening: str) -> None:
        """shut, crack, half or open."""
        self._set("damper", opening)

    def regulator(self, opening: str) -> None:
        """shut, or open to tick-over (crack and half: less)."""
        self._set("regulator", opening)

    def drains(self, opening: str) -> None:
        """Cylinder drains; they blow steam only with the regulator open."""
        self._set("drains", opening)

    def bypass(self, opening: str) -> None:
        """The pump's bypass: open sends all water back to the tank."""
        self._set("bypass", opening)

    def feed(self, on: bool | str, bypass: str | None = None) -> None:
        """Feed on or off; on shuts the bypass unless told otherwise."""
        self._feeding = on in (True, "on")
        self._set("bypass", bypass or ("shut" if self._feeding else "open"))

    def state(self, what: str) -> str:
        """How blower, damper, regulator, drains or bypass stand."""
        return self._settings[what]

    def _set(self, what: str, opening: str) -> None:
        if opening not in OPENINGS:
            raise ValueError(f"{what}: {opening!r} is not one of {', '.join(OPENINGS)}")
        self._settings[what] = opening

    # --- what an operator sees -------------------------------------------------------------------

    @property
    def gauge_pressure_gauge_pa(self) -> float:
        """What the pressure gauge shows [Pa gauge]; its needle rests at nothing."""
        return 0.0 if "gauge cock shut" in self.faults else max(self.true_gauge_pa, 0.0)

    @property
    def glass_fraction(self) -> float | None:
        """What the glass shows, 0 bottom to 1 top; None: out of sight."""
        height = self._height() if self._stuck_height is None else self._stuck_height
        return height if 0.0 <= height <= 1.0 else None

    @property
    def valve_state(self) -> str:
        """shut, feathering or lifting."""
        if self._lifted:
            return "lifting"
        return "feathering" if self.true_gauge_pa > self._feathers_pa() else "shut"

    @property
    def tank_fraction(self) -> float | None:
        """What is left in the tank, 0 to 1; None without a tank."""
        if self.engine.tank_m3 is None:
            return None
        return max(self._tank_m3, 0.0) / self.engine.tank_m3

    # --- the truth -------------------------------------------------------------------------------

    @property
    def true_gauge_pa(self) -> float:
        """The true pressure above the atmosphere [Pa]; negative in a cold tight boiler's vacuum."""
        steam = _look(_rows()[0], self.temperature_k) - self.engine.atmosphere_pa
        if self._air_pa_per_k <= 0.0:
            return max(steam, 0.0) if self.temperature_k < 373.0 else steam
        room = max(self.engine.volume_m3 - self._liquid_m3(), 1e-4)
        return steam + self._air_pa_per_k * self.temperature_k * self._cold_room_m3 / room

    def _height(self) -> float:
        """Shown height: the boiler's liquid and bubbles, in a column cooler than they are."""
        points = self.engine.glass.points
        heights, litres = [p[0] for p in points], [p[1] for p in points]
        middle = (litres[0] + litres[-1]) / 2.0
        now = middle + (1000.0 * (self._liquid_m3() + self._bubbles_m3) - middle) / self.trim.glass
        true = _straight(now, litres, heights) + self.trim.glass_zero
        hot = _look(_rows()[1], self.temperature_k)
        lukewarm = _look(
            _rows()[1], self._ambient_k + 0.35 * (self.temperature_k - self._ambient_k)
        )
        return true * hot / lukewarm if true > 0.0 else true

    def _liquid_m3(self) -> float:
        dense, thin = _look(_rows()[1], self.temperature_k), _look(_rows()[2], self.temperature_k)
        return (self.water_kg - thin * self.engine.volume_m3) / (dense - thin)

    def _water_for(self, height: float) -> float:
        """Water [kg] that shows this height now, by halving."""
        self._bubbles_m3, low, high = 0.0, 0.0, 995.0 * self.engine.volume_m3
        for _ in range(50):
            self.water_kg = (low + high) / 2.0
            low, high = (low, self.water_kg) if self._height() > height else (self.water_kg, high)
        return self.water_kg

    # --- time ------------------------------------------------------------------------------------

    def step(self, dt_s: float) -> None:
        """Let time pass [s]."""
        while dt_s > 1e-9:
            part = min(dt_s, _STEP_S)
            self._step(part)
            dt_s -= part

    def _step(self, dt: float) -> None:
        self.at_s += dt
        self._troubles(dt)
        kelvin, gauge = self.temperature_k, self.true_gauge_pa
        thin, h_water, h_steam = (_look(_rows()[i], kelvin) for i in (2, 3, 4))
        draught = OPENINGS[self._settings["blower"]] * min(max(gauge, 0.0) / 4e5, 1.0) ** 0.7
        fire_w = self.fire.step(dt, draught, OPENINGS[self._settings["damper"]], kelvin)
        steam = self._steam_kg_per_s(max(gauge, 0.0))
        feed = self._feed_kg_per_s(gauge)
        warmer = max(kelvin - self._ambient_k, 0.0)
        # a lagged shell: free convection and radiation, so a little steeper than in proportion
        loss_w = 0.07 * self.trim.loss * self._full_w * (warmer / 160.0) ** 1.2
        net_w = fire_w - loss_w - steam * (h_steam - h_water) - feed * (h_water - 63e3)
        if kelvin >= 372.0 and gauge <= 0.0 and net_w < 0.0:
            net_w *= 0.9
        metal = self.engine.metal_heat_j_per_k * self.trim.metal
        steam_room = max(self.engine.volume_m3 - self._liquid_m3(), 0.0)
        stored = self.water_kg * (4190.0 + 0.9 * max(kelvin - 373.0, 0.0)) + metal
        stored += steam_room * thin * 2.0e6 * 0.027  # steam must be made to fill its room denser
        self.temperature_k = min(max(kelvin + net_w * dt / stored, self._ambient_k - 5.0), 490.0)
        self._pass(dt, steam, feed, thin, fire_w, h_steam - h_water)

    def _pass(
        self, dt: float, steam: float, feed: float, thin: float, fire_w: float, latent: float
    ) -> None:
        leak = 0.0
        if self._leaking:
            litres = [litre for _, litre in self.engine.glass.points]
            leak = (litres[-1] - litres[0]) / LEAK_S
        self.water_kg = max(self.water_kg + (feed - steam - leak) * dt, 0.02 * self.water_kg)
        self.fed_kg += feed * dt
        self.steam_used_kg += steam * dt
        self.lost_kg += leak * dt
        self._tank_m3 -= feed * dt / 1000.0
        if self._air_pa_per_k > 0.0 and steam > 0.0:
            held = max(thin * self.engine.volume_m3 * 0.3, 1e-6)
            self._air_pa_per_k *= math.exp(-steam * dt / held)
        boiling = 1.0 if self.true_gauge_pa > 0.0 else 0.0
        evaporating = boiling * max(0.15 * fire_w, 0.0) / latent + steam
        bubbles = 0.6 * evaporating / max(thin, 0.3)
        bubbles = min(bubbles, 0.03 * self.engine.volume_m3)
        self._bubbles_m3 += (bubbles - self._bubbles_m3) * min(dt / 15.0, 1.0)

    def _steam_kg_per_s(self, gauge: float) -> float:
        """Steam leaving [kg/s], in proportion to absolute pressure as through a hole (Napier)."""
        if gauge <= 0.0:
            return 0.0
        full = self._full_w / 2.05e6
        rel = (gauge + 1e5) / (self.engine.working_pressure_gauge_pa + 1e5)
        running = OPENINGS[self._settings["regulator"]]
        use = 0.05 * OPENINGS[self._settings["blower"]] * rel
        use += 0.16 * self.trim.engine_use * running * rel
        use += 0.06 * running * OPENINGS[self._settings["drains"]] * rel
        return full * (use + self._valve(gauge))

    def _feathers_pa(self) -> float:
        late = 1.15 if "valve late" in self.faults else 1.0
        return self.engine.valve_feathers_gauge_pa * self.trim.valve * late

    def _valve(self, gauge: float) -> float:
        """Discharge as a part of full evaporation."""
        feathers = self._feathers_pa()
        lifts = feathers * self.engine.valve_lifts_gauge_pa / self.engine.valve_feathers_gauge_pa
        self._lifted = gauge >= lifts or (self._lifted and gauge > feathers)
        if self._lifted:
            return 1.8
        return 0.12 * max(gauge - feathers, 0.0) / (lifts - feathers)

    def _feed_kg_per_s(self, gauge: float) -> float:
        stuck = "feed stuck" in self.faults and self._past(0.0)
        if not self._feeding or stuck or self._tank_m3 <= 0.0:
            return 0.0
        litres = [litre for _, litre in self.engine.glass.points]
        usual = (litres[-1] - litres[0]) / 1000.0 / 1800.0
        pump = self.engine.pump_m3_per_s or usual
        slip = 1.0 - 0.05 * max(gauge, 0.0) / self.engine.working_pressure_gauge_pa
        return 1000.0 * pump * self.trim.pump * slip * (1.0 - OPENINGS[self._settings["bypass"]])

    def _past(self, part: float) -> bool:
        return self.true_gauge_pa >= part * self.engine.working_pressure_gauge_pa

    def _troubles(self, dt: float) -> None:
        if not self.faults or not self._past(self._fault_at):
            return
        self._leaking = self._leaking or "low water" in self.faults
        if "fire dies" in self.faults:
            self.fire.die(dt)
        if "glass stuck" in self.faults and self._stuck_height is None:
            self._stuck_height = self._height()


def _straight(x: float, xs: list[float], ys: list[float]) -> float:
    i = 0
    while i < len(xs) - 2 and x > xs[i + 1]:
        i += 1
    return ys[i] + (x - xs[i]) * (ys[i + 1] - ys[i]) / (xs[i + 1] - xs[i])


def _heat_scale_j(engine: Engine) -> float:
    """Roughly what takes this boiler from cold to working pressure [J]."""
    return 165.0 * (engine.metal_heat_j_per_k + 4200.0 * 720.0 * engine.volume_m3)


def full_fire_w(engine: Engine) -> float:
    """Heat to the water at full fire by the file, or what such a size usually has [W].

    Usually: 28 kW for 110 litre of water and steam, as the 0.72th power (invented).
    """
    if engine.fire_rate_w is not None:
        return engine.fire_rate_w
    return float(28e3 * (engine.volume_m3 / 0.110) ** 0.72)
