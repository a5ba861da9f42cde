"""Fusion of several tries at one answer. Knows alternatives and their probabilities only.

A value that was asked for again is repeated, usually in other noise: two weak results that agree
are worth more than either. Updating over turns beat judging each utterance by itself in published
dialogue systems (Bohus and Rudnicky). Pure.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from assistant.messages import Alternative, Heard, Meaning, Report

_FLOOR = 0.03  # probability that an earlier try leaves to a meaning it did not list
WEIGHT = 0.7  # exponent of an earlier try: the same voice makes the same mistakes (judgement)
LASTS_S = 45.0  # judgement: after that the gauge may have moved
LEAST_LOG_RATIO = -2.5  # a try below either of these was hardly speech, and is no evidence
LEAST_AVERAGE = -1.6


@dataclass(frozen=True, slots=True)
class Evidence:
    """What has been recognised so far in answer to one question."""

    what: str
    """The subject of the question."""
    at: float
    """Time of the last try [s]."""
    shares: tuple[tuple[Meaning, float], ...]
    """Meanings and their probabilities, those denied by the operator at zero."""

    def share(self, meaning: Meaning) -> float:
        """The probability that this evidence leaves to a meaning, never zero."""
        return max(next((p for m, p in self.shares if m == meaning), 0.0), _FLOOR)


def _subject(heard: Heard) -> str | None:
    """What the best alternative reports; None if it is not a single report."""
    best = heard.alternatives[0].meaning if heard.alternatives else None
    return best.what if isinstance(best, Report) else None


def fused(heard: Heard, before: Evidence | None, at: float) -> tuple[Alternative, ...]:
    """The alternatives with earlier tries at the same answer multiplied in; their sum is kept."""
    what = _subject(heard)
    if before is None or what is None or what != before.what or at - before.at > LASTS_S:
        return heard.alternatives
    same = [alternative for alternative in heard.alternatives if _about(alternative.meaning, what)]
    others = [other for other in heard.alternatives if not _about(other.meaning, what)]
    mass = sum(alternative.probability for alternative in same)
    products = [a.probability * before.share(a.meaning) ** WEIGHT for a in same]
    total = sum(products)
    if total <= 0.0:
        return heard.alternatives
    rescaled = [
        Alternative(alternative.meaning, alternative.words, mass * product / total)
        for alternative, product in zip(same, products, strict=True)
    ]
    return tuple(sorted([*rescaled, *others], key=lambda each: -each.probability))


def _about(meaning: Meaning, what: str) -> bool:
    return isinstance(meaning, Report) and meaning.what == what


def updated_evidence(
    heard: Heard, alternatives: Sequence[Alternative], before: Evidence | None, at: float
) -> Evidence | None:
    """The evidence after a try that settled nothing; a try that is no evidence changes nothing."""
    what = _subject(heard)
    if heard.log_ratio is None or heard.average is None or what is None:
        return before
    if heard.log_ratio < LEAST_LOG_RATIO or heard.average < LEAST_AVERAGE:
        return before
    shares = tuple((a.meaning, a.probability) for a in alternatives if _about(a.meaning, what))
    return Evidence(what, at, shares)


def excluding(evidence: Evidence | None, wrong: Meaning) -> Evidence | None:
    """The evidence after "wrong": that meaning is ruled out."""
    if evidence is None:
        return None
    remaining = tuple((m, 0.0 if m == wrong else p) for m, p in evidence.shares)
    total = sum(p for _, p in remaining)
    if total <= 0.0:
        return None
    return Evidence(evidence.what, evidence.at, tuple((m, p / total) for m, p in remaining))
