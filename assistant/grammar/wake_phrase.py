"""The wake phrase: a grammar in which any sentence may begin with it, and what was so called.

Knows words; whether a session wants the phrase, and when, is the session's.
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
from assistant.messages import Heard, Meaning, Order

PHRASE = ORDER_FORMS["call"][0]
CALL = Order("call")
ANSWER = "Yes?"
REPLY_S = 10.0  # judgement: people answer within a second, but may have to look at a gauge first
KEPT = 64  # grammars and layers of grammars

Layer = Mapping[Words, Meaning]
Thing = TypeVar("Thing")


class Kept:
    """What was made of things that are told apart as objects; the last ones used."""

    def __init__(self) -> None:
        self._made: OrderedDict[int, tuple[object, object]] = OrderedDict()

    def of(self, thing: Thing, make: Callable[[Thing], Thing]) -> Thing:
        """What `make` makes of it, made once. The thing is kept too, so its id stays its own."""
        if id(thing) not in self._made:
            self._made[id(thing)] = (thing, make(thing))
            while len(self._made) > KEPT:
                self._made.popitem(last=False)
        self._made.move_to_end(id(thing))
        return self._made[id(thing)][1]  # type: ignore[return-value]


class Wake:
    """Grammars with the phrase before any sentence. phrase: another than ours, to measure it.

    The ear must be told of it (`prompt`): beside 10 dB of engine it was heard 5 times of 28
    without that, 26 times with it.
    """

    def __init__(self, phrase: str = PHRASE) -> None:
        self.phrase = phrase
        self._words = tuple(phrase.split())
        self._kept = Kept()
        pattern = r"\W+".join(map(re.escape, self._words))
        self._begins = re.compile(rf"^\W*{pattern}\b\W*", re.IGNORECASE)

    def grammar(self, plain: Grammar) -> Grammar:
        """The same sentences, each also after the phrase, and the phrase alone as a call."""
        return self._kept.of(plain, self._called)

    def _called(self, plain: Grammar) -> Grammar:
        alone = {} if plain.meaning(self._words) == CALL else {self._words: CALL}
        layers = [self._kept.of(layer, self._both) for layer in plain.layers]
        likely = [self._kept.of(layer, self._both) for layer in plain.likely]
        own = [MappingProxyType(alone)] if alone else []
        return replace(
            plain,
            layers=(*layers, *own),
            likely=(*likely, *own) if likely else (),
            prompt=f"{self.phrase.capitalize()}. {plain.prompt}",
        )

    def _both(self, layer: Layer) -> Layer:
        called = {(*self._words, *words): meaning for words, meaning in layer.items()}
        return MappingProxyType({**layer, **called})

    def heard(self, heard: Heard) -> Heard:
        """The same without the phrase in its words, and whether the likeliest began with it."""
        called = bool(heard.alternatives) and self._begins.match(heard.alternatives[0].words)
        return replace(
            heard,
            alternatives=tuple(
                replace(one, words=self.after(one.words)) for one in heard.alternatives
            ),
            text=self.after(heard.text),
            called=bool(called),
        )

    def begins(self, text: str) -> bool:
        """Whether a text begins with the phrase, however it is written.

        >>> Wake("engine minder").begins("Engine-Minder, note: it weeps.")
        True
        """
        return self._begins.match(text) is not None

    def after(self, text: str) -> str:
        """What follows the phrase; all of the text where it does not begin with it, or is only it.

        >>> Wake("engine minder").after("engine minder water half")
        'water half'
        """
        return self._begins.sub("", text) or text
