"""What several tries at one answer come to. Knows alternatives and their probabilities only.

A value that was asked again is said again, usually in other noise: two weak hearings that agree
are worth more than either. Updating over turns beat judging each by itself in published dialogue
systems (Bohus and Rudnicky). Pure.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from assistant.messages import Alternative, Heard, Meaning, Report

_FLOOR = 0.03  # what an earlier hearing leaves to a meaning it did not list
WEIGHT = 0.7  # of an earlier hearing: the same voice makes the same mistakes (judgement)
LASTS_S = 45.0  # judgement: after that the gauge may have moved
LEAST_LOG_RATIO = -2.5  # an earlier hearing below these was hardly speech for us, and says nothing
LEAST_AVERAGE = -1.6


@dataclass(frozen=True, slots=True)
class Evidence:
    """What was heard so far in answer to one question about `what`, less what it was not."""

    what: str
    at: float
    shares: tuple[tuple[Meaning, float], ...]

    def share(self, meaning: Meaning) -> float:
        """What this evidence leaves to a meaning, never nothing."""
        return max(next((p for m, p in self.shares if m == meaning), 0.0), _FLOOR)


def _subject(heard: Heard) -> str | None:
    """The one thing that the best alternative reports, None for anything else."""
    best = heard.alternatives[0].meaning if heard.alternatives else None
    return best.what if isinstance(best, Report) else None


def fused(heard: Heard, before: Evidence | None, at: float) -> tuple[Alternative, ...]:
    """The alternatives with earlier tries at the same answer taken in; their sum stays as it is."""
    what = _subject(heard)
    if before is None or what is None or what != before.what or at - before.at > LASTS_S:
        return heard.alternatives
    ours = [one for one in heard.alternatives if _about(one.meaning, what)]
    others = [one for one in heard.alternatives if not _about(one.meaning, what)]
    mass = sum(one.probability for one in ours)
    raw = [one.probability * before.share(one.meaning) ** WEIGHT for one in ours]
    total = sum(raw)
    if total <= 0.0:
        return heard.alternatives
    shared = [
        Alternative(one.meaning, one.words, mass * weight / total)
        for one, weight in zip(ours, raw, strict=True)
    ]
    return tuple(sorted([*shared, *others], key=lambda one: -one.probability))


def _about(meaning: Meaning, what: str) -> bool:
    return isinstance(meaning, Report) and meaning.what == what


def updated_evidence(
    heard: Heard, alternatives: Sequence[Alternative], before: Evidence | None, at: float
) -> Evidence | None:
    """The evidence after this try, when it settled nothing; an unfit one leaves what there was."""
    what = _subject(heard)
    if heard.log_ratio is None or heard.average is None or what is None:
        return before
    if heard.log_ratio < LEAST_LOG_RATIO or heard.average < LEAST_AVERAGE:
        return before
    shares = tuple((a.meaning, a.probability) for a in alternatives if _about(a.meaning, what))
    return Evidence(what, at, shares)


def excluding(evidence: Evidence | None, wrong: Meaning) -> Evidence | None:
    """After a spoken "wrong": whatever it is, it is not that."""
    if evidence is None:
        return None
    kept = tuple((m, 0.0 if m == wrong else p) for m, p in evidence.shares)
    total = sum(p for _, p in kept)
    if total <= 0.0:
        return None
    return Evidence(evidence.what, evidence.at, tuple((m, p / total) for m, p in kept))
