"""How far apart two sentences sound: a weighted edit distance over phonemes.

An unknown word counts by its letters. Knows no meaning.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Mapping, Sequence
from functools import cache, lru_cache
from types import MappingProxyType

from assistant.grammar.phoneme_table import PHONEMES

# Steam is near white noise, which masks f, th, b and v first (J. Acoust. Soc. Am. 124:1220, read in
# an excerpt): a difference that rests on one of them counts half.
WEAK = frozenset({"F", "TH", "DH", "V", "B", "HH"})
WEAK_COST = 0.5
# Vowel pairs that regional accents merge; a difference between them counts half.
NEAR_VOWELS = frozenset(
    frozenset(pair.split())
    for pair in ("IH IY", "EH AE", "AA AO", "AH UH", "OW AO", "AH IH", "EH IH", "AY EY", "ER AH")
)
MIN_DISTANCE = 2.0  # between any two sentences that are accepted at the same time. Judgement


@lru_cache(maxsize=1)
def _pronunciations() -> Mapping[str, tuple[str, ...]]:
    entries = filter(None, map(str.split, PHONEMES.split(";")))
    return MappingProxyType({word: tuple(sounds) for word, *sounds in entries})


def phonemes(words: Sequence[str]) -> tuple[str, ...]:
    """The phonemes of a sentence; an unknown word gives its letters.

    >>> phonemes(["say", "again"])
    ('S', 'EY', 'AH', 'G', 'EH', 'N')
    """
    table = _pronunciations()
    return tuple(sound for word in words for sound in table.get(word, tuple(word.upper())))


@cache
def _substitution_cost(one: str, other: str) -> float:
    if one == other:
        return 0.0
    if (one in WEAK and other in WEAK) or frozenset({one, other}) in NEAR_VOWELS:
        return WEAK_COST
    return 1.0


def _gap_cost(sound: str) -> float:
    return WEAK_COST if sound in WEAK else 1.0


def distance(one: Sequence[str], other: Sequence[str]) -> float:
    """The least number of phonemes to change, add or drop; weak ones count half.

    >>> distance(["fifteen"], ["fifty"]), distance(["correct"], ["wrong"])
    (1.0, 5.0)
    """
    return _distance(phonemes(one), phonemes(other))


def _distance(first: Sequence[str], second: Sequence[str], enough: float = math.inf) -> float:
    """The distance of two rows of phonemes; `enough` or more where it reaches that."""
    row = [0.0]
    for sound in second:
        row.append(row[-1] + _gap_cost(sound))
    for sound in first:
        above, row = row, [row[0] + _gap_cost(sound)]
        for column, opposite in enumerate(second):
            row.append(
                min(
                    above[column] + _substitution_cost(sound, opposite),
                    above[column + 1] + _gap_cost(sound),
                    row[column] + _gap_cost(opposite),
                )
            )
        if min(row) >= enough:
            return enough
    return row[-1]


@lru_cache(maxsize=100_000)
def _sounds(text: str) -> tuple[tuple[str, ...], Counter[str]]:
    """The phonemes of a sentence, and how often each occurs."""
    found = phonemes(text.split())
    return found, Counter(found)


def alike(one: str, other: str) -> bool:
    """Whether two sentences sound too near to be accepted at once with different meanings.

    >>> alike("injector on", "injector off"), alike("injector running", "injector stopped")
    (True, False)
    """
    (first, left), (second, right) = _sounds(one), _sounds(other)
    if abs(len(first) - len(second)) * WEAK_COST >= MIN_DISTANCE:
        return False
    fewest_edits = max((left - right).total(), (right - left).total())
    if fewest_edits * WEAK_COST >= MIN_DISTANCE:  # a lower bound, which spares most of the work
        return False
    return _distance(first, second, MIN_DISTANCE) < MIN_DISTANCE
