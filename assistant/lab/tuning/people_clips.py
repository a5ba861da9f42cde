"""What is learnt from people who say numbers and commands: takes as spoken, and single words.

Knows the recordings' folder; of the people in it only those that nothing is judged by.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from pathlib import Path

import numpy as np

from assistant.devices.sound import read_samples
from assistant.enrolment.clip_corpus import LabelledClip, trimmed
from assistant.grammar.numbers import DIGITS, TEENS, TENS, Words, spoken_forms
from assistant.grammar.phrases import PROMPTS
from assistant.lab.benches.number_takes import NumberTake, number_takes
from assistant.lab.tuning.training_corpus import WordTakes, at_peak
from assistant.messages import SPEECH_RATE_HZ
from assistant.recogniser.base import Sound

# How often a source is drawn, so that no accent rules because more of its people were recorded.
SOURCE_WEIGHTS = {"an4": 0.3, "coswara": 0.35, "gsc": 0.3, "speechocean": 0.05}
NUMBER_WORDS = frozenset({*DIGITS, *TEENS, *TENS[2:], "oh"})
_TEEN_WEIGHT = 2.0  # teens and tens are what is mistaken for each other
_TEENS_AND_TENS = frozenset({*TEENS[3:], *TENS[2:]})
_DIGIT_WEIGHT = 3.0  # of single digits of `gsc` over its ten commands
_LONGEST_S = 8.0
_AROUND_S = 0.02  # of a single word that is to be joined to others
_LARGEST = 1000  # numbers below it are joined
_LONGEST_NUMBER = 4  # words


def clips_to_learn(recordings: Path, seed: int = 0) -> tuple[LabelledClip, ...]:
    """Every take of the people learnt from, as spoken, at most 8 s long. group: the source."""
    rng = np.random.default_rng([seed, 11])
    clips = []
    for take in _learnt_from(recordings):
        sound = trimmed(read_samples(take.file))
        prompt = _prompt(take, rng)
        if len(sound) < _LONGEST_S * SPEECH_RATE_HZ:
            name = f"{take.source}/{take.speaker}"
            clips.append(LabelledClip(sound, take.words, name, take.source, prompt))
    return tuple(clips)


def words_to_learn(recordings: Path) -> dict[str, WordTakes]:
    """Single number words, by person ("SOURCE/NAME") and word."""
    people: dict[str, dict[str, list[Sound]]] = {}
    for take in _learnt_from(recordings):
        if len(take.words) == 1 and take.words[0] in NUMBER_WORDS:
            sound = at_peak(trimmed(read_samples(take.file), _AROUND_S))
            person = people.setdefault(f"{take.source}/{take.speaker}", {})
            person.setdefault(take.words[0], []).append(sound)
    return dict(people)


def _learnt_from(recordings: Path) -> Sequence[NumberTake]:
    return [take for take in number_takes(recordings) if take.fold == "learn"]


def _prompt(take: NumberTake, rng: np.random.Generator) -> str:
    """What is asked for when this is said: a pressure mostly, of commands something to be said yes
    or no to."""
    kinds = (
        ("answer", "any", "state") if take.kind == "command" else ("pressure", "pressure", "any")
    )
    return PROMPTS[kinds[int(rng.integers(len(kinds)))]]  # type: ignore[index]


def clip_weight(clip: LabelledClip) -> float:
    """How much oftener than another clip of its source it is drawn."""
    if clip.group == "gsc" and clip.words[0] in DIGITS:
        return _DIGIT_WEIGHT
    return _TEEN_WEIGHT if _TEENS_AND_TENS & {*clip.words} else 1.0


@cache
def numbers_of(words: frozenset[str]) -> tuple[tuple[Words, ...], ...]:
    """Forms of whole numbers below 1000 that consist of these words: of one word, of two and so on.

    >>> numbers_of(frozenset({"one", "fifteen"}))[1]
    (('one', 'fifteen'), ('one', 'one'))
    """
    sayable = [form for form in _every_form() if words.issuperset(form)]
    by_length = [
        tuple(form for form in sayable if len(form) == length)
        for length in range(1, _LONGEST_NUMBER + 1)
    ]
    return tuple(of_length for of_length in by_length if of_length)


@cache
def _every_form() -> tuple[Words, ...]:
    return tuple(sorted({form for value in range(_LARGEST) for form in spoken_forms(float(value))}))
