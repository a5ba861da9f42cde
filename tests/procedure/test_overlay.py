"""An owner's list over one of ours."""

from __future__ import annotations

from dataclasses import replace

import pytest
from procedure_story import PHASES  # type: ignore[import-not-found]

from assistant.procedure.checklist import Checklist, Phase
from assistant.procedure.overlay import overlay, step_origins


@pytest.fixture
def phases() -> dict[Phase, Checklist]:
    return PHASES


def test_an_owner_replaces_adds_and_leaves_out(phases: dict[Phase, Checklist]) -> None:
    base = phases[Phase.FIRING]
    draught = base.step("chimney draws")
    own = Checklist(
        name="mine", title="", phase=Phase.FIRING, base="firing", file="mine.yaml",
        leave_out=("chimney extension on", "fire lit"),
        steps=(
            replace(draught, say="Does she draw?", file="mine.yaml", line=3),
            replace(draught, id="second look", put_after="damper open", file="mine.yaml", line=9),
            replace(base.step("fire lit"), hold=False, file="mine.yaml", line=12),
        ),
    )  # fmt: skip
    laid = overlay(base, own)
    ids = [s.id for s in laid.steps]
    assert "chimney extension on" not in ids
    assert ids.index("second look") == ids.index("damper open") + 1
    assert laid.step("chimney draws").say == "Does she draw?"
    assert laid.step("fire lit").hold, "a hold of ours stays one and stays in"
    files = step_origins(laid)
    assert files["second look"] == ("mine.yaml", 9)
    assert files["wood bed"][0].endswith("firing.yaml")
