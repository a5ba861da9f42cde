"""The checklist flow: what the list does with an event, in which order, and when a list ends.

Knows nothing of how an utterance was understood.
"""

from __future__ import annotations

from assistant.dialogue import (
    banking,
    engine_ahead,
    feed_check,
    following,
    lessons,
    list_answers,
    list_begin,
    moves,
    plate_check,
    prompts,
    refused_moves,
    reprompts,
    unanswered,
)
from assistant.dialogue.agenda import heat_rows, speaking, water_forbids
from assistant.dialogue.event_context import EventContext
from assistant.dialogue.owners import needs, work
from assistant.dialogue.picture_now import picture_now
from assistant.dialogue.state import STEP
from assistant.messages import (
    PhaseDone,
    Report,
    StepDone,
    Urgency,
)
from assistant.procedure import phases, position, remedies
from assistant.procedure.checklist import Phase
from assistant.wording import walkthrough

TOLD_S = 600.0  # so long before the match a report is about this fire. Judgement
STANDS_BY = Report(phases.MOVE, refused_moves.STAND_BY)
MATCH = "water before the match"  # id of the step


def proceed(context: EventContext) -> None:
    """Everything the list does in an event, in order: answers, phase, readings, next step.

    While a danger stands the list rests, and only readings are asked for.
    """
    if context.state.clock.over:
        return
    banking.follow(context)
    if context.state.clock.over:
        return
    moves.undo_move(context)
    plate_check.follow(context)
    list_begin.make_due(context)
    _take_up_remedy(context)
    engine_ahead.rests_after_all(context)
    if not engine_ahead.ask_to_follow(context):
        following.lapse_cold(context)
        list_answers.answer_steps(context)
        lessons.count_anticipated(context)
        following.follow_engine(context)
    _warn_of_early_match(context)
    reprompts.repeat_or_drop_doubt(context)
    if not context.state.watch.danger:
        for _ in range(len(Phase)):
            if not _end_phase(context):
                break
        moves.take_up_move(context)
    else:
        _end_cured_in_danger(context)
        asked = moves.puts_lost_away(context) or moves.feeds_her(context)
        if asked or STANDS_BY in context.accepted:
            moves.take_up_move(context)
        else:
            moves.refuse_in_danger(context)
    _go_on(context)


def _go_on(context: EventContext) -> None:
    """What is said unasked: how the boiler does, where we are after a break, then the agenda."""
    if reprompts.ends_quiet(context):
        needs.put_steps_again(context)
    quiet = context.state.watch.danger or context.state.doubt is not None
    if not quiet:
        list_answers.close_first_steam(context)
        list_answers.credit_early_fire(context)
        unanswered.credit_told(context)
        unanswered.leave_feed_test(context)
        if context.state.phase in prompts.STEAM or context.state.fire_in:
            prompts.tell_forecasts(context)
            feed_check.check_feed(context)
    if context.resumed and not speaking.is_grave(context):
        speaking.recap(context)
        return
    speaking.run(context)


def _warn_of_early_match(context: EventContext) -> None:
    """Warn of a fire lit before the water was proved, naming what is open: that comes next."""
    early = context.state.phase in (Phase.PREPARATION, Phase.FIRING)
    if not early or context.state.procedure.parked or Report("fire", "lit") not in context.accepted:
        return
    holds = position.holds_open(context.state.progress)
    missing = [s.id for s in holds if context.state.phase is Phase.PREPARATION or s.killer]
    if context.state.phase is Phase.FIRING and context.state.progress.is_done(MATCH):
        return
    context.say(walkthrough.lit_too_soon(missing), Urgency.ANSWER)
    for step_id in missing:
        needs.answered(context, STEP + step_id)
    work.come_to(context, position.first(context.state.progress, missing))


def _take_up_remedy(context: EventContext) -> None:
    """Begin the remedy of a fault that was named ("pump trouble"); the list in hand waits."""
    for report in context.accepted:
        remedy = remedies.remedy_for(context.config.remedies, report)
        if remedy is not None and remedy.name == remedies.TAKING_OVER and moves.is_ahead(context):
            list_begin.take_over(context, Phase.RAISING_STEAM)
        elif remedy is not None:
            list_begin.say_opening(context, remedy)
            list_begin.park(context, remedy)


def _end_remedy(context: EventContext) -> bool:
    """Go back to the list that a remedy interrupted, when it worked or its checks are through."""
    moot = heat_rows.is_moot(context, context.state.progress.checklist)
    ending = "cured" if moot else remedies.outcome(context.state.progress)
    if ending is None:
        return False
    remedy, (before,) = context.state.progress.checklist, context.state.procedure.parked
    began_at = context.state.progress.began_at
    work.resume_list(context)
    needs.put_steps_again(context)
    enough = heat_rows.has_reached(context, 1.0)
    back = walkthrough.fire_makes_steam(enough) if moot else "Back to the list."
    closing = water_forbids.of_another_feed(context, remedy.closing)
    context.say(closing if ending == "not cured" and closing else back)
    if remedy.name == remedies.TAKING_OVER:
        list_begin.say_opening(context, before.checklist)
    elif not before.done:  # the list was kept waiting before it was begun
        began_at = before.began_at
    list_begin.make_due(context)
    since = max(began_at, list_answers.long_break_ended_at(context))
    list_answers.answer_from_log(context, since)
    return True


def _end_cured_in_danger(context: EventContext) -> None:
    """A trouble that is cured has no further check, whatever else stands."""
    waits = context.state.procedure.parked
    if waits and remedies.outcome(context.state.progress) == "cured":
        work.resume_list(context)
        needs.put_steps_again(context)


def _end_phase(context: EventContext) -> bool:
    """End the phase or remedy if all of it is answered, and begin the next; whether it did."""
    state = context.state
    if state.procedure.parked:
        return state.doubt is None and _end_remedy(context)
    if state.doubt is not None or not position.can_leave(state.progress):
        return False
    if state.phase in engine_ahead.COLD and following.is_overtaken_by_steam(state.progress):
        return False  # she is ahead of this list: a question moves it, not that it is empty
    if state.phase is Phase.PUTTING_AWAY:
        return _end_last_list(context)
    then = phases.next_phase(state.phase, phases.facts(state.progress))
    if then is None or context.config.list_of(then) is None:
        return False
    context.record(PhaseDone(state.phase.value))
    items = [step.id for step in position.open_items(state.progress)]
    closing = state.progress.checklist.closing  # with none the opening of the next list tells it
    if words := walkthrough.phase_done(state.phase.value, items) if items else closing:
        context.say(words)
    plate_check.remind(context)
    list_begin.begin_phase(context, then)
    list_begin.make_due(context)
    list_answers.answer_steps(context, just_begun=True)
    _begin_behind_the_fire(context)
    return True


def _begin_behind_the_fire(context: EventContext) -> None:
    """The fire was lit before its list began: what was told about then is not asked again."""
    lit_at = context.state.lit_at
    if context.state.phase is Phase.FIRING and context.state.fire_in and lit_at is not None:
        list_answers.answer_from_log(context, lit_at - TOLD_S)
        following.lapse(context)


def _end_last_list(context: EventContext) -> bool:
    """Say once that the last list is through; nothing follows it."""
    if not any(isinstance(record, StepDone) for record in context.records):
        return False
    context.record(PhaseDone(context.state.phase.value))
    items = [step.id for step in position.open_items(context.state.progress)]
    closing = context.state.progress.checklist.closing
    if picture_now(context).fire.burning:
        closing = walkthrough.put_away_with_fire_in()  # its closing asks of a dead one
    context.say(
        walkthrough.phase_done(context.state.phase.value, items)
        if items or not closing
        else closing
    )
    return False
