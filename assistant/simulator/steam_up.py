"""One simulated steam-up by a fireman with habits of his own, and the readings that he calls.

Invented engines and habits. Readings are what the practice boiler shows: rounded, late, now and
then wrong.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from assistant.boiler.figures import Engine, Glass
from assistant.boiler.scales import PSI_PA
from assistant.messages import Report
from assistant.simulator.practice_boiler import PracticeBoiler

Rows = tuple[tuple[float, Report], ...]


@dataclass(frozen=True, slots=True)
class Habits:
    """How one fireman works and calls; openings and acts by parts of working pressure."""

    blower_crack: float  # blower cracked from here on
    blower_half: float  # half open from here on
    blower_open: float  # open from here on
    fuel_min: float  # minutes between charges
    charge: float  # size of a charge
    call_min: float  # minutes between readings
    step_psi: float  # resolution to which he reads the dial
    eases_at: float  # blower eased to half here; above 1: never
    feeds_at: float  # a short feed here; above 1: never
    wild: float = 0.01  # share of pressures called wrong by tens of pounds


@dataclass(frozen=True)
class SteamUp:
    """What was called, and what was true every 10 s."""

    rows: Rows  # readings with their times
    reached_s: float | None  # when working pressure was reached
    time_s: np.ndarray
    gauge_pa: np.ndarray
    height: np.ndarray  # shown in the glass, nan out of sight


def draw_habits(seed: int, pace: float) -> Habits:
    """One fireman's habits. pace: of the engine, 1 for a small boiler, larger for slower ones."""
    draw = np.random.default_rng([seed, 11])
    # the blower goes on with the first steam and is eased as pressure comes (common practice)
    crack = float(draw.uniform(0.02, 0.08))
    half = crack + float(draw.uniform(0.03, 0.12))
    return Habits(
        blower_crack=crack,
        blower_half=half,
        blower_open=half + float(draw.uniform(0.05, 0.35)),
        fuel_min=float(draw.uniform(5.0, 9.0)) * pace,
        charge=float(draw.uniform(0.6, 1.0)),
        call_min=float(draw.uniform(2.5, 7.0)),
        step_psi=float(draw.choice([2.0, 5.0, 5.0])),
        eases_at=float(draw.choice([0.85, 0.92, 2.0])),
        feeds_at=float(draw.choice([0.5, 2.0, 2.0])),
    )


def steam_up(
    engine: Engine, engine_seed: int, seed: int, habits: Habits, limit_s: float = 8 * 3600.0
) -> SteamUp:
    """Raise steam from cold to a little over working pressure."""
    draw = np.random.default_rng([seed, engine_seed, 12])
    boiler = PracticeBoiler(
        engine, seed, engine_seed=engine_seed, cold_k=float(draw.uniform(278.0, 293.0)),
        start_height=engine.glass.cold_fill + float(draw.uniform(-0.06, 0.06)),
    )  # fmt: skip
    return _Fireman(engine, boiler, habits, draw).raise_steam(limit_s)


class _Fireman:
    """Tends the boiler by his habits and logs what he calls."""

    def __init__(
        self, engine: Engine, boiler: PracticeBoiler, habits: Habits, draw: np.random.Generator
    ) -> None:
        self.engine, self.boiler, self.habits, self.draw = engine, boiler, habits, draw
        self.rows: list[tuple[float, Report]] = []
        self.blower, self.fed_until = "shut", -1.0
        self.fed = False
        jitter = np.exp(0.12 * draw.standard_normal(4))
        self.crack, self.half, self.open = (
            habits.blower_crack * jitter[0], habits.blower_half * jitter[1],
            habits.blower_open * jitter[2],
        )  # fmt: skip
        self.lit_s = float(np.round(draw.uniform(120.0, 600.0)))
        self.next_fuel = self.lit_s + 60.0 * habits.fuel_min
        self.next_call = self.lit_s + 60.0 * habits.call_min
        self.needle_moved = False

    def raise_steam(self, limit_s: float) -> SteamUp:
        """Run until two minutes after working pressure was reached, or to the limit."""
        boiler, target = self.boiler, self.engine.working_pressure_gauge_pa
        times, gauges, heights, reached = [], [], [], None
        self._log("water", self._eighths(), "glass")
        while boiler.at_s < limit_s:
            boiler.step(10.0)
            self._fire()
            self._draught()
            self._feed()
            self._call()
            times.append(boiler.at_s)
            gauges.append(boiler.true_gauge_pa)
            heights.append(boiler.glass_fraction if boiler.glass_fraction is not None else np.nan)
            if reached is None and boiler.true_gauge_pa >= target:
                reached = boiler.at_s
            if reached is not None and boiler.at_s > reached + 120.0:
                break
        return SteamUp(
            tuple(self.rows), reached, np.array(times), np.array(gauges), np.array(heights)
        )

    def _log(self, what: str, value: float | str, unit: str | None = None) -> None:
        self.rows.append((self.boiler.at_s, Report(what, value, unit)))

    def _eighths(self) -> float:
        level = self.boiler.glass_fraction
        assert level is not None, "the water left the glass"
        return round((level + 0.02 * float(self.draw.standard_normal())) * 8.0) / 8.0

    def _fire(self) -> None:
        boiler, engine = self.boiler, self.engine
        if boiler.at_s >= self.lit_s and boiler.fire.wood == 0.0 and boiler.fire.glow == 0.0:
            boiler.light()
            self._log("fire", "lit")
        if boiler.at_s < self.next_fuel:
            return
        wait = 60.0 * self.habits.fuel_min * float(np.exp(0.2 * self.draw.standard_normal()))
        self.next_fuel = boiler.at_s + wait
        amount = self.habits.charge * float(np.exp(0.2 * self.draw.standard_normal()))
        if boiler.true_gauge_pa < engine.wood_until_gauge_pa:
            boiler.wood(amount)
        else:
            boiler.coal(amount)
            if self.draw.random() < 0.9:
                self._log("fire", "coal")

    def _draught(self) -> None:
        part = self.boiler.true_gauge_pa / self.engine.working_pressure_gauge_pa
        wanted = "shut"
        for least, opening in ((self.crack, "crack"), (self.half, "half"), (self.open, "open")):
            wanted = opening if part > least else wanted
        wanted = "half" if part > self.habits.eases_at and wanted == "open" else wanted
        if wanted != self.blower:
            self.blower = wanted
            self.boiler.blower(wanted)
            self._log("blower", wanted)

    def _feed(self) -> None:
        boiler = self.boiler
        part = boiler.true_gauge_pa / self.engine.working_pressure_gauge_pa
        if not self.fed and part > self.habits.feeds_at:
            self.fed, self.fed_until = True, boiler.at_s + float(self.draw.uniform(40.0, 150.0))
            boiler.feed(True)
            self._log("feed", "on")
        if self.fed and 0.0 < self.fed_until <= boiler.at_s:
            self.fed_until = -1.0
            boiler.feed(False)
            self._log("feed", "off")

    def _call(self) -> None:
        boiler, habits = self.boiler, self.habits
        shown_psi = boiler.gauge_pressure_gauge_pa / PSI_PA
        first = not self.needle_moved and shown_psi > 2.5 and self.draw.random() < 0.3
        if not first and boiler.at_s < self.next_call:
            return
        self.next_call = boiler.at_s + 60.0 * habits.call_min * float(self.draw.uniform(0.7, 1.3))
        if shown_psi > 1.0 or self.draw.random() < 0.04:  # a needle at rest is seldom called
            self.needle_moved = self.needle_moved or shown_psi > 2.5
            misread = 0.15 * habits.step_psi * float(self.draw.standard_normal())
            called = max(round((shown_psi + misread) / habits.step_psi) * habits.step_psi, 0.0)
            if self.draw.random() < habits.wild:
                called = max(
                    called + float(self.draw.choice([-20.0, -10.0, 10.0, 20.0, 30.0])), 0.0
                )
            self._log("pressure", called, "psi")
        if boiler.glass_fraction is not None and self.draw.random() < 0.7:
            self._log("water", min(self._eighths(), 1.0), "glass")


def invented_engine(seed: int) -> Engine:
    """An invented engine: by turns a small copper boiler, a steel one, one of full size."""
    draw = np.random.default_rng([seed, 13])

    def about(value: float, sigma: float = 0.12) -> float:
        return value * float(np.exp(sigma * draw.standard_normal()))

    size = seed % 3
    volume = about((0.0150, 0.105, 0.90)[size])
    metal = ({"copper": about(13.0)}, {"steel": about(400.0)}, {"steel": about(2100.0)})[size]
    working = float(round(about((85.0, 120.0, 150.0)[size], 0.08) / 5.0) * 5.0)
    low, span = volume * 1000.0 * about(0.60, 0.03), volume * 1000.0 * about(0.24, 0.1)
    rate = about((5e3, 24e3, 75e3)[size], 0.15)
    rate_in_file = rate if draw.random() < 0.7 else None
    return Engine(
        name=f"invented {('copper', 'steel', 'full size')[size]} {seed}",
        working_pressure_gauge_pa=working * PSI_PA,
        valve_lifts_gauge_pa=working * 1.18 * PSI_PA,
        valve_feathers_gauge_pa=working * 1.09 * PSI_PA,
        volume_m3=volume,
        metal_kg=metal,
        barrel_diameter_m=(0.16, 0.42, 0.80)[size],
        barrel_length_m=(0.35, 0.9, 2.0)[size],
        glass=Glass((0.06, 0.16, 0.25)[size], 0.25, 0.85, 0.5, ((0.0, low), (1.0, low + span))),
        wood_until_gauge_pa=working * 0.28 * PSI_PA,
        fire_rate_w=rate_in_file,
        tank_m3=volume * 0.5,
        pump_m3_per_s=span / 1000.0 / 1500.0,
    )
