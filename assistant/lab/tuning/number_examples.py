"""Examples of the whole training: joined numbers, people's takes and orders, sentences, noise.

Knows a corpus and chance; knows no torch and no file.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from assistant.enrolment.augmentation import Augmentation, NoiseMaker, noise
from assistant.enrolment.clip_corpus import LabelledClip
from assistant.enrolment.examples import Example, Examples, MixtureWeights, TextScorer
from assistant.enrolment.spellings import spellings
from assistant.errors import InputWrongError
from assistant.grammar.numbers import DIGITS, Words
from assistant.lab.benches.number_takes import SOURCES
from assistant.lab.tuning.digit_joining import (
    drawn_digits,
    joined_digits,
    joined_words,
    words_of,
)
from assistant.lab.tuning.people_clips import (
    NUMBER_WORDS,
    SOURCE_WEIGHTS,
    clip_weight,
    numbers_of,
)
from assistant.lab.tuning.training_corpus import ORDER_GROUP, Digits, TrainingCorpus, is_person
from assistant.messages import SPEECH_RATE_HZ
from assistant.recogniser.base import Sound

SYNTHETIC = 0.3  # of the joined numbers: accents and voices that no person here has
TAKES_EXPONENT = 1 / 3  # who was recorded more often is drawn more often, but not in proportion
MOST_TALKERS = 40  # orders that are mixed in as the speech of others
# Of numbers joined of people's words; `speechocean` has few single words.
_WORDS_WEIGHTS = {"an4": 0.1, "coswara": 0.5, "gsc": 0.4}
_LENGTHS = (0.25, 0.45, 0.25, 0.05)  # shares of numbers of one word, two and so on


@dataclass(frozen=True, slots=True)
class TrainingMixture(MixtureWeights):
    """Shares of a batch; the rest are sentences in synthetic voices."""

    digits: float = 0.32
    """Numbers joined of single words."""
    people: float = 0.24
    """People's numbers and commands as they were spoken."""
    orders: float = 0.16
    """People's recorded orders."""
    one_style: bool = True
    """Whether numbers of one shape are always written in the style that is preferred most often,
    rather than in each as often as it is: then no probability is lost to the others."""


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
    joined words; of a speaker who is held out later, nothing else is known."""
    rng = np.random.default_rng([seed, 1])
    joins = numbers if corpus.digits or corpus.word_takes else 0
    drawn = [_number(corpus, rng) for _ in range(joins)]
    prompts = [str(rng.choice(corpus.prompts)) if rng.random() < 0.8 else "" for _ in drawn]
    texts = best([s for s, _ in drawn], prompts, [spellings(words) for _, words in drawn])
    styles: dict[tuple[str, int], Counter[str]] = {}
    for (_, words), prompt, text in zip(drawn, prompts, texts, strict=True):
        styles.setdefault((prompt, shape_of(words)), Counter())[style_of(text)] += 1
    return replace(corpus, number_styles=styles)


def shape_of(words: Words) -> int:
    """The count of a number's words, negative where it is not all digits.

    >>> shape_of(("one", "five")), shape_of(("one", "fifteen"))
    (2, -2)
    """
    return len(words) if all(word in DIGITS for word in words) else -len(words)


def number_text(
    corpus: TrainingCorpus,
    words: Words,
    prompt: str,
    rng: np.random.Generator,
    one_style: bool = False,
) -> str:
    """A spelling of a number in a style drawn as often as the plain recogniser prefers it.

    one_style: in the one that it prefers most often.
    """
    texts = spellings(words)
    counted = corpus.number_styles.get((prompt, shape_of(words)))
    if not counted:
        return texts[0]
    styles = sorted(counted, key=lambda style: (-counted[style], style))
    counts = np.array([counted[style] for style in styles], float)
    drawn = 0 if one_style else int(rng.choice(len(styles), p=counts / counts.sum()))
    return next(
        (text for style in (styles[drawn], *styles) for text in texts if style_of(text) == style),
        texts[0],
    )


def _number(corpus: TrainingCorpus, rng: np.random.Generator) -> tuple[Sound, Words]:
    people = [who for who in sorted(corpus.digits) if is_person(who)]
    voices = [who for who in sorted(corpus.digits) if not is_person(who)]
    if voices and (not (people or corpus.word_takes) or rng.random() < SYNTHETIC):
        return _of_digits(corpus, voices, rng)
    if corpus.word_takes:
        return _of_words(corpus, rng)
    return _of_digits(corpus, people, rng)


def _of_digits(
    corpus: TrainingCorpus, speakers: Sequence[str], rng: np.random.Generator
) -> tuple[Sound, Words]:
    digits = drawn_digits(rng)
    weights = np.array([_takes(corpus.digits[who]) ** TAKES_EXPONENT for who in speakers])
    speaker = speakers[int(rng.choice(len(speakers), p=weights / weights.sum()))]
    return joined_digits(corpus.digits[speaker], digits, rng), words_of(digits)


def _of_words(corpus: TrainingCorpus, rng: np.random.Generator) -> tuple[Sound, Words]:
    by_source: dict[str, list[str]] = {}
    for who in sorted(corpus.word_takes):
        by_source.setdefault(who.split("/")[0], []).append(who)
    sources = sorted(by_source)
    weights = np.array([_WORDS_WEIGHTS.get(source, 0.02) for source in sources])
    speakers = by_source[sources[int(rng.choice(len(sources), p=weights / weights.sum()))]]
    takes = corpus.word_takes[speakers[int(rng.integers(len(speakers)))]]
    lengths = numbers_of(frozenset(takes))
    shares = np.array(_LENGTHS[: len(lengths)])
    forms = lengths[int(rng.choice(len(lengths), p=shares / shares.sum()))]
    words = forms[int(rng.integers(len(forms)))]
    return joined_words(takes, words, rng), words


def _takes(digits: Digits) -> int:
    return sum(map(len, digits.values()))


class TrainingExamples(Examples):
    """Makes batches of numbers, people's takes, orders, sentences and of noise alone."""

    def __init__(
        self,
        corpus: TrainingCorpus,
        augmentation: Augmentation,
        weights: TrainingMixture,
        seed: int,
        make_noise: NoiseMaker = noise,
    ) -> None:
        if not (corpus.clips or corpus.digits or corpus.word_takes):
            raise InputWrongError("nothing to learn from: no recordings and no synthetic voices")
        super().__init__(corpus, augmentation, weights, seed, make_noise)
        self._corpus, self._mixture = corpus, weights
        self._orders = [clip for clip in corpus.clips if clip.group == ORDER_GROUP]
        self._of_people = [clip for clip in corpus.clips if clip.group in SOURCES]
        self._sentences = [
            clip for clip in corpus.clips if clip.group not in (ORDER_GROUP, *SOURCES)
        ]
        self._people_shares = _shares_of(self._of_people)
        self._shapes = {shape for _, shape in corpus.number_styles}
        self._talkers = [clip.sound for clip in self._orders[:MOST_TALKERS]]

    def _of_speech(self, kind: float, rng: np.random.Generator, prompted: bool) -> Example:
        has_numbers = bool(self._corpus.digits or self._corpus.word_takes)
        mixture = self._mixture
        parts = [
            (mixture.digits * has_numbers, self._of_number),
            (mixture.people * bool(self._of_people), self._of_person),
            (mixture.orders * bool(self._orders), self._of_order),
            (
                (1 - mixture.nothing - mixture.digits - mixture.people - mixture.orders)
                * bool(self._sentences),
                self._of_sentence,
            ),
        ]
        shares = np.cumsum([share for share, _ in parts])
        if shares[-1] <= 0:  # a kind that is there, however little of it was wanted
            shares = np.cumsum(
                [has_numbers, *map(bool, (self._of_people, self._orders, self._sentences))]
            )
        place = (kind - mixture.nothing) / (1 - mixture.nothing) * shares[-1]
        at = min(int(np.searchsorted(shares, place, side="right")), len(parts) - 1)
        return parts[at][1](rng, prompted)

    def _of_number(self, rng: np.random.Generator, prompted: bool) -> Example:
        sound, words = _number(self._corpus, rng)
        return self._written(sound, words, rng, prompted)

    def _of_order(self, rng: np.random.Generator, prompted: bool) -> Example:
        return self._of_clip(self._orders, rng, prompted)

    def _of_sentence(self, rng: np.random.Generator, prompted: bool) -> Example:
        return self._of_clip(self._sentences, rng, prompted)

    def _of_person(self, rng: np.random.Generator, prompted: bool) -> Example:
        at = int(np.searchsorted(self._people_shares, rng.random(), side="right"))
        clip = self._of_people[min(at, len(self._of_people) - 1)]
        is_number = all(word in NUMBER_WORDS for word in clip.words)
        if self._mixture.one_style and is_number and shape_of(clip.words) in self._shapes:
            before, after = (int(rng.uniform(0.0, 0.3) * SPEECH_RATE_HZ) for _ in range(2))
            return self._written(np.pad(clip.sound, (before, after)), clip.words, rng, prompted)
        return self._of_clip([clip], rng, prompted)

    def _written(
        self, sound: Sound, words: Words, rng: np.random.Generator, prompted: bool
    ) -> Example:
        prompt = str(rng.choice(self._prompts)) if prompted else ""
        text = number_text(self._corpus, words, prompt, rng, self._mixture.one_style)
        return Example(self._augmented(sound, rng), prompt, text)

    def _is_padded(self, clip: LabelledClip) -> bool:
        return clip.group != ORDER_GROUP


def _shares_of(clips: Sequence[LabelledClip]) -> np.ndarray:
    """The running sum of how often each is drawn: sources by their weights, clips by theirs."""
    weights = np.array([clip_weight(clip) for clip in clips])
    for source, wanted in SOURCE_WEIGHTS.items():
        of_source = np.array([clip.group == source for clip in clips], bool)
        if of_source.any():
            weights[of_source] *= wanted / weights[of_source].sum()
    return np.cumsum(weights / max(1e-9, weights.sum()))
