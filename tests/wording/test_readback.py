"""Reading back, confirming, asking again: tables of sentences, numbers always as words."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.grammar.phrases import grammar
from assistant.grammar.states import EMERGENCIES, STATE_FORMS
from assistant.messages import Correction, Expected, Meaning, Order, Report, Several
from assistant.wording import readback
from assistant.wording.quantities import report_words
from assistant.wording.readback import confirm, read_back


def psi(value: float) -> Report:
    return Report("pressure", float(value), "psi")


@pytest.mark.parametrize(
    ("report", "said"),
    [
        (psi(75), "Pressure seventy five."),
        (psi(15), "Pressure one five. Fifteen."),
        (psi(120), "Pressure one two zero."),
        (psi(5), "Pressure five."),
        (psi(0), "Pressure zero."),
        (Report("pressure", 5.0, "bar"), "Pressure five bar."),
        (Report("pressure", 12.0, "bar"), "Pressure one two. Twelve bar."),
        (Report("water", 0.5, "glass"), "Water half."),
        (Report("water", 2 / 3, "glass"), "Water two thirds."),
        (Report("water", 80.0, "mm"), "Water eight zero. Eighty millimetres."),
        (Report("water", "out of sight"), "No water in sight."),
        (Report("tank", 20.0, "litre"), "Tank two zero. Twenty litres."),
        (Report("tank", 0.0, "tank"), "Tank empty."),
        (Report("tank", 1.0, "imperial_gallon"), "Tank one imperial gallon."),
        (Report("feed", "off"), "Finished feeding."),
        (Report("gear", "out"), "Gear out."),
        (Report("emergency", "glass broken"), "Glass broken."),
        (Report("move", "put_away"), "Putting away."),
        (Report("cure", "pump trouble"), "Pump trouble."),
    ],
)
def test_read_back(report: Report, said: str) -> None:
    assert read_back(report) == said


def test_read_back_leaves_out_the_dials_own_unit_only() -> None:
    assert read_back(Report("pressure", 5.0, "bar"), dial="bar") == "Pressure five."
    assert read_back(psi(75), dial="bar") == "Pressure seventy five pounds."


@pytest.mark.parametrize(
    ("meaning", "said"),
    [
        (psi(15), "Pressure one five, fifteen: is that right?"),
        (Report("water", 0.5, "glass"), "Water half: is that right?"),
        (Correction(psi(65)), "Pressure six five, sixty five: is that right?"),
        (
            Several((psi(75), Report("water", 0.5, "glass"))),
            "Pressure seven five, seventy five, water half: is that right?",
        ),
        (Order("stop"), "End the session: is that right?"),
        (Order("wait", 5.0, "minute"), "Wait five minutes: is that right?"),
        (Order("skip"), "Skip this step: is that right?"),
        (Report("fire", "lit"), "Fire is lit: is that right?"),
    ],
)
def test_confirm(meaning: Meaning, said: str) -> None:
    assert confirm(meaning) == said


def test_confirm_gives_the_boilers_reason_first() -> None:
    said = readback.confirm_because(psi(95), "sixty to ninety five in one minute")
    assert (
        said
        == "Sixty to ninety five in one minute? Pressure nine five, ninety five: is that right?"
    )


@pytest.mark.parametrize(
    ("best", "rival", "said"),
    [
        (psi(15), psi(50), "Pressure one five, or five zero?"),
        (Correction(psi(15)), psi(50), "Pressure one five, or five zero?"),
        (Report("water", 0.5, "glass"), Report("water", 1.0, "glass"), "Water half, or full?"),
        (Report("feed", "on"), Report("feed", "off"), "The feed is running, or finished feeding?"),
        (psi(15), Report("pressure", 15.0, "bar"), "Pressure one five, fifteen: is that right?"),
        (psi(15), Order("why"), "Pressure one five, fifteen: is that right?"),
        (
            Report("pressure", 5.0, "bar"),
            Report("pressure", 9.0, "bar"),
            "Pressure five, or nine bar?",
        ),
    ],
)
def test_two_near_values_are_asked_for_by_their_figures(
    best: Meaning, rival: Meaning, said: str
) -> None:
    assert readback.which(best, rival) == said


def test_asking_again_offers_another_way_from_the_third_time() -> None:
    assert readback.again(1) != readback.again(2)
    assert "one by one" in readback.again(3)
    assert "keys" in readback.again(4) == readback.again(99)
    assert "that's right" in readback.again(1, answering=True)


def test_nonsense_is_answered_with_what_can_be_said() -> None:
    assert readback.nonsense() == (
        "I did not follow. You can say: pressure seventy five; water half; help."
    )
    assert "water half; help" in readback.nonsense("water")
    forms = ["regulator shut", "regulator open", "not known"]
    assert readback.nonsense("regulator", forms) == (
        "I did not follow. You can say: regulator shut; regulator open; help."
    )


def test_every_example_we_offer_would_be_understood() -> None:
    made = grammar(Expected())
    for example in [*readback.EXAMPLES.values(), "what next", "not yet", "what now"]:
        assert made.parse(example) is not None, example
    for about in [None, *readback.EXAMPLES]:
        for offered in readback.nonsense(about).split(": ")[1].split("; "):
            assert made.parse(offered) is not None, offered


def test_every_state_we_say_back_is_one_the_operator_may_say() -> None:
    made = grammar(Expected())
    for what, value in STATE_FORMS:
        assert made.parse(report_words(Report(what, value))) == Report(what, value)
    for name in EMERGENCIES:
        assert made.parse(report_words(Report("emergency", name))) is not None


@given(st.integers(0, 300))
def test_what_is_read_back_is_what_was_meant(value: int) -> None:
    made = grammar(Expected("pressure"))
    for part in read_back(psi(value)).removeprefix("Pressure ").rstrip(".").split(". "):
        assert made.parse(part) == psi(value)


def test_refusals_and_repairs() -> None:
    assert readback.refused(psi(250), readback.off_gauge(200, "psi")) == (
        "Pressure two hundred and fifty. Not taken. The gauge ends at two hundred pounds."
    )
    assert readback.corrected(psi(65)) == "Corrected. Pressure sixty five."
    assert readback.taken_back(psi(65)) == "Taken back: pressure sixty five."
    assert readback.wrong_then("pressure") == "What is the pressure?"
    assert readback.wrong_then("water") == "Where is the water?"
