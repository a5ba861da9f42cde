"""Suggestions for mistyped words, and texts shown safely in messages."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from assistant.config.suggest import closest, did_you_mean, in_quotes


def test_the_nearest_word_or_none() -> None:
    known = ["safety_valve", "glass", "Fire"]
    assert closest("saftey_valve", known) == "safety_valve"
    assert closest("fire", known) == "Fire"
    assert closest("whistle", known) is None
    assert closest("x", []) is None


def test_a_long_list_of_choices_is_not_shown() -> None:
    assert did_you_mean("zzz", [f"unit{i}" for i in range(13)]) == ""
    assert did_you_mean("zzz", []) == ""
    assert did_you_mean("zzz", ["mm", "inch"]) == " (one of: mm, inch)"


@given(st.text(max_size=200))
def test_a_quoted_text_is_one_short_printable_line(text: str) -> None:
    quoted = in_quotes(text)
    assert quoted.isprintable()
    assert len(quoted) <= 42
