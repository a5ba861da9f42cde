"""Moves that were asked for: another phase begun, kept waiting, refused or taken back."""

from __future__ import annotations

from dataclasses import replace

from assistant.dialogue import (
    asking,
    engine_ahead,
    list_answers,
    list_begin,
    refused_moves,
)
from assistant.dialogue.acceptance import progress_before
from assistant.dialogue.event_context import EventContext
from assistant.dialogue.owners import needs, work
from assistant.dialogue.picture_now import picture_now
from assistant.dialogue.state import MOVE_WAITS
from assistant.messages import (
    PhaseBegan,
    Report,
    Urgency,
)
from assistant.procedure import phases, position, remedies
from assistant.procedure import progress as steps
from assistant.wording import walkthrough

SAFER = frozenset({"stand_by", "put_away"})  # moves that nothing may keep waiting
WAITS_S = 180.0  # so long a move waits for the water that it wants. Judgement


def take_up_move(context: EventContext) -> None:
    """Begin another phase that was asked for ("standing by now") if the table allows the move."""
    for report in (*context.accepted, *_waited(context)):
        if report.what != phases.MOVE:
            continue
        report = _with_the_engine(context, report)
        if against := refused_moves.refusal(context, report):
            context.say(against, Urgency.ANSWER)
            continue
        if context.state.procedure.parked and (report.value in SAFER or feeds_her(context)):
            work.resume_list(context)
        elif context.state.procedure.parked:
            _say_what_is_first(context)
            continue
        facts = phases.facts(context.state.progress)
        feeds = report.value == refused_moves.FEED  # whose list asks for the water first
        known = feeds and picture_now(context).water.known
        fresh = known or refused_moves.water_is_fresh(context)
        steam = picture_now(context).steam.ahead
        seen = (facts.water_known or feeds) and fresh
        guards = replace(facts, water_known=seen, steam_known=steam)
        wanted = phases.next_phase(context.state.phase, guards, str(report.value))
        if wanted is not None and context.config.list_of(wanted) is not None:
            if report == engine_ahead.OVERTAKE:
                list_begin.take_over(context, wanted)
                continue
            list_begin.begin_phase(context, wanted)
            list_begin.make_due(context)
            if report not in context.accepted:  # it waited for the water, which is called now
                list_answers.answer_steps(context, just_begun=True)
            continue
        waits = refused_moves.waits_for_water(context, report)
        if not fresh and (feeds or waits):
            asking.ask(context, "water", walkthrough.move_waits(str(report.value)))
            needs.put(context, MOVE_WAITS, str(report.value), again=False)
            continue
        missing = [step.id for step in position.holds_open(context.state.progress)]
        names = dict.fromkeys(name.removesuffix(steps.ASKED_AGAIN) for name in missing)
        context.say(walkthrough.phase_waits(tuple(names)), Urgency.ANSWER)


def _waited(context: EventContext) -> tuple[Report, ...]:
    """The move that waited for the water, once that is called; not after another move."""
    waits = context.state.asked.get(MOVE_WAITS)
    if waits is None:
        return ()
    moved = any(report.what == phases.MOVE for report in context.accepted)
    late = context.elapsed(waits.first_at, WAITS_S)
    called = any(report.what == "water" for report in context.accepted)
    if moved or late or called:
        needs.answered(context, MOVE_WAITS)
    return (Report(phases.MOVE, waits.what),) if called and not moved and not late else ()


def puts_lost_away(context: EventContext) -> bool:
    """Whether she is put away after the water was lost: what is left to do, danger or not."""
    lost = picture_now(context).water.not_to_be_steamed_since is not None
    return lost and Report(phases.MOVE, "put_away") in context.accepted


def feeds_her(context: EventContext) -> bool:
    """Whether feed is asked for, and a danger stands that wants nothing else."""
    asked = Report(phases.MOVE, refused_moves.FEED) in context.accepted
    danger = context.state.watch.danger
    return asked and danger and refused_moves.feed_is_wanted(context)


def _with_the_engine(context: EventContext, move: Report) -> Report:
    """What a move means: to raise steam where there is some follows the engine past a cold list."""
    raises = move == Report(phases.MOVE, "raise_steam")
    return engine_ahead.OVERTAKE if raises and is_ahead(context) else move


def is_ahead(context: EventContext) -> bool:
    """Whether there is steam in her while the list in hand is a cold one."""
    return context.state.phase in engine_ahead.COLD and picture_now(context).steam.ahead


def _say_what_is_first(context: EventContext) -> None:
    """A move waits for the check in hand, and that is said instead of nothing."""
    step = position.in_hand(context.state.progress) or position.current(context.state.progress)
    if step is not None:
        context.say(walkthrough.first_this(step.say), Urgency.ANSWER)


def refuse_in_danger(context: EventContext) -> None:
    """Why a move that was asked for is not made now."""
    for report in context.accepted:
        if report.what == phases.MOVE:
            context.say(refused_moves.refusal(context, report), Urgency.ANSWER)


def undo_move(context: EventContext) -> None:
    """Go back to the list before a phase or remedy whose call was retracted."""
    last = context.before.reports[-1] if context.retracted and context.before.reports else None
    if last is None or last.report.what not in (phases.MOVE, remedies.REMEDY):
        return
    earlier = progress_before(context.before, last)
    phase = earlier.checklist.phase or context.state.phase
    if phase is not context.state.phase:
        context.record(PhaseBegan(phase.value))
    work.go_back_to(context, phase, earlier)
    needs.begin_anew(context)
    if last.report == engine_ahead.OVERTAKE:
        engine_ahead.was_taken_back(context)
