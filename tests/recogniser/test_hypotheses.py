"""The lists of two recognisers as one."""

from __future__ import annotations

import pytest

from assistant.messages import Alternative, Answer
from assistant.recogniser.base import NBest
from assistant.recogniser.hypotheses import product_of_experts

YES, NO = Answer("yes"), Answer("no")


def n_best(recogniser: str, yes: float, no: float, **more: float) -> NBest:
    listed = [Alternative(YES, "correct", yes), Alternative(NO, "wrong", no)]
    alternatives = tuple(sorted((a for a in listed if a.probability), key=lambda a: -a.probability))
    return NBest(recogniser, alternatives, **more)


def probability(fused: NBest, meaning: Answer) -> float:
    return sum(a.probability for a in fused.alternatives if a.meaning == meaning)


def test_one_alone_stays_as_it_is() -> None:
    alone = n_best("a", 0.7, 0.3)
    assert product_of_experts([alone]) is alone


def test_agreement_is_surer_than_either() -> None:
    both = product_of_experts([n_best("a", 0.9, 0.1), n_best("b", 0.9, 0.0)])
    assert both.alternatives[0].meaning == YES
    assert probability(both, YES) > 0.99
    assert both.recogniser == "a+b"


def test_disagreement_is_unsure() -> None:
    both = product_of_experts([n_best("a", 0.9, 0.0), n_best("b", 0.0, 0.9)])
    assert probability(both, YES) == pytest.approx(probability(both, NO))
    assert probability(both, YES) < 0.55


def test_one_that_heard_no_sentence_takes_certainty_away() -> None:
    both = product_of_experts([n_best("a", 0.99, 0.01), NBest("b", ())])
    assert probability(both, YES) <= 0.99
    assert sum(a.probability for a in both.alternatives) <= 1


def test_the_least_figures_stand() -> None:
    both = product_of_experts(
        [n_best("a", 1.0, 0.0, log_ratio=-0.2, average=-0.5), n_best("b", 0.9, 0.0, average=-0.9)]
    )
    assert (both.log_ratio, both.average) == (-0.2, -0.9)


def test_nobody_heard_anything() -> None:
    assert product_of_experts([NBest("a", ()), NBest("b", ())]).alternatives == ()
