"""How a session begins: cold, taken over warm, or after a break."""

from __future__ import annotations

from assistant.dialogue import following, list_begin, plate_check
from assistant.dialogue.event_context import EventContext
from assistant.dialogue.owners import clock, lesson, needs, person, questions, work
from assistant.messages import Away, Grade, PhaseBegan, Resumed, Started, Tone
from assistant.picture.given import LONG_BREAK_S
from assistant.procedure.checklist import Phase
from assistant.wording import due_words, walkthrough


def start(context: EventContext, event: Started) -> None:
    """The cautions, the first list or the killer questions of a warm engine, her plate."""
    person.named(context, event.people)
    lesson.begin(context, event.learner)
    if event.tone:
        context.alarm(Tone(Grade.DANGER))
        context.say(walkthrough.danger_tone())
    context.say(walkthrough.cautions())
    if event.due is not None:
        context.say(due_words.due_words(event.due))
    if event.from_phase is None or event.from_phase == Phase.PREPARATION.value:
        cold = context.state.phase
        context.record(PhaseBegan(cold.value))
        context.say(context.state.progress.checklist.opening or walkthrough.phase_began(cold.value))
    else:
        list_begin.take_over(context, Phase(event.from_phase))
    if event.plate:
        plate_check.ask(context)


def resume_after_break(context: EventContext, event: Resumed | Away) -> None:
    """After a break no question is open; where we are is said by `reprompts.recap`."""
    context.resumed = True
    questions.close_all(context)
    clock.go_on_after_break(context, event.away_s)
    needs.begin_anew(context)
    if event.away_s > LONG_BREAK_S:
        work.open_again(context, context.at - event.away_s)
        following.lapse(context)
