"""The n-best lists of several recognisers as one. Knows meanings and probabilities only.

Each posterior is mixed with a little of "it may be anything", then they are multiplied as if their
mistakes were independent (product of experts); measured to be nearly so for different makes.
"""

from __future__ import annotations

from collections.abc import Sequence

from assistant.messages import Alternative, Meaning
from assistant.recogniser.base import NBest

LIST_WRONG = 0.02  # chance that a whole list is wrong
UNLISTED = 0.001  # probability left to each meaning that a list does not hold


def product_of_experts(lists: Sequence[NBest]) -> NBest:
    """One list, with the least of the log ratios and averages that are known.

    A recogniser without alternatives heard no sentence: it takes from every meaning alike.
    """
    if len(lists) == 1:
        return lists[0]
    meanings = dict.fromkeys(a.meaning for n_best in lists for a in n_best.alternatives)
    weights = {meaning: _product(lists, meaning) for meaning in meanings}
    total = sum(weights.values()) + _product(lists, None)
    ranked = sorted(weights, key=lambda meaning: -weights[meaning])
    return NBest(
        "+".join(n_best.recogniser for n_best in lists),
        tuple(
            Alternative(meaning, _words(lists, meaning), weights[meaning] / total)
            for meaning in ranked
        ),
        _least([n_best.log_ratio for n_best in lists]),
        _least([n_best.average for n_best in lists]),
        next((n_best.text for n_best in lists if n_best.text), ""),
    )


def _product(lists: Sequence[NBest], meaning: Meaning | None) -> float:
    """What all give to a meaning; None: to one that nobody listed."""
    product = 1.0
    for n_best in lists:
        listed = sum(a.probability for a in n_best.alternatives if a.meaning == meaning)
        product *= (1 - LIST_WRONG) * listed + LIST_WRONG * UNLISTED
    return product


def _words(lists: Sequence[NBest], meaning: Meaning) -> str:
    """The words of the recogniser that is surest of this meaning."""
    listed = [a for n_best in lists for a in n_best.alternatives if a.meaning == meaning]
    return max(listed, key=lambda alternative: alternative.probability).words


def _least(figures: Sequence[float | None]) -> float | None:
    known = [figure for figure in figures if figure is not None]
    return min(known) if known else None
