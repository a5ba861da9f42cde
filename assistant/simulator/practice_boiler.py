"""A boiler to practise on: fire, water, steam, fittings, faults, and what its gauges show.

Shares the steam tables with `boiler/`, but no formula for fire, losses, steam use or the glass.
Figures without a source are invented so that times come out as the trade knows them.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping

from assistant.boiler.figures import Engine
from assistant.boiler.steam import saturation_temperature_k
from assistant.simulator import practice_faults
from assistant.simulator.fault_clock import FaultClock
from assistant.simulator.practice_faults import FAULTS
from assistant.simulator.practice_fire import OPENINGS, Fire, FireTrim
from assistant.simulator.practice_steam import at_temperature, steam_columns
from assistant.simulator.practice_trim import (
    Trim,
    draw_trim,
    full_fire_w,
    heat_to_working_pressure_j,
)

SEATS = 0.96  # of the lift: a valve without a feather seats here; common practice, no source
LEAK_S = 1200.0  # in which a whole glass is lost: quick enough to show in every practice
_STEP_S = 2.0


class PracticeBoiler:
    """Call the acts, then `step(dt_s)`, then read what an operator would see.

    seed: the day (coal, weather, the fire's luck). engine_seed: how this engine differs from its
    file, the same for every run; spread: how much. start_gauge_pa: already in steam. fault_at: part
    of working pressure at which faults begin. air_out: no air is left in the boiler.
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
        self.trim = trim or draw_trim(engine_seed, spread)
        self.at_s = 0.0
        begins = fault_at * engine.working_pressure_gauge_pa
        self._active = FaultClock(self.faults, seed, begins)
        self._ambient_k = cold_k
        self._full_w = full_fire_w(engine) * self.trim.heat
        heat_j = heat_to_working_pressure_j(engine)
        self.fire = Fire(self._full_w, heat_j, seed, fire_trim, engine_seed, spread)
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
        self._primed = False
        self._needle_pa: float | None = None
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

    def feed(self, on: bool | str, bypass: str | None = None) -> None:
        """Feed on or off. bypass: "open" returns all water to the tank; default: shut while on."""
        self._feeding = on in (True, "on")
        self._set("bypass", bypass or ("shut" if self._feeding else "open"))

    def prime(self) -> None:
        """Prime the pump: one that lost its prime delivers again."""
        self._primed = True

    def fill_tank(self) -> None:
        """Water into the tank, as much as it holds."""
        if self.engine.tank_m3 is not None:
            self._tank_m3 = self.engine.tank_m3

    @property
    def delivers(self) -> bool:
        """Whether the feed, were it on, would bring water in."""
        part = practice_faults.feed_factor(self._active, self._primed)
        stopped = "feed stuck" in self._active or self._is_dead_injector()
        return part > 0.0 and not stopped and self._tank_m3 > 0.0

    @property
    def injector_picks_up(self) -> bool:
        """Whether the injector, were it tried, would pick up."""
        return "injector warm" not in self._active and self._tank_m3 > 0.0

    def _is_dead_injector(self) -> bool:
        """The injector is the feed, and does not pick up. A pump that is turned goes before it."""
        options = self.engine.options
        is_fed_by_it = "injector" in options and "geared pump" not in options
        return is_fed_by_it and not self.injector_picks_up

    def state(self, what: str) -> str:
        """The opening of blower, damper, regulator, drains or bypass."""
        return self._settings[what]

    def _set(self, what: str, opening: str) -> None:
        if opening not in OPENINGS:
            raise ValueError(f"{what}: {opening!r} is not one of {', '.join(OPENINGS)}")
        if what == "damper" and "damper stuck" in self._active:
            return
        self._settings[what] = opening

    # --- what an operator sees -------------------------------------------------------------------

    @property
    def gauge_pressure_gauge_pa(self) -> float:
        """What the pressure gauge shows [Pa gauge], never below zero."""
        if "gauge cock shut" in self._active:
            return 0.0
        shown = self.true_gauge_pa if self._needle_pa is None else self._needle_pa
        return max(shown, 0.0)

    @property
    def glass_fraction(self) -> float | None:
        """What the glass shows, 0 bottom to 1 top; None: out of sight."""
        height = self.true_height if self._stuck_height is None else self._stuck_height
        return height if 0.0 <= height <= 1.0 else None

    @property
    def valve_state(self) -> str:
        """shut, feathering or lifting."""
        if self._lifted:
            return "lifting"
        feathers = self._as_set(self.engine.valve_feathers_gauge_pa)
        if "valve stuck" in self._active:
            return "shut"
        return "feathering" if feathers and self.true_gauge_pa > feathers else "shut"

    @property
    def primes(self) -> bool:
        """Water is seen at the chimney: it goes over with the steam."""
        return "priming" in self._active and OPENINGS[self._settings["regulator"]] > 0.0

    @property
    def delivery_is_hot(self) -> bool:
        """The boiler's water comes back into the feed pipe, at each stroke of the pump, too."""
        return "clack leaking" in self._active

    @property
    def glass_returns(self) -> str:
        """How the water comes back into a glass that is blown through, as it is called."""
        return practice_faults.glass_returns(self._active)

    @property
    def firebox_is_wet(self) -> bool:
        """Water is seen at a tube's end by who looks into the firebox."""
        return "tube weeping" in self._active

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
        column = steam_columns().pressure_abs_pa
        steam = at_temperature(column, self.temperature_k) - self.engine.atmosphere_pa
        if self._air_pa_per_k <= 0.0:
            return max(steam, 0.0) if self.temperature_k < 373.0 else steam
        room = max(self.engine.volume_m3 - self._liquid_m3(), 1e-4)
        return steam + self._air_pa_per_k * self.temperature_k * self._cold_room_m3 / room

    @property
    def true_height(self) -> float:
        """What a sound glass would show now, 0 bottom to 1 top; may lie outside."""
        return self._height() + practice_faults.swell(
            self._active, OPENINGS[self._settings["regulator"]]
        )

    @property
    def begun(self) -> Mapping[str, float]:
        """When each fault began [s]."""
        return self._active.begun

    @property
    def trouble_at(self) -> float | None:
        """When the faults of the seed's time begin, or would [s]; None: not known yet."""
        return self._active.trouble_at

    def _height(self) -> float:
        """Shown height: the boiler's liquid and bubbles; the column in the glass is cooler."""
        points = self.engine.glass.points
        heights, litres = [p[0] for p in points], [p[1] for p in points]
        middle = (litres[0] + litres[-1]) / 2.0
        now = middle + (1000.0 * (self._liquid_m3() + self._bubbles_m3) - middle) / self.trim.glass
        true = _interpolated(now, litres, heights) + self.trim.glass_zero
        column = steam_columns().water_kg_per_m3
        in_boiler = at_temperature(column, self.temperature_k)
        glass_k = self._ambient_k + 0.35 * (self.temperature_k - self._ambient_k)
        in_glass = at_temperature(column, glass_k)
        return true * in_boiler / in_glass if true > 0.0 else true

    def _liquid_m3(self) -> float:
        table, kelvin = steam_columns(), self.temperature_k
        water = at_temperature(table.water_kg_per_m3, kelvin)
        steam = at_temperature(table.steam_kg_per_m3, kelvin)
        return (self.water_kg - steam * self.engine.volume_m3) / (water - steam)

    def _water_for(self, height: float) -> float:
        """Water [kg] that shows this height now, by bisection."""
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
        self._advance_faults(dt)
        kelvin, gauge = self.temperature_k, self.true_gauge_pa
        _, _, *columns = steam_columns()
        steam_density, h_water, h_steam = (at_temperature(column, kelvin) for column in columns)
        draught = OPENINGS[self._settings["blower"]] * min(max(gauge, 0.0) / 4e5, 1.0) ** 0.7
        fire_w = self.fire.step(dt, draught, OPENINGS[self._settings["damper"]], kelvin)
        fire_w *= practice_faults.fire_factor(self._active)
        steam = self._steam_kg_per_s(max(gauge, 0.0))
        feed = self._feed_kg_per_s(gauge)
        warmer = max(kelvin - self._ambient_k, 0.0)
        # free convection and radiation from a lagged shell: a little steeper than linear
        loss_w = 0.07 * self.trim.loss * self._full_w * (warmer / 160.0) ** 1.2
        net_w = fire_w - loss_w - steam * (h_steam - h_water) - feed * (h_water - 63e3)
        if kelvin >= 372.0 and gauge <= 0.0 and net_w < 0.0:
            net_w *= 0.9
        metal = self.engine.metal_heat_j_per_k * self.trim.metal
        steam_room = max(self.engine.volume_m3 - self._liquid_m3(), 0.0)
        capacity = self.water_kg * (4190.0 + 0.9 * max(kelvin - 373.0, 0.0)) + metal
        # evaporation that fills the steam space as its density rises
        capacity += steam_room * steam_density * 2.0e6 * 0.027
        self.temperature_k = min(max(kelvin + net_w * dt / capacity, self._ambient_k - 5.0), 490.0)
        self._advance_masses(dt, steam, feed, steam_density)
        self._advance_bubbles(dt, steam, steam_density, fire_w, h_steam - h_water)

    def _advance_masses(self, dt: float, steam: float, feed: float, steam_density: float) -> None:
        leak = 0.0
        if "low water" in self._active:
            litres = [litre for _, litre in self.engine.glass.points]
            leak = (litres[-1] - litres[0]) / LEAK_S
        glasses = practice_faults.loss_glasses_per_s(self._active, feed > 0.0)
        if glasses:
            litres = [litre for _, litre in self.engine.glass.points]
            leak += glasses * (litres[-1] - litres[0])
        leak += practice_faults.carried_factor(self._active) * self._engine_steam_kg_per_s()
        self.water_kg = max(self.water_kg + (feed - steam - leak) * dt, 0.02 * self.water_kg)
        self.fed_kg += feed * dt
        self.steam_used_kg += steam * dt
        self.lost_kg += leak * dt
        self._tank_m3 -= feed * dt / 1000.0
        if self._air_pa_per_k > 0.0 and steam > 0.0:
            held = max(steam_density * self.engine.volume_m3 * 0.3, 1e-6)
            self._air_pa_per_k *= math.exp(-steam * dt / held)

    def _advance_bubbles(
        self, dt: float, steam: float, steam_density: float, fire_w: float, latent: float
    ) -> None:
        boiling = 1.0 if self.true_gauge_pa > 0.0 else 0.0
        evaporating = boiling * max(0.15 * fire_w, 0.0) / latent + steam
        bubbles = 0.6 * evaporating / max(steam_density, 0.3)
        bubbles = min(bubbles, 0.03 * self.engine.volume_m3)
        self._bubbles_m3 += (bubbles - self._bubbles_m3) * min(dt / 15.0, 1.0)

    def _steam_kg_per_s(self, gauge: float) -> float:
        """Steam leaving [kg/s], proportional to absolute pressure, as at an orifice (Napier)."""
        if gauge <= 0.0:
            return 0.0
        full = self._full_w / 2.05e6
        rel = (gauge + 1e5) / (self.engine.working_pressure_gauge_pa + 1e5)
        running = OPENINGS[self._settings["regulator"]]
        use = 0.05 * OPENINGS[self._settings["blower"]] * rel
        use += 0.06 * running * OPENINGS[self._settings["drains"]] * rel
        return full * (use + self._valve_discharge(gauge)) + self._engine_steam_kg_per_s()

    def _engine_steam_kg_per_s(self) -> float:
        """What the cylinders take [kg/s]."""
        running = OPENINGS[self._settings["regulator"]]
        gauge = self.true_gauge_pa if running else 0.0
        if gauge <= 0.0:
            return 0.0
        rel = (gauge + 1e5) / (self.engine.working_pressure_gauge_pa + 1e5)
        return self._full_w / 2.05e6 * 0.16 * self.trim.engine_use * running * rel

    def _as_set(self, gauge_pa: float | None) -> float:
        """A figure of the safety valve as this valve is set; 0 for one that it has not."""
        late = 1.15 if "valve late" in self._active else 1.0
        return (
            (gauge_pa or 0.0) * self.trim.valve * late * practice_faults.valve_factor(self._active)
        )

    def _valve_discharge(self, gauge: float) -> float:
        """Steam through the safety valve, as a part of full evaporation."""
        if "valve stuck" in self._active:
            self._lifted = False
            return 0.0
        lifts = self._as_set(self.engine.valve_lifts_gauge_pa)
        feathers = self._as_set(self.engine.valve_feathers_gauge_pa) or lifts
        self._lifted = gauge >= lifts or (self._lifted and gauge > min(feathers, SEATS * lifts))
        if self._lifted:
            return 1.8
        return 0.12 * (gauge - feathers) / (lifts - feathers) if gauge > feathers else 0.0

    def _feed_kg_per_s(self, gauge: float) -> float:
        if not self._feeding or not self.delivers:
            return 0.0
        litres = [litre for _, litre in self.engine.glass.points]
        usual = (litres[-1] - litres[0]) / 1000.0 / 1800.0
        pump = self.engine.pump_m3_per_s or usual
        slip = 1.0 - 0.05 * max(gauge, 0.0) / self.engine.working_pressure_gauge_pa
        slip *= practice_faults.feed_factor(self._active, self._primed)
        return 1000.0 * pump * self.trim.pump * slip * (1.0 - OPENINGS[self._settings["bypass"]])

    def _advance_faults(self, dt: float) -> None:
        new = self._active.advance(self.at_s, self.true_gauge_pa)
        if "no water in tank" in new:
            self._tank_m3 = 0.0
        if "glass stuck" in new:
            self._stuck_height = self.true_height
        if "fire dies" in self._active:
            self.fire.die(dt)
        climb = practice_faults.glass_climb_per_s(self._active)
        if climb is not None:
            now = self.true_height if self._stuck_height is None else self._stuck_height
            self._stuck_height = min(now + climb * dt, 1.0)
        if "gauge slow" in self._active:
            needle = self.true_gauge_pa if self._needle_pa is None else self._needle_pa
            part = practice_faults.needle_part(self._active, dt)
            self._needle_pa = needle + (self.true_gauge_pa - needle) * part


def _interpolated(x: float, xs: list[float], ys: list[float]) -> float:
    i = 0
    while i < len(xs) - 2 and x > xs[i + 1]:
        i += 1
    return ys[i] + (x - xs[i]) * (ys[i + 1] - ys[i]) / (xs[i + 1] - xs[i])
