"""Examples of the whole training: numbers joined of digits, people's orders, sentences, noise.

Knows a corpus and chance; knows no torch and no file.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, replace

import numpy as np

from assistant.enrolment.augmentation import Augmentation, NoiseMaker, noise
from assistant.enrolment.clip_corpus import LabelledClip
from assistant.enrolment.examples import Example, Examples, MixtureWeights, TextScorer
from assistant.enrolment.spellings import spellings
from assistant.errors import InputWrongError
from assistant.grammar.numbers import Words
from assistant.lab.tuning.digit_joining import drawn_digits, joined_digits, words_of
from assistant.lab.tuning.training_corpus import ORDER_GROUP, Digits, TrainingCorpus, is_person
from assistant.recogniser.base import Sound

SYNTHETIC = 0.4  # of the numbers: more kinds of voice than there are people
TAKES_EXPONENT = 1 / 3  # who was recorded more often is drawn more often, but not in proportion
MOST_TALKERS = 40  # orders that are mixed in as the speech of others


@dataclass(frozen=True, slots=True)
class TrainingMixture(MixtureWeights):
    """Shares of a batch; the rest are sentences."""

    digits: float = 0.40
    """Numbers joined of single digits."""
    orders: float = 0.20
    """People's recorded orders."""


def style_of(text: str) -> str:
    """The style a text is written in: figures or words, hyphens, commas, capital, full stop.

    >>> style_of(" Seven five."), style_of(" 75")
    ('words capital stop', 'figures')
    """
    marks = ["figures" if any(c.isdigit() for c in text) else "words"]
    marks += [name for sign, name in (("-", "hyphen"), (",", "comma")) if sign in text]
    if " " in text.strip() and marks[0] == "figures":
        marks.append("apart")
    marks += ["capital"] if text.strip()[:1].isupper() else []
    marks += ["stop"] if text.endswith(".") else []
    return " ".join(marks)


def with_number_styles(
    corpus: TrainingCorpus, best: TextScorer, seed: int, numbers: int = 1500
) -> TrainingCorpus:
    """The corpus with how often the plain recogniser prefers which style for a number, found on
    joined digits; of a speaker who is held out later, nothing else is known."""
    rng = np.random.default_rng([seed, 1])
    drawn = [_number(corpus, rng) for _ in range(numbers if corpus.digits else 0)]
    prompts = [str(rng.choice(corpus.prompts)) if rng.random() < 0.8 else "" for _ in drawn]
    texts = best([s for s, _ in drawn], prompts, [spellings(words) for _, words in drawn])
    styles: dict[tuple[str, int], Counter[str]] = {}
    for (_, words), prompt, text in zip(drawn, prompts, texts, strict=True):
        styles.setdefault((prompt, len(words)), Counter())[style_of(text)] += 1
    return replace(corpus, number_styles=styles)


def number_text(corpus: TrainingCorpus, words: Words, prompt: str, rng: np.random.Generator) -> str:
    """A spelling of a number in a style drawn as often as the plain recogniser prefers it."""
    texts = spellings(words)
    counted = corpus.number_styles.get((prompt, len(words)))
    if not counted:
        return texts[0]
    styles = list(counted)
    counts = np.array([counted[style] for style in styles], float)
    drawn = styles[int(rng.choice(len(styles), p=counts / counts.sum()))]
    return next((text for text in texts if style_of(text) == drawn), texts[0])


def _number(corpus: TrainingCorpus, rng: np.random.Generator) -> tuple[Sound, Words]:
    people = [who for who in sorted(corpus.digits) if is_person(who)]
    voices = [who for who in sorted(corpus.digits) if not is_person(who)]
    synthetic = voices and (not people or rng.random() < SYNTHETIC)
    speakers = voices if synthetic else people
    digits = drawn_digits(rng)
    weights = np.array([_takes(corpus.digits[who]) ** TAKES_EXPONENT for who in speakers])
    speaker = speakers[int(rng.choice(len(speakers), p=weights / weights.sum()))]
    return joined_digits(corpus.digits[speaker], digits, rng), words_of(digits)


def _takes(digits: Digits) -> int:
    return sum(map(len, digits.values()))


class TrainingExamples(Examples):
    """Makes batches of numbers, orders, sentences and of noise alone."""

    def __init__(
        self,
        corpus: TrainingCorpus,
        augmentation: Augmentation,
        weights: TrainingMixture,
        seed: int,
        make_noise: NoiseMaker = noise,
    ) -> None:
        if not corpus.clips and not corpus.digits:
            raise InputWrongError("nothing to learn from: no recordings and no synthetic voices")
        super().__init__(corpus, augmentation, weights, seed, make_noise)
        self._corpus, self._mixture = corpus, weights
        self._orders = [clip for clip in corpus.clips if clip.group == ORDER_GROUP]
        self._sentences = [clip for clip in corpus.clips if clip.group != ORDER_GROUP]
        self._talkers = [clip.sound for clip in self._orders[:MOST_TALKERS]]

    def _of_speech(self, kind: float, rng: np.random.Generator, prompted: bool) -> Example:
        up_to_digits = self._mixture.nothing + self._mixture.digits
        if self._corpus.digits and kind < up_to_digits:
            return self._of_digits(rng, prompted)
        if self._orders and kind < up_to_digits + self._mixture.orders:
            return self._of_clip(self._orders, rng, prompted)
        if self._sentences:
            return self._of_clip(self._sentences, rng, prompted)
        if self._corpus.digits:
            return self._of_digits(rng, prompted)
        return self._of_clip(self._orders, rng, prompted)

    def _of_digits(self, rng: np.random.Generator, prompted: bool) -> Example:
        sound, words = _number(self._corpus, rng)
        prompt = str(rng.choice(self._prompts)) if prompted else ""
        text = number_text(self._corpus, words, prompt, rng)
        return Example(self._augmented(sound, rng), prompt, text)

    def _is_padded(self, clip: LabelledClip) -> bool:
        return clip.group != ORDER_GROUP
