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


ALL_LISTS = (
    ("pressure is climbing", Report("pressure trouble", "cured")),
    ("bypass is shut", Report("bypass", "shut")),
    ("injector works again", Report("injector trouble", "cured")),
    ("still in gear", Report("gear", "in")),
    ("fire is still burning", Report("fire", "burning alone")),
    ("gauge is broken", Report("cure", "gauge_trouble")),
    ("she is priming", Report("cure", "priming")),
)


def told(typed: str, expected: Expected | None = None) -> Meaning | None:
    """What typed words mean for certain, with the forms of other lists at hand; else None."""
    heard = hear_typed(typed, expected or Expected(elsewhere=ALL_LISTS), 1.0)
    certain = [each.meaning for each in heard.alternatives if each.probability == 1.0]
    return certain[0] if certain else None


@pytest.mark.parametrize(
    ("typed", "what", "value"),
    [
        # "just" counts, save before what was done
        ("water's in sight", "water told", "enough"),
        ("i can see the water", "water told", "enough"),
        ("blower's just cracked", "blower", "crack"),
        ("i've just fired", "fire", "coal"),
        ("a tube's just burst", "emergency", "tube has burst"),
        # fuel on the fire, and fuel on fire
        ("the coal's on the fire", "fire", "coal"),
        ("coal's on fire", "emergency", "fire outside"),
        ("more wood on", "fire", "built"),
        ("there's a fire in the bunker", "emergency", "fire outside"),
        # a word beside a report
        ("valve's shut again", "valve", "shut"),
        ("still blowing off", "valve", "lifting"),
        ("aye, blower's shut", "blower", "shut"),
        ("yes the damper's wide open", "damper", "open"),
        ("valve has lifted at last", "valve", "lifting"),
        ("blowing off a bit", "valve", "lifting"),
        ("she's priming badly", "cure", "priming"),
        ("injector works again", "injector trouble", "cured"),
        ("still in gear", "gear", "in"),
        ("fire is still burning", "fire", "burning alone"),
        # what was done
        ("opened the bypass", "bypass", "open"),
        ("closed the bypass", "bypass", "shut"),
        ("i've closed the damper", "damper", "shut"),
        ("opened the regulator a crack", "regulator", "open"),
        ("stopped her", "engine", "stopped"),
        ("knocked off the injector", "feed", "off"),
        ("oiled up", "oil", "all round"),
        ("filled the tank", "tank", 1.0),
        # trouble
        ("pump's stopped", "feed", "off"),
        ("fire's dying", "cure", "fire_trouble"),
        ("pops are going", "valve", "lifting"),
        ("the safety's sat down", "valve", "shut"),
        ("valve's jammed", "emergency", "safety valve is stuck"),
        ("the glass is full, can't see a level", "water", 1.0),
        ("there's no water in the glass at all", "water", "out of sight"),
        ("water's not in sight", "water", "out of sight"),
        ("lead's run", "emergency", "plug has gone"),
        ("tubes leaking badly", "emergency", "tube has burst"),
        ("crown sheet's red", "emergency", "plate is red hot"),
        ("we've had a blowback", "emergency", "flames out of the firehole"),
        ("bloke's collapsed", "emergency", "someone hurt"),
        ("he's trapped his hand", "emergency", "someone is trapped"),
        ("a kid's climbed on", "emergency", "child inside the barrier"),
        ("i can't breathe", "emergency", "driver is ill"),
        ("the tarp's on fire", "emergency", "fire outside"),
        ("my coat's on fire", "emergency", "somebody is burned"),
        ("hose burst", "emergency", "steam escaping"),
        ("glass cracked", "emergency", "glass broken"),
        ("she's moving on her own", "emergency", "engine creeps"),
        ("brakes have failed", "emergency", "engine is running away"),
        ("throttle won't close", "emergency", "regulator is stuck open"),
        ("the belt's broken", "belt", "off"),
        ("the pressure gauge is broken", "cure", "gauge_trouble"),
        ("neither feed works", "feeds", "none works"),
        ("injector's packed up", "injector", "fails"),
        ("injector's picked up", "feed", "on"),
        ("tank's dry", "tank", 0.0),
        ("i'm off for a cuppa", "watch", "not kept"),
        ("steam's falling off", "pressure told", "falling"),
        ("pressure's climbing", "pressure told", "rising"),
        ("let's put her away", "move", "put_away"),
        ("let's start pumping", "move", "feed"),
    ],
)
def test_a_drivers_own_words(typed: str, what: str, value: str | float) -> None:
    meaning = told(typed)
    assert isinstance(meaning, Report)
    assert (meaning.what, meaning.value) == (what, value)


@pytest.mark.parametrize(
    ("typed", "name"),
    [
        ("what's the pressure?", "where"),
        ("where's the water", "where"),
        ("what else", "next"),
        ("i don't understand", "help"),
        ("how long till steam?", "how long"),
    ],
)
def test_a_drivers_own_questions(typed: str, name: str) -> None:
    assert told(typed) == Order(name)


@pytest.mark.parametrize(
    "typed",
    [
        "can you see the water",
        "is the water in sight?",
        "if the water's in sight",
        "i can nearly see the water",
        "water was in sight",
        "is the coal on fire",
        "the coal is not on fire",
        "has the plug dropped?",
        "the plug hasn't dropped",
        "if the plug drops",
        "she nearly popped",
        "valve was jammed",
        "nobody's fallen off",
        "no one has collapsed",
        "is he trapped?",
        "he nearly trapped his hand",
        "did somebody shut the bypass",
        "open the bypass",
        "close the damper",
        "shut the bypass",
        "shut the damper",
        "damper shut a bit",
        "blower open a little",
        "still raising steam",
        "the belt hasn't broken",
        "is the gauge broken",
        "gauge isn't broken",
        "glass was cracked",
        "don't stop her",
        "fill the tank",
        "knock off the injector",
        "shall we put her away",
        "can we start pumping",
        "brakes haven't failed",
        "the hay was on fire",
        "the hay isn't on fire",
        "my mate's off for a cuppa?",
        "she isn't foaming",
    ],
)
def test_what_only_sounds_like_it_is_not_taken(typed: str) -> None:
    assert told(typed) is None


@pytest.mark.parametrize("typed", ["shut the damper", "shut damper now", "Shut the blower."])
def test_what_may_be_an_order_is_asked_about(typed: str) -> None:
    (found,) = hear_typed(typed, Expected(), 1.0).alternatives
    assert isinstance(found.meaning, Report)
    assert found.meaning.value == "shut"
    assert found.probability < 0.99
    assert hear_typed(typed, Expected("answer"), 1.0).alternatives == ()


def test_a_form_of_a_list_is_its_answer_where_it_asks() -> None:
    asked = Expected("state", ALL_LISTS[:1])
    assert told("pressure's climbing", asked) == Report("pressure trouble", "cured")


@pytest.mark.parametrize(
    ("typed", "danger"),
    [
        ("oh no, no water in sight", Report("water", "out of sight")),
        ("i think there's no water in sight", Report("water", "out of sight")),
        ("she's running away, brake won't hold", Report("emergency", "engine is running away")),
        ("look, the tube has burst over there", Report("emergency", "tube has burst")),
    ],
)
def test_a_danger_inside_a_longer_sentence_is_asked_about(typed: str, danger: Report) -> None:
    heard = hear_typed(typed, Expected(), 1.0)
    assert [each.meaning for each in heard.alternatives] == [danger]
    assert heard.alternatives[0].probability < 0.99


@pytest.mark.parametrize(
    "typed",
    [
        "what if a tube has burst", "the glass was broken yesterday", "the tube has not burst",
        "has the plug gone?", "nearly no water in sight",
    ],
)  # fmt: skip
def test_a_danger_that_is_not_told_as_it_is_is_not_asked_about(typed: str) -> None:
    assert hear_typed(typed, Expected(), 1.0).alternatives == ()
