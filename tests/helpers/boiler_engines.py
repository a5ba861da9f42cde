"""Invented engines for the tests of the boiler and the belief, and a belief about one."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from assistant.belief import estimate
from assistant.belief.estimate import Belief
from assistant.belief.learning import EarlierRun
from assistant.boiler.figures import Engine, Glass
from assistant.messages import Report

PSI = 6894.757293168

Rows = Iterable[tuple[float, Report]]

COPPER = Engine(
    name="small copper, invented",
    working_pressure_gauge_pa=80 * PSI,
    valve_lifts_gauge_pa=95 * PSI,
    valve_feathers_gauge_pa=88 * PSI,
    volume_m3=0.0145,
    metal_kg={"copper": 13.0},
    barrel_diameter_m=0.16,
    barrel_length_m=0.35,
    glass=Glass(0.06, 0.25, 0.85, 0.5, ((0.0, 8.0), (1.0, 11.5))),
    wood_until_gauge_pa=25 * PSI,
    fire_rate_w=5e3,
    tank_m3=0.010,
    pump_m3_per_s=0.3e-3 / 60,
)
STEEL = Engine(
    name="steel, invented",
    working_pressure_gauge_pa=120 * PSI,
    valve_lifts_gauge_pa=145 * PSI,
    valve_feathers_gauge_pa=132 * PSI,
    volume_m3=0.110,
    metal_kg={"steel": 420.0},
    barrel_diameter_m=0.42,
    barrel_length_m=0.9,
    glass=Glass(0.16, 0.25, 0.85, 0.5, ((0.0, 68.0), (1.0, 96.0))),
    wood_until_gauge_pa=35 * PSI,
    fire_rate_w=28e3,
    tank_m3=0.045,
    pump_m3_per_s=1.6e-3 / 60,
)
FULL = Engine(
    name="full size, invented",
    working_pressure_gauge_pa=150 * PSI,
    valve_lifts_gauge_pa=175 * PSI,
    valve_feathers_gauge_pa=165 * PSI,
    volume_m3=0.9,
    metal_kg={"steel": 2200.0},
    barrel_diameter_m=0.8,
    barrel_length_m=2.0,
    glass=Glass(0.25, 0.25, 0.85, 0.5, ((0.0, 560.0), (1.0, 680.0))),
    wood_until_gauge_pa=40 * PSI,
    fire_rate_w=None,
    tank_m3=0.6,
    pump_m3_per_s=10e-3 / 60,
)

# The first hour of a steam-up of STEEL.
RAISING = (
    (0.0, Report("water", 0.5, "glass")),
    (300.0, Report("fire", "lit")),
    (2460.0, Report("pressure", 5, "psi")),
    (2640.0, Report("blower", "half")),
    (2760.0, Report("pressure", 15, "psi")),
    (3120.0, Report("pressure", 30, "psi")),
    (3420.0, Report("pressure", 45, "psi")),
)


def belief_after(rows: Rows, engine: Engine = STEEL, past: Sequence[EarlierRun] = ()) -> Belief:
    """The belief about an engine after these reports, each at its time."""
    belief = estimate.begin(engine, 0.0, past)
    for at_s, report in rows:
        belief = estimate.update(belief, report, at_s)
    return belief


# Lit at five minutes, eighty pounds after an hour.
WARMING = [(300.0, Report("fire", "lit"))] + [
    (60.0 * minute, Report("pressure", pounds, "psi"))
    for minute, pounds in ((42, 5), (48, 20), (53, 40), (57, 60), (61, 80))
]


def with_glass(
    rows: Iterable[tuple[float, Report]], levels: Iterable[tuple[float, float]]
) -> Belief:
    """The belief after these reports and the glass read at these minutes."""
    glasses = [(60.0 * minute, Report("water", level, "glass")) for minute, level in levels]
    return belief_after(sorted([*rows, *glasses], key=lambda row: row[0]))
