"""How a thing was said, as far as it tells how well it must sound to be taken for it.

A long phrase that answers the question is hardly ever said by chance; a bare number lies near half
of what people say to each other. Knows words and meanings, no figures of an ear.
"""

from __future__ import annotations

from typing import Literal

from assistant.grammar import prior_weights
from assistant.messages import (
    READINGS,
    Answer,
    Correction,
    Expected,
    Meaning,
    Order,
    Report,
    Several,
)

PhraseForm = Literal["phrase asked for", "phrase", "reading asked for", "named", "bare", "word"]

NAMES = frozenset({"pressure", "water", "tank", "glass"})
UNIT_ENDS = frozenset({"pounds", "pound", "psi", "bar", "kilopascals", "kilos", "glass", "tank"})
SHORT = 9  # letters: "yes", "no", "ready", "not yet"; below this other talk is too near


def phrase_form(meaning: Meaning, words: str, expected: Expected) -> PhraseForm:
    """What manner of speech `words` are for `meaning`.

    >>> manner(Report("pressure", 75.0, "psi"), "seven five", Expected("pressure"))
    'bare'
    """
    said = words.split()
    match meaning:
        case Answer() | Order():
            return "phrase" if len("".join(said)) >= SHORT else "word"
        case Correction():
            return "bare"
        case Report(what) if what in READINGS:
            unit_said = len(said) > 1 and said[-1] in UNIT_ENDS
            if not (said and (said[0] in NAMES or unit_said)):
                return "bare"
            return "reading asked for" if prior_weights.is_answer(meaning, expected) else "named"
        case Several(reports) if any(report.what in READINGS for report in reports):
            return "named"
    if len("".join(said)) < SHORT:
        return "named"
    return "phrase asked for" if prior_weights.is_answer(meaning, expected) else "phrase"
