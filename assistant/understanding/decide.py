"""What becomes of an utterance: one ordered table of named rules; the first that speaks decides.

Knows the order of the rules; what each of them says stands with it.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from assistant.messages import Heard
from assistant.understanding import conversation_rules, word_rules
from assistant.understanding.case import Case
from assistant.understanding.context import Context
from assistant.understanding.decision import Decision
from assistant.understanding.meanings import reports_in
from assistant.understanding.retries import Evidence, updated_evidence

Rule = Callable[[Case], Decision | None]

# Where it stands in the conversation. These may ask what the words alone would come to.
CONVERSATION: tuple[tuple[str, Rule], ...] = (
    ("wake phrase alone", conversation_rules.wake_phrase_alone),
    ("not for us", conversation_rules.not_for_us),
    ("words of a note", conversation_rules.words_of_a_note),
    ("note in one breath", conversation_rules.note_in_one_breath),
    ("said long ago", conversation_rules.said_long_ago),
    ("just called wrong", conversation_rules.just_called_wrong),
)
# The words: first whether there are any, then what speaks against them, then what they are.
WORDS: tuple[tuple[str, Rule], ...] = (
    ("nothing heard", word_rules.nothing_heard),
    ("hardly for us", word_rules.hardly_for_us),
    ("typed, and no sentence", word_rules.typed_near),
    ("off the gauge", word_rules.off_the_gauge),
    ("a doubtful yes nobody waits for", word_rules.doubtful_yes),
    ("out of its place", word_rules.out_of_its_place),
    ("cost against confidence", word_rules.cost_against_confidence),
    ("sound against boiler", word_rules.sound_against_boiler),
    ("ear without figures", word_rules.ear_without_figures),
    ("badly heard", word_rules.badly_heard),
    ("two meanings near", word_rules.two_meanings_near),
    ("physics objects", word_rules.physics_objects),
    ("correction of nothing", word_rules.correction_of_nothing),
    ("correction", word_rules.correction),
    ("answer", word_rules.answer),
    ("order", word_rules.order),
    ("report", word_rules.report),
)
RULES = (*CONVERSATION, *WORDS)


def decide(heard: Heard, context: Context) -> Decision:
    """What to do with an utterance, and the name of the rule that says so.

    >>> decide(Heard(1.0, "typed", ()), Context()).rule
    'nothing heard'
    """
    case = Case(heard, context, _by_words)
    decision = _first(RULES, case)
    return replace(
        decision,
        evidence=_evidence_after(case, decision),
        spends_call=decision.kind != "ignore" and case.by_words.kind in ("accept", "confirm"),
    )


def _first(rules: tuple[tuple[str, Rule], ...], case: Case) -> Decision:
    """The decision of the first rule that speaks; the last of the table always does."""
    spoken = ((name, rule(case)) for name, rule in rules)
    return next(replace(said, rule=name) for name, said in spoken if said is not None)


def _by_words(case: Case) -> Decision:
    return _first(WORDS, case)


def _evidence_after(case: Case, decision: Decision) -> Evidence | None:
    """A try that settled nothing adds to the evidence; a report that is accepted ends it."""
    before, heard = case.context.evidence, case.heard
    if decision.kind in ("confirm", "again"):
        return updated_evidence(heard, heard.alternatives, before, case.context.at)
    settled = decision.kind == "accept" and reports_in(decision.meaning)
    return None if settled else before
