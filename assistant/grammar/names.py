"""The sentences with a person's name in them. The names are the owner's; none is known here.

Knows words; knows no session.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator
from itertools import combinations
from typing import cast

from assistant.grammar.conflicts import clash
from assistant.grammar.phonetics import alike
from assistant.grammar.phrases import grammar
from assistant.messages import BY, ON_WATCH, READINGS, Expected, ExpectedKind, Report

WATCH_FRAMES = (
    "{} has the watch",
    "{} takes the watch",
    "{} is on watch",
    "{} has her now",
    "{} is watching her",
    "{} stays with her",
)
LOOKED_FRAMES = (
    "boiler has been looked at by {}",
    "the boiler has been looked at by {}",
    "{} has looked at the boiler",
)
BARE_FRAMES = ("{}", "by {}", "it is {}", "it was {}")  # where a name was asked for
MOST_WORDS = 3
_NOBODY = re.compile(r"(?:nobody|no one|no-one|none|no)\b")


def watch_of(name: str) -> Report:
    """The watch is with that person."""
    return Report(ON_WATCH, name)


def looked_at_by(name: str) -> Report:
    """That person has looked at the boiler."""
    return Report("boiler", BY + name)


def forms(names: Iterable[str]) -> Iterator[tuple[str, Report]]:
    """What may be said of these people at any time.

    >>> next(forms(["Ann"]))
    ('ann has the watch', Report(what='on watch', value='Ann', unit=None))
    """
    for name in names:
        yield from ((f.format(name.lower()), watch_of(name)) for f in WATCH_FRAMES)
        yield from ((f.format(name.lower()), looked_at_by(name)) for f in LOOKED_FRAMES)


def bare_forms(
    names: Iterable[str], meaning_of: Callable[[str], Report]
) -> Iterator[tuple[str, Report]]:
    """The name alone, where a name was asked for."""
    for name in names:
        yield from ((f.format(name.lower()), meaning_of(name)) for f in BARE_FRAMES)


def is_nobody(text: str) -> bool:
    """Whether what was said where a name was asked for names nobody.

    >>> is_nobody("Nobody stays"), is_nobody("Noel")
    (True, False)
    """
    return _NOBODY.match(" ".join(text.lower().split())) is not None


def names_in(text: str) -> tuple[str, ...]:
    """The names of a list with commas.

    >>> names_in("Ann, Bob Lee,")
    ('Ann', 'Bob Lee')
    """
    pieces = (" ".join(piece.split()) for piece in text.split(","))
    return tuple(dict.fromkeys(filter(None, pieces)))


def objections(names: Iterable[str]) -> Iterator[tuple[str, str]]:
    """Each name that cannot be used, and why.

    >>> list(objections(["Ann", "R2"]))
    [('R2', 'letters only, three words at most: it is spoken')]
    >>> [why for _, why in objections(["Ready"])]
    ["'ready' already means {'command': 'ready'}"]
    """
    usable = []
    for name in names:
        words = name.split()
        spellable = all(word.replace("'", "").isalpha() for word in words)
        if not spellable or not 0 < len(words) <= MOST_WORDS:
            yield name, "letters only, three words at most: it is spoken"
        elif why := next(_clashes(name), None):
            yield name, why
        else:
            usable.append(name)
    for one, other in combinations(usable, 2):
        if one.lower() == other.lower() or alike(one.lower(), other.lower()):
            yield other, f"sounds too much like {one!r}: take a second name with it"


def _clashes(name: str) -> Iterator[str]:
    bare = tuple(bare_forms([name], watch_of))
    every = (*forms([name]), *bare)
    yield from (why for form, report in every if (why := clash(form, report)) is not None)
    for kind in READINGS:  # where a number alone is a reading
        listed = grammar(Expected(cast(ExpectedKind, kind)))
        for form, _ in bare:
            if listed.meaning(form.split()) is not None:
                yield f"{form!r} is a {kind} where that is asked"
