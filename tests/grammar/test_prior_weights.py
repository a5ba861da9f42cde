"""How likely things are before they are heard: only the order of size is claimed."""

from __future__ import annotations

import itertools

import pytest

from assistant.grammar.phrases import EXPECTED_KINDS, grammar
from assistant.grammar.prior_weights import EMERGENCY_WEIGHT, is_answer, weight
from assistant.messages import Answer, Correction, Expected, Meaning, Order, Report

STEP = (
    ("out of gear", Report("gear", "out")),
    ("still in gear", Report("gear", "in")),
    ("brake is on", Report("brake", "on")),
    ("pump trouble", Report("cure", "pump_trouble")),
)
QUESTIONS = [
    Expected(kind, STEP if kind == "state" else (), about)
    for kind, about in itertools.product(EXPECTED_KINDS, (None, "pressure", "water"))
]


def psi(value: float) -> Report:
    return Report("pressure", value, "psi")


@pytest.mark.parametrize("expected", QUESTIONS, ids=lambda e: f"{e.kind}-{e.about}")
def test_everything_that_is_accepted_can_be_meant(expected: Expected) -> None:
    made = grammar(expected)
    assert all(weight(meaning, expected) > 0 for meaning in set(made.sentences.values()))


@pytest.mark.parametrize(
    ("expected", "likelier", "less"),
    [
        (Expected("pressure"), psi(75.0), Report("water", 0.5, "glass")),
        (Expected("pressure"), psi(75.0), psi(73.0)),  # a round one
        (Expected("pressure"), psi(75.0), Report("pressure", 5.0, "bar")),
        (Expected("water"), Report("water", 0.5, "glass"), Report("water", 0.43, "glass")),
        (Expected("water"), Report("water", 0.375, "glass"), Report("water", 30.0, "mm")),
        (Expected("answer", about="pressure"), Answer("yes"), psi(75.0)),
        (Expected("answer", about="pressure"), Correction(psi(75.0)), Report("tank", 0.5, "tank")),
        (Expected("state", STEP), Report("gear", "in"), Report("brake", "on")),  # a later step
        (Expected("state", STEP), Report("brake", "on"), Report("cure", "pump_trouble")),
        (Expected("state", STEP), Order("not yet"), Order("how long")),
        (Expected("any"), Report("blower", "half"), Order("how long", 63.0, "psi")),
    ],
)
def test_an_answer_to_the_question_is_likelier(
    expected: Expected, likelier: Meaning, less: Meaning
) -> None:
    assert weight(likelier, expected) > weight(less, expected)


@pytest.mark.parametrize("expected", QUESTIONS, ids=lambda e: f"{e.kind}-{e.about}")
def test_a_danger_is_never_made_unlikely(expected: Expected) -> None:
    for danger in (Report("water", "out of sight"), Report("emergency", "someone hurt")):
        assert weight(danger, expected) >= EMERGENCY_WEIGHT


@pytest.mark.parametrize("expected", QUESTIONS, ids=lambda e: f"{e.kind}-{e.about}")
def test_what_is_looked_for_by_itself_is_part_of_the_grammar(expected: Expected) -> None:
    made = grammar(expected)
    alone = {words: meaning for layer in made.likely for words, meaning in layer.items()}
    assert all(made.meaning(words) == meaning for words, meaning in alone.items())
    missing = [m for m in set(made.sentences.values()) if is_answer(m, expected)]
    assert set(missing) <= set(alone.values())
    assert len(alone) < len(made.sentences)


@pytest.mark.parametrize("kind", ["any", "pressure", "answer"])
def test_what_nobody_asked_about_is_weighed_by_what_can_be_now(kind: str) -> None:
    picks_up, raked, dug = Report("injector", "works"), Report("ash", "raked"), Report("bed", "dug")
    expected = Expected(
        kind,  # type: ignore[arg-type]
        another_phase=frozenset({raked}),
        impossible=frozenset({dug}),
    )
    order = (Report("blower", "half"), picks_up, raked, dug)
    weights = [weight(report, expected) for report in order]
    assert weights == sorted(weights, reverse=True)
    assert len(set(weights)) == 4
    assert weights[-1] > 0  # a rival still


def test_the_weights_follow_the_engine_and_the_sentences_do_not() -> None:
    picks_up = Report("injector", "works")
    named = (("injector picks up", picks_up),)
    fits = grammar(Expected(elsewhere=named))
    cold = grammar(Expected(elsewhere=named, impossible=frozenset({picks_up})))
    assert cold.weight(picks_up) < fits.weight(picks_up)
    assert all(one is other for one, other in zip(cold.layers, fits.layers, strict=True))
