"""What may have been meant by typed words that are no sentence."""

from __future__ import annotations

import pytest

from assistant.grammar.near_typing import meant
from assistant.grammar.readings import NO_WATER_SEEN
from assistant.messages import Expected, Report


@pytest.mark.parametrize(
    ("typed", "report"),
    [
        ("75", Report("pressure", 75.0, "psi")),
        ("presure 75", Report("pressure", 75.0, "psi")),
        ("gone up to 80", Report("pressure", 80.0, "psi")),
        ("half", Report("water", 0.5, "glass")),
        ("watter haf", Report("water", 0.5, "glass")),
        ("no watter in sight", NO_WATER_SEEN),
        ("steem escaping", Report("emergency", "steam escaping")),
    ],
)
def test_a_near_spelling_or_a_bare_reading_is_never_certain(typed: str, report: Report) -> None:
    (found,) = meant(typed, Expected())
    assert found[0] == report
    assert found[2] < 0.99


@pytest.mark.parametrize("typed", ["yse", "wher are we", "the weather is fine", "presure"])
def test_an_answer_an_order_or_other_words_are_not_guessed(typed: str) -> None:
    assert meant(typed, Expected()) == ()


def test_while_yes_or_no_is_awaited_only_a_danger_is_guessed() -> None:
    asked = Expected("answer", about="pressure")
    assert meant("presure 75", asked) == ()
    assert [found[0] for found in meant("steem escaping", asked)] == [
        Report("emergency", "steam escaping")
    ]
