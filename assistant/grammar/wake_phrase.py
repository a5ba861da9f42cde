"""The wake phrase: a grammar in which any sentence may begin with it, and its removal from text.

Knows words; whether the phrase is needed at the moment is for the session to say.
"""

from __future__ import annotations

import re
from collections import OrderedDict
from collections.abc import Callable, Mapping
from dataclasses import replace
from types import MappingProxyType
from typing import TypeVar

from assistant.grammar.numbers import Words
from assistant.grammar.orders import ORDER_FORMS
from assistant.grammar.phrases import Grammar
from assistant.grammar.together import Together
from assistant.messages import Heard, Meaning, Order

PHRASE = ORDER_FORMS["call"][0]
CALL = Order("call")
ANSWER = "Yes?"
REPLY_S = 10.0  # judgement: people answer within a second, but may have to look at a gauge first
CACHE_SIZE = 64  # grammars and layers of grammars

_Layer = Mapping[Words, Meaning]
_T = TypeVar("_T")


class IdentityCache:
    """Results by the identity of their source, least recently used dropped first."""

    def __init__(self) -> None:
        self._results: OrderedDict[int, tuple[object, object]] = OrderedDict()

    def get(self, source: _T, make: Callable[[_T], _T]) -> _T:
        """`make(source)`, made once. The source is held too, so that its id is not reused."""
        if id(source) not in self._results:
            self._results[id(source)] = (source, make(source))
            while len(self._results) > CACHE_SIZE:
                self._results.popitem(last=False)
        self._results.move_to_end(id(source))
        return self._results[id(source)][1]  # type: ignore[return-value]


class Wake:
    """Grammars with an optional phrase before any sentence.

    The phrase is in the recogniser's prompt: without that it is hardly ever heard in noise.
    """

    def __init__(self, phrase: str = PHRASE) -> None:
        self.phrase = phrase
        self._words = tuple(phrase.split())
        self._cache = IdentityCache()
        pattern = r"\W+".join(map(re.escape, self._words))
        self._prefix = re.compile(rf"^\W*{pattern}\b\W*", re.IGNORECASE)

    def grammar(self, plain: Grammar) -> Grammar:
        """The same sentences, each also after the phrase, and the phrase alone as a call."""
        return self._cache.get(plain, self._extended)

    def _extended(self, plain: Grammar) -> Grammar:
        alone = {} if plain.meaning(self._words) == CALL else {self._words: CALL}
        layers = [self._cache.get(layer, self._with_prefixed) for layer in plain.layers]
        likely = [self._cache.get(layer, self._with_prefixed) for layer in plain.likely]
        call_layer = [MappingProxyType(alone)] if alone else []
        return replace(
            plain,
            layers=(*layers, *call_layer),
            likely=(*likely, *call_layer) if likely else (),
            prompt=f"{self.phrase.capitalize()}. {plain.prompt}",
        )

    def _with_prefixed(self, layer: _Layer) -> _Layer:
        if isinstance(layer, Together):
            return layer.opened(self._words)
        prefixed = {(*self._words, *words): meaning for words, meaning in layer.items()}
        return MappingProxyType({**layer, **prefixed})

    def heard(self, heard: Heard) -> Heard:
        """The same without the phrase in its words; `called` if the likeliest began with it."""
        called = bool(heard.alternatives) and self._prefix.match(heard.alternatives[0].words)
        return replace(
            heard,
            alternatives=tuple(
                replace(alternative, words=self.after(alternative.words))
                for alternative in heard.alternatives
            ),
            text=self.after(heard.text),
            called=bool(called),
        )

    def begins(self, text: str) -> bool:
        """Whether a text begins with the phrase, in any case and punctuation.

        >>> Wake("engine minder").begins("Engine-Minder, note: it weeps.")
        True
        """
        return self._prefix.match(text) is not None

    def after(self, text: str) -> str:
        """What follows the phrase; the whole text if it is the phrase alone or lacks it.

        >>> Wake("engine minder").after("engine minder water half")
        'water half'
        """
        return self._prefix.sub("", text) or text
