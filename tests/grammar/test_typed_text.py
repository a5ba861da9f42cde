"""Typed text: figures and short forms mean what the words mean; nonsense means nothing."""

from __future__ import annotations

import pytest

from assistant.grammar.phrases import grammar
from assistant.grammar.typed_text import TYPED_SHORT, normalise
from assistant.messages import Answer, Correction, Expected, Meaning, Order, Report, Several

PSI75 = Report("pressure", 75.0, "psi")


def glass(value: float) -> Report:
    return Report("water", value, "glass")


TYPED = {
    "Pressure 75": PSI75,
    "pressure 7 5": PSI75,
    "PRESSURE: 75 psi!": PSI75,
    "75 lbs": PSI75,
    "5.5 bar": Report("pressure", 5.5, "bar"),
    "5,5 bar": Report("pressure", 5.5, "bar"),
    "water 1/2": glass(0.5),
    "water ¾": glass(0.75),
    "Water 60 %": glass(0.6),
    "water 0.6": glass(0.6),
    "water quarter": glass(0.25),
    "Water just over third": glass(0.383),
    "wrong, quarter full": Correction(glass(0.25)),
    "tank is quarter": Report("tank", 0.25, "tank"),
    "Wrong, 65.": Correction(Report("pressure", 65.0, "psi")),
    "wait 5 min": Order("wait", 5.0, "minute"),
    "pressure 75, water 1/2": Several((PSI75, glass(0.5))),
    "feed off": Report("feed", "off"),
    "pump is on": Report("feed", "on"),
    "fire is dropped": Report("fire", "drawn"),
    "Blower off": Report("blower", "shut"),
    "that’s right": Answer("yes"),
    "Thats right": Answer("yes"),
    "What's next?": Order("next"),
    "undo": Order("undo"),
    "20 l": Report("tank", 20.0, "litre"),
    "the fire is lit": Report("fire", "lit"),
    "Seventy-five pounds": PSI75,
    "tank 10 US gallons": Report("tank", 10.0, "US_gallon"),
    "how long to 60 psi?": Order("how long", 60.0, "psi"),
}


@pytest.mark.parametrize(("text", "meaning"), TYPED.items())
def test_typed_text_means_the_same_as_the_words(text: str, meaning: Meaning) -> None:
    assert grammar(Expected()).parse(text) == meaning


@pytest.mark.parametrize(
    ("text", "report"),
    [
        ("pressure 4000", Report("pressure", 4000.0, "psi")),
        ("400 psi", Report("pressure", 400.0, "psi")),
        ("62.5 lbs", Report("pressure", 62.5, "psi")),
        ("pressure -3", Report("pressure", -3.0, "psi")),
        ("The pressure is 31 bar", Report("pressure", 31.0, "bar")),
        ("400", None),
        ("400 potatoes", None),
        ("pressure 400 potatoes", None),
    ],
)
def test_typed_figures_beyond_the_dial_are_understood_so_that_they_can_be_refused(
    text: str, report: Report | None
) -> None:
    assert grammar(Expected()).parse(text) == report


@pytest.mark.parametrize("text", ["", "   ", "75", "?!", "🙂", "pressure 75 1/9", "a" * 5000])
def test_typed_nonsense_means_nothing(text: str) -> None:
    assert grammar(Expected()).parse(text) is None


@pytest.mark.parametrize("text", ["-3", "pressure -3", "water + 0.5", "−7"])
def test_a_sign_is_never_dropped(text: str) -> None:
    assert list(normalise(text)) == []


def test_every_short_form_stands_for_a_sentence_and_is_not_one_itself() -> None:
    accepted = grammar(Expected())
    for short, full in TYPED_SHORT.items():
        assert accepted.meaning(full) is not None, full
        assert accepted.meaning(short) in (None, accepted.meaning(full)), short


def test_an_answer_may_be_typed_as_it_is_said_back() -> None:
    gear = Report("gear", "out")
    made = grammar(
        Expected("state", (("out of gear", gear), ("still in gear", Report("gear", "in"))))
    )
    assert made.parse("Gear out.") == gear
    assert made.meaning(("gear", "out")) is None  # from the microphone only what is in the list
    assert made.parse("gear sideways") is None
