"""Number words that one person read one by one, joined to numbers as they are said.

Knows a folder of recordings and sounds: a file for each word, named by its figures or the word
itself (0.wav or zero.ogg to 19, 20, 30 to 90, hundred), one take or, as "h-7.wav", a second.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path

import numpy as np

from assistant.devices.sound import read_samples
from assistant.enrolment.clip_corpus import LabelledClip, trimmed
from assistant.errors import InputWrongError
from assistant.grammar.numbers import DIGITS, TEENS, TENS, Words
from assistant.grammar.phrases import PROMPTS
from assistant.lab.tuning.digit_joining import silence
from assistant.lab.tuning.training_corpus import DIGIT, READER, at_peak
from assistant.recogniser.base import Sound

_TENS = TENS[2:]
_FIGURES = {
    **dict(enumerate((*DIGITS, *TEENS))), **{20 + 10 * at: word for at, word in enumerate(_TENS)}
}  # fmt: skip
_PROMPTS = ("pressure", "any", "answer")
_KINDS = ("wav", "au", "flac", "ogg")  # of sound files


def readers_clips(folders: Sequence[Path], rng: np.random.Generator) -> Iterator[LabelledClip]:
    """What each of several people read, a folder each."""
    for number, folder in enumerate(folders, 1):
        yield from reader_clips(folder, f"{READER} {number}", rng)


def reader_clips(folder: Path, who: str, rng: np.random.Generator) -> Iterator[LabelledClip]:
    """Single digits, and numbers to 130 as words; InputWrongError where the folder has none."""
    takes = {word: _takes(folder, (str(figure), word)) for figure, word in _FIGURES.items()}
    takes["hundred"] = _takes(folder, ("hundred",))
    if not all(takes[word] for word in DIGITS):
        raise InputWrongError(f"{folder}: no number words there (0.wav to 9.wav wanted at least)")
    for word in DIGITS:
        for sound in takes[word]:
            yield LabelledClip(sound, (word,), who, READER, DIGIT)
    for words in _numbers():
        if all(takes[word] for word in words):
            prompt = PROMPTS[_PROMPTS[int(rng.integers(len(_PROMPTS)))]]  # type: ignore[index]
            yield LabelledClip(_joined(words, takes, rng), words, who, READER, prompt)


def _takes(folder: Path, names: Sequence[str]) -> list[Sound]:
    files = [
        file
        for name in names
        for take in (name, f"h-{name}")
        for kind in _KINDS
        if (file := folder / f"{take}.{kind}").is_file()
    ]
    return [at_peak(trimmed(read_samples(file), 0.02, 35.0)) for file in files]


def _numbers() -> Iterator[Words]:
    yield from ((word,) for word in (*TEENS, *_TENS))
    yield from ((ten, unit) for ten in _TENS for unit in DIGITS[1:])
    yield from (("one", "hundred", word) for word in (*TEENS, *_TENS))


def _joined(words: Words, takes: dict[str, list[Sound]], rng: np.random.Generator) -> Sound:
    parts: list[Sound] = []
    for word in words:
        of_word = takes[word]
        parts += [of_word[int(rng.integers(len(of_word)))], silence(rng.uniform(0.0, 0.07))]
    return np.concatenate(parts[:-1])
