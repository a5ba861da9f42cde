"""Typed sentences in other words than the table's: what they mean, and what they may not mean."""

from __future__ import annotations

import pytest

from assistant.grammar.loose_typing import loosely
from assistant.grammar.phrases import grammar
from assistant.messages import Answer, Expected, Meaning, Order, Report, Several
from assistant.recogniser.typed_recogniser import hear_typed

KNOWN = grammar(Expected())


@pytest.mark.parametrize(
    ("typed", "meaning"),
    [
        ("she's priming", None),  # a call of a list: known where the session names its lists
        ("she's blowing off", Report("valve", "lifting")),
        ("Safeties are lifting!", Report("valve", "lifting")),
        ("the relief valve isn't lifting", Report("valve", "shut")),
        ("regulator's stuck", Report("emergency", "regulator is stuck open")),
        ("the throttle won't shut", Report("emergency", "regulator is stuck open")),
        ("there's water in the smokebox", Report("emergency", "tube has burst")),
        ("someone's been burned", Report("emergency", "somebody is burned")),
        ("i've lost the water", Report("water", "out of sight")),
        ("handhole door is leaking", Report("boiler", "leaking")),
        ("i've shut the damper", Report("damper", "shut")),
        ("water's halfway up the glass", None),
        ("water's just above half", Report("water", 0.55, "glass")),
        ("pressure's up to sixty two", Report("pressure", 62.0, "psi")),
        ("steam's at 62 on the gauge", Report("pressure", 62.0, "psi")),
        ("how's the water?", Order("where")),
        ("yes it does", Answer("yes")),
        ("no, it isn't", Answer("no")),
    ],
)
def test_the_words_that_count_decide(typed: str, meaning: Meaning | None) -> None:
    assert loosely(KNOWN, typed) == meaning


@pytest.mark.parametrize(
    "typed",
    [
        "is the valve lifting",  # a question tells nothing
        "are the safeties lifting?",
        "if she's priming",
        "she's nearly blowing off",
        "the valve was lifting",
        "she isn't running away",
        "the tube hasn't burst",
        "nobody's been burned",
        "shut the damper",  # an order to somebody, perhaps
        "pressure down ten",
        "pressure isn't sixty",
        "the",
        "",
    ],
)
def test_a_word_that_changes_the_meaning_is_never_left_out(typed: str) -> None:
    assert loosely(KNOWN, typed) is None


def test_several_things_are_told_in_one_line() -> None:
    heard = hear_typed("Pressure 80, water's half and the damper's shut.", Expected(), 1.0)
    assert [each.meaning for each in heard.alternatives] == [
        Several(
            (
                Report("pressure", 80.0, "psi"),
                Report("water", 0.5, "glass"),
                Report("damper", "shut"),
            )
        )
    ]


def test_what_is_told_twice_of_one_thing_in_one_line_is_not_taken() -> None:
    heard = hear_typed("damper shut, damper open", Expected(), 1.0)
    assert all(each.probability < 1.0 for each in heard.alternatives)


def test_a_rough_reading_is_asked_about() -> None:
    heard = hear_typed("we've got about sixty on the clock", Expected(), 1.0)
    best = max(heard.alternatives, key=lambda each: each.probability)
    assert best.meaning == Report("pressure", 60.0, "psi")
    assert best.probability < 0.99
