"""The form of a phrase, which decides how well it must be recognised to be accepted.

A long phrase that answers the question is hardly ever said by chance; a bare number sounds like
much that people say to each other. Knows words and meanings, no figures of a recogniser.
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
SHORT = 9  # letters; below this ("yes", "ready", "not yet") other talk sounds too similar


def phrase_form(meaning: Meaning, words: str, expected: Expected) -> PhraseForm:
    """The form of phrase that `words` are for `meaning`.

    >>> phrase_form(Report("pressure", 75.0, "psi"), "seven five", Expected("pressure"))
    'bare'
    """
    spoken = words.split()
    letters = len("".join(spoken))
    match meaning:
        case Answer() | Order():
            return "phrase" if letters >= SHORT else "word"
        case Correction():
            return "bare"
        case Report(what) if what in READINGS:
            unit_said = len(spoken) > 1 and spoken[-1] in UNIT_ENDS
            if not (spoken and (spoken[0] in NAMES or unit_said)):
                return "bare"
            return "reading asked for" if prior_weights.is_answer(meaning, expected) else "named"
        case Several(reports) if any(report.what in READINGS for report in reports):
            return "named"
    if letters < SHORT:
        return "named"
    return "phrase asked for" if prior_weights.is_answer(meaning, expected) else "phrase"
