"""The ways a transcriber writes what was said."""

from __future__ import annotations

from assistant.enrolment.spellings import spellings


def test_a_number_in_figures_in_words_and_with_both_ends() -> None:
    texts = spellings(("one", "two", "zero"))
    assert {" 120", " 120.", " 1-2-0", " One two zero.", " one, two, zero"} <= set(texts)
    assert all(text.startswith(" ") for text in texts)
    assert len(texts) == len(set(texts))


def test_words_that_are_not_numbers_are_written_one_way() -> None:
    assert set(spellings(("water", "low"))) == {
        " water low", " water low.", " Water low", " Water low.",
    }  # fmt: skip


def test_a_sign_for_per_cent() -> None:
    assert " tank 50%." in spellings(("tank", "fifty", "percent"))
