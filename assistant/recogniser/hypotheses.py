"""Several ears' opinions of one utterance as one. Knows meanings and probabilities only.

Each ear's posterior is mixed with a little of "it may be anything", then they are multiplied, as if
their mistakes were independent; that is measured to be nearly so for ears of different make.
"""

from __future__ import annotations

from collections.abc import Sequence

from assistant.messages import Alternative, Meaning
from assistant.recogniser.base import NBest

LIST_WRONG = 0.02  # chance that an ear's whole list is beside the point
UNLISTED = 0.001  # probability an ear that lists others leaves to each meaning it does not list


def product_of_experts(opinions: Sequence[NBest]) -> NBest:
    """One opinion; the first ear's figures of refusal stand, the least one where several have them.

    An ear without alternatives has heard none of our sentences: it takes from every meaning alike.
    """
    if len(opinions) == 1:
        return opinions[0]
    meanings = dict.fromkeys(a.meaning for opinion in opinions for a in opinion.alternatives)
    weights = {meaning: _product(opinions, meaning) for meaning in meanings}
    total = sum(weights.values()) + _product(opinions, None)
    ranked = sorted(weights, key=lambda meaning: -weights[meaning])
    return NBest(
        "+".join(opinion.ear for opinion in opinions),
        tuple(
            Alternative(meaning, _words(opinions, meaning), weights[meaning] / total)
            for meaning in ranked
        ),
        _least([opinion.log_ratio for opinion in opinions]),
        _least([opinion.average for opinion in opinions]),
        next((opinion.text for opinion in opinions if opinion.text), ""),
    )


def _product(opinions: Sequence[NBest], meaning: Meaning | None) -> float:
    """How much all ears together give to a meaning; None: to something that nobody listed."""
    product = 1.0
    for opinion in opinions:
        own = sum(a.probability for a in opinion.alternatives if a.meaning == meaning)
        product *= (1 - LIST_WRONG) * own + LIST_WRONG * UNLISTED
    return product


def _words(opinions: Sequence[NBest], meaning: Meaning) -> str:
    """The words of the ear that is surest of this meaning."""
    said = [a for opinion in opinions for a in opinion.alternatives if a.meaning == meaning]
    return max(said, key=lambda alternative: alternative.probability).words


def _least(figures: Sequence[float | None]) -> float | None:
    known = [figure for figure in figures if figure is not None]
    return min(known) if known else None
