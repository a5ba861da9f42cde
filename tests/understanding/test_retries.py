"""Several tries at one answer: agreement grows, a single try stays as it was, "wrong" counts."""

from __future__ import annotations

from collections.abc import Sequence

import pytest

from assistant.messages import Alternative, Answer, Heard, Meaning, Report
from assistant.understanding.retries import LASTS_S, excluding, fused, updated_evidence

HALF, THIRDS = Report("water", 0.5, "glass"), Report("water", 2 / 3, "glass")
SIXTY = Report("pressure", 60.0, "psi")


def heard(*shares: tuple[Meaning, float], log_ratio: float = -0.5, average: float = -0.8) -> Heard:
    found = tuple(Alternative(m, "...", p) for m, p in shares)
    return Heard(0.0, "test", found, log_ratio, average)


def best(alternatives: Sequence[Alternative]) -> tuple[Meaning, float]:
    return alternatives[0].meaning, alternatives[0].probability


def test_two_weak_hearings_that_agree_are_stronger_than_either() -> None:
    first = heard((HALF, 0.7), (THIRDS, 0.3))
    known = updated_evidence(first, fused(first, None, 0.0), None, 0.0)
    meaning, probability = best(fused(first, known, 10.0))
    assert meaning == HALF
    assert 0.75 < probability < 0.9


def test_a_second_hearing_may_turn_the_first() -> None:
    first = heard((THIRDS, 0.6), (HALF, 0.4))
    known = updated_evidence(first, fused(first, None, 0.0), None, 0.0)
    meaning, _ = best(fused(heard((HALF, 0.95), (THIRDS, 0.05)), known, 10.0))
    assert meaning == HALF


def test_the_sum_stays_and_other_things_keep_their_share() -> None:
    first = heard((HALF, 0.7), (THIRDS, 0.2))
    known = updated_evidence(first, first.alternatives, None, 0.0)
    now = heard((HALF, 0.5), (THIRDS, 0.3), (Answer("no"), 0.1))
    after = fused(now, known, 5.0)
    assert sum(a.probability for a in after) == pytest.approx(0.9)
    assert next(a.probability for a in after if a.meaning == Answer("no")) == 0.1


@pytest.mark.parametrize(
    ("now", "at"),
    [
        (heard((SIXTY, 0.9)), 5.0),  # another gauge
        (heard((THIRDS, 0.9)), LASTS_S + 1),  # too long ago
        (heard((Answer("yes"), 0.9)), 5.0),  # no reading at all
        (heard(), 5.0),
    ],
)
def test_what_does_not_belong_together_is_left_alone(now: Heard, at: float) -> None:
    first = heard((HALF, 0.9))
    known = updated_evidence(first, first.alternatives, None, 0.0)
    assert fused(now, known, at) == now.alternatives


def test_wrong_takes_a_meaning_out() -> None:
    first = heard((HALF, 0.8), (THIRDS, 0.2))
    known = excluding(updated_evidence(first, first.alternatives, None, 0.0), HALF)
    meaning, _ = best(fused(heard((HALF, 0.6), (THIRDS, 0.4)), known, 5.0))
    assert meaning == THIRDS


def test_a_hearing_that_was_hardly_speech_says_nothing() -> None:
    faint = heard((HALF, 0.9), average=-2.5)
    assert updated_evidence(faint, faint.alternatives, None, 0.0) is None
