"""A grammar over a recogniser's own tokens: a trie of every spelling of every sentence.

Knows a word automaton and how words are written; knows no sound. One token path stands for one
text, so no spelling is counted twice; it may stand for several word sequences ("75").
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field

import numpy as np
import numpy.typing as npt

from assistant.grammar.numbers import Words
from assistant.recogniser.automaton import Automaton
from assistant.recogniser.inverse_normalisation import (
    LONGEST_RUN,
    RUN_WORDS,
    written_numbers,
    written_words,
)

_FULL_STOPS = (".", "?", "!")


@dataclass(eq=False, slots=True)
class _Node:
    """A node of the trie of spellings that begin in one state of the word automaton."""

    children: dict[int, _Node] = field(default_factory=dict)
    exits: list[tuple[Words, int]] = field(default_factory=list)  # words complete here, state after
    ends: bool = False  # a sentence may stop here
    keys: npt.NDArray[np.int64] | None = None

    def tokens(self) -> npt.NDArray[np.int64]:
        if self.keys is None:
            self.keys = np.fromiter(self.children, np.int64, len(self.children))
        return self.keys


TrieStates = tuple[tuple[_Node, Words], ...]
"""The nodes a token prefix may have reached, each with the words written so far."""


class TokenGrammar:
    """The spellings of one automaton's sentences as token paths, built while it is used."""

    def __init__(self, automaton: Automaton, tokens: Callable[[str], tuple[int, ...]]) -> None:
        self._automaton = automaton
        self._tokens = tokens
        self._roots: dict[int, _Node] = {}
        self._commas: dict[int, _Node] = {}
        self._stop = _Node(ends=True)

    def begin(self) -> TrieStates:
        """Before the first token."""
        return ((self._root(self._automaton.start), ()),)

    def allowed(self, states: TrieStates) -> npt.NDArray[np.int64]:
        """Tokens that may come next, each once."""
        if len(states) == 1:
            return states[0][0].tokens()
        return np.unique(np.concatenate([node.tokens() for node, _ in states]))

    def after(self, states: TrieStates, token: int) -> TrieStates:
        """The states after this token."""
        reached: dict[tuple[int, Words], tuple[_Node, Words]] = {}
        for node, words in states:
            child = node.children.get(token)
            if child is None:
                continue
            reached[id(child), words] = (child, words)
            for written, state in child.exits:
                sentence = (*words, *written)
                for onward in self._onward(state):
                    reached[id(onward), sentence] = (onward, sentence)
        return tuple(reached.values())

    def complete(self, states: TrieStates) -> tuple[Words, ...]:
        """The sentences that are complete in these states."""
        return tuple(words for node, words in states if node.ends)

    def _onward(self, state: int) -> Iterator[_Node]:
        root = self._root(state)
        yield root
        if self._automaton.arcs[state]:
            comma = self._commas.get(state)
            if comma is None:
                comma = self._commas[state] = _Node({self._tokens(",")[0]: root})
            yield comma

    def _root(self, state: int) -> _Node:
        root = self._roots.get(state)
        if root is None:
            root = self._roots[state] = self._built(state)
        return root

    def _built(self, state: int) -> _Node:
        root = _Node(ends=state in self._automaton.ends)
        first = state == self._automaton.start
        for word, after in self._automaton.arcs[state].items():
            for form in written_words(word, first):
                self._add(root, " " + form, (word,), after)
        for words, after in self._runs(state, ()):
            for form in written_numbers(words):
                self._add(root, " " + form, words, after)
                if first and form[0].isalpha():
                    self._add(root, f" {form.capitalize()}", words, after)
        if "percent" in self._automaton.arcs[state]:
            self._add(root, "%", ("percent",), self._automaton.arcs[state]["percent"])
        if root.ends:
            for stop in _FULL_STOPS:
                root.children[self._tokens(stop)[0]] = self._stop
        return root

    def _add(self, node: _Node, text: str, words: Words, after: int) -> None:
        for token in self._tokens(text):
            node = node.children.setdefault(token, _Node())
        if (words, after) not in node.exits:
            node.exits.append((words, after))

    def _runs(self, state: int, sofar: Words) -> Iterator[tuple[Words, int]]:
        """Number and fraction words that follow one another from here."""
        if len(sofar) >= LONGEST_RUN:
            return
        for word, after in self._automaton.arcs[state].items():
            if word in RUN_WORDS and (sofar or word != "and"):
                run = (*sofar, word)
                yield run, after
                yield from self._runs(after, run)
