"""Meanings as JSON: the promised shapes, and the way back for every sentence there is."""

from __future__ import annotations

import json

import pytest

from assistant.grammar.meaning_json import from_json, meaning_json
from assistant.grammar.phrases import grammar
from assistant.messages import Answer, Correction, Expected, Order, Report, Several

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
def test_shapes(meaning, shape) -> None:
    assert meaning_json(meaning) == shape
    assert from_json(shape) == meaning


def test_every_meaning_there_is_comes_back() -> None:
    for meaning in set(grammar(Expected()).sentences.values()):
        assert from_json(json.loads(json.dumps(meaning_json(meaning)))) == meaning


@pytest.mark.parametrize("shape", [{}, {"reading": "pressure"}, {"correction": 5}, {"readings": 7}])
def test_another_shape_is_an_error(shape) -> None:
    with pytest.raises(ValueError, match="not a meaning"):
        from_json(shape)
