"""Pace for busy hands: silence, quiet asked for, doubts left unanswered, and coming back.

Decides when it is time to say where we are; the list itself is `walk`'s.
"""

from __future__ import annotations

from dataclasses import replace

from assistant.dialogue import asking, prompts
from assistant.dialogue.event_context import Turn
from assistant.dialogue.state import Mind
from assistant.messages import READINGS, PhaseBegan, ReadingRefused, Report, Tick, Urgency
from assistant.procedure import position
from assistant.procedure.checklist import Step
from assistant.understanding.decide import reports_in
from assistant.wording import readback, walkthrough

SILENCE_S = 60.0  # beyond the time that the work in hand takes; common practice, no source
MOST_TIMES = 3
DOUBT_AGAIN_S = 30.0
DOUBT_OVER_S = 90.0
NOT_NOW = frozenset({"stop", "hush", "note", "wait"})  # after these nothing is added


def silent_too_long(mind: Mind, at: float) -> bool:
    """Something was asked, and for more than a minute beyond its time there came no word.

    A step that was put three times is not put a fourth time because of it.
    """
    hand = position.in_hand(mind.progress)
    takes = 0.0 if hand is None else 60.0 * hand.minutes
    since = []
    if hand is not None and not hand.waiting and mind.asked_times < MOST_TIMES:
        since.append(mind.asked_since)
    if mind.asking is not None:
        since.append(mind.asking_since)
    return any(at - max(mind.heard_at, begun) > SILENCE_S + takes for begun in since)


def came_back(turn: Turn) -> bool:
    """Whether where we are is to be said now: a word again after silence, an alarm or a break."""
    if turn.resumed:
        return True
    if turn.alarmed or turn.order in NOT_NOW:
        return False
    before = turn.before
    return turn.understood and (before.come_back or silent_too_long(before, turn.at))


def recap(turn: Turn, step: Step | None, fresh: bool) -> None:
    """Where we are, the water, the step in hand; nothing that was said in this event already."""
    mind = turn.mind
    turn.now(come_back=False, away_s=0.0)
    if turn.order == "where" or (step is None and not turn.resumed and not _water_wanted(turn)):
        return
    asked = mind.asking == "water" and mind.asking_at == turn.at
    asked = asked or (step is not None and step.asks == "water")
    water = not asked and (turn.resumed or _water_wanted(turn))
    done = mind.progress.done
    said_now = bool(done) and done[-1].at == turn.at
    new_phase = any(isinstance(fact, PhaseBegan) for fact in turn.facts)
    say = "" if step is None else step.say
    if step is not None and fresh and step.caution:
        say = f"{step.caution} {step.say}"
    turn.say(
        walkthrough.resumed(
            mind.away_s / 60.0,
            "" if new_phase else mind.phase.value,
            done[-1].step if done and not said_now else "",
            say,
            water,
        ),
        Urgency.ANSWER,
    )
    if water:
        asking.asked(turn, "water")


def _water_wanted(turn: Turn) -> bool:
    """With fire or steam, unless it was called within the last minute."""
    hot = turn.mind.fire_in or turn.mind.warm_since is not None
    return hot and prompts.age_s(turn, "water") >= SILENCE_S


def quiet_over(turn: Turn) -> bool:
    """The quiet that was asked for has ended with this tick."""
    until = turn.mind.quiet_until
    if not isinstance(turn.event, Tick) or until <= 0.0 or not turn.passed(until):
        return False
    turn.now(quiet_until=0.0)
    return True


def unanswered_doubt(turn: Turn) -> None:
    """A doubt is asked about once more, then it is dropped: silence never confirms."""
    doubt = turn.mind.doubt
    if doubt is None or not isinstance(turn.event, Tick):
        return
    again = turn.passed(doubt.asked_at, DOUBT_AGAIN_S)
    if turn.passed(doubt.asked_at, DOUBT_OVER_S):
        _drop_doubt(turn)
    elif again and not doubt.again:
        turn.now(doubt=replace(doubt, again=True))
        rival = doubt.rival
        dial = turn.mind.dial
        turn.say(
            readback.which(doubt.meaning, rival, dial)
            if rival
            else readback.confirm(doubt.meaning, dial),
            Urgency.ANSWER,
        )


def _drop_doubt(turn: Turn) -> None:
    assert turn.mind.doubt is not None
    reports: tuple[Report, ...] = reports_in(turn.mind.doubt.meaning)
    turn.now(doubt=None)
    for report in reports:
        turn.fact(ReadingRefused(report, "no answer"))
    if reports and reports[0].what in READINGS:
        asking.ask(turn, reports[0].what)
