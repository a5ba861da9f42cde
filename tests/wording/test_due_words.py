"""Due dates in words: days up to two months, months beyond, and at most four read out."""

from __future__ import annotations

import pytest

from assistant.messages import DueSoon
from assistant.wording.due_words import AT_ONCE, IN_DAYS, due_words


@pytest.mark.parametrize(
    ("days", "words"),
    [
        (IN_DAYS, "washout due in sixty days."),
        (IN_DAYS + 1, "washout due in about two months."),
        (-IN_DAYS - 1, "washout overdue by about two months."),
    ],
)
def test_long_times_are_in_months(days: int, words: str) -> None:
    assert due_words([DueSoon("washout", days)]) == f"By the owner's dates: {words}"


def test_days_that_run_out_sooner_than_hours_are_named() -> None:
    assert "in two hours in steam" in due_words([DueSoon("washout", 3, 2.0)])
    assert "overdue by two hours in steam" in due_words([DueSoon("washout", 3, -2.0)])
    assert "overdue by one day" in due_words([DueSoon("washout", -1, 2.0)])
    assert due_words([DueSoon("washout", None)]).endswith("washout due soon.")


def test_no_more_than_four_are_read_out() -> None:
    dues = [DueSoon(f"test {letter}", 3) for letter in "abcdef"]
    text = due_words(dues)
    assert text.count("due in three days") == AT_ONCE
    assert text.endswith("Two more in the report.")
    assert due_words(dues[:AT_ONCE]).count("more") == 0
