"""Typed words as if heard: certain of the words, strict about the meaning. Knows no sound."""

from __future__ import annotations

import re

from assistant.grammar import near_typing
from assistant.grammar.loose_typing import loosely
from assistant.grammar.phrases import Grammar, grammar
from assistant.messages import (
    READINGS,
    TYPED,
    Alternative,
    Expected,
    Heard,
    Meaning,
    Report,
    Several,
)

_MARK = re.compile(r"[,;]|\.(?!\d)")
_MARK_OR_AND = re.compile(r"[,;]|\.(?!\d)|\band\b")


def hear_typed(words: str, expected: Expected, at: float) -> Heard:
    """What typed words mean while `expected` holds.

    Words that are no sentence have the reports that may have been meant as alternatives, none of
    them certain; none at all if nothing is near.

    >>> hear_typed("Pressure 75", Expected(), 1.0).alternatives[0].meaning.value
    75.0
    """
    known = grammar(expected)
    meaning = _meaning(known, words) or _several(known, words)
    if meaning is None:
        alternatives = tuple(Alternative(*each) for each in near_typing.meant(words, expected))
    else:
        alternatives = (Alternative(meaning, words, 1.0),)
    return Heard(at, TYPED, alternatives, text=words)


def _meaning(known: Grammar, words: str) -> Meaning | None:
    return known.parse(words) or loosely(known, words)


def _several(known: Grammar, words: str) -> Several | None:
    """Things told in one line, each in any of its forms, with a mark or "and" between them."""
    for pattern in (_MARK, _MARK_OR_AND):
        parts = [part for part in pattern.split(words.lower()) if part.strip()]
        meanings = [_meaning(known, part) for part in parts] if len(parts) > 1 else []
        reports = tuple(meaning for meaning in meanings if isinstance(meaning, Report))
        if reports and len({report.what for report in reports}) == len(parts):
            return Several(reports)
    return _two_readings(known, words)


def _two_readings(known: Grammar, words: str) -> Several | None:
    """Two gauges in one line without a mark, where it can be split in one way only."""
    typed = words.lower().replace(",", " ").split()
    found: list[Several] = []
    for i in range(1, len(typed)):
        if typed[i] == "and":
            continue
        first = typed[: i - 1] if typed[i - 1] == "and" else typed[:i]
        parts = [known.parse(" ".join(part)) for part in (first, typed[i:])]
        reports = tuple(part for part in parts if isinstance(part, Report))
        gauges = {report.what for report in reports}
        if len(gauges) == len(parts) and gauges <= set(READINGS):
            found.append(Several(reports))
    return found[0] if len(set(found)) == 1 else None
