"""What was said answers the steps of the list in hand, also what was said before."""

from __future__ import annotations

from dataclasses import replace

from assistant.boiler.scales import PSI_PA
from assistant.dialogue import (
    following,
    list_begin,
    unanswered,
)
from assistant.dialogue.acceptance import COAL
from assistant.dialogue.agenda import before_match, heat_stop, water_forbids
from assistant.dialogue.alarm_notices import NO_FIRING
from assistant.dialogue.event_context import EventContext
from assistant.dialogue.owners import needs, work
from assistant.dialogue.picture_now import picture_now
from assistant.grammar.states import is_state
from assistant.messages import (
    READINGS,
    Meaning,
    Order,
    Report,
    StepDone,
    Urgency,
)
from assistant.picture.given import LONG_BREAK_S
from assistant.procedure import position, remedies
from assistant.procedure import progress as steps
from assistant.procedure.scale import judge, measure
from assistant.wording import readback

AIR_OUT_PA = 10.0 * PSI_PA  # above this the first steam is not asked about. Judgement
AGREE = "valve and gauge agree"  # what a step proves
NO_GAIN = frozenset({"feed dead", "feed weak"})  # alarms that answer a reading without a gain
GLASS_DOUBTED = frozenset(
    {"glass motionless", "glass not proved", "glass rises by itself", "glass stays empty"}
)
READ_BACK = frozenset({"open", "shut", "in", "out"})  # words that are always read back


def answer_steps(context: EventContext, just_begun: bool = False) -> None:
    """Let what was said answer steps. just_begun: only readings, which answer the new list too."""
    meanings: list[Meaning] = [*context.accepted, *([Order("ready")] if context.ready else [])]
    if just_begun:
        meanings = [r for r in context.accepted if r.what in READINGS]
    true = following.true_conditions(picture_now(context)) if meanings else frozenset()
    for meaning in meanings:
        if _answers_nothing_said(context, meaning):
            continue
        if (words := _unlike_the_valve(context, meaning)) is not None:
            if words:
                context.say(words, Urgency.ANSWER)
            continue
        outcome = steps.answer(context.state.progress, meaning, context.at, true)
        work.come_to(context, outcome.progress)
        if outcome.reopened:
            needs.put_steps_again(context)
        for done in outcome.done:
            context.record(StepDone(context.state.phase.value, done.step, done.answer))
        _leave_to_next(context, meaning, outcome)
        told = any(
            alarm.name in GLASS_DOUBTED or (alarm.name in NO_GAIN and alarm.raised_at == context.at)
            for alarm in context.state.watch.spoken()
        )  # the alarm has said it, or there is no level to judge a gain by
        rests = context.alarmed or not context.state.procedure.parked  # a remedy's replies go on
        told = told or heat_stop.keeps_shut(context, meaning)
        told = told or (meaning == COAL and context.state.watch.stands(*NO_FIRING))
        if not (told or (rests and context.state.watch.danger)):
            words = water_forbids.reply(context, unanswered.no_gain_again(context, outcome.say))
            words = before_match.reply(context, words)
            context.say(words, Urgency.ANSWER)


def _unlike_the_valve(context: EventContext, meaning: Meaning) -> str | None:
    """What is said where the gauge, asked for as the valve moves, does not fit what it did.

    None: it fits, or its limits tell. At the lift over a feather nothing: the lift is awaited.
    """
    unfit = context.state.belief.facts.gauge_and_valve.unfit
    step = position.in_hand(context.state.progress) or position.current(context.state.progress)
    if not unfit or step is None or step.proves != AGREE or step.limits is None:
        return None
    if not isinstance(meaning, Report) or meaning.what != step.asks:
        return None
    engine = context.config.engine
    value = measure(meaning, engine)
    if value is None or judge(step.limits, value, engine) is not None:
        return None
    at_the_lift = value >= engine.valve_lifts_gauge_pa
    return "" if at_the_lift or context.alarmed else step.limits.too_low


def _leave_to_next(context: EventContext, meaning: Meaning, outcome: steps.Outcome) -> None:
    """A step that guards nothing is done: the next prompt tells that it was heard."""
    if not isinstance(meaning, Report) or is_state(meaning) or outcome.say:
        return
    checklist = context.state.progress.checklist
    harmless = {step.id for step in checklist.steps if not (step.killer or step.must or step.hold)}
    done = {each.step for each in outcome.done}
    text = readback.read_back(meaning, context.config.dial)
    if done and done <= harmless and READ_BACK.isdisjoint(text.lower().rstrip(".").split()):
        context.answered_by_next(text)


def _answers_nothing_said(context: EventContext, meaning: Meaning) -> bool:
    """Whether it says "still the same" of a check that was not put: none is struck off unspoken."""
    if not isinstance(meaning, Report) or meaning.value != remedies.STILL_THERE:
        return False
    hand = position.in_hand(context.state.progress)
    return bool(context.state.procedure.parked) and (hand is None or hand.asks != meaning.what)


def answer_from_log(context: EventContext, since: float) -> None:
    """Let what was reported while taking over answer the phase: nothing is asked twice."""
    reports = [timed.report for timed in context.state.reports if timed.at >= since]
    for report in (*reports, *reports):  # one answer may make way for another
        outcome = steps.answer(context.state.progress, report, context.at)
        if outcome.done:
            work.come_to(context, outcome.progress)
        for done in outcome.done:
            context.record(StepDone(context.state.phase.value, done.step, done.answer))


def long_break_ended_at(context: EventContext) -> float:
    """States told before this are unknown now [s]; 0 without a long break."""
    breaks = context.state.clock.breaks
    return max((end for began, end in breaks if end - began > LONG_BREAK_S), default=0.0)


def close_first_steam(context: EventContext) -> None:
    """Whether steam or air comes is moot once the gauge reads well above zero."""
    gauge = list_begin.last_pressure(context) or 0.0
    for step in position.open_steps(context.state.progress):
        if step.near_boiling and gauge >= AIR_OUT_PA:
            done = position.Done(step.id, "the gauge shows steam", context.at)
            progress = context.state.progress
            work.come_to(context, replace(progress, done=(*progress.done, done)))
            context.record(StepDone(context.state.phase.value, done.step, done.answer))


def credit_early_fire(context: EventContext) -> None:
    """A step of the fire that was done before it was due counts as soon as it is due."""
    for _ in range(2):  # lit, then built
        step = position.current(context.state.progress)
        if step is None or step.asks != "fire" or step.id in context.state.progress.skipped:
            return
        passing = {reply.state for reply in step.replies if reply.passes}
        fires = [s.report for s in context.state.reports.of("fire")]
        drawn = [i for i, report in enumerate(fires) if report.value == "drawn"]
        this_fire = fires[drawn[-1] :] if drawn else fires
        answers = [report for report in this_fire if report.value in passing]
        outcome = steps.answer(context.state.progress, answers[-1], context.at) if answers else None
        if outcome is None or step.id not in {done.step for done in outcome.done}:
            return
        work.come_to(context, outcome.progress)
        for done in outcome.done:
            context.record(StepDone(context.state.phase.value, done.step, done.answer))
