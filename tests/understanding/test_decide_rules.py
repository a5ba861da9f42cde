"""Each rule of the table: an utterance that it decides, and one that it leaves to the others."""

from __future__ import annotations

from dataclasses import dataclass, replace

import pytest

from assistant.grammar.wake_phrase import CALL
from assistant.messages import (
    TYPED,
    Alternative,
    Answer,
    Correction,
    Expected,
    Heard,
    Meaning,
    Order,
    Report,
    Several,
)
from assistant.understanding.context import Context
from assistant.understanding.decide import RULES, decide
from assistant.understanding.decision import Decision
from assistant.understanding.retries import Evidence


def psi(value: float) -> Report:
    return Report("pressure", float(value), "psi")


OUT = Report("water", "out of sight")
HALF = Report("water", 0.5, "glass")
PICKS_UP = Report("injector", "works")  # an answer of a list that is not in hand


def said(
    *pairs: tuple[Meaning, float],
    words: str = "pressure seven five",
    log_ratio: float | None = 0.5,
    average: float | None = -0.2,
    text: str | None = None,
    called: bool | None = None,
    ear: str = "test ear",
) -> Heard:
    """An utterance of two seconds that ends at 100 s."""
    found = tuple(Alternative(meaning, words, p) for meaning, p in pairs)
    text = words if text is None else text
    return Heard(100.0, ear, found, log_ratio, average, 2.0, text, None, called)


def typed(*meanings: Meaning, words: str = "pressure seven five") -> Heard:
    pairs = [(meaning, 1.0) for meaning in meanings]
    return said(*pairs, words=words, log_ratio=None, average=None, ear=TYPED)


NOW = Context(takes_notes=True, at=100.0)
PRESSURE = replace(NOW, expected=Expected("pressure"))
COLD = replace(NOW, expected=Expected(impossible=frozenset({PICKS_UP})))
PAST = replace(NOW, expected=Expected(another_phase=frozenset({PICKS_UP})))
ANSWER = replace(NOW, expected=Expected("answer", about="pressure"))
NOTE = replace(NOW, note_expected=True)
ASLEEP = replace(NOW, no_call_until=97.0)
SURE = said((psi(75), 0.999))
BY_BOILER = replace(PRESSURE, chance=lambda report: 0.1 if report == psi(50) else 0.00001)
IMPOSSIBLE = replace(PRESSURE, objection=lambda report: "sixty to ninety five in one minute")
JUST_DENIED = replace(PRESSURE, denied=(psi(75),), denied_at=60.0)
NOTE_WORDS = "note the left plug weeps"


@dataclass(frozen=True)
class Rule:
    """What a rule decides, to what, and the next best thing, which it does not decide."""

    decides: tuple[Heard, Context]
    kind: str
    leaves: tuple[Heard, Context]


CASES: dict[str, Rule] = {
    "wake phrase alone": Rule(
        (said((CALL, 0.99), words="engine minder"), NOW), "accept", (SURE, NOW)
    ),
    "not for us": Rule(
        (replace(SURE, called=False), ASLEEP),
        "ignore",
        (replace(SURE, called=False), replace(ASLEEP, no_call_until=98.5)),
    ),
    "words of a note": Rule(
        (said((psi(75), 0.3), text="the left plug weeps"), NOTE), "note", (SURE, NOTE)
    ),
    "note in one breath": Rule(
        (said((HALF, 0.3), text=NOTE_WORDS), NOW),
        "note",
        (said((HALF, 0.3), text=NOTE_WORDS), replace(NOW, takes_notes=False)),
    ),
    "said long ago": Rule(
        (replace(SURE, late_s=11.0), PRESSURE), "again", (replace(SURE, late_s=2.0), PRESSURE)
    ),
    "just called wrong": Rule(
        (SURE, JUST_DENIED), "confirm", (SURE, replace(JUST_DENIED, denied_at=-21.0))
    ),
    "nothing heard": Rule((said(), NOW), "ignore", (SURE, NOW)),
    "hardly for us": Rule(
        (said((psi(75), 1.0), log_ratio=-6.0), PRESSURE),
        "again",
        (said((psi(75), 1.0), log_ratio=-5.0), PRESSURE),
    ),
    "typed, and no sentence": Rule(
        (said((psi(75), 0.9), ear="typed"), NOW),
        "confirm",
        (said((psi(75), 1.0), ear="typed"), NOW),
    ),
    "off the gauge": Rule(
        (SURE, replace(NOW, limits=lambda report: "the gauge ends at fifty")), "again", (SURE, NOW)
    ),
    "a doubtful yes nobody waits for": Rule(
        (said((Answer("yes"), 0.93), words="that's right"), NOW),
        "ignore",
        (said((Answer("yes"), 0.93), words="that's right"), ANSWER),
    ),
    "out of its place": Rule(
        (said((PICKS_UP, 0.999), words="injector picks up"), COLD),
        "confirm",
        (typed(PICKS_UP, words="injector picks up"), COLD),
    ),
    "cost against confidence": Rule((said((psi(75), 0.98)), NOW), "confirm", (SURE, NOW)),
    "sound against boiler": Rule(
        (said((psi(15), 0.7), (psi(50), 0.3)), BY_BOILER),
        "confirm",
        (said((psi(50), 0.7), (psi(15), 0.3)), BY_BOILER),
    ),
    "ear without figures": Rule(
        (said((psi(75), 1.0), log_ratio=None, average=None), NOW),
        "confirm",
        (said((Order("repeat"), 1.0), log_ratio=None, average=None), NOW),
    ),
    "badly heard": Rule(
        (said((psi(75), 1.0), log_ratio=-4.6), PRESSURE),
        "confirm",
        (said((psi(75), 1.0), log_ratio=-4.5), PRESSURE),
    ),
    "two meanings near": Rule(
        (said((Order("repeat"), 0.85), (Order("next"), 0.15), words="say again"), NOW),
        "again",
        (said((Order("repeat"), 0.89), (Order("next"), 0.11), words="say again"), NOW),
    ),
    "physics objects": Rule((SURE, IMPOSSIBLE), "confirm", (said((OUT, 0.999)), IMPOSSIBLE)),
    "correction of nothing": Rule(
        (said((Correction(psi(65)), 1.0), words="wrong sixty five"), NOW),
        "confirm",
        (said((Correction(psi(65)), 1.0), words="wrong sixty five"), ANSWER),
    ),
    "correction": Rule(
        (said((Correction(psi(65)), 1.0), words="wrong sixty five"), ANSWER),
        "accept",
        (said((Correction(psi(65)), 0.9), words="wrong sixty five"), ANSWER),
    ),
    "answer": Rule(
        (said((Answer("no"), 0.95), words="wrong"), ANSWER),
        "accept",
        (said((Answer("no"), 0.85), words="wrong"), ANSWER),
    ),
    "order": Rule(
        (said((Order("repeat"), 0.95), words="say again"), NOW),
        "accept",
        (said((Order("repeat"), 0.7), words="say again"), NOW),
    ),
    "report": Rule((SURE, NOW), "accept", (SURE, IMPOSSIBLE)),
}


def test_every_rule_of_the_table_is_tried_in_its_order() -> None:
    assert [name for name, _ in RULES] == list(CASES)


@pytest.mark.parametrize("name", list(CASES))
def test_a_rule_decides_what_is_its_own_and_leaves_the_rest(name: str) -> None:
    rule = CASES[name]
    made = decide(*rule.decides)
    assert (made.rule, made.kind) == (name, rule.kind)
    assert decide(*rule.leaves).rule != name


@pytest.mark.parametrize("name", list(CASES))
def test_the_first_that_speaks_decides(name: str) -> None:
    """No rule before it has anything to say about its case."""
    from assistant.understanding.case import Case
    from assistant.understanding.decide import _by_words

    case = Case(*CASES[name].decides, _by_words)
    for earlier, speaks in RULES:
        if earlier == name:
            break
        assert speaks(case) is None, earlier


def test_the_wake_phrase_heard_badly_is_ignored() -> None:
    made = decide(said((CALL, 0.7), words="engine minder"), NOW)
    assert (made.rule, made.kind, made.meaning) == ("wake phrase alone", "ignore", None)


@pytest.mark.parametrize("share", [0.999, 0.7])
def test_a_danger_needs_no_wake_phrase(share: float) -> None:
    made = decide(said((OUT, share), words="no water in sight", called=False), ASLEEP)
    assert (made.rule != "not for us", made.meaning) == (True, OUT)


@pytest.mark.parametrize("moment", [NOTE, NOW])
def test_a_danger_in_the_words_of_a_note_is_a_danger(moment: Context) -> None:
    made = decide(said((OUT, 0.8), text="note no water in sight at all now"), moment)
    assert (made.kind, made.meaning) == ("confirm", OUT)


def test_a_typed_value_may_be_repeated_though_it_was_denied() -> None:
    assert decide(typed(psi(75)), JUST_DENIED).kind == "accept"


def test_a_note_keeps_its_words() -> None:
    made = decide(*CASES["note in one breath"].decides)
    assert made == Decision("note", None, "a note", note="the left plug weeps", rule=made.rule)


def test_typed_words_are_no_correction_to_be_asked_about() -> None:
    made = decide(typed(Correction(psi(65)), words="wrong sixty five"), NOW)
    assert (made.rule, made.kind) == ("correction of nothing", "accept")


def test_several_reports_are_a_report() -> None:
    both = Several((psi(75), HALF))
    assert decide(said((both, 0.999)), NOW).rule == "report"


EARLIER = Evidence("pressure", 90.0, ((psi(75), 0.6), (psi(76), 0.3)))


def test_an_earlier_try_is_counted_in_and_what_is_accepted_ends_it() -> None:
    weak = said((psi(75), 0.8), (psi(76), 0.199))
    before = replace(PRESSURE, evidence=EARLIER)
    assert decide(weak, before).probability > decide(weak, PRESSURE).probability
    assert decide(weak, before).evidence != EARLIER  # this try was added
    assert decide(SURE, before).evidence is None
    for other in (said(), said((Order("repeat"), 0.95), words="say again")):
        assert decide(other, before).evidence is EARLIER


@pytest.mark.parametrize(
    ("heard", "moment", "spends"),
    [
        (SURE, NOW, True),
        (said((psi(75), 0.98)), NOW, True),
        (said((psi(75), 0.3), (psi(76), 0.29), (psi(66), 0.28)), NOW, False),
        (said(), NOW, False),
        (said((psi(75), 0.3), text="the left plug weeps"), NOTE, False),
        (said((psi(75), 0.999), text="the gauge said seventy five I think"), NOTE, True),
        (replace(SURE, called=False), ASLEEP, False),
    ],
)
def test_what_is_understood_spends_the_call(heard: Heard, moment: Context, spends: bool) -> None:
    assert decide(heard, moment).spends_call is spends


def test_out_of_its_place_it_is_asked_for_again_where_another_meaning_is_near() -> None:
    near = said((PICKS_UP, 0.95), (HALF, 0.05), words="injector picks up")
    assert [decide(near, at).kind for at in (NOW, COLD, PAST)] == ["again"] * 3


def test_of_a_list_that_fits_this_fire_and_steam_it_is_taken_at_once() -> None:
    kinds = [
        decide(said((PICKS_UP, p), words="injector picks up"), NOW).kind for p in (0.98, 0.999)
    ]
    assert kinds == ["confirm", "accept"]


def test_of_another_phase_it_is_asked_about() -> None:
    made = decide(said((PICKS_UP, 0.999), words="injector picks up"), PAST)
    assert (made.rule, made.kind, made.meaning) == ("out of its place", "confirm", PICKS_UP)


def test_where_its_list_is_in_hand_it_is_taken_at_once() -> None:
    there = replace(NOW, expected=Expected("state", (("injector picks up", PICKS_UP),)))
    assert decide(said((PICKS_UP, 0.999), words="injector picks up"), there).kind == "accept"
