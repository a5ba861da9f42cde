"""What corrects a typed reading, and what does not."""

from __future__ import annotations

import pytest

from assistant.grammar.phrases import grammar
from assistant.grammar.typed_corrections import corrected
from assistant.messages import Correction, Expected, Order, Report
from assistant.recogniser.typed_recogniser import hear_typed

SIXTY = Report("pressure", 60.0, "psi")
HALF = Report("water", 0.5, "glass")
PRESSURE, WATER = grammar(Expected(about="pressure")), grammar(Expected(about="water"))


@pytest.mark.parametrize(
    "typed",
    [
        "no, i said sixty",
        "make that sixty",
        "Make it 60.",
        "correction, sixty",
        "sixty not seventy",
        "60, not 70",
        "not seventy, sixty",
        "not seventy but sixty",
        "no it is sixty",
        "no, it's sixty",
        "sorry, sixty",
        "i meant sixty",
        "that's wrong, sixty pounds",
        "should be sixty",
        "pressure sixty not seventy",
    ],
)
def test_a_pressure_is_corrected(typed: str) -> None:
    assert corrected(PRESSURE, typed) == Correction(SIXTY)


@pytest.mark.parametrize(
    "typed",
    [
        "make that half",
        "half not a quarter",
        "that's wrong, half a glass",
        "water's half, not full",
    ],
)
def test_water_is_corrected(typed: str) -> None:
    assert corrected(WATER, typed) == Correction(HALF)


@pytest.mark.parametrize("typed", ["sorry, blower shut", "correction, blower's shut"])
def test_a_state_is_corrected(typed: str) -> None:
    assert corrected(PRESSURE, typed) == Correction(Report("blower", "shut"))


@pytest.mark.parametrize(
    "typed",
    [
        "sixty",
        "no",
        "not yet",
        "no, not yet",
        "sixty not half",  # two gauges
        "make that sixty?",
        "make that tea",
        "it isn't sixty",
        "not sixty",
        "it is sixty",
        "blower not shut",
        "sorry",
        "is it sixty not seventy?",
    ],
)
def test_nothing_else_is_a_correction(typed: str) -> None:
    assert corrected(PRESSURE, typed) is None


def test_without_a_reading_called_a_bare_one_corrects_nothing() -> None:
    known = grammar(Expected())
    assert corrected(known, "make that sixty") is None
    assert corrected(known, "sixty not seventy") is None


@pytest.mark.parametrize("typed", ["ignore that", "delete that", "scrub that", "i take that back"])
def test_the_last_is_taken_back(typed: str) -> None:
    assert hear_typed(typed, Expected(), 1.0).alternatives[0].meaning == Order("undo")
