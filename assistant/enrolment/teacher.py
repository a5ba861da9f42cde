"""The bundled model in torch with its tokens: pseudo-labels, and the loss of a batch.

Knows texts, sounds and torch; knows no recordings and no training loop.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from assistant.enrolment.examples import Example
from assistant.enrolment.spec_augment import NO_MASKING, SpecAugment, spec_augmented
from assistant.enrolment.torch_whisper import FRAMES, Tensor, TorchWhisper, torch
from assistant.grammar.numbers import DIGITS
from assistant.recogniser.adapter import apply_adapter, read_adapter
from assistant.recogniser.base import Sound
from assistant.recogniser.constrained_whisper import MOST_FIGURES
from assistant.recogniser.inverse_normalisation import SIGNS, written_words
from assistant.recogniser.whisper_decoder import FIRST_MARK, FREQUENT
from assistant.recogniser.whisper_weights import Vocabulary, bundled_model, read_weights


@dataclass(frozen=True, slots=True, eq=False)
class Batch:
    """Examples on the device."""

    examples: Sequence[Example]
    mel: Tensor
    """[count, bands, frames]."""
    lengths: Tensor
    """Samples of sound in each."""


class Teacher:
    """The bundled model: chooses pseudo-labels as it is, and is trained with an adapter."""

    def __init__(
        self,
        device: str,
        words: Iterable[str] = (),
        prompts: Iterable[str] = (),
        adapter: Path | None = None,
        frames: int = FRAMES,
    ) -> None:
        """words, prompts: what may have to be written or read, besides the frequent tokens.
        adapter: applied before training. frames: see TorchWhisper."""
        folder = bundled_model()
        self.tokens = Vocabulary(folder / "tokenizer.json")
        weights = read_weights(folder / "model.bin", "")
        if adapter is not None and adapter.is_file():
            weights = apply_adapter(weights, read_adapter(adapter))
        count = len(weights["decoder/embeddings/weight"])
        used = {*range(FREQUENT), *range(FIRST_MARK, count)}
        for figures in [*range(MOST_FIGURES), *SIGNS.values()]:
            used |= set(self.tokens.of(f" {figures}"))
        for prompt in prompts:
            used |= set(self.begin(prompt))
        for word in (*words, *DIGITS):
            for form in written_words(word, first=True):
                used |= {*self.tokens.of(form), *self.tokens.of(f" {form}")}
        self.model = TorchWhisper(weights, sorted(used), device, frames)
        self.device = device

    def begin(self, prompt: str) -> list[int]:
        """The tokens before the text."""
        marks = self.tokens.marks
        before = [marks.before, *self.tokens.of(f" {prompt}")] if prompt else []
        return [*before, marks.start, marks.no_timestamps]

    def _text(self, text: str) -> list[int]:
        return [*(self.tokens.of(text) if text else ()), self.tokens.marks.end]

    def _may_write(self, tokens: Sequence[int]) -> bool:
        return bool((self.model.slots(tokens) >= 0).all())

    def best(
        self, sounds: Sequence[Sound], prompts: Sequence[str], texts: Sequence[Sequence[str]]
    ) -> list[str]:
        """Of each sound's texts the one that the model finds likeliest."""
        chosen: list[str] = []
        with torch().no_grad():
            for at in range(0, len(sounds), 32):
                part = slice(at, at + 32)
                with_tone = [self._with_tone(sound, n) for n, sound in enumerate(sounds[part])]
                padded, lengths = self.model.padded(with_tone)
                encoded = self.model.encode(self.model.log_mel(padded))
                chosen += self._best_of(
                    encoded, self.model.attended(lengths), prompts[part], texts[part]
                )
        return chosen

    def _best_of(
        self,
        encoded: Tensor,
        attended: Tensor,
        prompts: Sequence[str],
        texts: Sequence[Sequence[str]],
    ) -> list[str]:
        possible = [
            (row, text)
            for row, choices in enumerate(texts)
            for text in choices
            if self._may_write(self._text(text))
        ]
        losses, of = self.model.losses(
            [self.begin(prompts[row]) for row, _ in possible],
            [self._text(text) for _, text in possible],
            encoded,
            attended,
            sound_of=[row for row, _ in possible],
        )
        nats = torch().zeros(len(possible), device=self.device).index_add_(0, of, losses).tolist()
        scored = [(row, cost, text) for (row, text), cost in zip(possible, nats, strict=True)]
        return [min((c, t) for r, c, t in scored if r == row)[1] for row in range(len(texts))]

    @staticmethod
    def _with_tone(sound: Sound, number: int) -> Sound:
        """With room tone under it."""
        tone = np.random.default_rng(number).standard_normal(len(sound), np.float32)
        return np.asarray(sound + 1e-3 * tone, dtype=np.float32)

    def batch(self, examples: Sequence[Example]) -> Batch:
        """Examples prepared once for any number of runs."""
        with torch().no_grad():
            padded, lengths = self.model.padded([e.sound for e in examples])
            return Batch(examples, self.model.log_mel(padded), lengths)

    def loss(
        self,
        batch: Batch,
        adapter: dict[str, Tensor],
        masking: SpecAugment = NO_MASKING,
        rng: np.random.Generator | None = None,
    ) -> Tensor:
        """Mean nats a token over the examples. masking: done only where `rng` is given."""
        mel = batch.mel
        if masking and rng is not None:
            with torch().no_grad():
                mel = spec_augmented(mel, batch.lengths, masking, rng)
        library = torch()
        with library.autocast(self.device, library.bfloat16, enabled=self.device == "cuda"):
            losses, _ = self.model.losses(
                [self.begin(e.prompt) for e in batch.examples],
                [self._text(e.text) for e in batch.examples],
                self.model.encode(mel, adapter),
                self.model.attended(batch.lengths),
            )
        return losses.mean()
