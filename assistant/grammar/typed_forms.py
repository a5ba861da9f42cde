"""Sentences that are understood only when typed: by ear each is too near to another sentence.

Typed words are certain, so that a form may differ from another by one sound ("can", "can't"). Knows
words and what they report; knows no question.
"""

from __future__ import annotations

from collections.abc import Iterator

from assistant.grammar.numbers import Words
from assistant.messages import Report

FORMS: dict[tuple[str, str], tuple[str, ...]] = {
    ("water told", "enough"): (
        "water in sight", "i can see the water", "we can see the water", "i can see water",
    ),
    ("emergency", "fire outside"): ("coal is on fire", "coal in the bunker is on fire"),
    ("fire", "coal"): ("coal is on the fire",),
    ("fire", "built"): ("wood on the fire", "wood is on the fire", "more wood on"),
}  # fmt: skip


def typed_forms() -> Iterator[tuple[Words, Report]]:
    """Every form with what it reports."""
    for (what, value), texts in FORMS.items():
        for text in texts:
            yield tuple(text.split()), Report(what, value)
