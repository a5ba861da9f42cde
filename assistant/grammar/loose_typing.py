"""Typed sentences that say a known thing in other words: "she's priming", "safeties are lifting".

Words that carry no meaning here are left out, and words of one thing become one word, in what was
typed and in the sentences alike; nothing else may differ. No other word ("if", "nearly", "not") is
left out, and a question says nothing. Knows no boiler and decides nothing.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from functools import lru_cache
from itertools import pairwise

from assistant.grammar import orders, readings, states
from assistant.grammar.numbers import DIGITS, TEENS, TENS, Words
from assistant.grammar.phrases import Grammar
from assistant.grammar.typed_forms import typed_forms
from assistant.grammar.typed_text import TYPED_SHORT, normalise
from assistant.messages import READINGS, Answer, Correction, Meaning, Report, Several

# One word for one thing, in this order.
_ONE_WORD: tuple[tuple[re.Pattern[str], str], ...] = tuple(
    (re.compile(rf"\b(?:{pattern})\b"), word)
    for pattern, word in (
        ("on the fire", "on thefire"),  # not "on fire"
        ("(has|have|i|we|i've|we've) just", r"\1"),
        ("check valve|clack valve", "clack"),
        ("(?:safety|pop|relief) valves?|safeties|safety(?= (?:is|has)\\b|'s\\b)", "valve"),
        ("(?:fusible|lead|soft) plug", "plug"),
        ("(?:water|gauge|sight) glass", "glass"),
        ("suction strainer", "strainer"),
        ("out the(?= chimney)", "out of"),
        ("(?<=will not )close", "shut"),
        ("water tank", "tank"),
        ("(?:hand|mud|man) ?hole(?: doors?)?|mud ?(?:doors?|lids?)", "mud door"),
        ("blow ?down(?: valve| cock)?", "blow down"),
        ("fire ?hole(?: door)?|fire door", "firehole"),
        ("fire box", "firebox"),
        ("smoke box", "smokebox"),
        ("ashpan", "ash pan"),
        ("throttle", "regulator"),
        ("hand ?brake|parking brake", "brake"),
        ("stack", "chimney"),
        ("flues?|tubes", "tube"),
        ("drain cocks?|cylinder cocks?", "drains"),
        ("(?:draft|draught|ash(?: pan)?) door", "damper"),
        ("by ?pass(?: valve)?", "bypass"),
        ("someone", "somebody"),
        ("bloke|chap|fellow|fella", "man"),
        ("kids", "children"),
        ("kid", "child"),
        ("blow ?back", "blow back"),
        ("blow ?backs", "blow back"),
        ("till", "until"),
        ("tarp", "tarpaulin"),
        ("pressure gauge", "gauge"),
        (r"(?:just |right |dead |exactly )?(?:on|at|level with) (?=the (?:\w+ )?mark\b)", "at "),
        ("(?:bottom|low) mark", "lower mark"),
        ("top mark", "upper mark"),
        # what a second one shows is asked about, where the two differ
        ("(?:second|other|test) gauge", "pressure"),
        ("everyone", "everybody"),
        ("engine", "she"),
        ("(?:(?:i|we|i've|we've|i have|we have) )?closed the", "i shut the"),
        ("closed", "shut"),
        ("shan't|won't|wont", "will not"),
        ("can't|cant|can not", "cannot"),
        ("isn't|aren't|hasn't|haven't|isnt|hasnt", "not"),
        ("doesn't|doesnt|don't|dont", "does not"),
        ("didn't|didnt", "did not"),
        (r"i'm|(?<=\w)'(?:s|re|ve)", ""),
        ("flames?", "flames"),
        ("(?:just|a bit|a little) (?:above|over)", "just over"),
        ("(?:just|a bit|a little) (?:below|under)", "just under"),
        ("half ?way up the glass", "half a glass"),
        ("half ?way", "half"),
        (r"(?:turned|switched|put) (?:the )?(\w+) (on|off)", r"\1 \2"),
        (r"(?:turned|switched|put) (on|off) (?:the )?(\w+)", r"\2 \1"),
        (
            "(?:all|everything)(?: is)? (?:good|fine|well|okay|ok|correct|all right)",
            "everything fine",
        ),
        ("is (?:okay|ok|correct)", "fine"),
        ("(?:gone|come|went|came)? ?(?:up|down) to", ""),
        ("pounds of steam", "pounds"),
        ("on the (?:clock|dial|gauge)", ""),
        ("(?<=^)steam(?= at)", "pressure"),
    )
)
_NO_WEIGHT = "the a an is are am has have got been now there please okay so well oh"
_LEFT_OUT = frozenset(_NO_WEIGHT.split())
# Beside a report these change nothing.
_BEHIND = frozenset({"again", "now", "nicely", "lovely", "hard", "badly", "well", "fine"})
_BEFORE = frozenset({"still", "yes", "yeah", "aye"})
_NEVER_BESIDE = frozenset({"move", *READINGS, "withdrawn"})
# A damper shut a little is not shut; what leaks a little leaks.
_A_LITTLE = frozenset({("a", "bit"), ("a", "little")})
_HOWEVER_LITTLE = frozenset(
    {
        "emergency",
        "cure",
        "valve seat",
        "firebox",
        "boiler",
        "gland",
        "water told",
        "pressure told",
        "lifting",
        "feathering",
    }
)
# What stands between a gauge and what it reads.
_AT_READING = (
    _LEFT_OUT - {"a", "an"}
    | {"i", "we"}
    | {
        "at",
        "on",
        "reads",
        "shows",
        "says",
        "stands",
        "standing",
    }
)
_OF_NUMBERS = frozenset({*DIGITS, *TEENS, *filter(None, TENS), "hundred"})
# With one of these nothing is told as it is.
_UNREAL_WORDS = "if not nearly almost was were might would could when until unless never what how"
_UNREAL = frozenset(_UNREAL_WORDS.split())
_ROUGHLY = frozenset({"about", "around", "roughly", "nearly", "almost", "over", "under"})
_ASKS = re.compile(
    r"\s*(?:is|are|has|have|does|do|did|can(?! (?:just|only)\b)|could|shall|should|will|would|may"
    r"|what|where|why|when|how|which|who)\b(?!')|.*\?\s*$",
    re.IGNORECASE,
)


_ON_THE_FIRE = re.compile(r"\bon the fire\b")
_YES_NO = re.compile(
    r"(?:yes|yeah|yep|aye|no|nope),? (?:it|she|they|i|he|there) "
    r"(?:is|are|does|do|did|has|have|was|am)(?:n't| not)?\.?",
    re.IGNORECASE,
)


def loosely(known: Grammar, text: str) -> Meaning | None:
    """What typed words mean that are no sentence as they stand; None: nothing, or more than one.

    >>> from assistant.messages import Expected
    >>> from assistant.grammar.phrases import grammar
    >>> loosely(grammar(Expected()), "she's blowing off")
    Report(what='valve', value='lifting', unit=None)
    >>> loosely(grammar(Expected()), "is she blowing off") is None
    True
    """
    if _YES_NO.fullmatch(text.strip()):
        return Answer("yes" if text.strip()[0].lower() in "ya" else "no")
    for words in normalise(_ON_THE_FIRE.sub("on thefire", text.lower())):
        meaning = _said(known, words, asks=_ASKS.match(text) is not None)
        if meaning is not None:
            return meaning
    return None


def _said(known: Grammar, words: Words, asks: bool) -> Meaning | None:
    bare = _bare(words)
    order = _of_orders().get(bare)
    if asks or order is not None:
        return order
    return _told(known, words, bare) or _beside(known, words)


def _told(known: Grammar, words: Words, bare: Words) -> Meaning | None:
    short = TYPED_SHORT.get(bare)
    return (
        _report(known, bare) or _reading(known, words) or (known.meaning(short) if short else None)
    )


def _beside(known: Grammar, words: Words) -> Report | None:
    """A report with a word beside it that changes nothing: "again", "nicely", "aye"."""
    rest = words
    if rest[:1] and rest[0] in _BEFORE and known.expected.kind != "answer":
        rest = rest[1:]
    while len(rest) > 1 and rest[-1] in _BEHIND:
        rest = rest[:-1]
    rest = rest[:-2] if rest[-2:] == ("at", "last") else rest
    little = rest[-2:] in _A_LITTLE
    if little:
        rest = rest[:-2]
    if rest == words or not rest:
        return None
    exact = known.meaning(rest)
    meaning = exact if isinstance(exact, Report) else _told(known, rest, _bare(rest))
    if not isinstance(meaning, Report) or meaning.what in _NEVER_BESIDE:
        return None
    if little and meaning.what not in _HOWEVER_LITTLE and meaning.value not in _HOWEVER_LITTLE:
        return None
    return meaning


def _report(known: Grammar, bare: Words) -> Meaning | None:
    """A state, an answer or a danger whose sentence has the same words that count."""
    if not bare:
        return None
    own = _by_bare((tuple(text.split()), report) for text, report in known.expected.answers)
    unless = {} if own.get(bare) else _unless_asked()
    elsewhere = unless if bare in unless else _of_answers(known.expected.elsewhere)
    tables = (own, _of_states(), unless, elsewhere)
    found = frozenset(report for table in tables for report in table.get(bare, ()))
    if not found and "just" in bare:  # a danger has only just come
        return _danger(_of_states().get(tuple(word for word in bare if word != "just"), ()))
    dangers = frozenset(report for report in found if report.what == "emergency")
    if dangers:
        found = dangers  # as the one that may not be missed
    elif own.get(bare):
        found = own[bare]
    return next(iter(found)) if len(found) == 1 else None


def _danger(reports: Iterable[Report]) -> Report | None:
    found = [report for report in reports if report.what == "emergency"]
    return found[0] if len(found) == 1 else None


def _reading(known: Grammar, words: Words) -> Meaning | None:
    """A gauge with what it reads, and words between them."""
    for left_out in (frozenset({"the", "is", "now"}), _AT_READING):
        if _within_a_number(_one_word(words), left_out):
            continue
        said = tuple(word for word in _one_word(words) if word not in left_out)
        meaning = known.meaning(said) if len(said) > 1 else None
        meant = meaning.report if isinstance(meaning, Correction) else meaning
        parts = meant.reports if isinstance(meant, Several) else (meant,)
        if all(isinstance(part, Report) and part.what in READINGS for part in parts):
            return meaning
    return None


def _within_a_number(words: Words, left_out: frozenset[str]) -> bool:
    """Whether a word to be left out stands within a number: "one hundred on one" is none."""
    places = [i for i, word in enumerate(words) if word in _OF_NUMBERS]
    return any(
        b > a + 1 and all(word in left_out for word in words[a + 1 : b])
        for a, b in pairwise(places)
    )


def plain(text: str) -> str:
    """A reading without what stands beside it: "we've got about sixty on the clock", "sixty"."""
    words = next(normalise(text), ())
    return " ".join(word for word in _one_word(words) if word not in _AT_READING | _ROUGHLY)


def dangers_inside(text: str) -> Iterator[tuple[str, Report, float]]:
    """The calls of danger that stand whole within a longer sentence, each once: to be asked about.

    >>> [said for said, _, _ in dangers_inside("oh no, no water in sight")]
    ['no water in sight']
    >>> list(dangers_inside("what if a tube has burst"))
    []
    """
    words = _bare(next(normalise(text), ()))
    found: dict[Report, str] = {}
    called: set[int] = set()
    for call, (form, report) in _calls().items():
        for i in range(len(words) - len(call) + 1):
            if words[i : i + len(call)] == call:
                found.setdefault(report, form)
                called.update(range(i, i + len(call)))
    beside = {word for place, word in enumerate(words) if place not in called}
    if not text.rstrip().endswith("?") and _UNREAL.isdisjoint(beside):
        yield from ((form, report, 1.0) for report, form in found.items())


@lru_cache(maxsize=1)
def _calls() -> Mapping[Words, tuple[str, Report]]:
    """The calls of danger by their words that count, two at least."""
    pairs = (*states.emergencies(), *readings.levels_in_words(), *typed_forms())
    kept = [(w, r) for w, r in pairs if r.what == "emergency" or r == readings.NO_WATER_SEEN]
    table: dict[Words, tuple[str, Report]] = {}
    for words, report in kept:
        if len(bare := _bare(words)) > 1:
            table.setdefault(bare, (" ".join(words), report))
    return table


@lru_cache(maxsize=1)
def _of_states() -> Mapping[Words, frozenset[Report]]:
    tables = (
        states.states(),
        states.emergencies(),
        states.moves(),
        readings.levels_in_words(),
        typed_forms(),
    )
    return _by_bare(pair for table in tables for pair in table)


@lru_cache(maxsize=1)
def _unless_asked() -> Mapping[Words, frozenset[Report]]:
    return _by_bare((tuple(text.split()), report) for text, report in states.UNLESS_ASKED)


@lru_cache(maxsize=1)
def _of_orders() -> Mapping[Words, Meaning]:
    """The orders by their words that count, where no two have the same."""
    table: dict[Words, Meaning | None] = {}
    plain = dict(orders.plain_orders())
    short = ((words, plain[full]) for words, full in TYPED_SHORT.items() if full in plain)
    for words, order in (*plain.items(), *short):
        bare = _bare(words)
        table[bare] = order if table.get(bare, order) == order else None
    return {bare: order for bare, order in table.items() if bare and order is not None}


@lru_cache(maxsize=32)
def _of_answers(answers: tuple[tuple[str, Report], ...]) -> Mapping[Words, frozenset[Report]]:
    return _by_bare((tuple(text.split()), report) for text, report in answers)


def _by_bare(sentences: Iterable[tuple[Words, Report]]) -> dict[Words, frozenset[Report]]:
    table: dict[Words, frozenset[Report]] = {}
    for words, report in sentences:
        bare = _bare(words)
        table[bare] = table.get(bare, frozenset()) | {report}
    return table


def _bare(words: Words) -> Words:
    return tuple(word for word in _one_word(words) if word not in _LEFT_OUT)


@lru_cache(maxsize=16384)
def _one_word(words: Words) -> Words:
    text = " ".join(words)
    for pattern, word in _ONE_WORD:
        text = pattern.sub(word, text)
    return tuple(text.split())
