"""States in words: no form stands for two states, and what is paired exists."""

from __future__ import annotations

from collections import Counter

from assistant.grammar.states import (
    CALL_SUBJECTS,
    STATE_FORMS,
    TOGETHER,
    emergencies,
    moves,
    preferred_words,
    states,
)
from assistant.messages import READINGS


def test_no_form_stands_for_two_states_emergencies_or_moves() -> None:
    forms = Counter(words for words, _ in (*states(), *emergencies(), *moves()))
    assert [words for words, times in forms.items() if times > 1] == []


def test_the_first_form_is_the_one_that_is_said() -> None:
    assert preferred_words("blower", "shut") == "the blower is shut"
    assert preferred_words("blower", "ajar") is None


def test_pairs_are_of_two_different_things_that_have_words() -> None:
    for one, other in TOGETHER:
        assert {one, other} <= set(STATE_FORMS)
        assert one[0] != other[0]


def test_what_calls_something_up_is_neither_a_state_nor_a_reading() -> None:
    assert not CALL_SUBJECTS & {what for what, _ in STATE_FORMS}
    assert not CALL_SUBJECTS & set(READINGS)
