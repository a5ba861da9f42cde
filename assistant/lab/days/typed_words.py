"""Typed words to `Heard`, as `hear_typed` does it, without building a grammar for each.

The sentences that do not depend on the question are built once; the question's own forms are looked
up beside them. What neither has goes the slow way, so that nothing is judged differently.
"""

from __future__ import annotations

from functools import lru_cache

from assistant.grammar.phrases import Grammar, grammar
from assistant.grammar.typed_text import normalise
from assistant.messages import TYPED, Alternative, Expected, ExpectedKind, Heard, Meaning
from assistant.recogniser.typed_recogniser import hear_typed


def heard(words: str, expected: Expected, at: float) -> Heard:
    """What typed words mean while `expected` holds."""
    meaning = _meaning(words, expected)
    if meaning is None:
        return hear_typed(words, expected, at)
    return Heard(at, TYPED, (Alternative(meaning, words, 1.0),), text=words)


def _meaning(words: str, expected: Expected) -> Meaning | None:
    own = dict(expected.answers)
    for form in normalise(words):
        if " ".join(form) in own:
            return own[" ".join(form)]
    return _common(expected.kind, expected.about, expected.pressure_unit).parse(words)


@lru_cache(maxsize=64)
def _common(kind: ExpectedKind, about: str | None, unit: str) -> Grammar:
    return grammar(Expected(kind, about=about, pressure_unit=unit))
