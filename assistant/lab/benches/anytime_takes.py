"""Who says what, when: the takes of `footplate bench talk --part anytime`, without their sound.

The first takes of a plan are as good a sample of it as all of them: a share is its beginning. The
same share gives the same takes. Knows voices and situations; no recogniser.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from itertools import product
from pathlib import Path
from typing import TypeVar

import numpy as np

from assistant.devices.sound import read_samples
from assistant.grammar.phrases import grammar
from assistant.lab.benches.anytime_situations import (
    ENGINES,
    FIRE_IN,
    NOTHING,
    SITUATIONS,
    YES_OR_NO,
    Situations,
)
from assistant.lab.benches.nearest_forms import NearPair, nearest_pairs
from assistant.lab.benches.talk_trials import OTHER_TALK, SENTENCES, VOICES, DecisionTrial
from assistant.messages import Expected, Meaning, Report
from assistant.simulator.noise import Surroundings
from assistant.simulator.voices import SynthesiserVoice, said_in_a_room

PAIRS, TAKES_A_PAIR = 20, 50
OTHERS, YES_TAKES = 600, 1000  # at a level
_NAMED_SEED, _PAIR_SEED, _OTHER_SEED, _YES_SEED = 41, 43, 47, 53
T = TypeVar("T")
_COMBINATIONS = tuple(product(SITUATIONS, ENGINES))


@dataclass(frozen=True, slots=True)
class Take:
    """One utterance that nobody asked for."""

    said: str
    """The words, or the name of a recording."""
    source: SynthesiserVoice | Path
    """Who says it, or the file in which it is said."""
    situation: str
    engine: frozenset[str]
    """What she is known to be."""
    expected: Expected
    meant: Meaning | None
    """None: it is not for the assistant."""
    seed: tuple[int, int]
    """Of pace, room and noise."""
    pair: NearPair | None = None
    """Of which it is one of the two forms."""
    turn: int = 0
    """Which of several levels, where each take is heard at one of them only."""

    def trial(self, where: Surroundings) -> DecisionTrial:
        """With its sound."""
        rng = np.random.default_rng(self.seed)
        if isinstance(self.source, Path):
            sound = read_samples(self.source)
        else:
            sound = said_in_a_room(self.source, self.said, rng)
        return DecisionTrial(where.with_noise(sound, rng), self.expected, self.meant)


def share_of(takes: Sequence[Take], share: int) -> Sequence[Take]:
    """One in `share` of a plan, rounded up: its beginning."""
    return takes[: -(-len(takes) // share)]


def named_takes(situations: Situations) -> list[Take]:
    """Each named form in each situation, at each engine, every time in another voice.

    The first tenth has each form once and each situation equally often.
    """
    forms = _shuffled(situations.forms, _NAMED_SEED)
    takes: list[Take] = []
    for turn, (place, (form, meant)) in product(range(len(_COMBINATIONS)), enumerate(forms)):
        situation, engine = _COMBINATIONS[(place + turn) % len(_COMBINATIONS)]
        voice = VOICES[(place + place // len(_COMBINATIONS) + 3 * turn) % len(VOICES)]
        expected = situations.expected(situation, engine, form, place * 7 + turn)
        seed = (_NAMED_SEED, len(takes))
        takes.append(Take(form, voice, situation, engine, expected, meant, seed))
    return takes


def pair_takes(situations: Situations) -> list[Take]:
    """Both forms of each of the nearest pairs, in all the voices, with nothing open and fire in."""
    meanings = dict(situations.forms)
    pairs = nearest_pairs(situations.forms, PAIRS)
    expected = situations.expected(NOTHING, FIRE_IN)
    takes: list[Take] = []
    for turn, (place, pair) in product(range(TAKES_A_PAIR), enumerate(pairs)):
        form, round_ = pair.words[turn % 2], turn // 2
        voice = VOICES[(round_ + place) % len(VOICES)]
        seed = (_PAIR_SEED, len(takes))
        level = round_ + round_ // len(VOICES)
        meant = meanings[form]
        takes.append(Take(form, voice, NOTHING, FIRE_IN, expected, meant, seed, pair, level))
    return takes


def other_takes(situations: Situations, orders: Sequence[Path]) -> list[Take]:
    """Other talk in each situation; every second take is a recorded order, where there are any."""
    recorded = _shuffled(orders, _OTHER_SEED)
    takes: list[Take] = []
    for number in range(OTHERS):
        turn = number // 2 if recorded else number
        place = turn + turn // len(OTHER_TALK)
        situation = SITUATIONS[place % len(SITUATIONS)]
        engine = ENGINES[place // len(SITUATIONS) % len(ENGINES)]
        expected = situations.expected(situation, engine, turn=place * 7)
        seed = (_OTHER_SEED, number)
        if recorded and number % 2:
            file = recorded[turn % len(recorded)]
            takes.append(Take(file.stem, file, situation, engine, expected, None, seed))
            continue
        words, voice = OTHER_TALK[turn % len(OTHER_TALK)], VOICES[place % len(VOICES)]
        takes.append(Take(words, voice, situation, engine, expected, None, seed))
    return takes


def yes_takes(situations: Situations) -> list[Take]:
    """Named forms and every third time another report, said while yes or no is awaited."""
    forms = _shuffled(situations.forms, _YES_SEED)
    reports = _reports(dict(forms))
    takes: list[Take] = []
    for number in range(YES_TAKES):
        turn, third = divmod(number, 3)
        pool, place = (reports, turn) if third == 2 else (forms, 2 * turn + third)
        form, meant = pool[place % len(pool)]
        voice = VOICES[(number + place // len(pool)) % len(VOICES)]
        engine = ENGINES[place // len(pool) % len(ENGINES)]
        expected = situations.expected(YES_OR_NO, engine)
        seed = (_YES_SEED, number)
        takes.append(Take(form, voice, YES_OR_NO, engine, expected, meant, seed))
    return takes


def _reports(named: Collection[str]) -> list[tuple[str, Meaning]]:
    """The product sentences that report something and are no named form, with what they mean."""
    read = [(words, grammar(expected).meaning(words.split())) for words, expected in SENTENCES]
    return [
        (words, meant) for words, meant in read if isinstance(meant, Report) and words not in named
    ]


def _shuffled(values: Sequence[T], seed: int) -> list[T]:
    """In an order of its own, always the same."""
    return [values[at] for at in np.random.default_rng(seed).permutation(len(values))]
