"""Several searches in step: what is likely is found although thousands of others sound nearer."""

from __future__ import annotations

import numpy as np

from assistant.recogniser.automaton import of_sentences
from assistant.recogniser.beam_search import Beam, search
from assistant.recogniser.prefix_layers import LayerCache

WORDS = {word: number for number, word in enumerate(["a", "b", "c", "d", ".", "end"])}
END = WORDS["end"]


def tokens(text: str) -> tuple[int, ...]:
    return tuple(WORDS.get(word.strip().lower(), 4) for word in text.split()) or (4,)


class Following:
    """The same chances after every beginning."""

    def __init__(self, nats: np.ndarray, rows: int) -> None:
        self.frequent = np.tile(nats, (rows, 1))

    def of(self, row: int, keys: np.ndarray) -> np.ndarray:
        return self.frequent[row][keys]

    def one(self, row: int, token: int) -> float:
        return float(self.frequent[row][token])


class Tree:
    """Counts how many beginnings are worked out."""

    def __init__(self, nats: list[float]) -> None:
        self._nats = np.array(nats)
        self.first = Following(self._nats, 1)
        self.frequent = np.arange(len(nats))
        self.grown: list[tuple[int, int]] = []

    def grow(self, parents, chosen):
        begin = len(self.grown) + 1
        self.grown += list(zip(parents, chosen, strict=True))
        return range(begin, begin + len(chosen)), Following(self._nats, len(chosen))


def laid_out(*sentences: str):
    shelf = LayerCache(tokens, lambda seen: None)
    return shelf.of_automaton(of_sentences({tuple(s.split()): s for s in sentences}))


NATS = [-1.0, -1.1, -1.2, -4.0, -9.0, -1.0]  # d is the least likely word


def test_a_crowded_beam_loses_what_its_own_search_finds() -> None:
    many, few = laid_out("a", "b", "c", "d"), laid_out("d")
    narrow = Beam(held=3, free=1)
    alone = search(Tree(NATS), (many,), END, narrow)
    assert ("d",) not in [s for written in alone.held for s in written.sentences]
    both = search(Tree(NATS), (many, few), END, narrow)
    assert ("d",) in [s for written in both.held for s in written.sentences]
    assert [w.score for w in both.held] == sorted((w.score for w in both.held), reverse=True)


def test_a_sentence_in_two_searches_counts_once_and_is_worked_out_once() -> None:
    tree = Tree(NATS)
    found = search(tree, (laid_out("a", "b"), laid_out("a")), END, Beam(held=4, free=1))
    assert len({written.tokens for written in found.held}) == len(found.held)
    assert len(set(tree.grown)) == len(tree.grown)
