"""Typed words as if heard: certain of the words, strict about the meaning. Knows no sound."""

from __future__ import annotations

from assistant.grammar import near_typing
from assistant.grammar.loose_typing import loosely
from assistant.grammar.own_words import own_word
from assistant.grammar.phrases import Grammar, grammar
from assistant.grammar.typed_corrections import agreed, corrected, denied, set_right
from assistant.grammar.typed_lines import several
from assistant.messages import TYPED, Alternative, Expected, Heard, Meaning


def hear_typed(words: str, expected: Expected, at: float) -> Heard:
    """What typed words mean while `expected` holds.

    Words that are no sentence have the reports that may have been meant as alternatives, none of
    them certain; none at all if nothing is near.

    >>> hear_typed("Pressure 75", Expected(), 1.0).alternatives[0].meaning.value
    75.0
    """
    known = grammar(expected)
    meaning = (
        _meaning(known, words)
        or corrected(known, words)
        or agreed(known, words, lambda part: _meaning(known, part))
        or denied(known, words, lambda part: _meaning(known, part))
        or set_right(words, lambda part: _meaning(known, part))
        or several(known, words, lambda part: _meaning(known, part))
    )
    if meaning is None:
        alternatives = tuple(Alternative(*each) for each in near_typing.meant(words, expected))
    else:
        alternatives = (Alternative(meaning, words, 1.0),)
    return Heard(at, TYPED, alternatives, text=words)


def _meaning(known: Grammar, words: str) -> Meaning | None:
    return own_word(known, words) or known.parse(words) or loosely(known, words)
