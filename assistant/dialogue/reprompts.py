"""Where we are after a break, and doubts left unanswered."""

from __future__ import annotations

from dataclasses import replace

from assistant.dialogue import asking, ending, engine_ahead, plausibility, prompts
from assistant.dialogue.agenda import step_words, told_in_words
from assistant.dialogue.event_context import EventContext
from assistant.dialogue.owners import clock, hearing, person, questions
from assistant.messages import (
    READINGS,
    Grade,
    Meaning,
    PhaseBegan,
    ReadingRefused,
    Report,
    Say,
    Tick,
    Tone,
    Urgency,
)
from assistant.procedure.checklist import Step
from assistant.understanding.meanings import is_danger, reports_in
from assistant.wording import readback, walkthrough

JUST_CALLED_S = 60.0
DOUBT_AGAIN_S = 30.0
DANGER_AGAIN_S = 15.0  # a danger that may have been called waits no longer. Judgement
DOUBT_OVER_S = 90.0
DANGER_OVER_S = 60.0
CALL_AGAIN_S, CALL_OVER_S = 30.0, 600.0  # of a danger called by name. Judgement


def recap(context: EventContext, step: Step | None, fresh: bool) -> None:
    """Where we are, the water, the step in hand; nothing that was said in this event already."""
    state = context.state
    clock.break_was_told(context)
    if context.order == "where" or (
        step is None and not context.resumed and not _water_wanted(context)
    ):
        return
    asked = state.asked.get("water")
    water_asked = asked is not None and asked.last_at == context.at
    water_asked = water_asked or (step is not None and step.asks == "water")
    ask_water = not water_asked and (context.resumed or _water_wanted(context))
    done = state.progress.done
    just_done = bool(done) and done[-1].at == context.at
    new_phase = any(isinstance(record, PhaseBegan) for record in context.records)
    prompt = "" if step is None else step_words.prompt(context, step, cautioned=fresh)
    context.say(
        walkthrough.resumed(
            state.clock.away_s / 60.0,
            "" if new_phase else state.phase.value,
            done[-1].step if done and not just_done else "",
            prompt,
            ask_water,
        ),
        Urgency.ANSWER,
    )
    if ask_water:
        asking.note_asked(context, "water")


def _water_wanted(context: EventContext) -> bool:
    """With fire or steam, unless it was called within the last minute."""
    hot = context.state.fire_in or context.state.procedure.warm_since is not None
    return hot and prompts.age_s(context, "water") >= JUST_CALLED_S


def ends_quiet(context: EventContext) -> bool:
    """Whether the quiet that was asked for ends with this tick."""
    until = context.state.person.quiet_until
    if not isinstance(context.event, Tick) or until <= 0.0 or not context.elapsed(until):
        return False
    person.quiet_until(context, 0.0)
    return True


def repeat_or_drop_doubt(context: EventContext) -> None:
    """Put an open confirmation a second time, then drop it: silence never confirms.

    One about a danger comes sooner, with the tone of a warning: silence does not dismiss it either,
    and no water, or little, that nobody took back counts as told low. One called by name is put on
    and on.
    """
    doubt = context.state.doubt
    if doubt is None or not isinstance(context.event, Tick):
        return
    grave, called = _is_grave(context, doubt.meaning), told_in_words.asks_of_a_call(context)
    again = context.elapsed(doubt.asked_at, DANGER_AGAIN_S if grave else DOUBT_AGAIN_S)
    over_s = CALL_OVER_S if called else DANGER_OVER_S if grave else DOUBT_OVER_S
    if context.elapsed(doubt.asked_at, over_s):
        _drop_doubt(context)
    elif again and (not doubt.again or (called and context.elapsed(doubt.again_at, CALL_AGAIN_S))):
        questions.doubt(context, replace(doubt, again=True, again_at=context.at))
        if doubt.meaning == engine_ahead.OVERTAKE:
            engine_ahead.put_again(context)
        rival, dial = doubt.rival, context.dial
        confirm = ending.confirm(context, doubt.meaning)
        words = readback.which(doubt.meaning, rival, dial) if rival else confirm
        if grave:
            context.alarm(Tone(Grade.WARNING))
            context.alarm(Say(f"Warning. {words}", Urgency.ALARM))
        else:
            context.say(words, Urgency.ANSWER)


def _is_grave(context: EventContext, meaning: Meaning) -> bool:
    return is_danger(meaning, lambda report: plausibility.mark_of(context, report))


def _drop_doubt(context: EventContext) -> None:
    doubt = context.state.doubt
    assert doubt is not None
    reports: tuple[Report, ...] = reports_in(doubt.meaning)
    questions.close_doubt(context)
    if reports == (engine_ahead.OVERTAKE,) and engine_ahead.follow(context):
        return
    if any(r.what == "water" for r in reports) and _is_grave(context, doubt.meaning):
        hearing.leave_unsettled(context, hearing.TOLD_LOW)
    for report in reports:
        context.record(ReadingRefused(report, "no answer"))
    if reports and reports[0].what in READINGS:
        asking.ask(context, reports[0].what)
