"""The life of an alarm in words: nothing is said twice, and every name keeps its verb."""

from __future__ import annotations

from assistant.alarms.rules import BY_NAME
from assistant.wording import alarm_words


def test_acts_that_the_alarm_named_are_not_said_again() -> None:
    acts = ["Stop the heat. Damper shut.", "Keep people away."]
    assert alarm_words.unsaid("Danger. Water low. Stop the heat.", acts) == (
        "Damper shut. Keep people away."
    )
    assert alarm_words.unsaid("Danger. Glass broken.", acts) == " ".join(acts)
    assert alarm_words.unsaid("Stop the heat. Damper shut. Keep people away.", acts) == ""


def test_one_alarm_stands_and_several_stand() -> None:
    assert alarm_words.acknowledged(["tank empty"]) == "Heard. Tank empty still stands."
    assert alarm_words.acknowledged(["a", "b"]) == "Heard. A, b still stand."


def test_the_end_and_the_quiet_of_an_alarm() -> None:
    assert alarm_words.cleared("tank low") == "Tank low cleared."
    assert alarm_words.shelved("water high", 15) == "Water high. Quiet for fifteen minutes."


def test_a_row_whose_name_is_jargon_is_told_in_plain_words() -> None:
    assert alarm_words.acknowledged(["forecast far from plan"]) == (
        "Heard. Steam not when planned still stands."
    )
    assert alarm_words.plain("forecast far from plan") == "steam not when planned"
    assert alarm_words.plain("tank empty") == "tank empty"
    assert set(alarm_words.PLAIN) <= set(BY_NAME), "no name that is no row"
