"""Which step of the list is put to the operator, when, and when again."""

from __future__ import annotations

from assistant.dialogue import prompts
from assistant.dialogue.conversation import Loud, loud_now
from assistant.dialogue.event_context import EventContext
from assistant.dialogue.owners import needs, told, work
from assistant.dialogue.state import READING, STEP
from assistant.messages import StepAsked, Tick
from assistant.procedure import position
from assistant.procedure.checklist import Step
from assistant.wording import walkthrough

STEP_PATIENCE_S = 60.0  # a step is put again after this and its own expected time


def next_prompt(context: EventContext) -> tuple[Step | None, bool]:
    """The step to have in hand now, and whether it is new."""
    state = context.state
    step = position.current(state.progress)
    if step is None:
        return None, False
    hand = position.in_hand(state.progress)
    if (
        hand is not None
        and hand.id != step.id
        and not hand.waiting
        and position.is_due(state.progress, hand)
    ):
        step = hand
    return step, state.progress.asked != step.id or STEP not in state.asked


def prompt_step(context: EventContext, step: Step | None, fresh: bool, at_once: bool) -> None:
    """Put a step: at once when it is new (`fresh`) or `at_once`, again when patience is over.

    A reading that was just asked for comes first.
    """
    if step is None or not (fresh or loud_now(context) is Loud.NORMAL):
        return
    if fresh and _reading_first(context, step):
        return
    if not fresh and not at_once and not _patience_over(context, step):
        return
    note_prompted(context, step, fresh)
    context.say(walkthrough.step(step.say, step.caution if fresh else ""))


def note_prompted(context: EventContext, step: Step, fresh: bool) -> None:
    """Remember that the step was put, first or again."""
    state = context.state
    work.come_to(context, position.put_step(state.progress, step))
    needs.put(context, STEP, step.id, again=not fresh)
    needs.reading_answered(context, step.asks)
    if fresh:
        told.because(context, "")
        context.record(StepAsked(state.phase.value, step.id))


def _reading_first(context: EventContext, step: Step) -> bool:
    """Whether another reading was just asked for, and its answer is waited for."""
    state = context.state
    asked = state.asked.get(READING)
    if asked is None or asked.what == step.asks:
        return False
    return not context.elapsed(asked.last_at, prompts.PATIENCE_S)


def _patience_over(context: EventContext, step: Step) -> bool:
    """Whether nothing else speaks and the step has waited long enough to be put again."""
    asked = context.state.asked[STEP]
    patience = (STEP_PATIENCE_S + 60.0 * step.minutes) * asked.times
    return (
        isinstance(context.event, Tick)
        and not context.spoke
        and context.elapsed(asked.last_at, patience)
    )
