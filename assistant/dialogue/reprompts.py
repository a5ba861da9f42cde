"""When to repeat: the recap after silence, an alarm or a break, and questions left unanswered.

Decides when it is time to say where we are; the list itself is left to `checklist_flow`.
"""

from __future__ import annotations

from dataclasses import replace

from assistant.dialogue import asking, prompts
from assistant.dialogue.event_context import EventContext
from assistant.dialogue.owners import clock, person, questions, told
from assistant.dialogue.state import READING, STEP, SessionState
from assistant.messages import READINGS, PhaseBegan, ReadingRefused, Report, Tick, Urgency
from assistant.procedure import position
from assistant.procedure.checklist import Step
from assistant.understanding.meanings import reports_in
from assistant.wording import readback, walkthrough

SILENCE_S = 60.0  # beyond the time that the work in hand takes; common practice, no source
MOST_TIMES = 3
DOUBT_AGAIN_S = 30.0
DOUBT_OVER_S = 90.0
NOT_NOW = frozenset({"stop", "hush", "note", "wait"})  # after these nothing is added


def silent_too_long(state: SessionState, at: float) -> bool:
    """Whether a question has gone without a word for more than a minute beyond its time.

    A step that was put three times no longer counts: it is not put a fourth time.
    """
    hand = position.in_hand(state.progress)
    work_s = 0.0 if hand is None else 60.0 * hand.minutes
    first_asked = []
    step, reading = state.asked.get(STEP), state.asked.get(READING)
    if hand is not None and not hand.waiting and step is not None and step.times < MOST_TIMES:
        first_asked.append(step.first_at)
    if reading is not None:
        first_asked.append(reading.first_at)
    return any(at - max(state.person.heard_at, asked) > SILENCE_S + work_s for asked in first_asked)


def is_recap_due(context: EventContext) -> bool:
    """Whether to say now where we are: at the first word after silence, an alarm or a break."""
    if context.resumed:
        return True
    if context.alarmed or context.order in NOT_NOW:
        return False
    before = context.before
    return context.understood and (before.told.recap_due or silent_too_long(before, context.at))


def recap(context: EventContext, step: Step | None, fresh: bool) -> None:
    """Where we are, the water, the step in hand; nothing that was said in this event already."""
    state = context.state
    told.recap_due(context, False)
    clock.break_was_told(context)
    if context.order == "where" or (
        step is None and not context.resumed and not _water_wanted(context)
    ):
        return
    asked = state.asked.get(READING)
    water_asked = asked is not None and asked.what == "water" and asked.last_at == context.at
    water_asked = water_asked or (step is not None and step.asks == "water")
    ask_water = not water_asked and (context.resumed or _water_wanted(context))
    done = state.progress.done
    just_done = bool(done) and done[-1].at == context.at
    new_phase = any(isinstance(record, PhaseBegan) for record in context.records)
    prompt = "" if step is None else step.say
    if step is not None and fresh and step.caution:
        prompt = f"{step.caution} {step.say}"
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
    return hot and prompts.age_s(context, "water") >= SILENCE_S


def ends_quiet(context: EventContext) -> bool:
    """Whether the quiet that was asked for ends with this tick."""
    until = context.state.person.quiet_until
    if not isinstance(context.event, Tick) or until <= 0.0 or not context.elapsed(until):
        return False
    person.quiet_until(context, 0.0)
    return True


def repeat_or_drop_doubt(context: EventContext) -> None:
    """Put an open confirmation a second time, then drop it: silence never confirms."""
    doubt = context.state.doubt
    if doubt is None or not isinstance(context.event, Tick):
        return
    again = context.elapsed(doubt.asked_at, DOUBT_AGAIN_S)
    if context.elapsed(doubt.asked_at, DOUBT_OVER_S):
        _drop_doubt(context)
    elif again and not doubt.again:
        questions.doubt(context, replace(doubt, again=True))
        rival = doubt.rival
        dial = context.dial
        context.say(
            readback.which(doubt.meaning, rival, dial)
            if rival
            else readback.confirm(doubt.meaning, dial),
            Urgency.ANSWER,
        )


def _drop_doubt(context: EventContext) -> None:
    assert context.state.doubt is not None
    reports: tuple[Report, ...] = reports_in(context.state.doubt.meaning)
    questions.close_doubt(context)
    for report in reports:
        context.record(ReadingRefused(report, "no answer"))
    if reports and reports[0].what in READINGS:
        asking.ask(context, reports[0].what)
