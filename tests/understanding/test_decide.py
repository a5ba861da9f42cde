"""Accept, confirm, again or ignore: tables of what is heard, and what may never happen."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.grammar.numbers import digit_by_digit
from assistant.messages import (
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
from assistant.understanding import decide as deciding
from assistant.understanding import gates
from assistant.understanding.context import Context
from assistant.understanding.costs import TABLE, cost_row_of
from assistant.understanding.decision import Decision
from assistant.understanding.meanings import Care, Mark, reports_in
from assistant.understanding.phrase_form import PhraseForm, phrase_form
from assistant.understanding.posterior import meaning_posterior


def psi(value: float) -> Report:
    return Report("pressure", float(value), "psi")


def glass(value: float) -> Report:
    return Report("water", value, "glass")


OUT = Report("water", "out of sight")


def words_for(meaning: Meaning) -> str:
    """Words in which it may be said, a reading by its name."""
    match meaning:
        case Report("pressure", value):
            return f"pressure {digit_by_digit(value)}"
        case Report("water", "out of sight"):
            return "no water in sight"
        case Report("water"):
            return "water half" if meaning == glass(0.5) else "water three quarters"
        case Report(what, value):
            return f"{what} is {value}"
        case Answer(word):
            return word
        case Order("stop"):
            return "end the session"
        case Order(name):
            return {"repeat": "say again", "skip": "skip this step"}.get(name, name)
        case Correction(report):
            return f"wrong {words_for(report).removeprefix('pressure ')}"
        case Several(reports):
            return " ".join(map(words_for, reports))
    raise AssertionError(meaning)


def heard(
    *pairs: tuple[Meaning, float], log_ratio: float | None = 0.5, average: float | None = -0.3
) -> Heard:
    found = tuple(Alternative(meaning, words_for(meaning), p) for meaning, p in pairs)
    return Heard(1.0, "typed" if log_ratio is None else "test ear", found, log_ratio, average)


def decide(what: Heard, expected: Expected, *beliefs: Any, **more: Any) -> Decision:
    """The decision at a moment with this expected, and what else there is."""
    return deciding.decide(what, Context(expected, *beliefs, **more))


ANY = Expected()
PRESSURE = Expected("pressure")
ANSWER = Expected("answer", about="pressure")
STEP = Expected("state", (("out of gear", Report("gear", "out")),))


@pytest.mark.parametrize(
    ("what", "expected", "kind"),
    [
        (heard((psi(75), 0.995)), ANY, "accept"),
        (heard((psi(75), 0.98)), ANY, "confirm"),  # numbers need 0.99
        (heard((psi(75), 0.70), (psi(76), 0.29)), ANY, "confirm"),
        (heard((psi(75), 0.30), (psi(76), 0.29), (psi(66), 0.28)), ANY, "again"),
        (heard((glass(0.5), 0.993)), ANY, "confirm"),  # water needs 0.995
        (heard((glass(0.5), 0.997)), ANY, "accept"),
        (heard((Order("repeat"), 0.9)), ANY, "accept"),
        (heard((Order("stop"), 0.9)), ANY, "confirm"),
        (heard((Order("skip"), 0.99)), ANY, "accept"),
        (heard((Answer("no"), 0.93)), ANSWER, "accept"),
        (heard((Answer("yes"), 0.93)), ANSWER, "again"),  # "correct: is that right?" helps nobody
        (heard((Answer("yes"), 0.93)), ANY, "ignore"),  # nobody waits for it
        (heard((Answer("no"), 0.85)), ANY, "again"),  # it may contradict what was just read back
        (heard((Order("repeat"), 0.7)), ANY, "again"),
        (heard((Answer("yes"), 0.995)), ANSWER, "accept"),
        (heard((Report("blower", "half"), 0.991)), ANY, "accept"),
        (heard((Several((psi(75), glass(0.5))), 0.993)), ANY, "confirm"),  # as the water
        (heard((Correction(psi(65)), 0.995)), ANSWER, "accept"),
        (heard((Correction(psi(65)), 0.9)), ANSWER, "confirm"),
        (heard(), ANY, "ignore"),
        (heard((psi(75), 0.02)), ANY, "ignore"),  # next to nothing of ours in it
        (heard((OUT, 0.96)), ANY, "confirm"),  # a false danger costs trust: asked about at once
        (heard((OUT, 0.3), (glass(0.5), 0.2)), ANY, "confirm"),  # never passed over
    ],
)
def test_by_the_probability_of_what_was_heard(what: Heard, expected: Expected, kind: str) -> None:
    assert decide(what, expected).kind == kind


@pytest.mark.parametrize(
    ("log_ratio", "average", "kind"),
    [
        (0.0, -0.5, "accept"),
        (-4.5, -1.2, "accept"),  # the limits themselves pass
        (-4.6, -0.5, "confirm"),
        (0.0, -1.22, "confirm"),
        (-5.6, -0.5, "again"),  # faint, but a question is open
        (0.0, -1.3, "again"),
        (0.0, -2.0, "again"),
        (-13.1, -0.5, "ignore"),
        (0.0, -2.5, "ignore"),
    ],
)
def test_a_closed_grammar_always_answers_so_the_sound_is_tested(
    log_ratio: float, average: float, kind: str
) -> None:
    sure = heard((psi(75), 1.0), log_ratio=log_ratio, average=average)
    assert decide(sure, PRESSURE).kind == kind


@pytest.mark.parametrize(
    ("meaning", "words", "expected", "sort"),
    [
        (psi(75), "seven five", PRESSURE, "bare"),
        (psi(75), "pressure seven five", PRESSURE, "reading asked for"),
        (psi(75), "seven five pounds", PRESSURE, "reading asked for"),
        (psi(75), "pressure seven five", ANY, "named"),
        (Report("gear", "out"), "out of gear", STEP, "phrase asked for"),
        (Report("blower", "half"), "blower half open", STEP, "phrase"),
        (Report("fire", "lit"), "fire lit", STEP, "named"),
        (Answer("no"), "no", ANSWER, "word"),
        (Answer("yes"), "that's right", ANSWER, "phrase"),
        (Correction(psi(75)), "wrong seven five", ANSWER, "bare"),
        (Several((psi(75), glass(0.5))), "pressure seven five water half", ANY, "named"),
    ],
)
def test_what_is_taken_at_once_depends_on_how_it_was_said(
    meaning: Meaning, words: str, expected: Expected, sort: PhraseForm
) -> None:
    """Each gate's own limits pass, and a little below them nothing is taken at once."""
    assert phrase_form(meaning, words, expected) == sort
    take = gates.GATES[sort].take
    for less, taken in ((0.0, True), (0.1, False)):
        said = Heard(
            1.0,
            "test ear",
            (Alternative(meaning, words, 1.0),),
            take.log_ratio - less,
            take.average,
        )
        assert (decide(said, expected).kind == "accept") == taken


@pytest.mark.parametrize(("log_ratio", "average"), [(-6.5, -0.5), (0.0, -2.2), (-5.5, -1.7)])
def test_what_is_hardly_for_us_is_passed_over_when_nothing_was_asked(
    log_ratio: float, average: float
) -> None:
    made = decide(heard((psi(75), 1.0), log_ratio=log_ratio, average=average), ANY)
    assert (made.kind, made.meaning) == ("ignore", None)


@pytest.mark.parametrize(
    ("meaning", "log_ratio", "average", "kind"),
    [
        (Order("repeat"), -2.9, -0.8, "accept"),
        (Order("repeat"), -3.1, -0.4, "again"),
        (Order("skip"), -4.1, -0.4, "confirm"),
        (psi(75), -4.6, -0.4, "confirm"),
        (OUT, -2.6, -0.4, "confirm"),
        (Answer("yes"), -2.9, -0.4, "again"),
        (Answer("no"), -2.9, -0.4, "again"),
    ],
)
def test_only_what_does_no_harm_passes_the_loose_gate(
    meaning: Meaning, log_ratio: float, average: float, kind: str
) -> None:
    said = heard((meaning, 1.0), log_ratio=log_ratio, average=average)
    assert decide(said, ANSWER).kind == kind


def test_a_doubtful_yes_that_nobody_waits_for_is_passed_over() -> None:
    said = heard((Answer("yes"), 1.0), log_ratio=-2.9)
    assert decide(said, ANY).kind == "ignore"
    assert decide(heard((Answer("no"), 1.0), log_ratio=-2.9), ANY).kind == "again"


@pytest.mark.parametrize(
    ("log_ratio", "average", "kind"),
    [
        (-2.4, -1.1, "accept"),
        (-2.6, -1.1, "confirm"),  # asked about at once,
        (-4.9, -1.5, "confirm"),  # well below where a bare number would be
        (-5.1, -1.5, "again"),
    ],
)
def test_a_danger_must_be_well_heard_to_be_taken_and_little_heard_to_be_asked_about(
    log_ratio: float, average: float, kind: str
) -> None:
    said = heard((OUT, 1.0), log_ratio=log_ratio, average=average)
    assert decide(said, ANSWER).kind == kind


def test_a_correction_of_nothing_is_asked_about_unless_it_was_typed() -> None:
    said = heard((Correction(psi(65)), 1.0))
    assert decide(said, ANSWER).kind == "accept"
    assert decide(said, STEP).kind == "confirm"
    assert decide(heard((Correction(psi(65)), 1.0), log_ratio=None, average=None), STEP).kind == (
        "accept"
    )


def test_two_near_meanings_are_asked_about_with_the_rival_named() -> None:
    made = decide(heard((Order("repeat"), 0.55), (Order("ready"), 0.45)), ANY)
    assert made.kind != "accept"
    made = decide(heard((psi(15), 0.6), (psi(50), 0.4)), PRESSURE)
    assert (made.kind, made.meaning, made.rival) == ("confirm", psi(15), psi(50))


def test_forms_of_one_meaning_add_up() -> None:
    made = decide(heard((psi(75), 0.5), (psi(75), 0.495)), PRESSURE)
    assert (made.kind, made.probability) == ("accept", pytest.approx(0.995))


@pytest.mark.parametrize(
    ("mark", "probability", "kind"),
    [
        (None, 0.996, "accept"),
        (Mark.NEAR, 0.996, "confirm"),
        (Mark.NEAR, 0.999, "accept"),
        (Mark.LOW, 0.992, "accept"),
        (Mark.LOW, 0.96, "confirm"),  # asked about at once, never passed over
        (Mark.LOW, 0.90, "confirm"),
        (Mark.LOW, 0.30, "confirm"),
    ],
)
def test_the_marks_of_the_glass_decide_how_sure_to_be(
    mark: Mark | None, probability: float, kind: str
) -> None:
    said = heard((glass(0.25), probability))
    assert decide(said, ANY, mark_of=lambda report: mark).kind == kind


def test_the_boiler_settles_fifteen_or_fifty() -> None:
    def near_fifteen(report: Report) -> float | None:
        return 0.1 if report == psi(15) else 0.0005

    made = decide(heard((psi(15), 0.7), (psi(50), 0.3)), PRESSURE, near_fifteen)
    assert (made.kind, made.meaning) == ("accept", psi(15))


def test_the_boiler_never_overrules_the_ear_in_silence() -> None:
    def near_fifty(report: Report) -> float | None:
        return 0.1 if report == psi(50) else 0.00001

    made = decide(heard((psi(15), 0.7), (psi(50), 0.3)), PRESSURE, near_fifty)
    assert (made.kind, made.meaning) == ("confirm", psi(50))


def test_a_jump_that_physics_forbids_is_asked_about_with_the_reason() -> None:
    why = "sixty to ninety five in one minute"
    made = decide(heard((psi(95), 0.999)), PRESSURE, objection=lambda report: why)
    assert (made.kind, made.meaning, made.reason, made.source) == (
        "confirm",
        psi(95),
        why,
        "boiler",
    )
    typed = heard((psi(95), 1.0), log_ratio=None, average=None)
    assert decide(typed, PRESSURE, objection=lambda report: why).kind == "confirm"


def test_a_surprise_said_twice_is_believed() -> None:
    sure = heard((psi(95), 0.999))
    made = decide(sure, ANSWER, objection=lambda report: "a jump", doubted=psi(95))
    assert made.kind == "accept"
    other = decide(sure, ANSWER, objection=lambda report: "a jump", doubted=psi(85))
    assert other.kind == "confirm"
    unsure = decide(heard((psi(95), 0.9)), ANSWER, doubted=psi(95))
    assert unsure.kind == "confirm"


def test_physics_never_holds_up_a_danger() -> None:
    made = decide(heard((OUT, 0.995)), ANY, objection=lambda report: "it was half a minute ago")
    assert made.kind == "accept"


def test_a_value_off_the_gauge_is_never_taken() -> None:
    made = decide(
        heard((psi(250), 1.0), log_ratio=None, average=None),
        PRESSURE,
        limits=lambda report: "the gauge ends at two hundred pounds",
    )
    assert (made.kind, made.meaning, made.source) == ("again", psi(250), "gauge")


@pytest.mark.parametrize(
    ("meaning", "kind"),
    [
        (psi(75), "confirm"),
        (OUT, "confirm"),
        (Correction(psi(65)), "confirm"),
        (Order("skip"), "confirm"),
        (Order("repeat"), "accept"),
        (Answer("yes"), "accept"),  # or nothing could ever be confirmed
    ],
)
def test_a_recogniser_without_figures_puts_nothing_in_the_book_alone(
    meaning: Meaning, kind: str
) -> None:
    loose = Heard(1.0, "loose ear", (Alternative(meaning, "", 1.0),))
    assert decide(loose, ANY).kind == kind
    assert decide(Heard(1.0, "loose ear", ()), ANY).kind == "ignore"


def test_typed_words_are_certain() -> None:
    assert decide(heard((psi(75), 1.0), log_ratio=None, average=None), ANY).kind == "accept"
    assert decide(heard(log_ratio=None, average=None), ANY).kind == "again"


MEANINGS = st.sampled_from(
    [psi(v) for v in (15, 50, 60, 65, 75)]
    + [glass(0.5), glass(0.75), OUT, Answer("yes"), Answer("no"), Order("repeat"), Order("stop")]
    + [Report("fire", "lit"), Correction(psi(65)), Several((psi(75), glass(0.5)))]
)


@st.composite
def utterances(draw: st.DrawFn) -> Heard:
    meanings = draw(st.lists(MEANINGS, min_size=1, max_size=5, unique=True))
    shares = draw(st.lists(st.floats(0, 1), min_size=len(meanings) + 1, max_size=len(meanings) + 1))
    whole = sum(shares) or 1.0
    pairs = [(m, s / whole) for m, s in zip(meanings, shares, strict=False)]
    return heard(
        *sorted(pairs, key=lambda pair: -pair[1]),
        log_ratio=draw(st.floats(-8, 3)),
        average=draw(st.floats(-4, 0)),
    )


@given(
    utterances(),
    st.sampled_from([ANY, PRESSURE, ANSWER, Expected("water")]),
    st.sampled_from(list(Care)),
    st.floats(1e-6, 1),
    st.booleans(),
)
def test_nothing_is_accepted_below_its_threshold(
    what: Heard, expected: Expected, care: Care, chance: float, objects: bool
) -> None:
    def likely(report: Report) -> float | None:
        return chance if report == psi(15) else 0.01 if report.unit == "psi" else None

    def objection(report: Report) -> str | None:
        return "cannot be" if objects else None

    made = decide(what, expected, likely, objection, care=care)
    weighed = {one.meaning: one.probability for one in meaning_posterior(what.alternatives, likely)}
    assert sum(weighed.values()) == pytest.approx(sum(a.probability for a in what.alternatives))
    if made.kind == "ignore":
        assert made.meaning is None
    if made.kind != "accept":
        return
    costs = TABLE[cost_row_of(made.meaning, care)]
    assert weighed[made.meaning] >= costs.threshold - 1e-9
    told = next(a.words for a in what.alternatives if a.meaning == made.meaning)
    how = phrase_form(made.meaning, told, expected)
    sufficient = gates.gates_to_take(cost_row_of(made.meaning, care), how, told, agreed=False)
    assert any(gate.passes(what.log_ratio, what.average) for gate in sufficient)
    assert max(what.alternatives, key=lambda one: one.probability).meaning == made.meaning
    if objects and reports_in(made.meaning) and cost_row_of(made.meaning, care) != "danger":
        assert isinstance(made.meaning, Correction)


@pytest.mark.parametrize(
    ("audio_s", "kind"), [(0.0, "accept"), (0.82, "again"), (0.84, "accept"), (2.0, "accept")]
)
def test_a_clank_is_too_short_to_be_a_word(audio_s: float, kind: str) -> None:
    """Unknown lengths (0) are not judged; what is too short is asked for again."""
    four = Alternative(Report("pressure", 4.0, "psi"), "four", 1.0)
    said = Heard(1.0, "ear", (four,), log_ratio=0.0, average=-0.1, audio_s=audio_s)
    assert decide(said, Expected("pressure")).kind == kind
    assert decide(said, ANY).kind == ("ignore" if kind == "again" else kind)


@pytest.mark.parametrize(
    ("log_ratio", "average", "doubted", "kind"),
    [
        (-2.0, -0.8, None, "confirm"),
        (-3.0, -1.3, None, "again"),
        (-3.0, -1.3, Report("pressure", 65.0, "psi"), "accept"),  # said again: the two agree
        (-2.0, -0.8, Report("pressure", 60.0, "psi"), "confirm"),  # they do not
        (-4.6, -1.3, Report("pressure", 65.0, "psi"), "again"),  # too unlike any of ours
    ],
)
def test_what_is_asked_about_and_said_again_needs_less_of_the_sound(
    log_ratio: float, average: float, doubted: Report | None, kind: str
) -> None:
    meaning = Report("pressure", 65.0, "psi")
    one = Heard(1.0, "ear", (Alternative(meaning, "sixty five", 0.999),), log_ratio, average)
    assert decide(one, Expected("pressure"), doubted=doubted).kind == kind
