"""An invented engine and the shipped lists, for the tests of the procedure."""

from __future__ import annotations

from dataclasses import replace

from boiler_engines import STEEL

from assistant.config.checklist_file import shipped_checklists
from assistant.procedure.checklist import Checklist, Phase

ENGINE = replace(
    STEEL,
    name="Test engine",
    fire_rate_w=None,
    options=frozenset({"geared pump", "hand pump", "mechanical lubricator"}),
)
SHIPPED = shipped_checklists()
PHASES: dict[Phase, Checklist] = {c.phase: c for c in SHIPPED if c.phase is not None}
TAKING_OVER = next(c for c in SHIPPED if c.name == "taking_over")
CURES = tuple(c for c in SHIPPED if c.phase is None and c is not TAKING_OVER)
