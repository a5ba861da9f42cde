"""Spoken notes: what begins one, and what must not be taken for one."""

from __future__ import annotations

import pytest

from assistant.grammar.notes import in_one_breath


@pytest.mark.parametrize(
    ("text", "note"),
    [
        ("Note, the left plug weeps.", "the left plug weeps."),
        ("note that the left plug weeps", "the left plug weeps"),
        ("Take a note: clack sticks again", "clack sticks again"),
        ("make a note that clack sticks", "clack sticks"),
        ("Note for the book. Gauge glass changed.", "Gauge glass changed."),
    ],
)
def test_what_follows_note_is_the_note(text: str, note: str) -> None:
    assert in_one_breath(text) == note


@pytest.mark.parametrize(
    "text", ["", "note", "Note yet.", "take a note", "notes of the day", "I note that it weeps"]
)
def test_other_words_are_no_note(text: str) -> None:
    assert in_one_breath(text) is None
