"""Several token grammars as one, each compiled once and kept. Knows no words of its own.

Most of what is live is the same in every state; only the last layer is the question's own.
"""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable, Iterable, Mapping, Sequence

import numpy as np
import numpy.typing as npt

from assistant.grammar.numbers import Words
from assistant.grammar.together import Together
from assistant.recogniser.automaton import Automaton, of_sentences
from assistant.recogniser.inverse_normalisation import written_words
from assistant.recogniser.together_automaton import of_together
from assistant.recogniser.token_trie import TokenGrammar, TrieStates

LayerStates = tuple[tuple[int, TrieStates], ...]
"""The trie states of a token prefix in each of the layers that may have written it."""

MOST_CACHED = 24  # small layers, each a question's own
MOST_LARGE = 96  # large ones, which many questions share
LARGE = 500  # sentences

_Cache = OrderedDict[int, tuple[object, TokenGrammar]]


class Layers:
    """The spellings of all sentences of several grammars."""

    def __init__(self, parts: Sequence[TokenGrammar]) -> None:
        self._parts = tuple(parts)

    def begin(self) -> LayerStates:
        """Before the first token."""
        return tuple((i, part.begin()) for i, part in enumerate(self._parts))

    def allowed(self, states: LayerStates) -> npt.NDArray[np.int64]:
        """Tokens that may come next, each once."""
        if len(states) == 1:
            return self._parts[states[0][0]].allowed(states[0][1])
        return np.unique(np.concatenate([self._parts[i].allowed(own) for i, own in states]))

    def after(self, states: LayerStates, token: int) -> LayerStates:
        """The states after this token."""
        onward = ((i, self._parts[i].after(own, token)) for i, own in states)
        return tuple((i, own) for i, own in onward if own)

    def complete(self, states: LayerStates) -> tuple[Words, ...]:
        """The sentences that are complete in these states."""
        return tuple(words for i, own in states for words in self._parts[i].complete(own))


class LayerCache:
    """LRU caches of the compiled layers of one recogniser: the large ones outlive the small.

    tokens: the recogniser's tokens of a text. include: is given the tokens of every new layer.
    """

    def __init__(
        self,
        tokens: Callable[[str], tuple[int, ...]],
        include: Callable[[Iterable[int]], None],
    ) -> None:
        self._tokens = tokens
        self._include = include
        self._small: _Cache = OrderedDict()
        self._large: _Cache = OrderedDict()

    def layers(self, layers: Iterable[Mapping[Words, object] | Automaton]) -> Layers:
        """A grammar in parts, compiled; parts are known by their identity."""
        return Layers([self._layer(layer) for layer in layers])

    def _layer(self, layer: Mapping[Words, object] | Automaton) -> TokenGrammar:
        large = not isinstance(layer, Automaton | Together) and len(layer) >= LARGE
        cache, most = (self._large, MOST_LARGE) if large else (self._small, MOST_CACHED)
        cached = cache.get(id(layer))
        if cached is not None:
            cache.move_to_end(id(layer))
            return cached[1]
        automaton = _automaton(layer)
        compiled = TokenGrammar(automaton, self._tokens)
        cache[id(layer)] = (layer, compiled)  # the layer is kept so that its id stays unique
        while len(cache) > most:
            cache.popitem(last=False)
        forms = {form for word in automaton.words() for form in written_words(word, first=True)}
        spaced = {f" {form}" for form in forms} | forms  # after a hyphen there is no space
        self._include(t for form in sorted(spaced) for t in self._tokens(form))
        return compiled


def _automaton(layer: Mapping[Words, object] | Automaton) -> Automaton:
    if isinstance(layer, Automaton):
        return layer
    return of_together(layer) if isinstance(layer, Together) else of_sentences(layer)
