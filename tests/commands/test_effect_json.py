"""The JSON lines of `run --json`: every effect has one, in the form that programs rely on."""

from __future__ import annotations

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.commands.effect_json import effect_json
from assistant.journal.codec import EFFECTS
from assistant.messages import (
    Decided,
    Effect,
    ForecastMade,
    ReadingAccepted,
    ReadingCorrected,
    ReadingRefused,
    Report,
    Say,
    StepDone,
    StepOvertaken,
    Urgency,
)

PSI = Report("pressure", 75.0, "psi")
LOWER = Report("pressure", 65.0, "psi")


@pytest.mark.parametrize(
    ("effect", "record"),
    [
        (
            StepOvertaken("preparation", "gauge at zero", "steam"),
            {"did": "step", "phase": "preparation", "step": "gauge at zero",
             "state": "overtaken", "because": "steam"},
        ),
        (Say("Half.", Urgency.ANSWER), {"did": "say", "text": "Half.", "urgency": "answer"}),
        (
            ReadingAccepted(PSI),
            {"did": "reading", "reading": "pressure", "value": 75.0, "unit": "psi",
             "state": "accepted"},
        ),
        (
            ReadingCorrected(PSI, LOWER),
            {"did": "reading", "reading": "pressure", "value": 65.0, "unit": "psi",
             "state": "corrected",
             "instead_of": {"reading": "pressure", "value": 75.0, "unit": "psi"}},
        ),
        (
            ReadingCorrected(PSI, None),
            {"did": "reading", "reading": "pressure", "value": None, "unit": None,
             "state": "corrected",
             "instead_of": {"reading": "pressure", "value": 75.0, "unit": "psi"}},
        ),
        (
            Decided("off the gauge", "again"),
            {"did": "decided", "rule": "off the gauge", "kind": "again"},
        ),
        (ReadingRefused(None, "not understood"), {"did": "again", "reason": "not understood"}),
        (
            StepDone("firing", "water", "half"),
            {"did": "step", "phase": "firing", "step": "water", "state": "done", "answer": "half"},
        ),
        (
            ForecastMade(120.0, None, None, None, "damped"),
            {"did": "forecast", "target_psi": 120.0, "minutes": None, "why": "damped"},
        ),
    ],
)  # fmt: skip
def test_the_form_of_a_line(effect: Effect, record: dict[str, object]) -> None:
    assert effect_json(12.34567, effect) == {"at_s": 12.346, **record}


st.register_type_strategy(float, st.floats(allow_nan=False, allow_infinity=False))


@given(st.one_of([st.from_type(kind) for kind in sorted(EFFECTS, key=str)]))
def test_every_effect_is_one_json_object_that_says_what_was_done(effect: Effect) -> None:
    record = json.loads(json.dumps(effect_json(1.0, effect), allow_nan=False))
    assert record["at_s"] == 1.0
    assert isinstance(record["did"], str)
