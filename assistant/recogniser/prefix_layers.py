"""Several token grammars as one, each laid out once and kept. Knows no words of its own.

Most of what is live is the same in every state; only the last layer is the question's own.
"""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable, Iterable, Mapping, Sequence

import numpy as np
import numpy.typing as npt

from assistant.grammar.numbers import Words
from assistant.recogniser.automaton import Automaton, of_sentences
from assistant.recogniser.inverse_normalisation import written_words
from assistant.recogniser.token_trie import TokenGrammar, TrieStates

LayerStates = tuple[tuple[int, TrieStates], ...]
"""Where a beginning of tokens may stand in each of the layers in which it may stand at all."""

MOST_CACHED = 24  # layers; the common ones are used in every state and so never the oldest


class Layers:
    """The writings of all sentences of several grammars that do not overlap."""

    def __init__(self, parts: Sequence[TokenGrammar]) -> None:
        self._parts = tuple(parts)

    def begin(self) -> LayerStates:
        """Before the first token."""
        return tuple((i, part.begin()) for i, part in enumerate(self._parts))

    def allowed(self, places: LayerStates) -> npt.NDArray[np.int64]:
        """Tokens that may come next, each once."""
        if len(places) == 1:
            return self._parts[places[0][0]].allowed(places[0][1])
        return np.unique(np.concatenate([self._parts[i].allowed(own) for i, own in places]))

    def after(self, places: LayerStates, token: int) -> LayerStates:
        """Where one may stand after this token."""
        onward = ((i, self._parts[i].after(own, token)) for i, own in places)
        return tuple((i, own) for i, own in onward if own)

    def complete(self, places: LayerStates) -> tuple[Words, ...]:
        """The sentences that are written in full here."""
        return tuple(words for i, own in places for words in self._parts[i].complete(own))


class LayerCache:
    """Layers laid out for one ear, the last ones used kept.

    tokens: the ear's own for a text. include: told the tokens of every new layer.
    """

    def __init__(
        self,
        tokens: Callable[[str], tuple[int, ...]],
        include: Callable[[Iterable[int]], None],
    ) -> None:
        self._tokens = tokens
        self._include = include
        self._kept: OrderedDict[int, tuple[object, TokenGrammar]] = OrderedDict()

    def layers(self, layers: Iterable[Mapping[Words, object]]) -> Layers:
        """A grammar in parts that do not overlap, laid out; shared parts are the same objects."""
        return Layers([self._layer(layer) for layer in layers])

    def of_automaton(self, automaton: Automaton) -> Layers:
        """A grammar that is one automaton."""
        return Layers([self._keep(automaton, automaton)])

    def _layer(self, layer: Mapping[Words, object]) -> TokenGrammar:
        known = self._kept.get(id(layer))
        if known is not None:
            self._kept.move_to_end(id(layer))
            return known[1]
        return self._keep(layer, of_sentences(layer))

    def _keep(self, owner: object, automaton: Automaton) -> TokenGrammar:
        made = TokenGrammar(automaton, self._tokens)
        self._kept[id(owner)] = (owner, made)  # the owner is kept too, so that its id stays its own
        while len(self._kept) > MOST_CACHED:
            self._kept.popitem(last=False)
        forms = {form for word in automaton.words() for form in written_words(word, first=True)}
        spaced = {f" {form}" for form in forms} | forms  # a hyphen leaves no space
        self._include(t for form in sorted(spaced) for t in self._tokens(form))
        return made
