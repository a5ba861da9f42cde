"""Whether the engine file is this engine's: said and asked at every start, open until answered.

It holds the floor for a while, and blocks neither the list nor any alarm. Knows no step.
"""

from __future__ import annotations

from dataclasses import replace

from assistant.boiler.scales import PRESSURE_PA
from assistant.dialogue.event_context import EventContext
from assistant.dialogue.owners import needs, questions, told, work
from assistant.dialogue.state import STEP, PlateQuestion
from assistant.messages import StepAsked, StepDone, StepSkipped, Urgency
from assistant.procedure import plate, position
from assistant.procedure.progress import report_text
from assistant.wording import plate_words, walkthrough

FLOOR_S = 45.0  # the list waits so long for the answer: the start alone takes half a minute to say
# Orders that answer nothing.
KEEPS_FLOOR = frozenset({"repeat", "why", "hush", "note", "wait", "acknowledge"})


def ask(context: EventContext) -> None:
    """Say the engine and her figures, and ask whether that is her plate."""
    engine, dial = context.config.engine, context.config.dial
    unit_pa = PRESSURE_PA[dial]
    allowed = engine.allowed_pressure_gauge_pa
    before = context.state.question.plate
    phase = context.state.phase.value if before is None else before.phase
    questions.put_plate(context, PlateQuestion(phase, context.at + FLOOR_S))
    told.because(context, plate_words.plate_why())
    context.record(StepAsked(phase, plate.STEP))
    context.say(
        plate_words.plate_question(
            engine.name,
            None if allowed is None else allowed / unit_pa,
            engine.working_pressure_gauge_pa / unit_pa,
            engine.valve_lifts_gauge_pa / unit_pa,
            (engine.glass.lower_mark, engine.glass.upper_mark),
            dial,
        )
    )


def is_open(context: EventContext) -> bool:
    """Whether it was asked and has not been called right."""
    return context.state.question.plate is not None and not context.state.latest_is(
        "plate", "right"
    )


def has_floor(context: EventContext) -> bool:
    """Whether a plain yes or no is its answer, and the list waits for that."""
    question = context.state.question.plate
    if question is None or not is_open(context):
        return False
    return not context.elapsed(question.floor_until)


def follow(context: EventContext) -> None:
    """What an answer does; anything else that is understood gives the floor back to the list."""
    question = context.state.question.plate
    if question is None:
        return
    if plate.RIGHT in context.accepted:
        context.record(StepDone(question.phase, plate.STEP, report_text(plate.RIGHT)))
    if plate.WRONG in context.accepted:
        context.say(plate_words.plate_wrong(), Urgency.ANSWER)
    if "plate" in context.retracted and is_open(context):
        ask(context)
    elif context.understood and has_floor(context):
        kept = context.order in KEEPS_FLOOR
        until = context.at + FLOOR_S if kept else context.at
        questions.put_plate(context, replace(question, floor_until=until))
        _take_step_in_hand(context)


def _take_step_in_hand(context: EventContext) -> None:
    """The step that waits behind the question was put all the same, where a report is about it."""
    step = position.current(context.state.progress)
    if step is not None and step.asks in {report.what for report in context.accepted}:
        work.come_to(context, position.put_step(context.state.progress, step))
        needs.put(context, STEP + step.id, step.id)
        context.record(StepAsked(context.state.phase.value, step.id))


def remind(context: EventContext) -> None:
    """Where a phase ends: that it is open, and the words that settle it."""
    if is_open(context):
        context.say(plate_words.plate_open())


def skip(context: EventContext) -> None:
    """Leave it open aloud."""
    question = context.state.question.plate
    if question is not None:
        context.record(StepSkipped(question.phase, plate.STEP))
        context.say(walkthrough.skipped(plate.STEP), Urgency.ANSWER)
