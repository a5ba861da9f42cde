"""Several things typed in one line, or a reading with what it does: "twenty pounds and rising".

Knows how such a line is divided; what each part means is told by others. Knows no boiler.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from itertools import pairwise

from assistant.grammar.phrases import Grammar, grammar
from assistant.grammar.readings import NO_WATER_SEEN
from assistant.messages import READINGS, Expected, Meaning, Report, Several

_MARK = re.compile(r"[,;]|\.(?!\d)")
_MARK_OR_AND = re.compile(r"[,;]|\.(?!\d)|\band\b")
_MOVES = re.compile(
    r"(?:,| and|, and) (?:still |now |it's |it is )?"
    r"(?:rising|falling|climbing|dropping|going up|going down|coming up|coming down|steady"
    r"|holding|holding steady)[.!]?"
)
_FULL = frozenset({"full", "nearly full"})  # of the glass or of the tank

MeaningOf = Callable[[str], Meaning | None]


def several(known: Grammar, words: str, meaning_of: MeaningOf) -> Meaning | None:
    """What is told in one line with marks or "and" in it; None if a part is not followed."""
    reading = _and_moves(words, meaning_of)
    if reading is not None:
        return reading
    for pattern in (_MARK, _MARK_OR_AND):
        parts = [part.strip() for part in pattern.split(words.lower()) if part.strip()]
        found = _each(known, parts, meaning_of) if len(parts) > 1 else ()
        if found:
            return Several(found) if len(found) > 1 else found[0]
    return _without_a_mark(known, words)


def _and_moves(words: str, meaning_of: MeaningOf) -> Report | None:
    """A reading that is said to rise, fall or hold: the reading."""
    end = next((m.start() for m in _MOVES.finditer(words.lower()) if m.end() == len(words)), None)
    meaning = meaning_of(words[:end]) if end else None
    return meaning if isinstance(meaning, Report) and meaning.what in READINGS else None


def _each(known: Grammar, parts: list[str], meaning_of: MeaningOf) -> tuple[Report, ...]:
    """The report of every part, each subject once; empty if one is none, or two contradict."""
    meanings = [meaning_of(part) for part in parts]
    meanings = _with_bare_readings(known, parts, meanings)
    reports = [meaning for meaning in meanings if isinstance(meaning, Report)]
    if len(reports) != len(parts):
        return ()
    kept: dict[str, Report] = {}
    for report in reports:
        before = kept.get(report.what)
        if before is not None and not _says_more(report, before):
            return ()
        kept[report.what] = report
    return tuple(kept.values())


def _says_more(report: Report, before: Report) -> bool:
    """Whether it says what was said before, and more: "on", "on and chocked"."""
    return f"{report.value} ".startswith(f"{before.value} ") and report != before


def _with_bare_readings(
    known: Grammar, parts: list[str], meanings: list[Meaning | None]
) -> list[Meaning | None]:
    """A number as the pressure and a fraction as the water, where the line makes that clear.

    Clear is a number with a fraction behind it, and either beside the other gauge by its name.
    """
    named = {each.what for each in meanings if isinstance(each, Report)} & set(READINGS)
    bare = [
        None if meaning else _bare(known, part)
        for part, meaning in zip(parts, meanings, strict=True)
    ]
    kinds = [each.what if each else "" for each in bare]
    both = any(pair == ("pressure", "water") for pair in pairwise(kinds))
    clear = both or (bool(named) and named.isdisjoint(kinds))
    return [each or (guess if clear else None) for each, guess in zip(meanings, bare, strict=True)]


def _bare(known: Grammar, part: str) -> Report | None:
    unit = known.expected.pressure_unit
    for kind in ("pressure", "water"):
        asked = Expected("pressure" if kind == "pressure" else "water", pressure_unit=unit)
        meaning = grammar(asked).parse(part)
        if isinstance(meaning, Report) and meaning.what == kind:
            is_level = meaning != NO_WATER_SEEN and part not in _FULL and part != "nothing"
            return meaning if is_level else None
    return None


def _without_a_mark(known: Grammar, words: str) -> Several | None:
    """A gauge and one thing more in one line, where it can be divided in one way only."""
    if words.rstrip().endswith("?"):
        return None
    typed = words.lower().replace(",", " ").split()
    found: list[Several] = []
    for i in range(1, len(typed)):
        if typed[i] == "and":
            continue
        first = typed[: i - 1] if typed[i - 1] == "and" else typed[:i]
        parts = [known.parse(" ".join(part)) for part in (first, typed[i:])]
        reports = tuple(part for part in parts if isinstance(part, Report))
        subjects = {report.what for report in reports}
        if len(subjects) == len(parts) and not subjects.isdisjoint(READINGS):
            found.append(Several(reports))
    return found[0] if len(set(found)) == 1 else None
