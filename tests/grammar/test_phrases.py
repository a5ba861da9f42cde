"""The grammar: what must be accepted, what must not, one meaning each, context, collisions."""

from __future__ import annotations

import pytest
from timing import quickest_s

from assistant.grammar import phrases, readings
from assistant.grammar.phrases import EXPECTED_KINDS, grammar
from assistant.messages import (
    Answer,
    Correction,
    Expected,
    ExpectedKind,
    Meaning,
    Order,
    Report,
    Several,
)

PSI75 = Report("pressure", 75.0, "psi")
OUT = Report("water", "out of sight")


def glass(value: float) -> Report:
    return Report("water", value, "glass")


def said(text: str) -> list[str]:
    return text.split()


# The forms of words that others may rely on, in every state but a bare yes-or-no.
PROMISED = {
    "pressure seventy five": PSI75,
    "pressure seven five": PSI75,
    "seventy five pounds": PSI75,
    "five bar": Report("pressure", 5.0, "bar"),
    "water half": glass(0.5),
    "half a glass": glass(0.5),
    "water two thirds": glass(2 / 3),
    "water three quarters": glass(0.75),
    "no water in sight": OUT,
    "correct": Answer("yes"),
    "wrong": Answer("no"),
    "say again": Order("repeat"),
    "what next": Order("next"),
    "why": Order("why"),
    "how long": Order("how long"),
    "where are we": Order("where"),
    "not yet": Order("not yet"),
    "ready": Order("ready"),
}
ALSO = {
    "two and a half bar": Report("pressure", 2.5, "bar"),
    "pressure one twenty": Report("pressure", 120.0, "psi"),
    "half a bar": Report("pressure", 0.5, "bar"),
    "a hundred and ten pounds": Report("pressure", 110.0, "psi"),
    "nothing in the glass": OUT,
    "five eighths of a glass": glass(5 / 8),
    "water just under half": glass(0.45),
    "water full": glass(1.0),
    "glass is two thirds full": glass(2 / 3),
    "tank three quarters full": Report("tank", 0.75, "tank"),
    "water sixty percent": glass(0.6),
    "glass empty": OUT,
    "water eighty millimetres": Report("water", 80.0, "mm"),
    "three and a half inches": Report("water", 3.5, "inch"),
    "tank half": Report("tank", 0.5, "tank"),
    "twenty litres": Report("tank", 20.0, "litre"),
    "tank ten imperial gallons": Report("tank", 10.0, "imperial_gallon"),
    "fire lit": Report("fire", "lit"),
    "more coal on the fire": Report("fire", "coal"),
    "blower half open": Report("blower", "half"),
    "feed is stopped": Report("feed", "off"),
    "feed is on": Report("feed", "on"),
    "drains open": Report("drains", "open"),
    "regulator shut": Report("regulator", "shut"),
    "valve feathering": Report("valve", "feathering"),
    "valve lifting": Report("valve", "lifting"),
    "wrong sixty five": Correction(Report("pressure", 65.0, "psi")),
    "no sixty five": Correction(Report("pressure", 65.0, "psi")),
    "i said fifteen": Correction(Report("pressure", 15.0, "psi")),
    "wrong half": Correction(glass(0.5)),
    "no blower half open": Correction(Report("blower", "half")),
    "how long to wanted pressure": Order("how long"),
    "how long until working pressure": Order("how long"),
    "how long to sixty pounds": Order("how long", 60.0, "psi"),
    "how long to five bar": Order("how long", 5.0, "bar"),
    "wait five minutes": Order("wait", 5.0, "minute"),
    "what if i put in two litres": Order("if feed", 2.0, "litre"),
    "is the water rising by itself": Order("is it expansion"),
    "when will she lift": Order("when lift"),
    "how much have i used": Order("how much used"),
    "how long has the water got": Order("how long water"),
    "stop listening": Order("stop"),
    "end session": Order("stop"),
    "understood": Order("acknowledge"),
    "heard": Order("acknowledge"),
    "quiet please": Order("hush"),
    "open items": Order("open items"),
    "undo that": Order("undo"),
    "skip": Order("skip"),
    "go back": Order("back"),
    "yes": Answer("yes"),
    "no": Answer("no"),
    "that's right": Answer("yes"),
    "glass broken": Report("emergency", "glass broken"),
    "pressure seventy five water half": Several((PSI75, glass(0.5))),
    "water half pressure seven five": Several((glass(0.5), PSI75)),
}


@pytest.mark.parametrize("kind", EXPECTED_KINDS)
@pytest.mark.parametrize(("text", "meaning"), PROMISED.items())
def test_promised_forms_are_accepted_whatever_is_expected(
    kind: ExpectedKind, text: str, meaning: Meaning
) -> None:
    made = grammar(Expected(kind))
    assert made.meaning(text.split()) == meaning
    assert made.parse(text) == meaning


@pytest.mark.parametrize(("text", "meaning"), ALSO.items())
def test_other_forms_outside_a_question(text: str, meaning: Meaning) -> None:
    assert grammar(Expected()).meaning(text.split()) == meaning


NOT_ACCEPTED = (
    "",
    "seventy five",
    "two thirds",
    "fifteen",
    "half",
    "done",
    "ok",
    "undo",
    "injector on",
    "injector off",
    "a half",
    "blower half",
    "pressure",
    "water",
    "pressure seventy fifteen",
    "pressure four hundred",
    "thirty bar",
    "seven five bar",
    "ten gallons",
    "tank ten gallons",
    "put the kettle on",
    "pressure water",
    "wrong wrong",
    "wait",
    "how long to",
    "pressure two thirds",
    "water seventy five",
    "the pressure is fine",
    "seventy five pounds please thank you",
    "next",
)


@pytest.mark.parametrize("text", NOT_ACCEPTED)
def test_what_is_not_in_the_grammar_means_nothing(text: str) -> None:
    assert grammar(Expected()).meaning(text.split()) is None


@pytest.mark.parametrize(
    ("kind", "text", "meaning"),
    [
        ("water", "two thirds", glass(2 / 3)),
        ("water", "nothing", OUT),
        ("water", "seventy five", None),
        ("pressure", "seventy five", PSI75),
        ("pressure", "seven five", PSI75),
        ("pressure", "nothing", Report("pressure", 0.0, "psi")),
        ("pressure", "two thirds", None),
        ("tank", "half", Report("tank", 0.5, "tank")),
        ("tank", "twenty litres", Report("tank", 20.0, "litre")),
        ("tank", "twenty", None),  # litres are named: beside steam "full" is heard as "four"
        ("any", "two thirds", None),
        ("state", "seventy five", None),
        ("answer", "seventy five", None),
        ("answer", "fire lit", None),
        ("answer", "wrong sixty five", Correction(Report("pressure", 65.0, "psi"))),
    ],
)
def test_the_question_decides_what_a_bare_number_means(
    kind: ExpectedKind, text: str, meaning: Meaning | None
) -> None:
    assert grammar(Expected(kind)).meaning(text.split()) == meaning


@pytest.mark.parametrize(
    ("about", "text", "meaning"),
    [
        ("pressure", "one five", Report("pressure", 15.0, "psi")),
        ("pressure", "five", None),  # beside steam a short yes is heard as one figure
        ("tank", "wrong fifteen litres", Correction(Report("tank", 15.0, "litre"))),
        ("tank", "wrong fifteen", None),
        ("tank", "wrong half", Correction(Report("tank", 0.5, "tank"))),
        ("water", "wrong half", Correction(glass(0.5))),
        ("water", "i said two thirds", Correction(glass(2 / 3))),
        ("water", "two thirds", glass(2 / 3)),
        ("pressure", "no it's fifty", Correction(Report("pressure", 50.0, "psi"))),
        ("pressure", "it is five zero", Correction(Report("pressure", 50.0, "psi"))),
        ("pressure", "no i said one five", Correction(Report("pressure", 15.0, "psi"))),
        ("water", "it should be half", Correction(glass(0.5))),
    ],
)
def test_a_correction_is_in_terms_of_the_reading_in_hand(
    about: str, text: str, meaning: Meaning | None
) -> None:
    assert grammar(Expected("answer", about=about)).meaning(text.split()) == meaning


def test_a_number_without_a_unit_is_in_the_dials_unit() -> None:
    made = grammar(Expected("pressure", pressure_unit="bar"))
    assert made.meaning(said("five point five")) == Report("pressure", 5.5, "bar")
    assert made.meaning(said("pressure two and a half")) == Report("pressure", 2.5, "bar")
    assert made.meaning(said("seventy five pounds")) == PSI75
    assert made.meaning(said("how long to eight")) == Order("how long", 8.0, "bar")
    metric = grammar(Expected(pressure_unit="kPa"))
    assert metric.meaning(said("seven fifty kilopascals")) == Report("pressure", 750.0, "kPa")
    assert metric.meaning(said("five bar")) == Report("pressure", 5.0, "bar")
    assert grammar(Expected()).meaning(said("seven fifty kilopascals")) is None
    assert grammar(Expected()).parse("750 kPa") == Report("pressure", 750.0, "kPa")
    with pytest.raises(ValueError, match="furlong"):
        grammar(Expected(pressure_unit="furlong"))


@pytest.mark.parametrize("unit", readings.PRESSURE_UNITS)
@pytest.mark.parametrize("kind", EXPECTED_KINDS)
def test_every_listed_sentence_means_one_thing_and_is_read_the_same_way(
    kind: ExpectedKind, unit: str
) -> None:
    made = grammar(Expected(kind, pressure_unit=unit))
    listed = list(phrases.listing(kind, unit))
    assert len({text for text, _ in listed}) == len(listed)
    assert 300 < len(listed) <= 62_000
    for text, meaning in listed[:: 1 if unit == "psi" else 7]:
        assert text == " ".join(text.split()) and text.replace("'", "").replace(" ", "").isalpha()
        assert text == text.lower()
        assert made.parse(text) == meaning, text


def test_a_steps_own_answers_are_added_alone_and_together() -> None:
    answers = (
        ("ash pan clean", Report("ash pan", "clean")),
        ("tubes swept", Report("tubes", "swept")),
        ("tubes dirty", Report("tubes", "dirty")),
    )
    made = grammar(Expected("state", answers))
    assert made.meaning(("tubes", "swept")) == Report("tubes", "swept")
    both = made.meaning(said("tubes swept ash pan clean"))
    assert both == Several((Report("tubes", "swept"), Report("ash pan", "clean")))
    assert made.meaning(said("tubes swept tubes dirty")) is None
    assert "ash pan clean" in made.prompt.lower()
    assert grammar(Expected("state", answers)) is made


def test_a_long_list_of_answers_keeps_the_grammar_small() -> None:
    letters = "abcdefghijklmnopqrstuvwxyz"
    answers = tuple(
        (f"{one}{one}{two}{two} tight", Report(f"{one}{two}", "tight"))
        for one in letters[:10]
        for two in letters[:8]
    )
    made = grammar(Expected("state", answers))
    added = len(made.sentences) - len(grammar(Expected("state")).sentences)
    assert 80 + 40 * 39 < added < 3_000
    three = "aaaa tight aabb tight aacc tight"
    assert made.meaning(said(three)) == Several(tuple(Report(f"a{two}", "tight") for two in "abc"))


def test_the_names_of_cures_are_not_joined_to_answers() -> None:
    answers = (
        ("pump not working", Report("cure", "pump trouble")),
        ("tubes swept", Report("tubes", "swept")),
    )
    made = grammar(Expected("state", answers))
    assert made.meaning(("pump", "not", "working")) == Report("cure", "pump trouble")
    assert made.meaning(said("tubes swept pump not working")) is None


def test_an_answer_that_means_something_else_already_is_an_error_naming_both() -> None:
    with pytest.raises(ValueError, match=r"drains open.*'drains'.*'cocks'"):
        grammar(Expected("state", (("drains open", Report("cocks", "open")),)))
    same = Expected("state", (("drains open", Report("drains", "open")),))
    assert grammar(same).meaning(("drains", "open")) == Report("drains", "open")


@pytest.mark.parametrize("text", ["", "Drains open", "drains 5", "drains, open"])
def test_an_answer_that_cannot_be_spoken_is_an_error(text: str) -> None:
    with pytest.raises(ValueError, match="cannot be spoken"):
        grammar(Expected("state", ((text, Report("cocks", "open")),)))


def test_a_grammar_is_frozen() -> None:
    made = grammar(Expected())
    with pytest.raises(TypeError):
        made.sentences[("x",)] = Order("stop")  # type: ignore[index]


BUILT = (phrases._made, phrases._elsewhere, phrases._build, phrases._always, phrases._answer_base)


@pytest.mark.real  # measures processor time
def test_building_is_quick_enough_between_two_utterances() -> None:
    def build() -> None:
        for cached in BUILT:
            cached.cache_clear()
        grammar(Expected("pressure", (("gear out", Report("gear", "out")),)))

    assert quickest_s(build) < 0.5
