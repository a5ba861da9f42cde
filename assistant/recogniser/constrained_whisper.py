"""The bundled ear: Whisper's decoder held to a grammar. Knows sound, words and probabilities.

Decoding is done by us, not by the library, because only so are all writings of a sentence added up,
the end of the text counted, and the ear's own liking for words taken away.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Callable, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field, replace
from pathlib import Path
from weakref import WeakKeyDictionary

import numpy as np

from assistant.grammar.numbers import Words
from assistant.messages import SPEECH_RATE_HZ, Alternative, Meaning
from assistant.recogniser.adapter import BUNDLED, apply_adapter, read_adapter
from assistant.recogniser.automaton import Automaton, of_sentences
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

ALTERNATIVES = 8  # told to the rest of the house
MOST_FIGURES = 3000  # numbers whose figures are counted among the frequent tokens
SILENT_PROMPTS = 6  # kept at a time


@dataclass(frozen=True, slots=True)
class DecodingSettings:
    """liking: share of the internal language model that is taken away (measured: 0.4 cures dropped
    digits). window_s: the least sound the encoder sees; after_s: how much of it past the speech the
    decoder may look at. rescore_within: nats below the best text inside which that is done.

    paces: at which an utterance is heard again where no meaning has the share `clear`; its texts'
    scores are then the mean over all hearings, sharpened by `agreement` (1: all hearings are one
    and the same evidence; 3, with two paces: they know nothing of each other), or by
    `agreement_in_noise` where the speech is less than `noisy_db` above what is under it: noise
    misleads all hearings alike.
    """

    lm_weight: float = 0.4
    window_s: float = 6.0
    after_s: float = 1.0
    rescore_within: float = 8.0
    speeds: tuple[float, ...] = (0.91, 1.09)
    clear: float = 0.998
    evidence_exponent: float = 1.25
    evidence_exponent_in_noise: float = 1.1
    noisy_db: float = 15.0
    beam: Beam = field(default_factory=Beam)


@dataclass(frozen=True, slots=True)
class LoadedModel:
    """Whisper's parts, ready for use."""

    encoder: Encoder
    decoder: Decoder
    tokens: Vocabulary


def load_model(
    folder: Path | None = None, changes: Path | Sequence[Path] | None = BUNDLED
) -> LoadedModel:
    """The model in a folder (None: the bundled one), changed by what was learnt.

    changes: None leaves it as it came; so does a file that is not there. Of several files
    each is laid on what the ones before made. Raises WorldFailedError if a file cannot be read.
    """
    _one_thread()
    folder = folder or bundled_model()
    weights = read_weights(folder / "model.bin", "")
    for file in (changes,) if isinstance(changes, Path) else changes or ():
        if file.is_file():
            weights = apply_adapter(weights, read_adapter(file))
    return LoadedModel(Encoder(weights), Decoder(weights), Vocabulary(folder / "tokenizer.json"))


def _one_thread() -> None:
    """Matrix products by one thread: ours are small, and on a busy machine two wait for each other
    (measured beside four busy processes: 4 s an utterance instead of 0.4 s)."""
    try:
        from threadpoolctl import threadpool_limits
    except ImportError:  # then it is for OPENBLAS_NUM_THREADS to say
        return
    threadpool_limits(1, "blas")


class ConstrainedWhisper:
    """An Ear. Loading takes a second and half a gigabyte; for use by one thread at a time."""

    name = "whisper"

    def __init__(
        self, model: LoadedModel | None = None, settings: DecodingSettings = DecodingSettings()
    ) -> None:
        model = model or load_model()
        self.settings = settings
        self._encoder, self._decoder, self._tokens = model.encoder, model.decoder, model.tokens
        self._decoder.include(
            token
            for figures in [*range(MOST_FIGURES), *SIGNS.values()]
            for token in self._tokens.of(f" {figures}")
        )
        self._shelf = LayerCache(self._tokens.of, self._decoder.include)
        self._grammars: WeakKeyDictionary[Grammar, tuple[Layers, ...]] = WeakKeyDictionary()
        self._silent: dict[str, Rescorer] = {}
        self._quiet: Float32Array | None = None  # silence, as the encoder sees it

    def prepare(self, grammar: Grammar) -> None:
        """Build the grammar's automaton and what the ear expects of its prompt in silence."""
        self._laid_out(grammar)
        self._silence(grammar.prompt)

    def hear(self, sound: Sound, grammar: Grammar) -> NBest:
        """What may have been meant. Sound of no length gives no alternatives."""
        if len(sound) < SPEECH_RATE_HZ // 20:
            return NBest(self.name, ())
        tree = PrefixCache(self._decoder, self._encoded(sound), self._begin(grammar.prompt))
        end = self._tokens.marks.end
        found = search(tree, self._laid_out(grammar), end, self.settings.beam)
        text = self._tokens.text(found.free_tokens).strip()
        if not found.held:
            return NBest(self.name, (), None, None, text)
        texts = self._near(found, grammar)
        alternatives = _posterior(texts)
        if alternatives[0].probability < self.settings.clear and self.settings.speeds:
            alternatives = _posterior(self._heard_again(texts, sound, grammar.prompt))
        best = _sounds_best(texts, alternatives[0].meaning)
        return NBest(
            self.name,
            alternatives,
            best.score - found.free_score,
            best.score / (len(best.tokens) + 1),
            text,
        )

    def _encoded(self, sound: Sound) -> Float32Array:
        return self._encoder.of_sound(sound, self.settings.window_s, self.settings.after_s)

    def _begin(self, prompt: str) -> list[int]:
        marks = self._tokens.marks
        before = [marks.before, *self._tokens.of(f" {prompt}")] if prompt else []
        return [*before, marks.start, marks.no_timestamps]

    def _laid_out(self, grammar: Grammar) -> tuple[Layers, ...]:
        made = self._grammars.get(grammar)
        if made is None:
            made = self._grammars[grammar] = self._lay_out(grammar)
        return made

    def _lay_out(self, grammar: Grammar) -> tuple[Layers, ...]:
        """Everything that may be said, and what is likely by itself."""
        automaton = getattr(grammar, "automaton", None)
        if isinstance(automaton, Automaton):
            return (self._shelf.of_automaton(automaton),)
        layers = getattr(grammar, "layers", None)
        if layers is None:
            return (self._shelf.of_automaton(of_sentences(grammar.sentences)),)
        likely = getattr(grammar, "likely", ())
        parts = (layers, likely) if likely else (layers,)
        return tuple(self._shelf.layers(part) for part in parts)

    def _silence(self, prompt: str) -> Rescorer:
        known = self._silent.get(prompt)
        if known is None or known.full:
            if len(self._silent) > SILENT_PROMPTS:
                self._silent.clear()
            if self._quiet is None:
                self._quiet = self._encoded(np.zeros(SPEECH_RATE_HZ, np.float32))
            tree = PrefixCache(self._decoder, self._quiet, self._begin(prompt))
            known = self._silent[prompt] = Rescorer(tree, self._decoder, self._tokens.marks.end)
        return known

    def _near(self, found: SearchResult, grammar: Grammar) -> list[_Text]:
        """The texts that may still turn out the best, with what speaks for them besides the sound:
        how often their meanings are said, and less what the ear likes without any sound."""
        told = [(written, _meanings(written, grammar)) for written in found.held]
        weight: Share = getattr(grammar, "weight", _all_alike)
        shares = {meaning: weight(meaning) for _, meanings in told for meaning in meanings}
        texts = [
            _Text(written, meanings, {meaning: math.log(shares[meaning]) for meaning in meanings})
            for written, meanings in told
            if meanings
        ]
        floor = max(text.most for text in texts) - self.settings.rescore_within
        near = [text for text in texts if text.most >= floor]
        liked = self._silence(grammar.prompt).scores([text.written.tokens for text in near])
        return [
            replace(text, bias=-self.settings.lm_weight * nats)
            for text, nats in zip(near, liked, strict=True)
        ]

    def _heard_again(self, texts: Sequence[_Text], sound: Sound, prompt: str) -> list[_Text]:
        """The same texts, scored over the same utterance at other paces too."""
        tokens = [text.written.tokens for text in texts]
        begin, end = self._begin(prompt), self._tokens.marks.end

        def scores(pace: float) -> list[float]:
            tree = PrefixCache(self._decoder, self._encoded(at_pace(sound, pace)), begin)
            return Rescorer(tree, self._decoder, end).scores(tokens)

        first = [text.written.score for text in texts]
        with ThreadPoolExecutor(len(self.settings.speeds)) as hearings:
            heard = [first, *hearings.map(scores, self.settings.speeds)]
        noisy = estimated_snr_db(sound) < self.settings.noisy_db
        sharp = (
            self.settings.evidence_exponent_in_noise if noisy else self.settings.evidence_exponent
        )
        together = sharp * np.mean(heard, axis=0)
        return [
            replace(text, written=replace(text.written, score=float(score)))
            for text, score in zip(texts, together, strict=True)
        ]


Share = Callable[[Meaning], float]


def _all_alike(meaning: Meaning) -> float:
    return 1.0


@dataclass(frozen=True, slots=True)
class _Text:
    """A text of the grammar with its meanings, each in its plainest words.

    said: nats, how often each meaning is said. bias: nats to be added whatever the meaning.
    """

    written: Hypothesis
    meanings: Mapping[Meaning, Words]
    said: Mapping[Meaning, float]
    bias: float = 0.0

    @property
    def most(self) -> float:
        """Nats of the text and of the meaning that is likeliest to have it, without the bias."""
        return self.written.score + max(self.said.values())


def _meanings(written: Hypothesis, grammar: Grammar) -> Mapping[Meaning, Words]:
    told: dict[Meaning, Words] = {}
    for words in sorted(written.sentences, key=_plainness):
        meaning = grammar.meaning(words)
        if meaning is not None:
            told.setdefault(meaning, words)
    return told


def _plainness(words: Words) -> tuple[int, int]:
    """Fewest words first, then the longest: "75" is told as "seventy five", not "seven five"."""
    return len(words), -len(" ".join(words))


def _posterior(texts: Sequence[_Text]) -> tuple[Alternative, ...]:
    """Probabilities of the meanings, best first."""
    parts: dict[Meaning, list[tuple[float, _Text]]] = defaultdict(list)
    for text in texts:
        for meaning, said in text.said.items():
            parts[meaning].append((text.written.score + text.bias + said, text))
    top = max(nats for own in parts.values() for nats, _ in own)
    summed = {m: sum(math.exp(nats - top) for nats, _ in own) for m, own in parts.items()}
    total = sum(summed.values())
    ranked = sorted(summed, key=lambda meaning: -summed[meaning])
    best = {m: max(parts[m], key=lambda part: part[0])[1] for m in ranked[:ALTERNATIVES]}
    return tuple(
        Alternative(meaning, " ".join(text.meanings[meaning]), summed[meaning] / total)
        for meaning, text in best.items()
    )


def _sounds_best(texts: Sequence[_Text], meaning: Meaning) -> Hypothesis:
    """The writing of this meaning that fits the sound best."""
    writings = (text.written for text in texts if meaning in text.meanings)
    return max(writings, key=lambda one: one.score)
