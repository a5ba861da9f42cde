"""Which answers are understood in every phase: those that say what they are about."""

from __future__ import annotations

import pytest

from assistant.grammar import prior_weights
from assistant.grammar.named_forms import named_forms, says_its_subject
from assistant.grammar.phrases import EXPECTED_KINDS, grammar
from assistant.messages import Expected, Order, Report

PICKS_UP = Report("injector", "works")
RUN_DOWN = Report("fire", "run down")
NAMED = (("injector picks up", PICKS_UP), ("fire run down", RUN_DOWN))


@pytest.mark.parametrize(
    "form", ["injector picks up", "fire run down", "still in gear", "nobody near", "log signed"]
)
def test_a_form_that_says_its_subject(form: str) -> None:
    assert says_its_subject(form)


@pytest.mark.parametrize("form", ["still the same", "it is shut", "half", "fire", "no better"])
def test_a_form_that_does_not(form: str) -> None:
    assert not says_its_subject(form)


def test_a_form_that_means_two_things_counts_only_where_it_is_asked() -> None:
    pipe = "pipe is hot"
    two = [(pipe, Report("pipe", "hot")), (pipe, Report("injector", "fails")), NAMED[0]]
    assert named_forms(two) == (NAMED[0],)


@pytest.mark.parametrize("kind", EXPECTED_KINDS)
def test_it_is_understood_typed_whatever_is_asked(kind: str) -> None:
    made = grammar(Expected(kind, elsewhere=NAMED))  # type: ignore[arg-type]
    assert made.parse("injector picks up") == PICKS_UP
    assert made.parse("Fire run down.") == RUN_DOWN


def test_its_layer_is_the_same_object_whatever_is_asked_and_yes_or_no_has_none() -> None:
    def layer(kind: str) -> object:
        layers = grammar(Expected(kind, elsewhere=NAMED)).layers  # type: ignore[arg-type]
        return next((each for each in layers if ("fire", "run", "down") in each), None)

    assert layer("pressure") is layer("state") is not None
    assert layer("answer") is None


def test_a_form_that_is_a_sentence_already_keeps_its_meaning() -> None:
    clash = (("say again", Report("log", "signed")),)
    assert grammar(Expected("any", elsewhere=clash)).parse("say again") == Order("repeat")


def test_an_expectation_with_other_lists_has_a_grammar_of_its_own() -> None:
    assert grammar(Expected("any")).parse("injector picks up") is None
    assert grammar(Expected("any", elsewhere=NAMED)).parse("injector picks up") == PICKS_UP


def test_it_is_less_likely_than_what_belongs_here_and_all_together_stay_rare() -> None:
    here = Expected("pressure", elsewhere=NAMED)
    asked = Report("blower", "half")
    assert prior_weights.weight(PICKS_UP, here) < prior_weights.weight(asked, here) / 4
    assert prior_weights.AFTER_A_QUESTION["unasked"] == pytest.approx(11.0)
    assert sum(prior_weights.UNASKED.values()) == pytest.approx(1.0)
