"""One batch of what is learnt from: sounds made rough, and the text each should be written as.

Every batch is made from the seed and its number alone, so it is the same however many processes
make them. Knows no torch.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from assistant.enrolment.augmentation import Augmentation, NoiseMaker, augmented, noise
from assistant.enrolment.clip_corpus import Corpus, Digits, LabelledClip, is_person
from assistant.enrolment.digit_joining import drawn_digits, joined_digits, words_of
from assistant.enrolment.spellings import spellings, style_of
from assistant.errors import InputWrongError
from assistant.grammar.numbers import Words
from assistant.messages import SPEECH_RATE_HZ
from assistant.recogniser.base import Sound

VOICED = 0.4  # of the numbers are a synthetic voice's: more kinds of throat than we have people
BY_TAKES = 1 / 3  # power: who was recorded oftener is heard oftener, but not by as much


@dataclass(frozen=True, slots=True)
class MixtureWeights:
    """How much of a batch is what. The rest are sentences in synthetic or an owner's voice.

    prompted: share of examples that get their prompt. nothing: noise alone, to be written as
    nothing.
    """

    digits: float = 0.40
    orders: float = 0.20
    nothing: float = 0.03
    prompted: float = 0.8


@dataclass(frozen=True, slots=True)
class Example:
    """A sound, the prompt that goes with it, and the text to learn ("" for nothing)."""

    sound: Sound
    prompt: str
    text: str


TextScorer = Callable[[Sequence[Sound], Sequence[str], Sequence[Sequence[str]]], list[str]]
"""(sounds, prompts, texts to choose from) -> the best text of each, by the plain ear."""


def with_texts(corpus: Corpus, best: TextScorer, seed: int, numbers: int = 1500) -> Corpus:
    """The corpus with what the untaught ear likes to write, found out on clean sound: for every
    clip, and for numbers by joining some. Of who is kept out later only these manners are known."""
    rng = np.random.default_rng([seed, 1])
    clips = corpus.clips
    sounds, texts = [c.sound for c in clips], [spellings(c.words) for c in clips]
    with_prompt = best(sounds, [c.prompt for c in clips], texts)
    without = best(sounds, ["" for _ in clips], texts)
    told = zip(clips, with_prompt, without, strict=True)
    drawn = [_number(corpus, rng) for _ in range(numbers if corpus.digits else 0)]
    prompts = [str(rng.choice(corpus.prompts)) if rng.random() < 0.8 else "" for _ in drawn]
    written = best([s for s, _ in drawn], prompts, [spellings(words) for _, words in drawn])
    manners: dict[tuple[str, int], Counter[str]] = {}
    for (_, words), prompt, text in zip(drawn, prompts, written, strict=True):
        manners.setdefault((prompt, len(words)), Counter())[style_of(text)] += 1
    return replace(
        corpus, clips=tuple(replace(c, texts=(a, b)) for c, a, b in told), manners=manners
    )


def number_text(corpus: Corpus, words: Words, prompt: str, rng: np.random.Generator) -> str:
    """A writing of a number in a manner drawn as the untaught ear would."""
    texts = spellings(words)
    counted = corpus.manners.get((prompt, len(words)))
    if not counted:
        return texts[0]
    names = list(counted)
    shares = np.array([counted[name] for name in names], float)
    manner = names[int(rng.choice(len(names), p=shares / shares.sum()))]
    return next((text for text in texts if style_of(text) == manner), texts[0])


def _number(corpus: Corpus, rng: np.random.Generator) -> tuple[Sound, Words]:
    people = [who for who in sorted(corpus.digits) if is_person(who)]
    voices = [who for who in sorted(corpus.digits) if not is_person(who)]
    from_voice = voices and (not people or rng.random() < VOICED)
    own = voices if from_voice else people
    digits = drawn_digits(rng)
    weights = np.array([_takes(corpus.digits[who]) ** BY_TAKES for who in own])
    takes = corpus.digits[own[int(rng.choice(len(own), p=weights / weights.sum()))]]
    return joined_digits(takes, digits, rng), words_of(digits)


def _takes(digits: Digits) -> int:
    return sum(map(len, digits.values()))


class Examples:
    """Makes batches."""

    def __init__(
        self,
        corpus: Corpus,
        rough: Augmentation,
        shares: MixtureWeights,
        seed: int,
        make_noise: NoiseMaker = noise,
    ) -> None:
        if not corpus.clips and not corpus.digits:
            raise InputWrongError("nothing to learn from: no recordings and no synthetic voices")
        self._corpus, self._rough, self._shares, self._seed = corpus, rough, shares, seed
        self._noise = make_noise
        self._orders = [at for at, c in enumerate(corpus.clips) if c.group == "orders"]
        self._sentences = [at for at, c in enumerate(corpus.clips) if c.group != "orders"]

    def batch(self, number: int, count: int) -> list[Example]:
        """So many examples; the same for the same number."""
        rng = np.random.default_rng([self._seed, 2, number])
        return [self._one(rng) for _ in range(count)]

    def _one(self, rng: np.random.Generator) -> Example:
        kind, prompted = rng.random(), rng.random() < self._shares.prompted
        shares = self._shares
        if kind < shares.nothing:
            return self._nothing(rng, prompted)
        if self._corpus.digits and kind < shares.nothing + shares.digits:
            return self._of_digits(rng, prompted)
        if self._orders and kind < shares.nothing + shares.digits + shares.orders:
            return self._of_clip(self._orders, rng, prompted)
        if self._sentences:
            return self._of_clip(self._sentences, rng, prompted)
        if self._corpus.digits:
            return self._of_digits(rng, prompted)
        return self._of_clip(self._orders, rng, prompted)

    def _nothing(self, rng: np.random.Generator, prompted: bool) -> Example:
        sound = noise(int(rng.uniform(0.4, 3.0) * SPEECH_RATE_HZ), rng) * 10 ** -rng.uniform(
            0.6, 2.5
        )
        prompt = str(rng.choice(self._corpus.prompts)) if prompted else ""
        return Example(np.clip(sound, -1, 1).astype(np.float32), prompt, "")

    def _of_digits(self, rng: np.random.Generator, prompted: bool) -> Example:
        sound, words = _number(self._corpus, rng)
        prompt = str(rng.choice(self._corpus.prompts)) if prompted else ""
        text = number_text(self._corpus, words, prompt, rng)
        return Example(self._made_rough(sound, rng), prompt, text)

    def _of_clip(self, places: Sequence[int], rng: np.random.Generator, prompted: bool) -> Example:
        at = places[int(rng.integers(len(places)))]
        clip: LabelledClip = self._corpus.clips[at]
        before, after = (int(rng.uniform(0.1, 0.4) * SPEECH_RATE_HZ) for _ in range(2))
        sound = np.pad(clip.sound, (before, after)) if clip.group != "orders" else clip.sound
        with_prompt, without = clip.texts
        return Example(
            self._made_rough(sound, rng),
            clip.prompt if prompted else "",
            with_prompt if prompted else without,
        )

    def _made_rough(self, sound: Sound, rng: np.random.Generator) -> Sound:
        talkers = [self._corpus.clips[at].sound for at in self._orders[:40]]
        return augmented(sound, rng, self._rough, talkers, self._noise)
