"""The engine's own figures in SI. Values only: knows no file, no unit name, no clock."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, fields
from functools import cached_property

STANDARD_ATMOSPHERE_PA = 101_325.0  # the standard atmosphere, exact by definition (SP 811)

# Specific heat of what warms with the water [J/kgK]. Copper, steel and brass: Babcock & Wilcox,
# "Steam", 1919, table 4 (0.0951, 0.117, 0.0883 Btu/lb F). Cast iron: from memory, to be checked.
SPECIFIC_HEAT_J_PER_KG_K: Mapping[str, float] = {
    "steel": 490.0,
    "copper": 398.0,
    "brass": 370.0,
    "iron": 540.0,
}


@dataclass(frozen=True, slots=True)
class Glass:
    """The gauge glass: heights are fractions of what is visible, 0 at the bottom, 1 at the top."""

    visible_m: float
    """length of the visible glass [m]"""
    lower_mark: float
    """the owner's lower mark [fraction]"""
    upper_mark: float
    """the owner's upper mark [fraction]"""
    cold_fill: float
    """height to which the owner fills the cold boiler [fraction]"""
    points: tuple[tuple[float, float], ...]
    """(height [fraction], cold water in the boiler [litre]), rising, two or more"""


@dataclass(frozen=True, slots=True)
class UsualRise:
    """The owner's word for how long she takes, from lighting a cold engine to a pressure."""

    seconds: float
    """from lighting [s]"""
    gauge_pa: float
    """to this pressure [Pa gauge]"""


# Figures that an engine file may mark as guessed: by which the belief is wider.
GUESSED = ("volume", "metal", "water", "rate")
# Kinds of engine: which of them stand on wheels of their own, and have a gear to take out.
KINDS = ("traction", "roller", "portable", "launch", "locomotive", "stationary")
BRITISH, AMERICAN = WORDS = ("british", "american")  # in which an owner may be spoken to
ON_WHEELS = frozenset({"traction", "roller", "portable", "locomotive"})
GEARED = frozenset({"traction", "roller"})


@dataclass(frozen=True)
class Engine:
    """One engine as its file describes it, in SI; gauge pressures are above `atmosphere_pa`."""

    name: str
    """as the owner calls it"""
    working_pressure_gauge_pa: float
    """the highest pressure wanted in use [Pa gauge]"""
    valve_lifts_gauge_pa: float
    """where the safety valve opens fully: its set pressure [Pa gauge]"""
    valve_feathers_gauge_pa: float | None
    """where the safety valve begins to simmer [Pa gauge]; None for one that never does"""
    volume_m3: float
    """water and steam space together [m3]"""
    metal_kg: Mapping[str, float] = field(hash=False)
    """what warms with the water, by metal, keys of `SPECIFIC_HEAT_J_PER_KG_K` [kg]"""
    barrel_diameter_m: float | None
    """inside diameter of the barrel [m]; None where the file leaves it out"""
    barrel_length_m: float | None
    """length of the barrel [m]; None where the file leaves it out"""
    glass: Glass
    """the gauge glass"""
    wood_until_gauge_pa: float
    """up to this pressure the fire is kept with wood [Pa gauge]"""
    fire_rate_w: float | None = None
    """rough heat to the water at full fire [W]; None where the file leaves it out"""
    tank_m3: float | None = None
    """volume of the feed tank [m3]; None where the file leaves it out"""
    pump_m3_per_s: float | None = None
    """delivery at tick-over with the bypass shut [m3/s]; None where the file leaves it out"""
    atmosphere_pa: float = STANDARD_ATMOSPHERE_PA
    """pressure of the air where the engine stands [Pa absolute]"""
    options: frozenset[str] = frozenset()
    """fittings that checklist steps may depend on"""
    water_interval_s: float = 300.0
    """how often the owner wants water and pressure called [s]"""
    gauge_top_pa: float | None = None
    """end of the pressure gauge's dial [Pa gauge]; None where the file leaves it out"""
    nose_up_rad: float = 0.0
    """how far the smokebox end stands above the firebox end, where the glass is [rad]; negative:
    nose down"""
    rise_limit_pa_per_s: float | None = None
    """how fast pressure may rise below half of the working one [Pa/s]; None: no limit given"""
    allowed_pressure_gauge_pa: float | None = None
    """the certified pressure, as on the plate [Pa gauge]; None where the file leaves it out"""

    injector_from_gauge_pa: float | None = None
    """from which pressure the injector starts [Pa gauge]; None where the file leaves it out"""

    usual: UsualRise | None = None
    """how long she usually takes from cold; None where the file leaves it out"""
    kind: str = "traction"
    """one of `KINDS`"""
    words: str = BRITISH
    """in whose words her owner is spoken to: one of `WORDS`"""
    bucket_kg: float | None = None
    """coal in her bucket [kg]; None where the file leaves it out"""
    shovel_kg: float | None = None
    """coal on her shovel [kg]; None where the file leaves it out"""
    water_bucket_m3: float | None = None
    """water in the bucket she is filled with [m3]; None where the file leaves it out"""
    guessed: frozenset[str] = frozenset()
    """figures that the owner does not know and the file guesses: keys of `GUESSED`"""

    def __hash__(self) -> int:
        return self._hash

    @cached_property
    def _hash(self) -> int:
        """Computed once: engines are keys of several caches."""
        return hash(tuple(getattr(self, each.name) for each in fields(self) if each.hash is None))

    @property
    def valve_moves_gauge_pa(self) -> float:
        """Where the safety valve should begin to move: its feather, else its lift [Pa gauge]."""
        return self.valve_feathers_gauge_pa or self.valve_lifts_gauge_pa

    @property
    def injector_starts_gauge_pa(self) -> float:
        """From where the injector is tried [Pa gauge]: as given, else 0.35 of the working pressure.

        0.35: before half pressure, as feeds are tried in the trade. Judgement.
        """
        return self.injector_from_gauge_pa or 0.35 * self.working_pressure_gauge_pa

    @property
    def dial_top_gauge_pa(self) -> float:
        """End of the dial [Pa gauge]; twice the working pressure where the file leaves it out.

        Twice: common practice, no source.
        """
        return self.gauge_top_pa or 2.0 * self.working_pressure_gauge_pa

    @property
    def metal_heat_j_per_k(self) -> float:
        """Heat capacity of the metal [J/K]."""
        return sum(SPECIFIC_HEAT_J_PER_KG_K[name] * kg for name, kg in self.metal_kg.items())
