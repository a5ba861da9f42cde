"""Puts the needs that were chosen: tones, words, acts; remembers that they were put.

The only module that speaks unasked, but for forecasts and what follows a report at once.
"""

from __future__ import annotations

from assistant.alarms.lifecycle import Alarm
from assistant.dialogue import asking, lessons, prompts, reprompts, unanswered
from assistant.dialogue.agenda import danger_acts, danger_words, step_words
from assistant.dialogue.agenda.choice import chosen
from assistant.dialogue.agenda.need import DUE_TIMES, Need, Rank, is_glass
from assistant.dialogue.agenda.rows import needs_of
from assistant.dialogue.event_context import EventContext
from assistant.dialogue.owners import needs as asked_needs
from assistant.dialogue.owners import questions, told, work
from assistant.dialogue.state import AHEAD, ALARM, MOVE_WAITS, STEP
from assistant.messages import READINGS, URGENCY_OF, Grade, Hush, Say, StepAsked, Tone, Urgency
from assistant.procedure import position
from assistant.procedure.checklist import Step
from assistant.wording import alarm_words, walkthrough
from assistant.wording.dial_units import in_dial


def run(context: EventContext) -> None:
    """Put what is due now, and forget what is wanted no more."""
    needs = needs_of(context)
    wanted = {need.name for need in needs}
    _forget(context, wanted)
    if context.next_asked:
        _tell_next(context, needs)
        return
    put = chosen(context, needs)
    for need in put:
        _put(context, need, alone=len(put) == 1)
    if len(put) > 1 and put[0].alarm is not None and not put[0].gauge:
        told.because(context, put[0].alarm.reason)  # "why" is asked of the alarm, not of the work


def _tell_next(context: EventContext, needs: list[Need]) -> None:
    """Asked for what comes next: the first of what is wanted, however lately it was put."""
    need = next((need for need in needs if need.rank is not Rank.OFFER), None)
    if need is not None and need.step is not None:
        note_step_put(context, need)
        context.say(step_words.prompt(context, need.step), Urgency.ANSWER)
    elif need is not None:
        _put(context, need)
    else:
        waits = position.next_waiting(context.state.progress)
        words = walkthrough.waiting_for("pressure", waits.say) if waits else ""
        context.say(words or walkthrough.nothing_more(), Urgency.ANSWER)


def _forget(context: EventContext, wanted: set[str]) -> None:
    """An alarm that ended and a step that was answered are no longer asked."""
    work_in_hand = context.state.procedure
    lists = (work_in_hand.progress, *work_in_hand.parked)
    kept = {STEP + step.id for each in lists for step in position.open_steps(each)}
    kept |= {AHEAD, MOVE_WAITS} | {ALARM + alarm.name for alarm in context.state.watch.alarms}
    for name in tuple(context.state.asked):
        if name not in kept and name not in READINGS and name not in wanted:
            asked_needs.answered(context, name)


def is_grave(context: EventContext) -> bool:
    """Whether something grave is new: where we are must wait."""
    return any(need.rank <= Rank.STOP for need in chosen(context, needs_of(context)))


def recap(context: EventContext) -> None:
    """After a break or a long silence: where we are, and what is wanted first."""
    steps = [need for need in needs_of(context) if need.step is not None and need.alarm is None]
    need = steps[0] if steps else None
    first = need is not None and need.name not in context.state.asked
    reprompts.recap(context, need.step if need is not None else None, first)
    if need is not None and context.order != "where":
        note_step_put(context, need)


def _put(context: EventContext, need: Need, alone: bool = False) -> None:
    if need.alarm is not None:
        _put_alarm(context, need, need.alarm)
    elif need.gauge:
        asking.ask(context, need.gauge, need.words)
    elif need.words:
        context.say(need.words)
        asked_needs.put(context, need.name, "")
        if need.wants_name:
            questions.expect_note(context, True)
    elif need.rank is Rank.OFFER:
        prompts.offer(context)
    elif need.step is not None and not _left_open(context, need, need.step):
        put_step(context, need, alone)


def _left_open(context: EventContext, need: Need, step: Step) -> bool:
    """Whether the step is not put once more, or not put to this learner."""
    return lessons.leave(context, need) or unanswered.leave(context, step)


def put_step(context: EventContext, need: Need, alone: bool = False) -> None:
    """Put a step: its caution only the first time. alone: nothing else is put in this event."""
    step, asked = need.step, context.state.asked.get(need.name)
    assert step is not None
    if need.rank is Rank.DUE and is_glass(step) and asked and asked.times >= DUE_TIMES:
        note_step_put(context, need)
        context.alarm(Tone(Grade.WARNING))
        context.alarm(Say(walkthrough.glass_never_proved(), Urgency.ALARM))
        return
    reason = lessons.reason_before(context, need) if alone else ""
    first = note_step_put(context, need)
    prompt = step_words.prompt(context, step, cautioned=first)
    context.say(f"{reason} {prompt}".strip())


def note_step_put(context: EventContext, need: Need) -> bool:
    """Remember that the step was put; whether it was the first time."""
    step, state = need.step, context.state
    assert step is not None
    first = need.name not in state.asked
    asked_needs.put(context, need.name, step.id)
    lessons.step_put(context, step)
    if first:
        told.because(context, "")
        context.record(StepAsked(state.phase.value, step.id))
    if step in state.progress.steps:
        work.come_to(context, position.put_step(state.progress, step))
    return first


def _put_alarm(context: EventContext, need: Need, alarm: Alarm) -> None:
    """Tone, words, and the first time the acts of the emergency."""
    grade, first = alarm.rule.grade, not need.words and need.name not in context.state.asked
    if grade is Grade.DANGER:
        context.alarm(Hush())
    context.alarm(Tone(grade))
    words = need.words or danger_words.words(context, alarm)
    more = danger_words.more(context, alarm) if first else danger_words.how_it_ends(context, alarm)
    context.alarm(Say(f"{words} {more}".strip(), URGENCY_OF[grade]))
    told_by_him = alarm.rule.kind == "spoken"  # he called it: there is no more reason to give
    again = not first and not need.gauge
    why = _reason_now(context, alarm) if again and not told_by_him else alarm.reason
    if again and need.calmer and grade is Grade.DANGER and not told_by_him and why:
        context.alarm(Say(walkthrough.why(in_dial(why, context.dial)), URGENCY_OF[grade]))
    told.because(context, why)
    if first:
        _put_acts(context, alarm)
    asked_needs.put(context, need.name, alarm.name if need.gauge else "")


def _reason_now(context: EventContext, alarm: Alarm) -> str:
    """Why it stands still; empty where its reason is so no more."""
    inputs = context.alarm_inputs
    return context.or_none(lambda: alarm.rule.condition(inputs, context.at)) or ""


def _put_acts(context: EventContext, alarm: Alarm) -> None:
    """The first acts of an emergency, at once, three at most."""
    emergencies = context.config.emergencies
    emergency = emergencies.for_alarm(alarm.name) if emergencies is not None else None
    if emergencies is not None and emergency is not None:
        acts = alarm_words.unsaid(alarm.rule.text, emergencies.words(emergency))
        fitting = danger_acts.acts(context, acts, alarm.rule.text)
        context.alarm(Say(fitting, Urgency.DANGER))
