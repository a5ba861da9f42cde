"""The question's own words as a bare typed answer: "cool", "it's out", "yes, open".

Knows the answers of the question in hand and how a form is cut down to the word that answers; knows
no sound, no list and no engine. Typed words only: by ear such short words are too near to others.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from functools import lru_cache

from assistant.grammar.phrases import Grammar
from assistant.grammar.states import CALL_SUBJECTS, UNLESS_ASKED
from assistant.grammar.typed_text import normalise
from assistant.messages import Report

_LEAD = re.compile(
    r"(?:(?:yes|yeah|yep|aye)\b,? *)?"
    r"(?:(?:it|she|they|that) (?:is|are)|it's|its|she's|they're|that's)?\b *"
)
_TRAIL = re.compile(r" now$")
_OTHERWISE = frozenset(form for form, _ in UNLESS_ASKED)  # means another thing elsewhere
_SUBJECT = re.compile(r"^(?:\w+ ){1,4}?(?:is|are) ")


def own_word(known: Grammar, text: str) -> Report | None:
    """The one answer to the question in hand that these words give; None: no such, or a sentence.

    >>> from assistant.messages import Expected
    >>> from assistant.grammar.phrases import grammar
    >>> asked = (("gear is out", Report("gear", "out")), ("still in gear", Report("gear", "in")))
    >>> own_word(grammar(Expected("state", asked)), "it's out")
    Report(what='gear', value='out', unit=None)
    """
    expected = known.expected
    if expected.kind == "answer" or not expected.answers or text.strip().endswith("?"):
        return None
    if any(known.meaning(words) is not None for words in normalise(text)):
        return None  # a sentence as it stands
    said = " ".join(next(normalise(text), ()))
    bare = _TRAIL.sub("", said[_match_end(said) :])
    return _words_of(expected.answers).get(bare) if bare else None


def _match_end(said: str) -> int:
    lead = _LEAD.match(said)
    return lead.end() if lead else 0


@lru_cache(maxsize=64)
def _words_of(answers: tuple[tuple[str, Report], ...]) -> Mapping[str, Report]:
    """What each bare word answers, of the subject that is asked: it stands first."""
    subject = answers[0][1].what
    if subject in CALL_SUBJECTS:
        return {}
    found: dict[str, set[Report]] = {}
    for form, report in answers:
        if report.what != subject:
            break
        cut = () if form in _OTHERWISE else _without_subject(form, subject)
        for words in (str(report.value), form, *cut):
            found.setdefault(words, set()).add(report)
    return {words: reports.pop() for words, reports in found.items() if len(reports) == 1}


def _without_subject(form: str, subject: str) -> tuple[str, ...]:
    """A form without what it is about: "pipe is cool", "drains open"."""
    if form.startswith(f"{subject} ") and not form.startswith((f"{subject} is", f"{subject} are")):
        return (form.removeprefix(f"{subject} "),)
    without = _SUBJECT.sub("", form)
    return (without,) if without != form else ()
