"""Typed words that are no sentence as they stand: what may have been meant, to be asked about.

Knows the sentences and the spelling of words; knows no boiler and decides nothing. A word that is
known, and a figure, keep what they are: only unknown words are replaced.
"""

from __future__ import annotations

import difflib
import itertools
import re
from collections.abc import Iterator
from functools import lru_cache

from assistant.grammar.loose_typing import dangers_inside, plain
from assistant.grammar.numbers import Words
from assistant.grammar.phrases import Grammar, grammar
from assistant.grammar.readings import NO_WATER_SEEN
from assistant.grammar.typed_text import normalise
from assistant.messages import Expected, ExpectedKind, Meaning, Report, Several

# Judgement: "watter", "steem" and "haf" are near, "cold" and "coal" are both words.
NEAR = 0.75  # of `difflib`: twice the letters in common over all letters
FEWEST_LETTERS = 3
MOST_UNKNOWN = 2  # words
MOST_CHOICES = 3  # known words for each of them
CERTAIN = 0.9  # of all that may have been meant together: below every threshold for a report
ENOUGH = "enough"  # water or pressure told to be so
BARE_AS: tuple[ExpectedKind, ...] = ("pressure", "water")
# Behind a reading, what it does.
MOVES = re.compile(
    r"(?:,| and|, and) (?:still |now |it's |it is )?"
    r"(?:rising|falling|climbing|dropping|going up|going down|coming up|coming down|steady"
    r"|holding|holding steady)[.!]?"
)
# Words before a bare reading that say no more than it does.
_LEAD = re.compile(
    r"(?:(?:it|she|it's|she's|its|shes) )?"
    r"(?:(?:is|has|now|gone|went|come|came|going|reads|shows) )*"
    r"(?:(?:up|down) )?(?:(?:to|at|about|on) )?(?:now )?"
)
# Of the water of the boiler, in any words: it may be out of sight.
_NOT_THE_BOILERS = re.compile(
    r"\b(tank|trough|bucket|drains?|cylinder|cup|bottle|hose|pump|pipe|injector|chimney|if|unless"
    r"|until|before|never|longer|dribbl\w*|drip\w*|leak\w*|weep\w*)\b|\?"
)
_WATER_GONE = re.compile(
    r"\b(water|level|glass)\b(?!.*(\bnot\b|n't\b)).*"
    r"\b(gone|empty|dropped out|disappeared|vanished|nut|out of (the )?(glass|sight))\b"
    r"|(\b(cannot|can not|hardly|barely|scarcely)\b|can't\b).*\bsee\b.*\b(water|level)\b"
)
_LEVEL = re.compile(r"\b(water|level|glass|nut)\b")
_DOWN = re.compile(r"\b(collapsed|fainted|passed out|unconscious|not breathing)\b(?!.*\?)")
_NOBODY = re.compile(
    r"\b(grate|fire|arch|brick\w*|smokebox|ash ?pan|chimney|stack|if|unless|nearly|almost|not have"
    r"|has not|hasn't|never)\b"
)
HURT = Report("emergency", "someone hurt")
_SHUT = re.compile(r"shut (?:the )?(?P<name>[a-z][a-z -]*?)(?: now)?")


def meant(words: str, expected: Expected) -> tuple[tuple[Meaning, str, float], ...]:
    """Reports that may have been meant, their words and probability; empty: none.

    >>> [said for _, said, _ in meant("presure 75", Expected())]
    ['pressure seventy five']
    """
    scores: dict[Meaning, tuple[float, str]] = {}
    guesses = (
        *_near(words, expected),
        *_bare(words, expected),
        *_by_order(words, expected),
        *dangers_inside(words),
    )
    for said, meaning, score in guesses:
        if meaning not in scores or scores[meaning][0] < score:
            scores[meaning] = score, said
    if not scores and may_be_gone(words):
        scores[NO_WATER_SEEN] = 1.0, words
    if not scores and somebody_is_down(words):
        scores[HURT] = 1.0, words
    total = sum(score for score, _ in scores.values())
    return tuple((m, said, CERTAIN * score / total) for m, (score, said) in scores.items())


def may_be_gone(text: str) -> bool:
    """Whether a sentence speaks of the water as if it were out of sight.

    >>> may_be_gone("I can hardly see the water"), may_be_gone("the tank is empty of water")
    (True, False)
    """
    said = " ".join(text.lower().replace("’", "'").split())
    return _NOT_THE_BOILERS.search(said) is None and _WATER_GONE.search(said) is not None


def speaks_of_the_level(text: str) -> bool:
    """Whether typed words speak of the water of the boiler, whatever they say of it.

    >>> speaks_of_the_level("water is up and down a bit"), speaks_of_the_level("what of the tank")
    (True, False)
    """
    said = text.lower()
    return _NOT_THE_BOILERS.search(said) is None and _LEVEL.search(said) is not None


def somebody_is_down(text: str) -> bool:
    """Whether a sentence tells of a person who lies there, by whatever name.

    >>> somebody_is_down("Tom has fainted"), somebody_is_down("the grate has collapsed")
    (True, False)
    """
    said = text.lower().replace("’", "'")
    return _DOWN.search(said) is not None and _NOBODY.search(said) is None


def _near(text: str, expected: Expected) -> Iterator[tuple[str, Meaning, float]]:
    """The sentences that differ from the text in the spelling of unknown words only."""
    known = grammar(expected)
    vocabulary = _vocabulary(expected, expected.elsewhere)
    for words in normalise(text):
        choices = [_choices(word, vocabulary) for word in words]
        unknown = sum(word not in vocabulary for word in words)
        if not 0 < unknown <= MOST_UNKNOWN:
            continue
        for chosen in itertools.product(*choices):
            said = " ".join(word for word, _ in chosen)
            meaning = known.parse(said)
            if meaning is not None and _may_be_asked(meaning, expected):
                yield said, meaning, _product(score for _, score in chosen)


def _bare(text: str, expected: Expected) -> Iterator[tuple[str, Meaning, float]]:
    """A number or a fraction alone, or after "gone up to": the gauges it can be read on."""
    if expected.kind == "answer":
        return
    said = MOVES.sub("", " ".join(text.lower().split()).rstrip(".!?"))
    lead = _LEAD.match(said)
    for rest in dict.fromkeys((said[lead.end() :] if lead else said, plain(text))):
        for kind in BARE_AS:
            asked = Expected(kind, pressure_unit=expected.pressure_unit)
            meaning = grammar(asked).parse(rest) if rest else None
            if isinstance(meaning, Report) and meaning.what == kind and meaning != NO_WATER_SEEN:
                yield rest, meaning, 1.0


def _by_order(text: str, expected: Expected) -> Iterator[tuple[str, Meaning, float]]:
    """ "Shut the damper": told of what was done, or an order to somebody."""
    found = _SHUT.fullmatch(" ".join(text.lower().split()).rstrip(".!"))
    if found is None or expected.kind == "answer":
        return
    said = f"{found['name']} shut"
    meaning = grammar(expected).parse(said)
    if isinstance(meaning, Report) and meaning.value == "shut":
        yield said, meaning, 1.0


def _may_be_asked(meaning: Meaning, expected: Expected) -> bool:
    """Reports only; while yes or no is awaited a danger only, so that no doubt is lost to it."""
    if expected.kind == "answer":
        return isinstance(meaning, Report) and (
            meaning.what == "emergency" or meaning == NO_WATER_SEEN
        )
    if isinstance(meaning, Report) and meaning.value == ENOUGH:
        return False  # no figure: not worth a question
    return isinstance(meaning, Report | Several)


def _choices(word: str, vocabulary: frozenset[str]) -> list[tuple[str, float]]:
    """A word as it is if it is known, else the known words near to it, each with its nearness."""
    if word in vocabulary:
        return [(word, 1.0)]
    if len(word) < FEWEST_LETTERS:
        return []
    near = difflib.get_close_matches(word, sorted(vocabulary), MOST_CHOICES, NEAR)
    return [(each, difflib.SequenceMatcher(None, each, word).ratio()) for each in near]


def _product(scores: Iterator[float]) -> float:
    result = 1.0
    for score in scores:
        result *= score
    return result


@lru_cache(maxsize=16)
def _vocabulary(expected: Expected, elsewhere: tuple[tuple[str, Report], ...]) -> frozenset[str]:
    """Every word of every sentence; elsewhere is part of `expected`, and not compared with it."""
    known: Grammar = grammar(expected)
    sentences: Iterator[Words] = itertools.chain.from_iterable(known.layers)
    return frozenset(itertools.chain.from_iterable(sentences))
