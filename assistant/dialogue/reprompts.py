"""Pace for busy hands: silence, quiet asked for, doubts left unanswered, and coming back.

Decides when it is time to say where we are; the list itself is `walk`'s.
"""

from __future__ import annotations

from dataclasses import replace

from assistant.dialogue import asking, prompts
from assistant.dialogue.event_context import EventContext
from assistant.dialogue.state import SessionState
from assistant.messages import READINGS, PhaseBegan, ReadingRefused, Report, Tick, Urgency
from assistant.procedure import position
from assistant.procedure.checklist import Step
from assistant.understanding.costs import reports_in
from assistant.wording import readback, walkthrough

SILENCE_S = 60.0  # beyond the time that the work in hand takes; common practice, no source
MOST_TIMES = 3
DOUBT_AGAIN_S = 30.0
DOUBT_OVER_S = 90.0
NOT_NOW = frozenset({"stop", "hush", "note", "wait"})  # after these nothing is added


def silent_too_long(state: SessionState, at: float) -> bool:
    """Something was asked, and for more than a minute beyond its time there came no word.

    A step that was put three times is not put a fourth time because of it.
    """
    hand = position.in_hand(state.progress)
    takes = 0.0 if hand is None else 60.0 * hand.minutes
    since = []
    if hand is not None and not hand.waiting and state.asked_times < MOST_TIMES:
        since.append(state.asked_since)
    if state.asking is not None:
        since.append(state.asking_since)
    return any(at - max(state.heard_at, begun) > SILENCE_S + takes for begun in since)


def came_back(context: EventContext) -> bool:
    """Whether where we are is to be said now: a word again after silence, an alarm or a break."""
    if context.resumed:
        return True
    if context.alarmed or context.order in NOT_NOW:
        return False
    before = context.before
    return context.understood and (before.come_back or silent_too_long(before, context.at))


def recap(context: EventContext, step: Step | None, fresh: bool) -> None:
    """Where we are, the water, the step in hand; nothing that was said in this event already."""
    state = context.state
    context.update(come_back=False, away_s=0.0)
    if context.order == "where" or (
        step is None and not context.resumed and not _water_wanted(context)
    ):
        return
    asked = state.asking == "water" and state.asking_at == context.at
    asked = asked or (step is not None and step.asks == "water")
    water = not asked and (context.resumed or _water_wanted(context))
    done = state.progress.done
    said_now = bool(done) and done[-1].at == context.at
    new_phase = any(isinstance(fact, PhaseBegan) for fact in context.facts)
    say = "" if step is None else step.say
    if step is not None and fresh and step.caution:
        say = f"{step.caution} {step.say}"
    context.say(
        walkthrough.resumed(
            state.away_s / 60.0,
            "" if new_phase else state.phase.value,
            done[-1].step if done and not said_now else "",
            say,
            water,
        ),
        Urgency.ANSWER,
    )
    if water:
        asking.asked(context, "water")


def _water_wanted(context: EventContext) -> bool:
    """With fire or steam, unless it was called within the last minute."""
    hot = context.state.fire_in or context.state.warm_since is not None
    return hot and prompts.age_s(context, "water") >= SILENCE_S


def quiet_over(context: EventContext) -> bool:
    """The quiet that was asked for has ended with this tick."""
    until = context.state.quiet_until
    if not isinstance(context.event, Tick) or until <= 0.0 or not context.elapsed(until):
        return False
    context.update(quiet_until=0.0)
    return True


def unanswered_doubt(context: EventContext) -> None:
    """A doubt is asked about once more, then it is dropped: silence never confirms."""
    doubt = context.state.doubt
    if doubt is None or not isinstance(context.event, Tick):
        return
    again = context.elapsed(doubt.asked_at, DOUBT_AGAIN_S)
    if context.elapsed(doubt.asked_at, DOUBT_OVER_S):
        _drop_doubt(context)
    elif again and not doubt.again:
        context.update(doubt=replace(doubt, again=True))
        rival = doubt.rival
        dial = context.state.dial
        context.say(
            readback.which(doubt.meaning, rival, dial)
            if rival
            else readback.confirm(doubt.meaning, dial),
            Urgency.ANSWER,
        )


def _drop_doubt(context: EventContext) -> None:
    assert context.state.doubt is not None
    reports: tuple[Report, ...] = reports_in(context.state.doubt.meaning)
    context.update(doubt=None)
    for report in reports:
        context.fact(ReadingRefused(report, "no answer"))
    if reports and reports[0].what in READINGS:
        asking.ask(context, reports[0].what)
