"""An owner's list that extends a shipped one."""

from __future__ import annotations

from dataclasses import replace

import pytest
from procedure_story import PHASES  # type: ignore[import-not-found]

from assistant.procedure.checklist import Checklist, Phase
from assistant.procedure.overlay import overlay, replace_list, step_origins


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
    assert laid.step("fire lit").hold, "a hold of the base stays one and stays in"
    files = step_origins(laid)
    assert files["second look"] == ("mine.yaml", 9)
    assert files["wood bed"][0].endswith("firing.yaml")


def test_an_owners_list_takes_the_place_of_the_phases_own(
    phases: dict[Phase, Checklist],
) -> None:
    lists = tuple(phases.values())
    mine = replace(phases[Phase.FIRING], name="mine")
    assert replace_list(lists, mine) == tuple(mine if c.phase is Phase.FIRING else c for c in lists)
    symptom = replace(mine, name="whistle_trouble", phase=None)
    assert replace_list(lists, symptom) == (*lists, symptom), "a new remedy goes to the end"
