"""Training examples in batches: augmented sounds, and the text each should be written as.

Every batch depends on the seed and its number alone, so it is the same however many processes make
them. Knows no torch.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import TypeVar

import numpy as np

from assistant.enrolment.augmentation import Augmentation, NoiseMaker, augmented, noise, unit_rms
from assistant.enrolment.clip_corpus import Corpus, LabelledClip
from assistant.enrolment.spellings import spellings
from assistant.messages import SPEECH_RATE_HZ
from assistant.recogniser.base import Sound


@dataclass(frozen=True, slots=True)
class MixtureWeights:
    """Shares of a batch; the rest are clips."""

    nothing: float = 0.03
    """Noise alone, to be written as nothing."""
    prompted: float = 0.8
    """Of all examples: those that come with their prompt."""


@dataclass(frozen=True, slots=True)
class Example:
    """A sound, the prompt that goes with it, and the text to learn ("" for nothing)."""

    sound: Sound
    prompt: str
    text: str


TextScorer = Callable[[Sequence[Sound], Sequence[str], Sequence[Sequence[str]]], list[str]]
"""(sounds, prompts, texts to choose from) -> the best text of each, by the plain recogniser."""

AnyCorpus = TypeVar("AnyCorpus", bound=Corpus)


def with_texts(corpus: AnyCorpus, best: TextScorer) -> AnyCorpus:
    """The corpus with pseudo-labels: the spelling of each clip that the plain recogniser prefers on
    clean sound."""
    clips = corpus.clips
    sounds, texts = [c.sound for c in clips], [spellings(c.words) for c in clips]
    with_prompt = best(sounds, [c.prompt for c in clips], texts)
    without = best(sounds, ["" for _ in clips], texts)
    labelled = zip(clips, with_prompt, without, strict=True)
    return replace(corpus, clips=tuple(replace(c, texts=(a, b)) for c, a, b in labelled))


class Examples:
    """Makes batches of clips and of noise alone."""

    def __init__(
        self,
        corpus: Corpus,
        augmentation: Augmentation,
        weights: MixtureWeights,
        seed: int,
        make_noise: NoiseMaker = noise,
    ) -> None:
        self._clips, self._prompts = corpus.clips, corpus.prompts
        self._augmentation, self._weights, self._seed = augmentation, weights, seed
        self._make_noise = make_noise
        self._talkers: Sequence[Sound] = ()

    def batch(self, number: int, count: int) -> list[Example]:
        """So many examples; the same for the same number."""
        rng = np.random.default_rng([self._seed, 2, number])
        return [self._example(rng) for _ in range(count)]

    def _example(self, rng: np.random.Generator) -> Example:
        kind, prompted = rng.random(), rng.random() < self._weights.prompted
        if kind < self._weights.nothing:
            return self._of_noise(rng, prompted)
        return self._of_speech(kind, rng, prompted)

    def _of_noise(self, rng: np.random.Generator, prompted: bool) -> Example:
        made = self._make_noise(int(rng.uniform(0.4, 3.0) * SPEECH_RATE_HZ), rng)
        sound = unit_rms(made) * 10 ** -rng.uniform(0.6, 2.5)
        prompt = str(rng.choice(self._prompts)) if prompted else ""
        return Example(np.clip(sound, -1, 1).astype(np.float32), prompt, "")

    def _of_speech(self, kind: float, rng: np.random.Generator, prompted: bool) -> Example:
        """kind: drawn evenly from `nothing` of the weights to 1."""
        return self._of_clip(self._clips, rng, prompted)

    def _of_clip(
        self, clips: Sequence[LabelledClip], rng: np.random.Generator, prompted: bool
    ) -> Example:
        clip = clips[int(rng.integers(len(clips)))]
        before, after = (int(rng.uniform(0.1, 0.4) * SPEECH_RATE_HZ) for _ in range(2))
        sound = np.pad(clip.sound, (before, after)) if self._is_padded(clip) else clip.sound
        with_prompt, without = clip.texts
        return Example(
            self._augmented(sound, rng),
            clip.prompt if prompted else "",
            with_prompt if prompted else without,
        )

    def _is_padded(self, clip: LabelledClip) -> bool:
        """Whether a clip has no silence of its own around the speech."""
        return True

    def _augmented(self, sound: Sound, rng: np.random.Generator) -> Sound:
        return augmented(sound, rng, self._augmentation, self._talkers, self._make_noise)
