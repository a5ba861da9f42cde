"""Single words of one person joined to a number, as a hurried or mumbling person says it.

Knows sounds and chance. A word may be much fainter than the next, so that the recogniser learns
not to be sure of the rest.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from assistant.grammar.numbers import DIGITS, Words
from assistant.lab.tuning.training_corpus import Digits
from assistant.messages import SPEECH_RATE_HZ
from assistant.recogniser.base import Sound

FAINTEST_DB = -18.0  # below the others: still audible in a quiet room


def drawn_digits(rng: np.random.Generator) -> tuple[int, ...]:
    """One to three digits; no leading zero."""
    count = int(rng.choice([1, 2, 3], p=[0.2, 0.45, 0.35]))
    first = rng.integers(1 if count > 1 else 0, 10, 1)
    return tuple(int(digit) for digit in (*first, *rng.integers(0, 10, count - 1)))


def words_of(digits: tuple[int, ...]) -> Words:
    """As they are said.

    >>> words_of((7, 5))
    ('seven', 'five')
    """
    return tuple(DIGITS[digit] for digit in digits)


def joined_digits(takes: Digits, digits: tuple[int, ...], rng: np.random.Generator) -> Sound:
    """One take of each with gaps of 30 to 200 ms, silence around.

    Levels: as recorded, nearly alike, each its own, or one of them faint.
    """
    chosen = [takes[digit][int(rng.integers(len(takes[digit])))] for digit in digits]
    chosen = _levelled([_cut(sound, rng) for sound in chosen], rng)
    parts = [silence(rng.uniform(0.1, 0.45))]
    for at, sound in enumerate(chosen):
        if at:
            parts.append(silence(rng.uniform(0.03, 0.2)))
        parts.append(sound)
    return np.concatenate([*parts, silence(rng.uniform(0.15, 0.5))])


def joined_words(
    takes: Mapping[str, Sequence[Sound]], words: Words, rng: np.random.Generator
) -> Sound:
    """One take of each word, silence around.

    Words of one number run into each other by up to 50 ms or lie up to 150 ms apart, at one pace
    throughout.
    """
    chosen = [takes[word][int(rng.integers(len(takes[word])))] for word in words]
    chosen = _levelled([_cut(sound, rng) for sound in chosen], rng)
    pause_s = rng.uniform(-0.05, 0.15)
    whole = chosen[0]
    for sound in chosen[1:]:
        apart_s = pause_s + rng.uniform(-0.02, 0.02)
        whole = (
            _crossfaded(whole, sound, -apart_s)
            if apart_s < 0
            else np.concatenate([whole, silence(apart_s), sound])
        )
    return np.concatenate([silence(rng.uniform(0.1, 0.45)), whole, silence(rng.uniform(0.15, 0.5))])


def _crossfaded(first: Sound, second: Sound, seconds: float) -> Sound:
    """The end of one under the beginning of the other."""
    count = min(int(seconds * SPEECH_RATE_HZ), len(first) // 2, len(second) // 2)
    if not count:
        return np.concatenate([first, second])
    rising = np.linspace(0, 1, count, dtype=np.float32)
    both = first[-count:] * (1 - rising) + second[:count] * rising
    return np.concatenate([first[:-count], both, second[count:]])


def silence(seconds: float) -> Sound:
    """So much silence."""
    return np.zeros(int(seconds * SPEECH_RATE_HZ), np.float32)


def _cut(sound: Sound, rng: np.random.Generator) -> Sound:
    """Now and then without its first or last 40 ms."""
    if rng.random() > 0.15:
        return sound
    first, last = (int(rng.uniform(0, 0.04) * SPEECH_RATE_HZ) for _ in range(2))
    return sound[first : len(sound) - last]


def _levelled(sounds: list[Sound], rng: np.random.Generator) -> list[Sound]:
    manner = rng.random()
    if manner < 0.4:
        return sounds
    alike = [0.5 * s / max(1e-4, float(np.abs(s).max())) for s in sounds]
    if manner < 0.6:
        gains_db = rng.uniform(-3, 0, len(sounds))
    elif manner < 0.85:
        gains_db = rng.uniform(-12, 0, len(sounds))
    else:
        gains_db = np.zeros(len(sounds))
        gains_db[int(rng.integers(len(sounds))) if rng.random() < 0.4 else 0] = rng.uniform(
            FAINTEST_DB, -6
        )
    return [(s * 10 ** (g / 20)).astype(np.float32) for s, g in zip(alike, gains_db, strict=True)]
