"""Meanings as JSON: the promised shapes, and no two meanings with one shape."""

from __future__ import annotations

import json
from typing import Any

import pytest

from assistant.grammar.meaning_json import meaning_json
from assistant.grammar.phrases import grammar
from assistant.messages import Answer, Correction, Expected, Meaning, Order, Report, Several

SHAPES = [
    (None, None),
    (
        Report("pressure", 75.0, "psi"),
        {"reading": "pressure", "value": 75.0, "unit": "psi"},
    ),
    (Report("fire", "lit"), {"reading": "fire", "value": "lit", "unit": None}),
    (Answer("yes"), {"answer": "yes"}),
    (Order("repeat"), {"command": "repeat"}),
    (Order("wait", 5.0, "minute"), {"command": "wait", "value": 5.0, "unit": "minute"}),
    (
        Correction(Report("pressure", 65.0, "psi")),
        {"correction": {"reading": "pressure", "value": 65.0, "unit": "psi"}},
    ),
    (
        Several((Report("fire", "lit"), Report("damper", "open"))),
        {
            "readings": [
                {"reading": "fire", "value": "lit", "unit": None},
                {"reading": "damper", "value": "open", "unit": None},
            ]
        },
    ),
]


@pytest.mark.parametrize(("meaning", "shape"), SHAPES)
def test_shapes(meaning: Meaning | None, shape: dict[str, Any] | None) -> None:
    assert meaning_json(meaning) == shape


def test_different_meanings_have_different_json() -> None:
    meanings = set(grammar(Expected()).sentences.values())
    assert len({json.dumps(meaning_json(meaning)) for meaning in meanings}) == len(meanings)
