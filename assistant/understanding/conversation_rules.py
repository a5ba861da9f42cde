"""The rules about where an utterance stands in the conversation: said to us, a note, just denied.

Each is a pure function of a case; `decide.py` has their order.
"""

from __future__ import annotations

from dataclasses import replace

from assistant.grammar.wake_phrase import CALL
from assistant.messages import Order
from assistant.understanding.case import Case
from assistant.understanding.decision import Decision

LATE_S = 10.0  # a second or two is how long hearing takes. Judgement
DENIED_FOR_S = 120.0  # after that the gauge may have moved there. Judgement


def wake_phrase_alone(case: Case) -> Decision | None:
    """The wake phrase alone: taken when it is heard well, and never asked about."""
    if case.by_words.meaning != CALL:
        return None
    if case.by_words.kind == "accept":
        return case.by_words
    return Decision("ignore", None, "hardly the wake phrase")


def not_for_us(case: Case) -> Decision | None:
    """Without the wake phrase where one is wanted; a danger needs none."""
    began_at = case.heard.at - case.heard.late_s - case.heard.audio_s
    called = case.heard.called is not False or began_at <= case.context.no_call_until
    if called or case.danger_understood:
        return None
    return Decision("ignore", None, "without the wake phrase")


def words_of_a_note(case: Case) -> Decision | None:
    """A note is waited for, and this is no other sentence."""
    return _note(case) if case.context.note_expected else None


def note_in_one_breath(case: Case) -> Decision | None:
    """A sentence that begins with "note", and is no other sentence."""
    return None if case.context.note_expected else _note(case)


def _note(case: Case) -> Decision | None:
    if case.note is None or case.is_sentence:
        return None
    return Decision("note", None, "a note", note=case.note)


def said_long_ago(case: Case) -> Decision | None:
    """Understood so late that gauge and question are others by now; an order or a danger counts."""
    meaning, late_s = case.by_words.meaning, case.heard.late_s
    if late_s <= LATE_S or meaning is None or isinstance(meaning, Order) or case.danger_understood:
        return None
    return Decision("again", None, f"said {late_s:.0f} s ago")


def just_called_wrong(case: Case) -> Decision | None:
    """A value that was just called wrong is confirmed before it counts, unless it was typed."""
    context, plain = case.context, case.by_words
    recent = context.at - context.denied_at <= DENIED_FOR_S
    if case.heard.typed or plain.kind != "accept" or not recent:
        return None
    if plain.meaning not in context.denied:
        return None
    return replace(plain, kind="confirm", reason="it was just called wrong", rival=None)
