"""Which named forms with different meanings sound nearest. Knows phonemes; no list and no sound."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from heapq import nsmallest
from itertools import combinations

from assistant.grammar.phonetics import WEAK_COST, distance, phonemes
from assistant.messages import Meaning

Form = tuple[str, Meaning]


@dataclass(frozen=True, slots=True, order=True)
class NearPair:
    """Two forms of words with different meanings."""

    distance: float
    """Phonemes to change, weak ones half (`phonetics.distance`)."""
    words: tuple[str, str]
    """In the order of the alphabet."""


def nearest_pairs(forms: Sequence[Form], count: int) -> list[NearPair]:
    """The nearest pairs, nearest first; equally near ones in the order of the alphabet.

    >>> from assistant.messages import Report
    >>> shut, open_ = Report("cap", "shut"), Report("cap", "open")
    >>> nearest_pairs([("cap shut", shut), ("cap is shut", shut), ("cap open", open_)], 1)
    [NearPair(distance=3.0, words=('cap open', 'cap shut'))]
    """
    sounds = {form: Counter(phonemes(form.split())) for form, _ in forms}
    bounded = sorted(
        (_at_least(sounds[one], sounds[other]), one, other)
        for (one, meaning), (other, rival) in combinations(sorted(forms, key=_words), 2)
        if meaning != rival
    )
    found: list[NearPair] = []
    for least, one, other in bounded:
        if len(found) == count and least > found[-1].distance:
            break
        pair = NearPair(distance(one.split(), other.split()), (one, other))
        found = nsmallest(count, [*found, pair])
    return found


def _words(form: Form) -> str:
    return form[0]


def _at_least(one: Counter[str], other: Counter[str]) -> float:
    """A lower bound of the distance, which spares most of the work."""
    return WEAK_COST * max((one - other).total(), (other - one).total())
