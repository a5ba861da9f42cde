"""The inputs of the alarm watch: last readings, estimates, devices. Values only.

The session makes them; the watch reads them.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from assistant.boiler.figures import Engine
from assistant.picture.fire import BURNING
from assistant.picture.picture import Picture

AT_REST = 0.02  # of working pressure: a gauge called no higher is at rest


@dataclass(frozen=True, slots=True)
class TimedValue:
    """A reported value or state, and its time [s]."""

    value: float | str
    at: float


@dataclass(frozen=True)
class AlarmInputs:
    """One look at the engine. Pressures in Pa gauge, water and tank in fractions, times in s."""

    engine: Engine
    phase: str = ""
    """The name of the phase."""
    steam_since: float | None = None
    """From when readings are wanted; None while they are not."""
    pressure: tuple[TimedValue, ...] = ()
    """Accepted readings, oldest first; the last dozen is enough."""
    water: tuple[TimedValue, ...] = ()
    """The same; a value may be the words "out of sight"."""
    tank: tuple[TimedValue, ...] = ()
    """The same."""
    states: Mapping[str, TimedValue] = field(default_factory=dict)
    """The last state of fire, blower, damper, feed, valve ... and when it began."""
    water_now: float | None = None
    """Where the glass is believed to stand; None when that is not known."""
    water_cause: str = ""
    """By what the glass moves, as believed: use, loss, feed, expansion; empty where it stands."""
    picture: Picture | None = None
    """What is known now, with its age and its witnesses; None only where nothing was made."""
    valve_answered: bool = False
    """Whether it was told to move since the gauge came up to its figure, or shortly before."""
    agreed: bool = False
    """Whether gauge and moving valve have agreed in this run."""
    plan_at: float | None = None
    """When working pressure was planned."""
    forecast_at: float | None = None
    """When working pressure is now expected."""
    plan_margin_s: float = 0.0
    """How far off plan and forecast may be by their own bands."""
    first_steam_by: float | None = None
    """The latest time at which the gauge should have moved."""
    emergencies: tuple[TimedValue, ...] = ()
    """Calls of steam escaping and so on; "over" ends them all."""
    lost_devices: Mapping[str, TimedValue] = field(default_factory=dict)
    """The devices that do not work, by name."""
    left_open: tuple[str, ...] = ()
    """The steps that were left open aloud."""

    def readings(self, gauge: str) -> tuple[TimedValue, ...]:
        """The readings of a gauge, oldest first; none for anything else."""
        match gauge:
            case "pressure":
                return self.pressure
            case "water":
                return self.water
            case "tank":
                return self.tank
        return ()

    def last(self, gauge: str) -> TimedValue | None:
        """The last reading of a gauge."""
        readings = self.readings(gauge)
        return readings[-1] if readings else None

    def number(self, gauge: str, back: int = 1) -> float | None:
        """The reading `back` places from the end as a number; None for none or for a word."""
        readings = self.readings(gauge)
        value = readings[-back].value if len(readings) >= back else None
        return value if isinstance(value, float) else None

    def numbers(self, gauge: str) -> list[tuple[float, float]]:
        """The readings that are numbers, each with its time [s], oldest first."""
        return [(r.value, r.at) for r in self.readings(gauge) if isinstance(r.value, float)]

    def state(self, subject: str) -> str:
        """The last reported state of a subject, "" when it was never reported."""
        return str(self.states[subject].value) if subject in self.states else ""

    @property
    def feeding(self) -> TimedValue | None:
        """The report by which water is fed now: feed on, or the pump's bypass shut."""
        reports = (self.states[s] for s in ("feed", "bypass") if s in self.states)
        last = max(reports, key=lambda report: report.at, default=None)
        return last if last is not None and last.value in ("on", "shut") else None

    @property
    def hot(self) -> bool:
        """Whether there is a fire or steam, which makes low water a danger and not a task."""
        pressed = self.number("pressure") is not None and not self.gauge_at_rest
        return self.state("fire") in BURNING or pressed

    @property
    def dead_at_rest(self) -> bool:
        """Whether the fire is out and the gauge at rest: there is no steam to do anything with."""
        return self.picture is not None and self.picture.fire.out and self.gauge_at_rest

    @property
    def gauge_at_rest(self) -> bool:
        """Whether the gauge was last called at rest; never called is not at rest."""
        gauge = self.number("pressure")
        return gauge is not None and gauge <= AT_REST * self.engine.working_pressure_gauge_pa
