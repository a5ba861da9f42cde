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
    """The gauge glass: heights are fractions of what is visible, 0 at the bottom, 1 at the top.

    visible_m: length of the visible glass [m].
    lower_mark, upper_mark, cold_fill: the owner's marks [fraction].
    points: (height [fraction], cold water in the boiler [litre]), rising, two or more.
    """

    visible_m: float
    lower_mark: float
    upper_mark: float
    cold_fill: float
    points: tuple[tuple[float, float], ...]


@dataclass(frozen=True)
class Engine:
    """One engine as its file tells it, in SI; gauge pressures are above `atmosphere_pa`.

    metal_kg: what warms with the water, by metal, keys of `SPECIFIC_HEAT_J_PER_KG_K` [kg].
    fire_rate_w: rough heat to the water at full fire [W], None where the file leaves it out.
    pump_m3_per_s: delivery at tick-over with the bypass shut [m3/s], None where left out.
    gauge_top_pa: end of the pressure gauge's dial [Pa gauge], None where left out.
    nose_up_rad: how far the smokebox end stands above the firebox end, where the glass is [rad];
        negative: nose down.
    water_interval_s: how often the owner wants water and pressure called [s].
    rise_limit_pa_per_s: how fast pressure may rise below half of the working one [Pa/s], None
        where the owner gives no limit.
    """

    name: str
    working_pressure_gauge_pa: float
    valve_lifts_gauge_pa: float
    valve_feathers_gauge_pa: float
    volume_m3: float
    metal_kg: Mapping[str, float] = field(hash=False)
    barrel_diameter_m: float
    barrel_length_m: float
    glass: Glass
    wood_until_gauge_pa: float
    fire_rate_w: float | None = None
    tank_m3: float | None = None
    pump_m3_per_s: float | None = None
    atmosphere_pa: float = STANDARD_ATMOSPHERE_PA
    options: frozenset[str] = frozenset()
    water_interval_s: float = 300.0
    gauge_top_pa: float | None = None
    nose_up_rad: float = 0.0
    rise_limit_pa_per_s: float | None = None

    def __hash__(self) -> int:
        return self._hash

    @cached_property
    def _hash(self) -> int:
        """Worked out once: engines are keys of much that is kept."""
        return hash(tuple(getattr(self, one.name) for one in fields(self) if one.hash is None))

    @property
    def dial_top_gauge_pa(self) -> float:
        """End of the dial [Pa gauge]; twice the working pressure where the file is silent.

        Twice: common practice, no source.
        """
        return self.gauge_top_pa or 2.0 * self.working_pressure_gauge_pa

    @property
    def metal_heat_j_per_k(self) -> float:
        """Heat capacity of the metal [J/K]."""
        return sum(SPECIFIC_HEAT_J_PER_KG_K[name] * kg for name, kg in self.metal_kg.items())
