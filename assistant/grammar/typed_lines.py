"""Several things typed in one line, or a reading with what it does: "twenty pounds and rising".

Knows how such a line is divided; what each part means is told by others. Knows no boiler.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from itertools import pairwise

from assistant.grammar.loose_typing import dangers_inside
from assistant.grammar.near_typing import MOVES, may_be_gone
from assistant.grammar.numbers import DIGITS, TEENS, TENS
from assistant.grammar.phrases import Grammar, grammar
from assistant.grammar.readings import NO_WATER_SEEN
from assistant.messages import READINGS, Expected, Meaning, Report, Several

_MARK = re.compile(r"[,;]|\.(?!\d)")
_NUMBER = rf"(?:{'|'.join((*DIGITS, *TEENS, *filter(None, TENS)))}|\d+)"
# not within a number: "a hundred and fifty and rising"
_MARK_OR_AND = re.compile(rf"[,;]|\.(?!\d)|(?<!\bhundred )\band\b|\band\b(?! +{_NUMBER}\b)")
# Of the valve, beside a reading.
_OF_THE_VALVE = re.compile(
    r"(?:still |now |she is |it is |it's |she's |just )*"
    r"(?P<state>blowing(?: off| hard)?|lifting|lifted|feathering|simmering|sizzling)"
)
_LIFTS = frozenset({"blowing", "lifted", "lifting"})
_BEHIND_A_READING = re.compile(r"(?P<reading>.+?),? (?P<valve>(?:still |just )?\w+ing)")
_AT_A_READING = re.compile(r"(?P<valve>(?:valve |she is |she's )?\w+ing) at (?P<reading>.+)")
# Before or between readings these say nothing of her.
_ASIDE = frozenset(
    {
        "back", "i am back", "i'm back", "tapped it", "i tapped it", "right", "okay", "ok", "there",
        "had a look", "looked", "i looked", "looking now", "well", "so", "here we are",
    }
)  # fmt: skip
_TAKES_BACK = re.compile(
    r"(no|nope|wrong|sorry|if|unless|or|i mean|make|rather|that was|it was)\b"
    r"|(perhaps|maybe|possibly|i think|i guess|i suppose|could be|might be|about|full|nearly)\b"
    r"|not (it|that|a|an|the|quite|sure|half|full|empty|\d|one|two|three)\b"
)
_FULL = frozenset({"full", "nearly full"})  # of the glass or of the tank

MeaningOf = Callable[[str], Meaning | None]


def several(known: Grammar, words: str, meaning_of: MeaningOf) -> Meaning | None:
    """What is told in one line with marks or "and" in it; where a gauge is, also without what is
    not followed.

    >>> from assistant.messages import Expected
    >>> known = grammar(Expected())
    >>> line = several(known, "pressure ninety, still blowing, water half", known.parse)
    >>> [report.value for report in line.reports]
    [90.0, 'lifting', 0.5]
    """
    reading = _and_moves(words, meaning_of) or _and_the_valve(words, meaning_of)
    if reading is not None:
        return reading
    for pattern in (_MARK, _MARK_OR_AND):
        parts = _parts(pattern, words)
        found = _each(known, parts, meaning_of) if len(parts) > 1 else ()
        if found:
            return Several(found) if len(found) > 1 else found[0]
    return _without_a_mark(known, words) or _without_the_rest(words, meaning_of)


def _parts(pattern: re.Pattern[str], words: str) -> list[str]:
    return [part.strip() for part in pattern.split(words.lower()) if part.strip()]


def _without_the_rest(words: str, meaning_of: MeaningOf) -> Meaning | None:
    """What is followed of a line with a gauge in it; None where the rest may take it back, or where
    a danger is called in it: that is asked about.
    """
    parts = _parts(_MARK_OR_AND, words)
    meanings = [meaning_of(part) for part in parts]
    found = tuple(meaning for meaning in meanings if isinstance(meaning, Report))
    rest = [part for part, m in zip(parts, meanings, strict=True) if not isinstance(m, Report)]
    subjects = {report.what for report in found}
    if not rest or subjects.isdisjoint(READINGS) or len(subjects) < len(found):
        return None
    calls = any(may_be_gone(part) or any(dangers_inside(part)) for part in rest)
    calls = calls or any(r.what == "emergency" or r == NO_WATER_SEEN for r in found)
    if words.rstrip().endswith("?") or calls or any(_TAKES_BACK.match(part) for part in rest):
        return None
    return Several(found) if len(found) > 1 else found[0]


def _and_moves(words: str, meaning_of: MeaningOf) -> Report | None:
    """A reading that is said to rise, fall or hold: the reading."""
    end = next((m.start() for m in MOVES.finditer(words.lower()) if m.end() == len(words)), None)
    meaning = meaning_of(words[:end]) if end else None
    return meaning if isinstance(meaning, Report) and meaning.what in READINGS else None


def _valve(part: str) -> Report | None:
    """What a bare word of the valve says: "still blowing"."""
    found = _OF_THE_VALVE.fullmatch(part.rstrip(".!"))
    if found is None:
        return None
    return Report("valve", "lifting" if found["state"].split()[0] in _LIFTS else "feathering")


def _and_the_valve(words: str, meaning_of: MeaningOf) -> Several | None:
    """A pressure with what the valve does behind it, or before "at": "feathering at ninety"."""
    said = " ".join(words.lower().split()).rstrip(".!")
    for pattern, lead in ((_BEHIND_A_READING, ""), (_AT_A_READING, "pressure ")):
        found = pattern.fullmatch(said)
        valve = _valve(found["valve"].removeprefix("valve ")) if found else None
        if found is None or valve is None:
            continue
        reading = meaning_of(found["reading"]) or meaning_of(f"{lead}{found['reading']}")
        if isinstance(reading, Report) and reading.what == "pressure":
            return Several((reading, valve))
    return None


def _each(known: Grammar, parts: list[str], meaning_of: MeaningOf) -> tuple[Report, ...]:
    """The report of every part, each subject once; empty if one is none, or two contradict."""
    named = [part for part in parts if part not in _ASIDE]
    parts = named if len(named) < len(parts) else parts
    meanings = [meaning_of(part) or _valve(part) for part in parts]
    meanings = _with_bare_readings(known, parts, meanings)
    reports = [meaning for meaning in meanings if isinstance(meaning, Report)]
    if len(reports) != len(parts):
        return ()
    kept: dict[str, Report] = {}
    for report in reports:
        before = kept.get(report.what)
        again = before == report and report.what != "emergency"
        if before is not None and not (again or _says_more(report, before)):
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
