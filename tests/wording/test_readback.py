"""What is said: tables of sentences, word limits, and numbers always as words."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.grammar.phrases import grammar
from assistant.grammar.states import EMERGENCIES, STATE_FORMS
from assistant.messages import ORDERS, Answer, Correction, Grade, Order, Report, Several
from assistant.wording import alarm_words, forecast_words, readback, walkthrough
from assistant.wording.quantities import PROMPT_WORDS, meaning_words, word_count
from assistant.wording.readback import confirm, read_back


def psi(value: float) -> Report:
    return Report("pressure", float(value), "psi")


@pytest.mark.parametrize(
    ("report", "said"),
    [
        (psi(75), "Pressure seven five. Seventy five."),
        (psi(15), "Pressure one five. Fifteen."),
        (psi(120), "Pressure one two zero. A hundred and twenty."),
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
    assert read_back(psi(75), dial="bar") == "Pressure seven five. Seventy five pounds."


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
def test_confirm(meaning, said) -> None:
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
def test_two_near_values_are_asked_for_by_their_figures(best, rival, said) -> None:
    assert readback.which(best, rival) == said


def test_asking_again_offers_another_way_from_the_third_time() -> None:
    assert readback.again(1) != readback.again(2)
    assert "one by one" in readback.again(3)
    assert "keys" in readback.again(4) == readback.again(99)
    assert "that's right" in readback.again(1, answering=True)


def test_nonsense_is_answered_with_what_can_be_said() -> None:
    assert readback.nonsense() == (
        "I did not follow. You can say: pressure seventy five; water half; what next."
    )
    assert "water half; not yet" in readback.nonsense("water")
    forms = ["regulator shut", "regulator open", "not known"]
    assert readback.nonsense("regulator", forms) == (
        "I did not follow. You can say: regulator shut; regulator open; not yet."
    )


def test_every_example_we_offer_would_be_understood() -> None:
    from assistant.messages import Expected

    made = grammar(Expected())
    for example in [*readback.EXAMPLES.values(), "what next", "not yet", "what now"]:
        assert made.parse(example) is not None, example
    for about in [None, *readback.EXAMPLES]:
        for offered in readback.nonsense(about).split(": ")[1].split("; "):
            assert made.parse(offered) is not None, offered


def test_every_state_we_say_back_is_one_the_operator_may_say() -> None:
    from assistant.messages import Expected

    made = grammar(Expected())
    for what, value in STATE_FORMS:
        assert made.parse(readback.report_words(Report(what, value))) == Report(what, value)
    for name in EMERGENCIES:
        assert made.parse(readback.report_words(Report("emergency", name))) is not None


@given(st.integers(0, 300))
def test_what_is_read_back_is_what_was_meant(value: int) -> None:
    from assistant.messages import Expected

    made = grammar(Expected("pressure"))
    for part in read_back(psi(value)).removeprefix("Pressure ").rstrip(".").split(". "):
        assert made.parse(part) == psi(value)


def test_refusals_and_repairs() -> None:
    assert readback.refused(psi(250), readback.off_gauge(200, "psi")) == (
        "Pressure two hundred and fifty. Not taken. The gauge ends at two hundred pounds."
    )
    assert readback.corrected(psi(65)) == "Corrected. Pressure six five. Sixty five."
    assert readback.taken_back(psi(65)) == "Taken back: pressure sixty five."
    assert readback.wrong_then("pressure") == "What is the pressure?"
    assert readback.wrong_then("water") == "Where is the water?"


@pytest.mark.parametrize(
    ("args", "said"),
    [
        (
            (10, 12, 16, 120, "psi"),
            "About twelve minutes to a hundred and twenty pounds, ten to sixteen.",
        ),
        ((9.1, 12.4, 16.8, 8, "bar"), "About twelve minutes to eight bar, nine to seventeen."),
        ((0, 0, 0, 120, "psi"), "Already at a hundred and twenty pounds."),
        ((0.2, 0.3, 0.4, 60, "psi"), "Less than a minute to sixty pounds."),
        ((1, 1, 1, 60, "psi"), "About one minute to sixty pounds."),
        (
            (50, 70, 95, 60, "psi"),
            "About one hour ten to sixty pounds, fifty minutes to one hour forty.",
        ),
    ],
)
def test_minutes_to_a_pressure(args, said) -> None:
    assert forecast_words.minutes_to_words(*args) == said


def test_other_forecasts() -> None:
    assert forecast_words.cannot_say("no reading yet") == "I cannot say when yet. No reading yet."
    assert (
        forecast_words.water_trend_words("rising", "expansion")
        == "Water rising by expansion, not feed."
    )
    assert forecast_words.water_trend_words("falling", "strange") == "Water falling."
    assert forecast_words.water_trend_words("?", "?") == "I cannot tell how the water is moving."
    assert forecast_words.is_it_expansion("rising", "expansion").startswith("Yes.")
    assert forecast_words.is_it_expansion("falling", "use").startswith("Not rising now.")
    assert (
        forecast_words.water_lasts(15, 20, 30)
        == "About twenty minutes to the lower mark, fifteen to thirty."
    )
    assert (
        forecast_words.water_lasts(None, None, None)
        == "Water is not falling towards the lower mark."
    )
    assert forecast_words.feed_cost_words(2, "litre", 6.2, "psi", 0.1) == (
        "Two litres: pressure down about six pounds, glass up a tenth."
    )
    assert (
        forecast_words.when_lift(5, 8, 12) == "About eight minutes until she lifts, five to twelve."
    )
    assert forecast_words.used_words(12.4, 8.0) == (
        "About twelve litres of water and about eight kilograms of coal."
    )
    assert forecast_words.used_words(None) == "I do not know yet."
    assert (
        forecast_words.meanwhile(11, "Oil round now?")
        == "Eleven minutes to go. Meanwhile: oil round now?"
    )


def test_every_trend_has_its_words() -> None:
    for trend in ("rising", "steady", "falling", "unknown"):
        for cause in ("expansion", "feed", "use", "loss", "unknown"):
            said = forecast_words.water_trend_words(trend, cause)
            assert 2 <= word_count(said) <= PROMPT_WORDS
            assert trend in said.lower() or trend == "unknown" or "flat" in said


@pytest.mark.parametrize(
    ("grade", "thing", "state", "action", "said"),
    [
        (Grade.DANGER, "water", "low", "drop the fire", "Danger. Water low. Drop the fire."),
        (Grade.CAUTION, "water", "near the upper mark", "", "Caution. Water near the upper mark."),
    ],
)
def test_alarms(grade, thing, state, action, said) -> None:
    assert alarm_words.alarm(grade, thing, state, action) == said
    assert word_count(said) <= alarm_words.ALARM_WORDS


def test_an_alarm_of_ten_words_is_an_error() -> None:
    with pytest.raises(ValueError, match="10 words"):
        alarm_words.alarm(Grade.DANGER, "water", "very low", "drop the whole fire right now")


def test_alarm_life() -> None:
    assert word_count(alarm_words.overdue("water")) <= alarm_words.ALARM_WORDS
    assert word_count(alarm_words.overdue("pressure")) <= alarm_words.ALARM_WORDS
    assert alarm_words.also(["feed failing"]) == "And also: feed failing."
    assert alarm_words.also([]) == "Nothing else."
    assert alarm_words.shelved("water high", 15) == "Water high. Quiet for fifteen minutes."


# Everything we say that is a fixed sentence or has a fixed shape.
PROMPTS = [
    *walkthrough.CAUTIONS, *walkthrough.DEVICE_LOST.values(), *walkthrough.DEVICE_BACK.values(),
    *readback.SAY_AGAIN, *readback.AGAIN_ANSWER, walkthrough.too_loud(), walkthrough.fault_words(),
    walkthrough.end_asked(), walkthrough.note_follows(), walkthrough.nothing_more(),
    walkthrough.no_step_back(), walkthrough.not_yet(5), walkthrough.taking_over("raising steam"),
    walkthrough.waiting(5), walkthrough.skipped("tubes swept"),
    walkthrough.not_skipped("gauge glass proved", hold=True),
    walkthrough.phase_done("raising steam"), walkthrough.ended(True),
    forecast_words.meanwhile(11, "Oil round now?"), readback.not_a_yes("water"),
    forecast_words.cannot_say("no reading for ten minutes"),
    forecast_words.believed(61.2, "psi", 0.63),
    *map(alarm_words.overdue, ("water", "pressure", "tank")),
]  # fmt: skip


@pytest.mark.parametrize("text", PROMPTS)
def test_prompts_are_short_and_whole(text: str) -> None:
    assert word_count(text) <= PROMPT_WORDS, word_count(text)
    assert not any(figure.isdigit() for figure in text)
    assert text[0].isupper() and text[-1] in ".?"
    assert len(text.rstrip(".?").replace("?", ".").split(". ")) <= 4


def test_walking_through() -> None:
    assert walkthrough.phase_done("firing", ["tubes swept", "papers"]) == (
        "Firing complete. Two open items: tubes swept, papers."
    )
    assert walkthrough.items_open([]) == "Nothing is open."
    many = walkthrough.items_open([f"thing {letter}" for letter in "abcdefgh"])
    assert many.startswith("Eight open items") and many.endswith("and three more.")
    assert walkthrough.step("Open the drains.", "Stand clear") == "Stand clear. Open the drains."
    assert walkthrough.where("firing", "Light the fire.", 2) == (
        "Firing. Two to go. Light the fire."
    )
    assert walkthrough.resumed(0.2, "firing", "", "Damper open?") == (
        "Firing. Where is the water? Then: damper open?"
    )
    assert walkthrough.why("") == "No reason is written down for this."


def test_orders_are_named_in_words_of_ours() -> None:
    from assistant.messages import Expected

    for name in ORDERS:
        assert meaning_words(Order(name))
    assert meaning_words(Answer("yes")) == "correct"
    assert meaning_words(Order("how long", 60.0, "psi")) == "how long to sixty pounds"
    made = grammar(Expected())
    for meaning in set(made.sentences.values()):
        if isinstance(meaning, Order):
            assert made.parse(meaning_words(meaning)) == meaning


@pytest.mark.parametrize(
    ("text", "count"), [("", 0), ("One two-three. It's four?", 4), ("a - b", 2)]
)
def test_word_count(text: str, count: int) -> None:
    assert word_count(text) == count
