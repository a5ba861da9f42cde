"""What is said to an engine that lacks a fitting."""

from __future__ import annotations

import pytest

from assistant.wording.fittings import FITTINGS, without


@pytest.mark.parametrize(
    ("missing", "text", "left"),
    [
        ("blower", "Damper shut, blower shut. No firing.", "Damper shut. No firing."),
        (
            "blower",
            "Damper and blower open before the firehole door. Stand aside.",
            "Damper open before the firehole door. Stand aside.",
        ),
        ("blower", "Blower on before the firehole door. Stand aside.", "Stand aside."),
        ("blower", "Blower off? Regulator, leaks?", "Regulator, leaks?"),
        (
            "blower",
            "Near the wanted pressure. Blower down to a crack.",
            "Near the wanted pressure.",
        ),
        ("blower", "Blower down to a crack.", ""),
        ("wheels", "Brake on, chocks in.", ""),
        ("wheels", "Stop her. Brake on, chocks in.", "Stop her."),
        ("drain cocks", "Regulator shut and drains open.", "Regulator shut."),
        ("road gear", "Out of gear, brake on.", "Brake on."),
        ("blower", "Where is the water?", "Where is the water?"),
    ],
)
def test_only_what_is_about_it_goes(missing: str, text: str, left: str) -> None:
    assert without(text, frozenset({missing})) == left


def test_nothing_goes_where_nothing_is_missing() -> None:
    text = "Damper shut, blower shut. Brake on, chocks in. Drains open, out of gear."
    assert without(text, frozenset()) == text
    assert without(text, FITTINGS) == "Damper shut."
