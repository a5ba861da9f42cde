"""Spoken notes: which words begin one, and the reply to one. Knows words only."""

from __future__ import annotations

import re

_BEGINS = re.compile(
    r"^\W*(?:(?:take|make)\s+a\s+note(?:\s+that)?|note\s+for\s+the\s+book|note(?:\s+that)?)"
    r"(?:\W+|$)",
    re.IGNORECASE,
)
LEAST_WORDS = 2  # after "note"; fewer are as likely a misheard "not yet"


def in_one_breath(text: str) -> str | None:
    """What follows "note" at the start of a text; None without "note", or with too few words after.

    >>> in_one_breath("Note, the left plug weeps."), in_one_breath("Note yet."), in_one_breath("no")
    ('the left plug weeps.', None, None)
    """
    opening = _BEGINS.match(text)
    rest = "" if opening is None else text[opening.end() :].strip()
    return rest if len(rest.split()) >= LEAST_WORDS else None


def note_reply(by_ear: bool, with_sound: bool) -> str:
    """Confirms that the note is in the book and, of a spoken one, whether its sound was kept."""
    if not by_ear:
        return "Noted."
    return "Noted, with its sound." if with_sound else "Noted, the words only."
