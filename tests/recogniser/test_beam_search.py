"""Several searches in step: what is likely is found although thousands of others sound nearer."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
import numpy.typing as npt

from assistant.recogniser.automaton import of_sentences
from assistant.recogniser.beam_search import Beam, search
from assistant.recogniser.prefix_layers import LayerCache, Layers
from assistant.recogniser.whisper_decoder import NextTokens, PrefixCache

WORDS = {word: number for number, word in enumerate(["a", "b", "c", "d", ".", "end"])}
END = WORDS["end"]


def tokens(text: str) -> tuple[int, ...]:
    return tuple(WORDS.get(word.strip().lower(), 4) for word in text.split()) or (4,)


class FixedTokens(NextTokens):
    """The same log-probabilities after every prefix."""

    def __init__(self, nats: npt.NDArray[np.float32], rows: int) -> None:
        self.frequent = np.tile(nats, (rows, 1))

    def log_probs(self, row: int, tokens: npt.NDArray[np.int64]) -> npt.NDArray[np.float32]:
        return np.asarray(self.frequent[row][tokens])


class CountingCache(PrefixCache):
    """Counts which prefixes are worked out."""

    def __init__(self, nats: list[float]) -> None:
        self._nats = np.array(nats, np.float32)
        self.first = FixedTokens(self._nats, 1)
        self.extended: list[tuple[int, int]] = []

    @property
    def frequent(self) -> npt.NDArray[np.int64]:
        return np.arange(len(self._nats))

    def extend(self, parents: Sequence[int], tokens: Sequence[int]) -> tuple[range, NextTokens]:
        begin = len(self.extended) + 1
        self.extended += list(zip(parents, tokens, strict=True))
        return range(begin, begin + len(tokens)), FixedTokens(self._nats, len(tokens))


def compiled(*sentences: str) -> Layers:
    return LayerCache(tokens, lambda new: None).layers(
        [of_sentences(tuple(sentence.split()) for sentence in sentences)]
    )


NATS = [-1.0, -1.1, -1.2, -4.0, -9.0, -1.0]  # d is the least likely word


def test_a_crowded_beam_loses_what_its_own_search_finds() -> None:
    many, few = compiled("a", "b", "c", "d"), compiled("d")
    narrow = Beam(in_grammar=3, free=1)
    alone = search(CountingCache(NATS), (many,), END, narrow)
    assert ("d",) not in [s for one in alone.in_grammar for s in one.sentences]
    both = search(CountingCache(NATS), (many, few), END, narrow)
    assert ("d",) in [s for one in both.in_grammar for s in one.sentences]
    assert [one.score for one in both.in_grammar] == sorted(
        (one.score for one in both.in_grammar), reverse=True
    )


def test_a_sentence_in_two_searches_counts_once_and_is_worked_out_once() -> None:
    cache = CountingCache(NATS)
    result = search(cache, (compiled("a", "b"), compiled("a")), END, Beam(in_grammar=4, free=1))
    assert len({one.tokens for one in result.in_grammar}) == len(result.in_grammar)
    assert len(set(cache.extended)) == len(cache.extended)
