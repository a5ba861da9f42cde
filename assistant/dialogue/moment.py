"""The moment in which an utterance is heard, as `understanding` asks about it. Decides nothing."""

from __future__ import annotations

from assistant.dialogue import plausibility
from assistant.dialogue.event_context import EventContext
from assistant.dialogue.wake_state import WakeState
from assistant.understanding.context import Context
from assistant.understanding.meanings import reports_in


def moment_of(context: EventContext) -> Context:
    """All that a decision may consult in this event."""
    state = context.state
    hearing, doubt = state.hearing, state.doubt
    doubted = reports_in(doubt.meaning) if doubt is not None else ()
    return Context(
        expected=hearing.expected,
        chance=lambda report: plausibility.plausibility_of(context, report),
        objection=lambda report: plausibility.objection_to(context, report),
        limits=lambda report: plausibility.off_gauge_reason(context, report),
        care=plausibility.care_now(context),
        mark_of=lambda report: plausibility.mark_of(context, report),
        doubted=doubted[0] if doubted else None,
        denied=hearing.denied,
        denied_at=hearing.denied_at,
        takes_notes=True,
        note_expected=state.question.note_expected,
        no_call_until=(hearing.wake or WakeState()).until,
        evidence=hearing.evidence,
        at=context.at,
    )
