"""Corrections in the words in which they are typed: "make that sixty", "sixty, not seventy".

Each is taken as "wrong" with what is right behind it, as `phrases` understands that. Of a sentence
that corrects itself ("damper open, no, shut") only what is right is taken. Knows words; knows no
reading and decides nothing.
"""

from __future__ import annotations

import re
from collections.abc import Callable

from assistant.grammar.phrases import Grammar
from assistant.messages import READINGS, Correction, Meaning, Report

# After these what is right follows, whatever was said.
_LEADS = re.compile(
    r"(?:no,? )?(?:sorry|correction|i said|i meant?|i should have said|that(?:'s| is) wrong)[,:]? "
)
# These may begin another sentence too: only of a reading that was just called.
_OF_A_READING = re.compile(
    r"(?:(?:no|sorry),? )?(?:make (?:that|it)|(?:it |that )?should be) "
    r"|(?:no|sorry),? (?:(?:it|that) is|it's|its|that's) "
)
_NOT = re.compile(
    r"(?:(?:no|sorry|wrong),? )?(?P<right>[^?]+?),? not (?P<wrong>[^?,]+)"
    r"|(?:no,? )?not (?P<no>[^?,]+?)(?:,| but|, but) (?P<but>[^?,]+)"
)
_NO = re.compile(r"no\b")
_DENIED = re.compile(r"no,? (?=(?:the|she|i|we) )")
_YES = re.compile(r"(?:yes|yeah|yep|aye|correct)\b[,.]? *(?=\w)")
# Between a sentence and what it should have been.
_RATHER = re.compile(
    r",? (?:no,? sorry|no|sorry|i mean|i meant|make that|rather)[,:]?"
    r" (?:(?:it|that) is |it's |its |that's |make (?:that|it) )?"
)


def agreed(known: Grammar, text: str, parse: Callable[[str], Meaning | None]) -> Report | None:
    """What is said again behind a yes ("yes, a hundred and ten"); None for no such.

    >>> from assistant.messages import Expected
    >>> from assistant.grammar.phrases import grammar
    >>> doubted = grammar(Expected("answer", about="pressure"))
    >>> agreed(doubted, "yes, sixty", doubted.parse)
    Report(what='pressure', value=60.0, unit='psi')
    """
    found = _YES.match(text.lower())
    if found is None or text.rstrip().endswith("?"):
        return None
    said = text[found.end() :]
    meaning = parse(said)
    if meaning is None and known.expected.about is not None:
        instead = _reading(_after_wrong(known, said.lower().rstrip(".!")))
        meaning = None if instead is None else instead.report
    return meaning if isinstance(meaning, Report) else None


def denied(known: Grammar, text: str, parse: Callable[[str], Meaning | None]) -> Report | None:
    """What is so instead, behind a no of its own ("no, the fire is bright"); None for no such.

    >>> from assistant.messages import Expected
    >>> from assistant.grammar.phrases import grammar
    >>> free = grammar(Expected())
    >>> denied(free, "no, the damper is open", free.parse)
    Report(what='damper', value='open', unit=None)
    """
    found = _DENIED.match(text.lower())
    if found is None or text.rstrip().endswith("?") or known.expected.kind == "answer":
        return None
    meaning = parse(text[found.end() :])
    return meaning if isinstance(meaning, Report) else None


def corrected(known: Grammar, text: str) -> Correction | None:
    """The correction that a typed sentence makes; None if it makes none.

    >>> from assistant.messages import Expected
    >>> from assistant.grammar.phrases import grammar
    >>> corrected(grammar(Expected(about="pressure")), "make that sixty")
    Correction(report=Report(what='pressure', value=60.0, unit='psi'))
    """
    said = " ".join(text.lower().replace("’", "'").split()).rstrip(".!")
    if said.endswith("?"):
        return None
    if (found := _NOT.fullmatch(said)) is not None:
        right, wrong = found["right"] or found["but"], found["wrong"] or found["no"]
        return _instead(known, right, wrong)
    if (lead := _LEADS.match(said)) is not None:
        return _after_wrong(known, said[lead.end() :])
    lead = _OF_A_READING.match(said)
    if lead is None or (known.expected.about is None and _NO.match(said) is None):
        return None
    return _reading(_after_wrong(known, said[lead.end() :]))


def _instead(known: Grammar, right: str, wrong: str) -> Correction | None:
    """One reading in place of another of the same gauge."""
    instead = _reading(_after_wrong(known, right))
    other = _reading(_after_wrong(known, wrong))
    if instead is None or other is None or instead.report.what != other.report.what:
        return None
    named = known.parse(right) is not None
    return instead if named or known.expected.about is not None else None


def _reading(meaning: Correction | None) -> Correction | None:
    return meaning if meaning is not None and meaning.report.what in READINGS else None


def _after_wrong(known: Grammar, right: str) -> Correction | None:
    words = re.sub(r"(?<=\w)'s\b", " is", right)
    for said in (right, words, words.replace(" is ", " ")):
        meaning = known.parse(f"wrong {said}")
        if isinstance(meaning, Correction):
            return meaning
    report = known.parse(right)
    if isinstance(report, Report) and report.what in READINGS:
        return Correction(report)
    return None


def set_right(text: str, parse: Callable[[str], Meaning | None]) -> Report | None:
    """What a sentence that corrects itself comes to; None if it does not, or is not understood.

    Both halves tell of one subject; the second may leave out what the first has said. "No" before
    words with which it makes a sentence of its own ("no water in sight") corrects nothing.

    >>> from assistant.messages import Expected
    >>> from assistant.grammar.phrases import grammar
    >>> set_right("damper open, no it's shut", grammar(Expected()).parse)
    Report(what='damper', value='shut', unit=None)
    """
    said = " ".join(text.lower().replace("’", "'").split()).rstrip(".!")
    halves = _RATHER.split(said)
    if len(halves) != 2 or said.endswith("?"):
        return None
    first, second = halves
    wrong = parse(first)
    if not isinstance(wrong, Report) or isinstance(parse(f"no {second}"), Report):
        return None
    words = first.split()
    for kept in range(len(words)):
        right = parse(" ".join((*words[:kept], second)))
        if isinstance(right, Report) and right.what == wrong.what:
            return right
    return None
