"""What the watch is shown: the last readings, what is believed, the devices. Values only.

The session makes it; the watch reads it. Pressures in Pa gauge, water and tank in fractions.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from assistant.boiler.figures import Engine
from assistant.messages import READINGS

BURNING = frozenset({"lit", "built", "coal", "banked"})


@dataclass(frozen=True, slots=True)
class TimedValue:
    """Something reported, and when [s]."""

    value: float | str
    at: float


@dataclass(frozen=True)
class AlarmInputs:
    """One look at the engine.

    phase: its name. steam_since: from when readings are wanted [s], None while they are not.
    pressure, water, tank: readings that stand, oldest first; the last dozen is enough. Water may
        be the word "out of sight".
    states: the last report of fire, blower, damper, feed, valve ... with its time. `at` is when the
        state began, not when it was last repeated.
    water_now: where the glass is believed to stand, None where nothing is.
    glass_moves: by how much the glass should have moved since `still_since` [fraction].
    plan_at, forecast_at: when working pressure was planned, and when it is now expected [s];
        plan_within_s: how far off the plan itself may be, as it was told [s].
    first_steam_by: when the gauge should have moved at the latest [s].
    emergencies: calls of steam escaping and so on; "over" ends them all.
    lost: devices that do not work, by name. left_open: steps left open aloud.
    """

    engine: Engine
    phase: str = ""
    steam_since: float | None = None
    pressure: tuple[TimedValue, ...] = ()
    water: tuple[TimedValue, ...] = ()
    tank: tuple[TimedValue, ...] = ()
    states: Mapping[str, TimedValue] = field(default_factory=dict)
    water_now: float | None = None
    glass_moves: float | None = None
    plan_at: float | None = None
    forecast_at: float | None = None
    plan_within_s: float = 0.0
    first_steam_by: float | None = None
    emergencies: tuple[TimedValue, ...] = ()
    lost: Mapping[str, TimedValue] = field(default_factory=dict)
    left_open: tuple[str, ...] = ()

    def readings(self, what: str) -> tuple[TimedValue, ...]:
        """The readings of a gauge, oldest first; none for anything else."""
        found: tuple[TimedValue, ...] = getattr(self, what) if what in READINGS else ()
        return found

    def last(self, what: str) -> TimedValue | None:
        """The last reading of a gauge."""
        called = self.readings(what)
        return called[-1] if called else None

    def number(self, what: str, back: int = 1) -> float | None:
        """The last reading but `back - 1` as a number; None when there is none or it is a word."""
        seen = self.readings(what)
        value = seen[-back].value if len(seen) >= back else None
        return value if isinstance(value, float) else None

    @property
    def still_since(self) -> float | None:
        """From when the last readings of the glass have all been the same; None for no reading."""
        since = None
        for seen in reversed(self.water):
            if seen.value != self.water[-1].value:
                break
            since = seen.at
        return since

    def state(self, what: str) -> str:
        """The last reported state of a thing, "" when it was never reported."""
        return str(self.states[what].value) if what in self.states else ""

    @property
    def feeding(self) -> TimedValue | None:
        """Since when water is fed, by the last report: feed on, or the pump's bypass shut."""
        last = max(
            (self.states[what] for what in ("feed", "bypass") if what in self.states),
            key=lambda seen: seen.at,
            default=None,
        )
        return last if last is not None and last.value in ("on", "shut") else None

    @property
    def hot(self) -> bool:
        """There is a fire or steam, so that low water is a danger and not a task."""
        pressure = self.number("pressure") or 0.0
        return self.state("fire") in BURNING or pressure > 0.02 * (
            self.engine.working_pressure_gauge_pa
        )
