"""The rules about the words of an utterance: heard well enough, possible, worth its risk.

Each is a pure function of a case; `decide.py` has their order.
"""

from __future__ import annotations

from assistant.grammar import prior_weights
from assistant.messages import Answer, Correction, Order
from assistant.understanding import gates
from assistant.understanding.case import Case
from assistant.understanding.decision import Decision
from assistant.understanding.meanings import reports_in

OUT_OF_PLACE_MARGIN = 3.0  # nats over the second meaning: twenty to one


def nothing_heard(case: Case) -> Decision | None:
    """None of our sentences: asked for again only where it was typed."""
    if case.heard.alternatives:
        return None
    return Decision("again" if case.heard.typed else "ignore", None, "none of our sentences")


def hardly_for_us(case: Case) -> Decision | None:
    """Too unlike speech to us: asked for again only while something is asked."""
    if case.for_us == "yes":
        return None
    again = case.for_us == "faint" and case.context.expected.kind != "any"
    return Decision(
        "again" if again else "ignore", None, "hardly for us", probability=case.best.probability
    )


def typed_near(case: Case) -> Decision | None:
    """Typed words that are no sentence: asked about where they fit gauge and belief, never taken.

    A danger is asked about whatever the belief says.
    """
    if not case.heard.typed or case.best.probability >= 1.0:
        return None
    fitting = case.fitting
    if not fitting:
        return Decision("again", None, "none of our sentences")
    rival = fitting[1].meaning if len(fitting) > 1 else None
    first = fitting[0]
    return Decision(
        "confirm",
        first.meaning,
        "typed, and no sentence",
        probability=first.probability,
        rival=rival,
    )


def off_the_gauge(case: Case) -> Decision | None:
    """No gauge of this engine can show it: never accepted."""
    if not case.off_gauge:
        return None
    return Decision("again", case.meaning, case.off_gauge, "gauge", case.best.probability)


def doubtful_yes(case: Case) -> Decision | None:
    """A "yes" that nobody waits for, and that would not be accepted."""
    if case.meaning != Answer("yes") or case.context.expected.kind == "answer":
        return None
    if case.cheapest() == "accept" and not any(rule(case) for rule in BY_SOUND):
        return None
    return case.decision("ignore", "a doubtful yes that nobody waits for")


def out_of_its_place(case: Case) -> Decision | None:
    """It answers a list that is not in hand: asked for again where another meaning is near.

    By ear it is never taken at once where its phase, fire or steam is not there, but asked about.
    """
    expected = case.context.expected
    if case.heard.typed or not prior_weights.is_elsewhere(case.meaning, expected):
        return None
    if case.cheapest() in ("ignore", "again"):
        return None
    if case.margin < OUT_OF_PLACE_MARGIN:
        return case.decision("again", "it answers another list")
    if prior_weights.is_not_now(case.meaning, expected):
        return case.decision("confirm", "it answers a list of another phase")
    return None


def cost_against_confidence(case: Case) -> Decision | None:
    """It is not likely enough for what a mistake would cost."""
    kind = case.cheapest()
    return None if kind == "accept" else case.decision(kind)


def _not_taken(case: Case, doubt: str | None) -> Decision | None:
    """Asked about, or asked for again, because of a doubt; None without one."""
    return case.decision(case.cheapest(("confirm", "again")), doubt) if doubt else None


def sound_against_boiler(case: Case) -> Decision | None:
    """The boiler may not overrule the ear in silence."""
    differ = case.meaning != case.by_sound
    return _not_taken(case, "the boiler and the ear disagree" if differ else None)


def ear_without_figures(case: Case) -> Decision | None:
    """A recogniser that cannot reject other talk settles nothing lasting alone."""
    return _not_taken(case, gates.no_figures(case.heard) if case.lasting else None)


def badly_heard(case: Case) -> Decision | None:
    """Likely, but unlike how that sentence sounds."""
    return _not_taken(case, gates.badly_heard(case.heard, case.sufficient))


def two_meanings_near(case: Case) -> Decision | None:
    """Another meaning is nearly as likely."""
    return _not_taken(case, gates.meanings_near(case.heard, case.margin))


BY_SOUND = (sound_against_boiler, ear_without_figures, badly_heard, two_meanings_near)


def physics_objects(case: Case) -> Decision | None:
    """The belief says that it cannot be; a correction, a repetition and a danger stand anyway."""
    repeated = case.context.doubted in reports_in(case.meaning)
    if case.danger or isinstance(case.meaning, Correction) or repeated or not case.objection:
        return None
    return case.decision("confirm", case.objection, "boiler")


def correction_of_nothing(case: Case) -> Decision | None:
    """A correction with no reading to correct: accepted only if it was typed."""
    if not isinstance(case.meaning, Correction) or case.context.expected.about is not None:
        return None
    if case.heard.typed:
        return case.decision("accept")
    return case.decision("confirm", "there was no reading to correct")


def correction(case: Case) -> Decision | None:
    """Another value in the place of the one read back."""
    return case.decision("accept") if isinstance(case.meaning, Correction) else None


def answer(case: Case) -> Decision | None:
    """A yes or a no."""
    return case.decision("accept") if isinstance(case.meaning, Answer) else None


def order(case: Case) -> Decision | None:
    """Something wanted of the assistant."""
    return case.decision("accept") if isinstance(case.meaning, Order) else None


def report(case: Case) -> Decision:
    """What was seen: one report or several."""
    return case.decision("accept")
