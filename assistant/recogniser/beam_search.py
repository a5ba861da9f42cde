"""Beam search: the best sentences of grammars, and beside them the best text of any kind.

Knows a KV-cache prefix tree and a token grammar; knows no meaning. Scores are sums of natural
log-probabilities with the end of text counted, so a longer prefix never scores higher.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from itertools import chain

import numpy as np
import numpy.typing as npt

from assistant.grammar.numbers import Words
from assistant.recogniser.prefix_layers import Layers, LayerStates
from assistant.recogniser.whisper_decoder import NextTokens, PrefixCache

LONGEST = 40  # tokens; the longest sentence of a grammar stays well below


@dataclass(frozen=True, slots=True)
class Beam:
    """How much of each search is kept."""

    in_grammar: int = 16
    """Prefixes kept at each length in the search of one grammar."""
    free: int = 2
    """Prefixes kept at each length in the search without a grammar."""
    within: float = 10.0
    """Nats below the best that are kept in the search of a grammar."""


@dataclass(frozen=True, slots=True)
class Hypothesis:
    """One complete text of the grammar."""

    tokens: tuple[int, ...]
    sentences: tuple[Words, ...]
    """The word sequences that are written so: "75" is "seventy five" and "seven five"."""
    score: float
    """Nats."""


@dataclass(slots=True)
class SearchResult:
    """What both searches came to."""

    in_grammar: list[Hypothesis] = field(default_factory=list)
    """Complete texts, best first."""
    free_score: float = -np.inf
    """Nats of the best text of any kind."""
    free_tokens: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class _Prefix:
    tokens: tuple[int, ...]
    score: float
    node: int
    next_tokens: NextTokens
    row: int  # of `next_tokens`
    states: LayerStates = ()


_Step = tuple[float, _Prefix, int]  # score, the prefix that is continued, by which token


class _GrammarSearch:
    """The search of one grammar."""

    def __init__(self, grammar: Layers, end: int, beam: Beam) -> None:
        self._grammar, self._end, self._beam = grammar, end, beam
        self.complete: list[Hypothesis] = []
        self.best = -np.inf

    def steps(self, live: list[_Prefix]) -> list[_Step]:
        """The continuations worth keeping."""
        for prefix in live:
            sentences = self._grammar.complete(prefix.states)
            if sentences:
                score = prefix.score + prefix.next_tokens.log_prob(prefix.row, self._end)
                self.complete.append(Hypothesis(prefix.tokens, sentences, score))
                self.best = max(self.best, score)
        keys = [self._grammar.allowed(prefix.states) for prefix in live]
        scores = [
            p.score + p.next_tokens.log_probs(p.row, k) for p, k in zip(live, keys, strict=True)
        ]
        every = np.concatenate(scores) if scores else np.zeros(0)
        if not len(every):
            return []
        floor = max(self.best, float(every.max())) - self._beam.within
        of = np.repeat(np.arange(len(live)), [len(k) for k in keys])
        token = np.concatenate(keys)
        best = np.argsort(-every, kind="stable")[: self._beam.in_grammar]
        return [(float(every[i]), live[of[i]], int(token[i])) for i in best if every[i] >= floor]


class _FreeSearch:
    """The search without a grammar."""

    def __init__(self, frequent: npt.NDArray[np.int64], end: int, beam: Beam) -> None:
        self._tokens, self._end, self._beam = frequent, end, beam
        self.score = -np.inf
        self.best: tuple[int, ...] = ()

    def steps(self, live: list[_Prefix]) -> list[_Step]:
        steps: list[_Step] = []
        for prefix in live:
            ended = prefix.score + prefix.next_tokens.log_prob(prefix.row, self._end)
            if ended > self.score:
                self.score, self.best = ended, prefix.tokens
            row = prefix.next_tokens.frequent[prefix.row]
            top = np.argpartition(-row, self._beam.free)[: self._beam.free + 1]
            steps += [
                (prefix.score + float(row[at]), prefix, int(self._tokens[at]))
                for at in top
                if self._tokens[at] < self._end
            ]
        steps.sort(key=lambda step: -step[0])
        return [step for step in steps[: self._beam.free] if step[0] > self.score]


def search(cache: PrefixCache, grammars: Sequence[Layers], end: int, beam: Beam) -> SearchResult:
    """All searches in step, sharing each pass through the decoder.

    grammars: each is searched with a beam of its own, so that a few likely sentences are not
    crowded out by many others; a sentence may stand in several. end: the token that ends a text;
    tokens above it are no text.
    """
    searches = [_GrammarSearch(grammar, end, beam) for grammar in grammars]
    free = _FreeSearch(cache.frequent, end, beam)
    live = [[_Prefix((), 0.0, 0, cache.first, 0, grammar.begin())] for grammar in grammars]
    free_live = [_Prefix((), 0.0, 0, cache.first, 0)]
    for _ in range(LONGEST):
        grammar_steps = [one.steps(prefixes) for one, prefixes in zip(searches, live, strict=True)]
        free_steps = free.steps(free_live)
        if not (free_steps or any(grammar_steps)):
            break
        extended = _extended(cache, [*chain(*grammar_steps), *free_steps])
        live = [
            [
                replace(extended[p.node, token], states=grammar.after(p.states, token))
                for _, p, token in steps
            ]
            for grammar, steps in zip(grammars, grammar_steps, strict=True)
        ]
        free_live = [extended[p.node, token] for _, p, token in free_steps]
    return SearchResult(_merged([one.complete for one in searches]), free.score, free.best)


def _extended(cache: PrefixCache, steps: Sequence[_Step]) -> dict[tuple[int, int], _Prefix]:
    """The prefixes that these steps lead to, by parent node and token, each worked out once."""
    wanted = {(p.node, token): (score, p) for score, p, token in steps}
    nodes, next_tokens = cache.extend([node for node, _ in wanted], [token for _, token in wanted])
    return {
        (parent, token): _Prefix((*p.tokens, token), score, node, next_tokens, row)
        for row, (((parent, token), (score, p)), node) in enumerate(
            zip(wanted.items(), nodes, strict=True)
        )
    }


def _merged(lists: Sequence[Sequence[Hypothesis]]) -> list[Hypothesis]:
    """The complete texts of several searches, best first, each once with all its sentences."""
    by_tokens: dict[tuple[int, ...], Hypothesis] = {}
    for hypothesis in chain(*lists):
        known = by_tokens.get(hypothesis.tokens)
        if known is not None:
            both = tuple(dict.fromkeys((*known.sentences, *hypothesis.sentences)))
            hypothesis = replace(hypothesis, sentences=both)
        by_tokens[hypothesis.tokens] = hypothesis
    return sorted(by_tokens.values(), key=lambda hypothesis: -hypothesis.score)
