"""The checklist flow: answers to steps, the next step, phases, remedies, moves asked for.

Decides what the list does with an event; knows nothing of how an utterance was understood.
"""

from __future__ import annotations

from dataclasses import replace

from assistant.boiler.scales import PSI_PA
from assistant.dialogue import (
    asking,
    banking,
    engine_ahead,
    feed_check,
    following,
    plate_check,
    prompts,
    refused_moves,
    reprompts,
    unanswered,
)
from assistant.dialogue.acceptance import progress_before
from assistant.dialogue.agenda import heat_rows, speaking, water_forbids
from assistant.dialogue.event_context import EventContext
from assistant.dialogue.owners import boiler, needs, work
from assistant.dialogue.picture_now import picture_now
from assistant.dialogue.state import MOVE_WAITS
from assistant.grammar.states import is_state
from assistant.messages import (
    READINGS,
    Meaning,
    Order,
    PhaseBegan,
    PhaseDone,
    Report,
    StepDone,
    Urgency,
)
from assistant.picture.given import LONG_BREAK_S
from assistant.procedure import phases, position, remedies
from assistant.procedure import progress as steps
from assistant.procedure.checklist import Checklist, Phase
from assistant.procedure.scale import measure
from assistant.wording import readback, walkthrough

VALVE_TEST = "valve test"  # what the step asks that wants to know whether it lifted today
AIR_OUT_PA = 10.0 * PSI_PA  # above this the first steam is not asked about. Judgement
SAFER = frozenset({"stand_by", "put_away"})  # moves that nothing may keep waiting
WAITS_S = 180.0  # so long a move waits for the water that it wants. Judgement
TOLD_S = 600.0  # so long before the match a report is about this fire. Judgement
STANDS_BY = Report(phases.MOVE, refused_moves.STAND_BY)
NO_GAIN = frozenset({"feed dead", "feed weak"})  # alarms that answer a reading without a gain
GLASS_DOUBTED = frozenset({"glass motionless", "glass not proved", "glass rises by itself"})
READ_BACK = frozenset({"open", "shut", "in", "out"})  # words that are always read back
MATCH = "water before the match"  # id of the step


def begin_phase(context: EventContext, phase: Phase, aloud: bool = True) -> None:
    """Begin the list of a phase, with the open items that earlier phases left."""
    checklist = context.config.list_of(phase)
    assert checklist is not None  # the files were checked before the session began
    carried = tuple(
        step
        for step in position.open_items(context.state.progress)
        if context.state.progress.checklist is not checklist
    )
    begun = steps.start_list(checklist, context.config.engine, context.at, carried)
    begun = replace(begun, unanswered=context.state.progress.unanswered)
    work.begin_phase(context, phase, begun)
    needs.put_steps_again(context)
    context.record(PhaseBegan(phase.value))
    if aloud:
        _say_opening(context, checklist)


def _say_opening(context: EventContext, checklist: Checklist) -> None:
    """Say the opening of a list, without what was read back in this event already."""
    opening = checklist.opening or walkthrough.phase_began(checklist.title)
    for report in context.accepted:
        opening = opening.removeprefix(readback.read_back(report, context.dial)).strip()
    context.say(opening)


def proceed(context: EventContext) -> None:
    """Everything the list does in an event, in order: answers, phase, readings, next step.

    While a danger stands the list rests, and only readings are asked for.
    """
    if context.state.clock.over:
        return
    banking.follow(context)
    if context.state.clock.over:
        return
    _undo_move(context)
    plate_check.follow(context)
    _make_due(context)
    _take_up_remedy(context)
    if not engine_ahead.ask_to_follow(context):
        following.lapse_cold(context)
        _answer_steps(context)
        following.follow_engine(context)
    _warn_of_early_match(context)
    reprompts.repeat_or_drop_doubt(context)
    if not context.state.watch.danger:
        for _ in range(len(Phase)):
            if not _end_phase(context):
                break
        _take_up_move(context)
    else:
        _end_cured_in_danger(context)
        moves = _puts_lost_away(context) or _feeds_her(context)
        if moves or STANDS_BY in context.accepted:
            _take_up_move(context)
        else:
            _refuse_in_danger(context)
    _go_on(context)


def _refuse_in_danger(context: EventContext) -> None:
    """Why a move that was asked for is not made now."""
    for report in context.accepted:
        if report.what == phases.MOVE:
            context.say(refused_moves.refusal(context, report), Urgency.ANSWER)


def _go_on(context: EventContext) -> None:
    """What is said unasked: how the boiler does, where we are after a break, then the agenda."""
    if reprompts.ends_quiet(context):
        needs.put_steps_again(context)
    quiet = context.state.watch.danger or context.state.doubt is not None
    if not quiet:
        _close_first_steam(context)
        _credit_early_fire(context)
        unanswered.credit_told(context)
        unanswered.leave_feed_test(context)
        if context.state.phase in prompts.STEAM or context.state.fire_in:
            prompts.tell_forecasts(context)
            feed_check.check_feed(context)
    if context.resumed and not speaking.is_grave(context):
        speaking.recap(context)
        return
    speaking.run(context)


def _undo_move(context: EventContext) -> None:
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


def _make_due(context: EventContext) -> None:
    """Make the steps due that the gauge, or warmth without it, has reached."""
    gauge = _last_pressure(context)
    moved = (gauge or 0.0) > 0.0 or context.state.procedure.warm_since is not None
    warm = moved or boiler.estimated(context, lambda estimates: estimates.near_boiling, False)
    work.come_to(context, position.mark_due(context.state.progress, gauge, warm))


def _answer_steps(context: EventContext, just_begun: bool = False) -> None:
    """Let what was said answer steps. just_begun: only readings, which answer the new list too."""
    meanings: list[Meaning] = [*context.accepted, *([Order("ready")] if context.ready else [])]
    if just_begun:
        meanings = [r for r in context.accepted if r.what in READINGS]
    true = following.true_conditions(picture_now(context)) if meanings else frozenset()
    for meaning in meanings:
        if _answers_nothing_said(context, meaning):
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
        if not (told or (rests and context.state.watch.danger)):
            words = water_forbids.reply(context, unanswered.no_gain_again(context, outcome.say))
            context.say(words, Urgency.ANSWER)


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


def _last_pressure(context: EventContext) -> float | None:
    """The last pressure called [Pa gauge]; None for none."""
    latest = context.state.latest("pressure")
    return measure(latest.report, context.config.engine) if latest else None


def _close_first_steam(context: EventContext) -> None:
    """Whether steam or air comes is moot once the gauge reads well above zero."""
    gauge = _last_pressure(context) or 0.0
    for step in position.open_steps(context.state.progress):
        if step.near_boiling and gauge >= AIR_OUT_PA:
            done = position.Done(step.id, "the gauge shows steam", context.at)
            progress = context.state.progress
            work.come_to(context, replace(progress, done=(*progress.done, done)))
            context.record(StepDone(context.state.phase.value, done.step, done.answer))


def _warn_of_early_match(context: EventContext) -> None:
    """Warn of a fire lit before the water was proved, naming what is still open."""
    early = context.state.phase in (Phase.PREPARATION, Phase.FIRING)
    if not early or context.state.procedure.parked or Report("fire", "lit") not in context.accepted:
        return
    holds = position.holds_open(context.state.progress)
    missing = [s.id for s in holds if context.state.phase is Phase.PREPARATION or s.killer]
    if context.state.phase is Phase.FIRING and context.state.progress.is_done(MATCH):
        return
    context.say(walkthrough.lit_too_soon(missing), Urgency.ANSWER)


def _credit_early_fire(context: EventContext) -> None:
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


def _take_up_remedy(context: EventContext) -> None:
    """Begin the remedy of a fault that was named ("pump trouble"); the list in hand waits."""
    for report in context.accepted:
        remedy = remedies.remedy_for(context.config.remedies, report)
        if remedy is not None and remedy.name == remedies.TAKING_OVER and _is_ahead(context):
            take_over(context, Phase.RAISING_STEAM)
        elif remedy is not None:
            _say_opening(context, remedy)
            park(context, remedy)


def _is_ahead(context: EventContext) -> bool:
    """Whether there is steam in her while the list in hand is a cold one."""
    return context.state.phase in engine_ahead.COLD and picture_now(context).steam.ahead


def _with_the_engine(context: EventContext, move: Report) -> Report:
    """What a move means: to raise steam where there is some follows the engine past a cold list."""
    raises = move == Report(phases.MOVE, "raise_steam")
    return engine_ahead.OVERTAKE if raises and _is_ahead(context) else move


def _take_up_move(context: EventContext) -> None:
    """Begin another phase that was asked for ("standing by now") if the table allows the move."""
    for report in (*context.accepted, *_waited(context)):
        if report.what != phases.MOVE:
            continue
        report = _with_the_engine(context, report)
        if against := refused_moves.refusal(context, report):
            context.say(against, Urgency.ANSWER)
            continue
        if context.state.procedure.parked and (report.value in SAFER or _feeds_her(context)):
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
                take_over(context, wanted)
                continue
            begin_phase(context, wanted)
            _make_due(context)
            if report not in context.accepted:  # it waited for the water, which is called now
                _answer_steps(context, just_begun=True)
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


def _puts_lost_away(context: EventContext) -> bool:
    """Whether she is put away after the water was lost: what is left to do, danger or not."""
    lost = picture_now(context).water.not_to_be_steamed_since is not None
    return lost and Report(phases.MOVE, "put_away") in context.accepted


def _feeds_her(context: EventContext) -> bool:
    """Whether feed is asked for, and a danger stands that wants nothing else."""
    asked = Report(phases.MOVE, refused_moves.FEED) in context.accepted
    danger = context.state.watch.danger
    return asked and danger and refused_moves.feed_is_wanted(context)


def take_over(context: EventContext, phase: Phase) -> None:
    """Begin a phase with the killer questions of an engine that is warm already."""
    steam, cold = picture_now(context).steam, context.state.phase in engine_ahead.COLD
    known = steam.since if steam.value == "steam" else None
    work.take_over(context, context.at if known is None else min(known, context.at))
    questions = next((c for c in context.config.remedies if c.name == remedies.TAKING_OVER), None)
    begin_phase(context, phase, aloud=questions is None)
    if walkthrough.steam_followed() not in context.remembered:
        context.say(walkthrough.taking_over(phase.value))
    if questions is not None:
        park(context, questions)
        if cold:
            _leave_out_the_valve(context)


def _leave_out_the_valve(context: EventContext) -> None:
    """On a day that began cold no valve has lifted below its feather: it is not asked about."""
    gauge, moves = _last_pressure(context), context.config.engine.valve_moves_gauge_pa
    if gauge is None or gauge >= moves or context.state.reports.of("valve"):
        return
    progress = context.state.progress
    below = [s for s in position.open_steps(progress) if s.asks == VALVE_TEST]
    done = tuple(position.Done(step.id, "below the feather", context.at) for step in below)
    work.come_to(context, replace(progress, done=(*progress.done, *done)))


def _say_what_is_first(context: EventContext) -> None:
    """A move waits for the check in hand, and that is said instead of nothing."""
    step = position.in_hand(context.state.progress) or position.current(context.state.progress)
    if step is not None:
        context.say(walkthrough.first_this(step.say), Urgency.ANSWER)


def park(context: EventContext, remedy: Checklist) -> None:
    """Begin a remedy; the list in hand waits."""
    begun = steps.start_list(remedy, context.config.engine, context.at)
    work.interrupt(context, begun)
    needs.put_steps_again(context)


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
    back = walkthrough.pressure_enough() if moot else "Back to the list."
    context.say(remedy.closing if ending == "not cured" and remedy.closing else back)
    if remedy.name == remedies.TAKING_OVER:
        _say_opening(context, before.checklist)
        _make_due(context)
        _answer_from_log(context, max(began_at, _long_break_ended_at(context)))
    else:  # the list was kept waiting, perhaps before it was begun
        since = before.began_at if not before.done else began_at
        _make_due(context)
        _answer_from_log(context, max(since, _long_break_ended_at(context)))
    return True


def _end_cured_in_danger(context: EventContext) -> None:
    """A trouble that is cured has no further check, whatever else stands."""
    waits = context.state.procedure.parked
    if waits and remedies.outcome(context.state.progress) == "cured":
        work.resume_list(context)
        needs.put_steps_again(context)


def _long_break_ended_at(context: EventContext) -> float:
    """States told before this are unknown now [s]; 0 without a long break."""
    breaks = context.state.clock.breaks
    return max((end for began, end in breaks if end - began > LONG_BREAK_S), default=0.0)


def _answer_from_log(context: EventContext, since: float) -> None:
    """Let what was reported while taking over answer the phase: nothing is asked twice."""
    reports = [timed.report for timed in context.state.reports if timed.at >= since]
    for report in (*reports, *reports):  # one answer may make way for another
        outcome = steps.answer(context.state.progress, report, context.at)
        if outcome.done:
            work.come_to(context, outcome.progress)
        for done in outcome.done:
            context.record(StepDone(context.state.phase.value, done.step, done.answer))


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
    begin_phase(context, then)
    _make_due(context)
    _answer_steps(context, just_begun=True)
    _begin_behind_the_fire(context)
    return True


def _begin_behind_the_fire(context: EventContext) -> None:
    """The fire was lit before its list began: what was told about then is not asked again."""
    lit_at = context.state.lit_at
    if context.state.phase is Phase.FIRING and context.state.fire_in and lit_at is not None:
        _answer_from_log(context, lit_at - TOLD_S)
        following.lapse(context)


def _end_last_list(context: EventContext) -> bool:
    """Say once that the last list is through; nothing follows it."""
    if not any(isinstance(record, StepDone) for record in context.records):
        return False
    context.record(PhaseDone(context.state.phase.value))
    items = [step.id for step in position.open_items(context.state.progress)]
    closing = context.state.progress.checklist.closing
    context.say(
        walkthrough.phase_done(context.state.phase.value, items)
        if items or not closing
        else closing
    )
    return False
