"""The probabilities of the meanings of one utterance: sound and boiler together. Pure.

Knows the recogniser's probabilities; asks the boiler through a function it is given.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from assistant.messages import Alternative, Meaning
from assistant.understanding.context import Chance, no_chance
from assistant.understanding.meanings import reports_in


def meaning_posterior(
    alternatives: Sequence[Alternative], chance: Chance = no_chance
) -> tuple[Alternative, ...]:
    """The alternatives, best first, with the boiler's chances multiplied in.

    Probability moves only between readings of one kind, so that the recogniser's probability of
    each kind, and of "none of the sentences", stays as it was.
    """
    kinds: dict[object, list[Alternative]] = {}
    for alternative in merged(alternatives):
        subjects = tuple((r.what, r.unit) for r in reports_in(alternative.meaning))
        kinds.setdefault(subjects, []).append(alternative)
    posterior: list[Alternative] = []
    for members in kinds.values():
        # the only one of its kind keeps its probability: the boiler need not be asked
        posterior += members if len(members) == 1 else _weighted(members, chance)
    return tuple(sorted(posterior, key=lambda alternative: -alternative.probability))


def merged(alternatives: Sequence[Alternative]) -> list[Alternative]:
    """One alternative for each meaning, in the words that were likeliest for it."""
    by_meaning: dict[Meaning, Alternative] = {}
    for new in sorted(alternatives, key=lambda alternative: -alternative.probability):
        likelier = by_meaning.get(new.meaning)
        total = new.probability + (likelier.probability if likelier else 0.0)
        words = likelier.words if likelier else new.words
        by_meaning[new.meaning] = Alternative(new.meaning, words, total)
    return list(by_meaning.values())


def _boiler_weight(meaning: Meaning, chance: Chance) -> float | None:
    """The boiler's factor on a meaning; None where the boiler has no opinion."""
    known = [c for c in (chance(report) for report in reports_in(meaning)) if c is not None]
    return math.prod(known) if known else None


def _weighted(members: Sequence[Alternative], chance: Chance) -> list[Alternative]:
    weights = [_boiler_weight(alternative.meaning, chance) for alternative in members]
    pairs = list(zip(members, weights, strict=True))
    known = [(alternative, weight) for alternative, weight in pairs if weight is not None]
    return [*(alternative for alternative, weight in pairs if weight is None), *_reshare(known)]


def _reshare(group: Sequence[tuple[Alternative, float]]) -> list[Alternative]:
    """The probability of a group shared out by weight."""
    mass = sum(alternative.probability for alternative, _ in group)
    weighted = sum(alternative.probability * weight for alternative, weight in group)
    if weighted <= 0:
        return [alternative for alternative, _ in group]
    return [
        Alternative(each.meaning, each.words, mass * each.probability * weight / weighted)
        for each, weight in group
    ]
