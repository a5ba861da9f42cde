"""What corrects a typed reading, and what does not."""

from __future__ import annotations

import pytest

from assistant.grammar.phrases import grammar
from assistant.grammar.typed_corrections import corrected, set_right
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


@pytest.mark.parametrize(
    ("typed", "right"),
    [
        ("pressure eighty no ninety", Report("pressure", 90.0, "psi")),
        ("pressure eighty, sorry, ninety", Report("pressure", 90.0, "psi")),
        ("water half, no a third", Report("water", 1 / 3, "glass")),
        ("damper open, no it's shut", Report("damper", "shut")),
        ("damper is open, no, shut", Report("damper", "shut")),
    ],
)
def test_a_sentence_that_corrects_itself_tells_what_is_right(typed: str, right: Report) -> None:
    meaning = hear_typed(typed, Expected(), 0.0).alternatives[0].meaning
    assert isinstance(meaning, Report)
    assert (meaning.what, meaning.unit) == (right.what, right.unit)
    if isinstance(right.value, float):
        assert meaning.value == pytest.approx(right.value)
    else:
        assert meaning.value == right.value


@pytest.mark.parametrize(
    "typed",
    [
        "water half no water in sight",
        "pressure eighty, no feed",
        "damper open no smoke",
        "fire is bright no steam",
        "damper open, no, pressure sixty",
    ],
)
def test_no_that_begins_a_report_of_its_own_sets_nothing_right(typed: str) -> None:
    assert set_right(typed, grammar(Expected()).parse) is None
