"""The bundled recogniser: Whisper's decoder constrained to a grammar. Knows sound and words.

The decoder is our own because no library sums the probability over all spellings of a sentence,
counts the end of the text, and subtracts the internal language model.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field, replace
from pathlib import Path
from weakref import WeakKeyDictionary

import numpy as np

from assistant.grammar.numbers import Words
from assistant.messages import SPEECH_RATE_HZ, Alternative, Meaning
from assistant.recogniser.adapter import BUNDLED, CALIBRATION, apply_adapter, read_adapter
from assistant.recogniser.base import Grammar, NBest, Sound
from assistant.recogniser.beam_search import Beam, Hypothesis, SearchResult, search
from assistant.recogniser.inverse_normalisation import SIGNS
from assistant.recogniser.prefix_layers import LayerCache, Layers
from assistant.recogniser.rescoring import Rescorer
from assistant.recogniser.snr import estimated_snr_db
from assistant.recogniser.speed_perturbation import at_pace
from assistant.recogniser.whisper_decoder import Decoder, PrefixCache
from assistant.recogniser.whisper_encoder import Encoder
from assistant.recogniser.whisper_weights import (
    Float32Array,
    Vocabulary,
    bundled_model,
    read_weights,
)

ALTERNATIVES = 8  # most that are reported
MOST_FIGURES = 3000  # numbers whose figures are counted among the frequent tokens
EXPONENTS = (1.25, 1.1)  # evidence exponents of an ear that was not calibrated
LM_SCORERS = 6  # prompts whose internal language model is kept


@dataclass(frozen=True, slots=True)
class DecodingSettings:
    """How an utterance is decoded."""

    lm_weight: float = 0.4
    """Of the internal-LM score that is subtracted (measured: 0.4 cures dropped digits)."""
    window_s: float = 6.0
    """The least sound the encoder sees."""
    after_s: float = 1.0
    """How far past the end of the speech the decoder may attend."""
    rescore_within: float = 8.0
    """Nats below the best hypothesis within which the internal LM is subtracted."""
    speeds: tuple[float, ...] = (0.91, 1.09)
    """Speed perturbations: an utterance that is not clear is scored at each of these too, and a
    hypothesis then has the mean of its scores times an evidence exponent."""
    clear: float = 0.998
    """Posterior from which an utterance is clear."""
    evidence_exponents: tuple[float, float] | None = None
    """In quiet, and below `noisy_db`, where noise misleads all passes alike. 1: the passes are one
    and the same evidence; their number (3 here): they are independent. None: those that the adapter
    is calibrated with, and `EXPONENTS` where it is not."""
    noisy_db: float = 15.0
    """Estimated SNR."""
    beam: Beam = field(default_factory=Beam)


@dataclass(frozen=True, slots=True)
class LoadedModel:
    """Whisper's parts, ready for use."""

    encoder: Encoder
    decoder: Decoder
    tokens: Vocabulary
    evidence_exponents: tuple[float, float] = EXPONENTS
    """In quiet and in noise; of the last adapter that has any."""


def load_model(
    folder: Path | None = None, adapters: Path | Sequence[Path] | None = BUNDLED
) -> LoadedModel:
    """The model in a folder (None: the bundled one) with adapters applied, one after another.

    A file that is not there is passed over. Raises WorldFailedError if a file cannot be read.
    """
    _one_thread()
    folder = folder or bundled_model()
    weights = read_weights(folder / "model.bin", "")
    exponents = EXPONENTS
    for file in (adapters,) if isinstance(adapters, Path) else adapters or ():
        if file.is_file():
            adapter = read_adapter(file)
            weights = apply_adapter(weights, adapter)
            if CALIBRATION in adapter:
                quiet, noisy = map(float, adapter[CALIBRATION])
                exponents = quiet, noisy
    tokens = Vocabulary(folder / "tokenizer.json")
    return LoadedModel(Encoder(weights), Decoder(weights), tokens, exponents)


def _one_thread() -> None:
    """Matrix products by one thread: they are small, and on a busy machine two threads wait for
    each other (measured beside four busy processes: 4 s an utterance instead of 0.4 s)."""
    try:
        from threadpoolctl import threadpool_limits
    except ImportError:  # then OPENBLAS_NUM_THREADS decides
        return
    threadpool_limits(1, "blas")


class ConstrainedWhisper:
    """A Recogniser. Loading takes a second and half a gigabyte; for use by one thread at a time."""

    name = "whisper"

    def __init__(
        self, model: LoadedModel | None = None, settings: DecodingSettings = DecodingSettings()
    ) -> None:
        model = model or load_model()
        self.settings = settings
        self._exponents = settings.evidence_exponents or model.evidence_exponents
        self._encoder, self._decoder, self._tokens = model.encoder, model.decoder, model.tokens
        self._decoder.include(
            token
            for figures in [*range(MOST_FIGURES), *SIGNS.values()]
            for token in self._tokens.of(f" {figures}")
        )
        self._layer_cache = LayerCache(self._tokens.of, self._decoder.include)
        self._compiled: WeakKeyDictionary[Grammar, tuple[Layers, ...]] = WeakKeyDictionary()
        self._lm_scorers: dict[str, Rescorer] = {}  # by prompt
        self._silence: Float32Array | None = None  # encoded

    def prepare(self, grammar: Grammar) -> None:
        """Compile the grammar."""
        self._layers(grammar)

    def warm(self, grammar: Grammar) -> None:
        """Begin the internal LM of its prompt."""
        self._lm_scorer(grammar.prompt)

    def hear(self, sound: Sound, grammar: Grammar) -> NBest:
        """What may have been meant. Sound of no length gives no alternatives."""
        return self.hear_with(sound, grammar, [self._exponents])[0]

    def hear_with(
        self, sound: Sound, grammar: Grammar, exponents: Sequence[tuple[float, float]]
    ) -> list[NBest]:
        """What may have been meant, by each of some pairs of evidence exponents (in quiet and in
        noise); the work is that of one."""
        if len(sound) < SPEECH_RATE_HZ // 20:
            return [NBest(self.name, ())] * len(exponents)
        cache = PrefixCache(self._decoder, self._encoded(sound), self._prompt(grammar.prompt))
        end = self._tokens.marks.end
        result = search(cache, self._layers(grammar), end, self.settings.beam)
        text = self._tokens.text(result.free_tokens).strip()
        if not result.in_grammar:
            return [NBest(self.name, (), None, None, text)] * len(exponents)
        candidates = self._candidates(result, grammar)
        posteriors = [_posterior(candidates)] * len(exponents)
        if posteriors[0][0].probability < self.settings.clear and self.settings.speeds:
            noisy = estimated_snr_db(sound) < self.settings.noisy_db
            means = self._over_speeds(candidates, sound, grammar.prompt)
            posteriors = [_posterior(_times(means, pair[noisy])) for pair in exponents]
        lists = []
        for alternatives in posteriors:
            best = _best_by_sound(candidates, alternatives[0].meaning)
            average = best.score / (len(best.tokens) + 1)
            log_ratio = best.score - result.free_score
            lists.append(NBest(self.name, alternatives, log_ratio, average, text))
        return lists

    def _encoded(self, sound: Sound) -> Float32Array:
        return self._encoder.of_sound(sound, self.settings.window_s, self.settings.after_s)

    def _prompt(self, prompt: str) -> list[int]:
        marks = self._tokens.marks
        before = [marks.before, *self._tokens.of(f" {prompt}")] if prompt else []
        return [*before, marks.start, marks.no_timestamps]

    def _layers(self, grammar: Grammar) -> tuple[Layers, ...]:
        """Everything that may be said and, where the grammar has it, what is likely by itself."""
        compiled = self._compiled.get(grammar)
        if compiled is None:
            parts = (grammar.layers, grammar.likely) if grammar.likely else (grammar.layers,)
            compiled = tuple(self._layer_cache.layers(part) for part in parts)
            self._compiled[grammar] = compiled
        return compiled

    def _lm_scorer(self, prompt: str) -> Rescorer:
        """Scores of texts over silence: the internal language model."""
        scorer = self._lm_scorers.get(prompt)
        if scorer is None or scorer.full:
            if len(self._lm_scorers) > LM_SCORERS:
                self._lm_scorers.clear()
            if self._silence is None:
                self._silence = self._encoded(np.zeros(SPEECH_RATE_HZ, np.float32))
            cache = PrefixCache(self._decoder, self._silence, self._prompt(prompt))
            scorer = self._lm_scorers[prompt] = Rescorer(
                cache, self._decoder, self._tokens.marks.end
            )
        return scorer

    def _candidates(self, result: SearchResult, grammar: Grammar) -> list[_Candidate]:
        """Hypotheses near the best, with prior and internal-LM terms."""
        read = [(one, _meanings(one, grammar)) for one in result.in_grammar]
        weights = {meaning: grammar.weight(meaning) for _, every in read for meaning in every}
        candidates = [
            _Candidate(one, every, {meaning: math.log(weights[meaning]) for meaning in every})
            for one, every in read
            if every
        ]
        floor = max(c.with_prior for c in candidates) - self.settings.rescore_within
        near = [c for c in candidates if c.with_prior >= floor]
        lm_scores = self._lm_scorer(grammar.prompt).scores([c.hypothesis.tokens for c in near])
        return [
            replace(candidate, lm_bias=-self.settings.lm_weight * nats)
            for candidate, nats in zip(near, lm_scores, strict=True)
        ]

    def _over_speeds(
        self, candidates: Sequence[_Candidate], sound: Sound, prompt: str
    ) -> list[_Candidate]:
        """The same candidates with the mean of their scores at every speed."""
        tokens = [candidate.hypothesis.tokens for candidate in candidates]
        prompt_tokens, end = self._prompt(prompt), self._tokens.marks.end

        def scores(speed: float) -> list[float]:
            cache = PrefixCache(self._decoder, self._encoded(at_pace(sound, speed)), prompt_tokens)
            return Rescorer(cache, self._decoder, end).scores(tokens)

        first = [candidate.hypothesis.score for candidate in candidates]
        with ThreadPoolExecutor(len(self.settings.speeds)) as passes:
            every = [first, *passes.map(scores, self.settings.speeds)]
        return [
            replace(candidate, hypothesis=replace(candidate.hypothesis, score=float(score)))
            for candidate, score in zip(candidates, np.mean(every, axis=0), strict=True)
        ]


@dataclass(frozen=True, slots=True)
class _Candidate:
    """A hypothesis with what its sentences mean."""

    hypothesis: Hypothesis
    meanings: Mapping[Meaning, Words]
    """Each meaning in its plainest words."""
    log_prior: Mapping[Meaning, float]
    """Nats."""
    lm_bias: float = 0.0
    """Nats, to be added whatever the meaning."""

    @property
    def with_prior(self) -> float:
        """Score with the prior of the likeliest meaning, without the internal LM."""
        return self.hypothesis.score + max(self.log_prior.values())


def _times(candidates: Sequence[_Candidate], exponent: float) -> list[_Candidate]:
    """The same with their scores times an evidence exponent."""
    return [
        replace(one, hypothesis=replace(one.hypothesis, score=exponent * one.hypothesis.score))
        for one in candidates
    ]


def _meanings(hypothesis: Hypothesis, grammar: Grammar) -> Mapping[Meaning, Words]:
    meanings: dict[Meaning, Words] = {}
    for words in sorted(hypothesis.sentences, key=_plainness):
        meaning = grammar.meaning(words)
        if meaning is not None:
            meanings.setdefault(meaning, words)
    return meanings


def _plainness(words: Words) -> tuple[int, int]:
    """Fewest words first, then the longest: "75" is "seventy five" rather than "seven five"."""
    return len(words), -len(" ".join(words))


def _posterior(candidates: Sequence[_Candidate]) -> tuple[Alternative, ...]:
    """Probabilities of the meanings, best first."""
    parts: dict[Meaning, list[tuple[float, _Candidate]]] = defaultdict(list)
    for candidate in candidates:
        for meaning, log_prior in candidate.log_prior.items():
            nats = candidate.hypothesis.score + candidate.lm_bias + log_prior
            parts[meaning].append((nats, candidate))
    top = max(nats for part in parts.values() for nats, _ in part)
    summed = {m: sum(math.exp(nats - top) for nats, _ in part) for m, part in parts.items()}
    total = sum(summed.values())
    ranked = sorted(summed, key=lambda meaning: -summed[meaning])
    best = {m: max(parts[m], key=lambda part: part[0])[1] for m in ranked[:ALTERNATIVES]}
    return tuple(
        Alternative(meaning, " ".join(candidate.meanings[meaning]), summed[meaning] / total)
        for meaning, candidate in best.items()
    )


def _best_by_sound(candidates: Sequence[_Candidate], meaning: Meaning) -> Hypothesis:
    """The spelling of this meaning that fits the sound best."""
    spellings = (c.hypothesis for c in candidates if meaning in c.meanings)
    return max(spellings, key=lambda hypothesis: hypothesis.score)
