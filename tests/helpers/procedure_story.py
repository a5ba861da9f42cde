"""An invented engine and the shipped lists, for the tests of the procedure."""

from __future__ import annotations

from assistant.boiler.figures import Engine, Glass
from assistant.boiler.scales import PSI_PA
from assistant.config.checklist_file import shipped_checklists
from assistant.procedure.checklist import Checklist, Phase

ENGINE = Engine(
    name="Test engine",  # invented
    working_pressure_gauge_pa=120 * PSI_PA,
    valve_lifts_gauge_pa=145 * PSI_PA,
    valve_feathers_gauge_pa=132 * PSI_PA,
    volume_m3=0.110,
    metal_kg={"steel": 420.0},
    barrel_diameter_m=0.42,
    barrel_length_m=0.9,
    glass=Glass(0.160, 0.25, 0.85, 0.5, ((0.0, 68.0), (1.0, 96.0))),
    wood_until_gauge_pa=35 * PSI_PA,
    tank_m3=0.045,
    pump_m3_per_s=1.6e-3 / 60,
    options=frozenset({"geared pump", "hand pump", "mechanical lubricator"}),
)
SHIPPED = shipped_checklists()
PHASES: dict[Phase, Checklist] = {c.phase: c for c in SHIPPED if c.phase is not None}
TAKING_OVER = next(c for c in SHIPPED if c.name == "taking_over")
CURES = tuple(c for c in SHIPPED if c.phase is None and c is not TAKING_OVER)
