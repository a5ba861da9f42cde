"""Whether a step's own words conflict with what is always accepted: in meaning or in sound.

Knows the grammar; knows no step. Used when a checklist is checked, never while listening.
"""

from __future__ import annotations

from functools import lru_cache

from assistant.grammar import counted, orders, readings, states
from assistant.grammar.meaning_json import meaning_json
from assistant.grammar.numbers import Words
from assistant.grammar.phonetics import alike
from assistant.grammar.phrases import grammar, spoken
from assistant.messages import Expected, Meaning, Report


@lru_cache(maxsize=1)
def fixed_sentences() -> tuple[tuple[Words, Meaning], ...]:
    """The sentences that are live in every state: those without a number, and the few counts."""
    out_of_sight = ((tuple(t.split()), readings.NO_WATER_SEEN) for t in readings.OUT_OF_SIGHT_WORDS)
    return (
        *orders.answer_forms(),
        *orders.plain_orders(),
        *states.states(),
        *states.emergencies(),
        *states.moves(),
        *counted.counted(),
        *out_of_sight,
    )


def clash(form: str, report: Report) -> str | None:
    """Why `form` may not mean `report` in a step, None if it may.

    >>> clash("drains open", Report("cocks", "open"))
    "'drains open' already means {'reading': 'drains', 'value': 'open', 'unit': None}"
    >>> clash("ash pan clean", Report("ash pan", "clean")) is None
    True
    """
    try:
        words = spoken(form)
    except ValueError as wrong:
        return str(wrong)
    if form in dict(states.UNLESS_ASKED):
        return None  # the step's own where it asks
    existing = grammar(Expected("state")).meaning(words)
    if existing not in (None, report):
        return f"{form!r} already means {meaning_json(existing)}"
    for fixed_words, meaning in fixed_sentences():
        sentence = " ".join(fixed_words)
        if meaning != report and alike(form, sentence):
            return f"{form!r} sounds too much like {sentence!r}"
    return None
