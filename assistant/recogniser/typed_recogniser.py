"""Typed words as if heard: certain of the words, strict about the meaning. Knows no sound."""

from __future__ import annotations

from assistant.grammar.phrases import grammar
from assistant.messages import TYPED, Alternative, Expected, Heard


def hear_typed(words: str, expected: Expected, at: float) -> Heard:
    """What typed words mean while `expected` holds; no alternative if they are not a sentence.

    >>> hear_typed("Pressure 75", Expected(), 1.0).alternatives[0].meaning.value
    75.0
    """
    meaning = grammar(expected).parse(words)
    alternatives = () if meaning is None else (Alternative(meaning, words, 1.0),)
    return Heard(at, TYPED, alternatives, text=words)
