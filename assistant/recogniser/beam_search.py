"""The search: best sentences of a grammar, and beside them the best of any text at all.

Knows a tree of beginnings and a token grammar; knows no meaning. Scores are sums of natural
log-probabilities with the end of text counted, so a longer beginning never scores higher.
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
    """held, free: beginnings kept at each length; within: nats below the best that are kept."""

    held: int = 16
    free: int = 2
    within: float = 10.0


@dataclass(frozen=True, slots=True)
class Hypothesis:
    """One complete text of the grammar with its score in nats; several readings of it may exist."""

    tokens: tuple[int, ...]
    sentences: tuple[Words, ...]
    score: float


@dataclass(slots=True)
class SearchResult:
    """held: complete texts, best first. free: score and tokens of the best text of any kind."""

    held: list[Hypothesis] = field(default_factory=list)
    free_score: float = -np.inf
    free_tokens: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class _Beginning:
    tokens: tuple[int, ...]
    score: float
    node: int
    following: NextTokens
    row: int
    places: LayerStates = ()


_Step = tuple[float, _Beginning, int]  # score, what is continued, by which token


class _Held:
    """The part of the search that keeps to the grammar."""

    def __init__(self, grammar: Layers, end: int, beam: Beam) -> None:
        self._grammar, self._end, self._breadth = grammar, end, beam
        self.complete: list[Hypothesis] = []
        self.best = -np.inf

    def steps(self, live: list[_Beginning]) -> list[_Step]:
        """The continuations worth keeping."""
        for beginning in live:
            sentences = self._grammar.complete(beginning.places)
            if sentences:
                score = beginning.score + beginning.following.one(beginning.row, self._end)
                self.complete.append(Hypothesis(beginning.tokens, sentences, score))
                self.best = max(self.best, score)
        keys = [self._grammar.allowed(beginning.places) for beginning in live]
        scores = [b.score + b.following.of(b.row, k) for b, k in zip(live, keys, strict=True)]
        every = np.concatenate(scores) if scores else np.zeros(0)
        if not len(every):
            return []
        floor = max(self.best, float(every.max())) - self._breadth.within
        of = np.repeat(np.arange(len(live)), [len(k) for k in keys])
        token = np.concatenate(keys)
        best = np.argsort(-every, kind="stable")[: self._breadth.held]
        return [(float(every[i]), live[of[i]], int(token[i])) for i in best if every[i] >= floor]


class _Free:
    """The part that may write anything."""

    def __init__(self, frequent: npt.NDArray[np.int64], end: int, beam: Beam) -> None:
        self._tokens, self._end, self._breadth = frequent, end, beam
        self.score = -np.inf
        self.best: tuple[int, ...] = ()

    def steps(self, live: list[_Beginning]) -> list[_Step]:
        steps: list[_Step] = []
        for beginning in live:
            ended = beginning.score + beginning.following.one(beginning.row, self._end)
            if ended > self.score:
                self.score, self.best = ended, beginning.tokens
            row = beginning.following.frequent[beginning.row]
            top = np.argpartition(-row, self._breadth.free)[: self._breadth.free + 1]
            steps += [
                (beginning.score + float(row[at]), beginning, int(self._tokens[at]))
                for at in top
                if self._tokens[at] < self._end
            ]
        steps.sort(key=lambda step: -step[0])
        return [step for step in steps[: self._breadth.free] if step[0] > self.score]


def search(tree: PrefixCache, grammars: Sequence[Layers], end: int, beam: Beam) -> SearchResult:
    """All searches in step, sharing each pass through the decoder.

    grammars: each is looked through by itself, with the whole breadth, so that what is likely is
    not crowded out by what is many; a sentence may stand in several. end: the token that ends a
    text; tokens above it are no text.
    """
    held = [_Held(grammar, end, beam) for grammar in grammars]
    free = _Free(tree.frequent, end, beam)
    live = [[_Beginning((), 0.0, 0, tree.first, 0, grammar.begin())] for grammar in grammars]
    free_live = [_Beginning((), 0.0, 0, tree.first, 0)]
    for _ in range(LONGEST):
        held_steps = [one.steps(own) for one, own in zip(held, live, strict=True)]
        free_steps = free.steps(free_live)
        if not (free_steps or any(held_steps)):
            break
        grown = _grown(tree, [*chain(*held_steps), *free_steps])
        live = [
            [
                replace(grown[b.node, token], places=grammar.after(b.places, token))
                for _, b, token in steps
            ]
            for grammar, steps in zip(grammars, held_steps, strict=True)
        ]
        free_live = [grown[b.node, token] for _, b, token in free_steps]
    return SearchResult(_together([one.complete for one in held]), free.score, free.best)


def _grown(tree: PrefixCache, steps: Sequence[_Step]) -> dict[tuple[int, int], _Beginning]:
    """The beginnings that these steps lead to, by node and token, each worked out once."""
    wanted = {(b.node, token): (score, b) for score, b, token in steps}
    nodes, following = tree.grow([node for node, _ in wanted], [token for _, token in wanted])
    return {
        (parent, token): _Beginning((*b.tokens, token), score, node, following, row)
        for row, (((parent, token), (score, b)), node) in enumerate(
            zip(wanted.items(), nodes, strict=True)
        )
    }


def _together(lists: Sequence[Sequence[Hypothesis]]) -> list[Hypothesis]:
    """The complete texts of several searches, best first, each text once with all its readings."""
    found: dict[tuple[int, ...], Hypothesis] = {}
    for written in chain(*lists):
        there = found.get(written.tokens)
        if there is not None:
            both = tuple(dict.fromkeys((*there.sentences, *written.sentences)))
            written = replace(written, sentences=both)
        found[written.tokens] = written
    return sorted(found.values(), key=lambda written: -written.score)
