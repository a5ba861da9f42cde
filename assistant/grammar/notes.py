"""Notes said aloud: which words begin one, and what is said back. Knows words only."""

from __future__ import annotations

import re

_BEGINS = re.compile(
    r"^\W*(?:(?:take|make)\s+a\s+note(?:\s+that)?|note\s+for\s+the\s+book|note(?:\s+that)?)"
    r"(?:\W+|$)",
    re.IGNORECASE,
)
LEAST_WORDS = 2  # besides "note" itself: fewer are as likely a misheard "not yet"


def in_one_breath(text: str) -> str | None:
    """What follows "note" where a text begins so; None where it does not, or hardly.

    >>> in_one_breath("Note, the left plug weeps."), in_one_breath("Note yet."), in_one_breath("no")
    ('the left plug weeps.', None, None)
    """
    begun = _BEGINS.match(text)
    rest = "" if begun is None else text[begun.end() :].strip()
    return rest if len(rest.split()) >= LEAST_WORDS else None


def taken(by_ear: bool, with_sound: bool) -> str:
    """The note is in the book; of a spoken one, whether its sound was kept."""
    if not by_ear:
        return "Noted."
    return "Noted, with its sound." if with_sound else "Noted, the words only."
