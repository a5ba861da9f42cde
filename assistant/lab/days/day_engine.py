"""A small engine for random days: fire, heat, pressure, water, fittings, and what they show.

Plain arithmetic in parts of working pressure and of the glass, made for variety and not for truth:
it shares no formula with `boiler/`, `belief/` or `simulator/`, so that none of them is judged by
itself. All figures are invented.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from assistant.boiler.figures import Engine

FAULTS = ("", "", "", "dead gauge", "stuck feed", "stuck glass", "leak", "valve does not lift")
BOIL_S = 700.0  # from cold to boiling at full fire
RAISE_S = 700.0  # from boiling to working pressure at full fire
GLASS_S = 1500.0  # in which a feed fills the glass
OPENING = {"shut": 0.0, "crack": 0.2, "half": 0.5, "open": 1.0}
FUEL = {"lit": 0.7, "built": 0.9, "coal": 0.8, "bright": 0.9}


@dataclass
class DayEngine:
    """Call `put`, then `step`, then read what a driver would see."""

    engine: Engine
    fault: str = ""
    """One of `FAULTS`."""
    heat: float = 0.0
    """0 cold, 1 boiling."""
    pressure: float = 0.0
    """The true gauge pressure as a part of working pressure."""
    level: float = 0.5
    """The true water as a fraction of the glass; below 0 it is out of sight."""
    fuel: float = 0.0
    """What burns, 0 to 1."""
    tank: float = 0.8
    """What is left in the tank, 0 to 1."""
    states: dict[str, str] = field(default_factory=dict)
    """How the fittings are, by subject."""
    lifted: bool = False
    stuck_level: float | None = None

    def put(self, subject: str, value: str) -> None:
        """Put a fitting or the fire into a state."""
        self.states[subject] = value
        if subject == "fire":
            self.fuel = max(self.fuel, FUEL[value]) if value in FUEL else self.fuel
            self.fuel = 0.0 if value in ("drawn", "dead", "run down") else self.fuel
        if self.fault == "stuck glass" and self.stuck_level is None and self.pressure > 0.3:
            self.stuck_level = self.level

    def step(self, dt: float) -> None:
        """Let time pass [s]."""
        of = {s: OPENING.get(self.states.get(s, "shut"), 0.0) for s in ("damper", "blower")}
        running = self.states.get("regulator") == "open"
        feeding = self.feeding and self.tank > 0.0
        draught = 0.25 + 0.5 * of["damper"] + (0.5 * of["blower"] if self.pressure > 0.05 else 0.1)
        power = self.fuel * draught * (0.15 if self.states.get("fire") == "banked" else 1.0)
        self.fuel = max(self.fuel - dt * (0.2 + draught) / 3000.0, 0.0)
        self._warm(power, dt)
        blowing = 1.6 if self.valve == "lifting" else 0.2 if self.valve == "feathering" else 0.0
        use = 0.12 * self.pressure + 0.35 * running + blowing + (0.4 if feeding else 0.0)
        if self.heat >= 1.0:
            self.pressure += dt * (power - use) / RAISE_S
        self.pressure = min(max(self.pressure, 0.0), 1.35)
        gone = 0.2 * running + 0.5 * blowing + 0.06 * power * (self.pressure > 0.0)
        gone += 0.8 if self.fault == "leak" and self.pressure > 0.4 else 0.0
        gain = 1.0 if feeding and self.fault != "stuck feed" else 0.0
        self.level = min(max(self.level + dt * (gain - gone) / GLASS_S, -0.6), 1.15)
        self.tank -= dt * 0.3 / GLASS_S if feeding else 0.0
        self._move_valve()

    def _warm(self, power: float, dt: float) -> None:
        before = self.heat
        cooling = 0.05 * self.heat if self.pressure <= 0.0 else 0.0
        self.heat = min(max(self.heat + dt * (power - cooling) / BOIL_S, 0.0), 1.0)
        self.level += 0.07 * (self.heat - before)  # water swells as it warms

    def _move_valve(self) -> None:
        lifts = self.engine.valve_lifts_gauge_pa / self.engine.working_pressure_gauge_pa
        self.lifted = self.pressure >= lifts or (self.lifted and self.pressure > 0.96 * lifts)
        self.lifted = self.lifted and self.fault != "valve does not lift"

    # --- what a driver sees

    @property
    def feeding(self) -> bool:
        """Whether a feed is on."""
        return "on" in (self.states.get("feed"), self.states.get("hand pump")) or (
            self.states.get("bypass") == "shut" and self.states.get("regulator") == "open"
        )

    @property
    def valve(self) -> str:
        """shut, feathering or lifting."""
        feathers = self.engine.valve_moves_gauge_pa / self.engine.working_pressure_gauge_pa
        if self.lifted:
            return "lifting"
        moves = self.pressure >= feathers and self.fault != "valve does not lift"
        return "feathering" if moves else "shut"

    @property
    def gauge_pa(self) -> float:
        """What the gauge shows [Pa gauge]."""
        shown = 0.0 if self.fault == "dead gauge" else self.pressure
        return shown * self.engine.working_pressure_gauge_pa

    @property
    def glass(self) -> float | None:
        """What the glass shows; None: nothing in sight."""
        shown = self.level if self.stuck_level is None else self.stuck_level
        return min(shown, 1.0) if shown > 0.02 else None

    @property
    def fire_in(self) -> bool:
        """Whether something burns."""
        return self.fuel > 0.0

    def seen(self, subject: str) -> str:
        """The state of a subject that can be looked at; "" where nobody knows."""
        return self.valve if subject == "valve" else self.states.get(subject, "")
