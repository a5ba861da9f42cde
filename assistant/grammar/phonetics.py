"""How far apart two sentences sound, so that words that are confused can be changed for others.

Knows the phonemes of the words we use (from memory, no source); an unknown word counts by its
letters. Knows no meaning.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from functools import lru_cache
from types import MappingProxyType

from assistant.grammar.phoneme_table import PHONEMES

# Phonemes as ARPAbet without stress. Steam is near white noise, where f, th, b and v fail first
# (reference figures: J. Acoust. Soc. Am. 124:1220, read in an excerpt): a difference that rests on
# one of them counts half.
WEAK = frozenset({"F", "TH", "DH", "V", "B", "HH"})
WEAK_COST = 0.5
# Pairs of vowels that regional speech runs together; a difference between them counts half.
NEAR_VOWELS = frozenset(
    frozenset(pair.split())
    for pair in ("IH IY", "EH AE", "AA AO", "AH UH", "OW AO", "AH IH", "EH IH", "AY EY", "ER AH")
)
LEAST_APART = 2.0  # phonemes between any two sentences that are live at once. Judgement


@lru_cache(maxsize=1)
def _sounds() -> Mapping[str, tuple[str, ...]]:
    entries = filter(None, map(str.split, PHONEMES.split(";")))
    return MappingProxyType({word: tuple(said) for word, *said in entries})


def known(word: str) -> bool:
    """Whether the word is in the table."""
    return word in _sounds()


def phonemes(words: Sequence[str]) -> tuple[str, ...]:
    """The phonemes of a sentence; an unknown word gives its letters.

    >>> phonemes(["say", "again"])
    ('S', 'EY', 'AH', 'G', 'EH', 'N')
    """
    return tuple(_flat(words))


def _flat(words: Sequence[str]) -> Iterator[str]:
    for word in words:
        yield from _sounds().get(word, tuple(word.upper()))


def _swap(one: str, other: str) -> float:
    if one == other:
        return 0.0
    if (one in WEAK and other in WEAK) or frozenset({one, other}) in NEAR_VOWELS:
        return WEAK_COST
    return 1.0


def apart(one: Sequence[str], other: Sequence[str]) -> float:
    """How far apart two sentences sound: the least number of phonemes to change, weak ones half.

    >>> apart(["fifteen"], ["fifty"]), apart(["correct"], ["wrong"])
    (1.0, 5.0)
    """
    first, second = phonemes(one), phonemes(other)
    row = [0.0]
    for sound in second:
        row.append(row[-1] + _drop(sound))
    for sound in first:
        above, row = row, [row[0] + _drop(sound)]
        for place, met in enumerate(second):
            row.append(
                min(
                    above[place] + _swap(sound, met),
                    above[place + 1] + _drop(sound),
                    row[place] + _drop(met),
                )
            )
    return row[-1]


def _drop(sound: str) -> float:
    return WEAK_COST if sound in WEAK else 1.0


def alike(one: str, other: str) -> bool:
    """Whether two sentences are too near to be live at once with different meanings.

    >>> alike("injector on", "injector off"), alike("injector running", "injector stopped")
    (True, False)
    """
    first, second = phonemes(one.split()), phonemes(other.split())
    left, right = Counter(first), Counter(second)
    fewest = max((left - right).total(), (right - left).total())
    if fewest * WEAK_COST >= LEAST_APART:  # cannot be near: spares most of the sums
        return False
    return apart(one.split(), other.split()) < LEAST_APART
