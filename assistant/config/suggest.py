"""Did you mean? Finds words that are close to each other; knows nothing of their meaning."""

from __future__ import annotations

import difflib
from collections.abc import Iterable
from functools import lru_cache


def closest(word: str, known: Iterable[str]) -> str | None:
    """The known word closest to `word`, None when none is near.

    >>> closest("saftey_valve", ["safety_valve", "glass"])
    'safety_valve'
    """
    return _closest(word, tuple(known))


@lru_cache(maxsize=1000)  # a file has one mistake many times
def _closest(word: str, known: tuple[str, ...]) -> str | None:
    by_case_folded = {name.casefold(): name for name in known}
    if word.casefold() in by_case_folded:
        return by_case_folded[word.casefold()]
    near = difflib.get_close_matches(word.casefold(), by_case_folded, n=1, cutoff=0.6)
    return by_case_folded[near[0]] if near else None


def did_you_mean(word: str, known: Iterable[str]) -> str:
    """ " (did you mean 'x'?)", or the list of choices when it is short, or nothing.

    >>> did_you_mean("inc", ["mm", "inch"])
    " (did you mean 'inch'?)"
    >>> did_you_mean("zzz", ["mm", "inch"])
    ' (one of: mm, inch)'
    """
    choices = list(known)
    near = closest(word, choices)
    if near is not None:
        return f" (did you mean '{near}'?)"
    return f" (one of: {', '.join(choices)})" if 0 < len(choices) <= 12 else ""


def in_quotes(text: str, most: int = 40) -> str:
    """Text from a file or a person in quotes, shortened and printable, for a message."""
    clean = "".join(c if c.isprintable() else "?" for c in text)
    return f"'{clean if len(clean) <= most else clean[: most - 3] + '...'}'"
