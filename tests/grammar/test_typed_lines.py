"""Several things typed in one line, and what may not be read out of one."""

from __future__ import annotations

import pytest

from assistant.messages import Expected, Meaning, Report, Several
from assistant.recogniser.typed_recogniser import hear_typed

EIGHTY, TWENTY = Report("pressure", 80.0, "psi"), Report("pressure", 20.0, "psi")
QUARTERS, HALF = Report("water", 0.75, "glass"), Report("water", 0.5, "glass")
OFF = Report("blower", "shut")
BRAKE = (
    ("brake is on", Report("brake", "on")),
    ("chocked both ways", Report("brake", "on and chocked")),
)
BRIGHT = (("fire bright", Report("fire", "bright")),)


def certain(typed: str, expected: Expected) -> Meaning | None:
    found = hear_typed(typed, expected, 1.0).alternatives
    return found[0].meaning if len(found) == 1 and found[0].probability == 1.0 else None


@pytest.mark.parametrize(
    ("typed", "meaning"),
    [
        ("eighty, three quarters, blower off", Several((EIGHTY, QUARTERS, OFF))),
        ("80, 3/4", Several((EIGHTY, QUARTERS))),
        ("eighty and half a glass", Several((EIGHTY, HALF))),
        ("pressure eighty, half", Several((EIGHTY, HALF))),
        ("pressure eighty fire bright", Several((EIGHTY, Report("fire", "bright")))),
        ("twenty pounds and rising", TWENTY),
        ("pressure twenty, falling", TWENTY),
        ("water half and holding", HALF),
    ],
)
def test_the_parts_of_a_line_are_all_taken(typed: str, meaning: Meaning) -> None:
    assert certain(typed, Expected("state", BRIGHT)) == meaning


def test_of_one_subject_what_says_more_is_kept() -> None:
    meaning = certain("brake's on, chocked both ways", Expected("state", BRAKE))
    assert meaning == Report("brake", "on and chocked")


@pytest.mark.parametrize(
    "typed",
    [
        "three quarters, eighty",  # the other way about nothing tells which is which
        "eighty, blower off",
        "eighty, seventy, blower off",
        "four hundred, half, blower off",  # on no dial
        "pressure eighty fire bright?",
        "damper shut, damper open",
        "pressure eighty, perhaps",
        "and rising",
        "pressure eighty, full",
        "eighty, nothing",
    ],
)
def test_what_a_line_leaves_open_is_not_taken(typed: str) -> None:
    assert certain(typed, Expected("state", BRIGHT)) is None
