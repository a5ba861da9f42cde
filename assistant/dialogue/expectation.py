"""What is to be listened for after an event: the question that is open and the forms that count."""

from __future__ import annotations

from assistant.dialogue import following, plate_check
from assistant.dialogue.conversation import Open
from assistant.dialogue.event_context import EventContext
from assistant.dialogue.what_is_open import open_now
from assistant.messages import READINGS, Expected, Report
from assistant.procedure import phases, plate, position
from assistant.procedure.position import Progress
from assistant.understanding.meanings import reports_in

CORRECTABLE_S = 60.0  # a bare number after "wrong" corrects a reading no older than this


def expected(context: EventContext) -> Expected:
    """What is to be listened for after this event."""
    state = context.state
    answers, about, dial = _answers_now(context), _about(context), context.config.dial
    opened = open_now(context)
    if opened is Open.WHICH and about is not None:
        return Expected(about, answers, about, dial)  # type: ignore[arg-type]
    if opened in (Open.CONFIRMATION, Open.WHICH, Open.END_ASKED):
        return Expected("answer", answers, about, dial)
    if state.reading_asked in READINGS:
        return Expected(state.reading_asked, answers, about, dial)  # type: ignore[arg-type]
    if plate_check.has_floor(context):
        return Expected("answer", answers, about, dial)
    hand = position.in_hand(state.progress)
    if hand is not None and hand.kind == "value" and hand.asks in READINGS:
        return Expected(hand.asks, answers, about, dial)  # type: ignore[arg-type]
    return Expected("state" if answers else "any", answers, about, dial)


def _answers_now(context: EventContext) -> tuple[tuple[str, Report], ...]:
    """The step's own forms, those that call up something else, those that are true at any time.

    Each form counts once; the subject that is asked stands first.
    """
    meanings = dict(position.possible_answers(context.state.progress))
    warm = (answer for step in following.warm_steps(context) for answer in step.answers())
    others = (
        *warm,
        *_emergency_calls(context),
        *context.config.remedy_calls,
        *phases.move_calls(context.state.phase),
        *context.config.bypass_forms,
        *(plate.ANSWERS if context.state.question.plate is not None else ()),
        *(form for each in _lists_open(context) for form in position.said_in_passing(each)),
    )
    for form, report in others:
        meanings.setdefault(form, report)
    return tuple(meanings.items())


def _lists_open(context: EventContext) -> tuple[Progress, ...]:
    """The list in hand, and what waits behind it."""
    work = context.state.procedure
    return (work.progress, *work.parked)


def _emergency_calls(context: EventContext) -> tuple[tuple[str, Report], ...]:
    """While a danger stands, that it is over; at any time, the calls of an owner's own file."""
    emergencies, danger = context.config.emergencies, context.state.watch.danger
    if emergencies is None or not (danger or not emergencies.general):
        return ()
    return emergencies.calls(danger)


def _about(context: EventContext) -> str | None:
    """The gauge that "wrong, sixty five" would correct: of the doubted reading, or of the last."""
    state = context.state
    if state.doubt is not None:
        doubted = [r.what for r in reports_in(state.doubt.meaning) if r.what in READINGS]
        return doubted[0] if doubted else None
    last = state.reports[-1] if state.reports else None
    if last is None or last.report.what not in READINGS or context.elapsed(last.at, CORRECTABLE_S):
        return None
    return last.report.what
