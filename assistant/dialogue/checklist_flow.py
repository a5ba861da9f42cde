"""The walk-through: answers to steps, the next step, phases, cures, moves asked for.

Decides what the list does with this event; knows nothing of how a thing was heard.
"""

from __future__ import annotations

from dataclasses import replace

from assistant.boiler.scales import PSI_PA
from assistant.dialogue import asking, feed_check, prompts, reprompts
from assistant.dialogue.event_context import EventContext
from assistant.messages import (
    READINGS,
    Expected,
    Meaning,
    Order,
    PhaseBegan,
    PhaseDone,
    Report,
    StepAsked,
    StepDone,
    Tick,
    Urgency,
)
from assistant.procedure import phases, position, remedies
from assistant.procedure import progress as steps
from assistant.procedure.checklist import Checklist, Phase, Step
from assistant.procedure.scale import measure
from assistant.understanding.costs import reports_in
from assistant.wording import readback, walkthrough

TAKING_OVER = "taking_over"  # the list of what must be known of an engine that is already warm
AIR_OUT_PA = 10.0 * PSI_PA  # nobody asks for the first steam above this. Judgement
FRESH_S = 120.0  # no older is a water reading on which an engine moves again. Judgement
MATCH = "water before the match"
_PATIENCE_S = 60.0  # a step is put again after this and its own expected time


def begin_phase(context: EventContext, phase: Phase, aloud: bool = True) -> None:
    """Take up the list of a phase, with the open items that earlier phases left."""
    checklist = context.parts.list_of(phase)
    assert checklist is not None  # the files were checked before the session began
    carried = tuple(
        step
        for step in position.open_items(context.state.progress)
        if context.state.progress.checklist is not checklist
    )
    begun = steps.start_list(checklist, context.parts.engine, context.at, carried)
    context.update(phase=phase, progress=begun, asked_times=0, offered=None)
    context.fact(PhaseBegan(phase.value))
    if aloud:
        _open(context, checklist)


def _open(context: EventContext, checklist: Checklist) -> None:
    """The list's opening, less what was said back in this event already."""
    opening = checklist.opening or walkthrough.phase_began(checklist.title)
    for report in context.accepted:
        opening = opening.removeprefix(readback.read_back(report, context.state.dial)).strip()
    context.say(opening)


def proceed(context: EventContext) -> None:
    """Everything the list does in this event, in order: answers, phase, readings, next step.

    While a danger stands the list rests: only the gauge that would end it is asked for.
    """
    if context.state.over:
        return
    _back_to_before(context)
    _notice(context)
    _take_up_cure(context)
    _answers(context)
    _lit_too_soon(context)
    reprompts.unanswered_doubt(context)
    if context.state.watch.danger:
        if context.resumed:
            reprompts.recap(context, None, False)
        prompts.ask_in_danger(context)
        return
    for _ in range(len(Phase)):
        if not _phase_over(context):
            break
    _take_up_move(context)
    if context.state.doubt is None:
        _go_on(context)


def _go_on(context: EventContext) -> None:
    quiet_over = reprompts.quiet_over(context)
    _air_is_out(context)
    _fire_is_so(context)
    step, fresh = _to_put(context)
    if context.state.phase in prompts.STEAM or context.state.fire_in:
        prompts.tell_forecasts(context)
        feed_check.tell(context)
    if reprompts.came_back(context):
        reprompts.recap(context, step, fresh)
        if step is not None and context.order != "where":
            _remember(context, step, fresh)
        return
    if context.state.phase in prompts.STEAM or context.state.fire_in:
        prompts.ask_readings(context, step if fresh else None)
    _put_step(context, step, fresh, quiet_over or _first_word(context))
    if context.state.phase in prompts.STEAM or context.state.fire_in:
        prompts.offer(context)


def _first_word(context: EventContext) -> bool:
    """The first that is understood after a break: the step in hand is put behind it."""
    resumed = context.state.resumed_at
    return context.understood and resumed is not None and context.before.heard_at <= resumed


def _back_to_before(context: EventContext) -> None:
    """A phase or a cure that was called by mistake is taken back: the list before it goes on."""
    last = context.before.seen[-1] if context.retracted and context.before.seen else None
    if last is None or last.report.what not in (phases.MOVE, remedies.REMEDY):
        return
    earlier = last.progress_before
    phase = earlier.checklist.phase or context.state.phase
    if phase is not context.state.phase:
        context.fact(PhaseBegan(phase.value))
    context.update(phase=phase, progress=earlier, parked=(), asked_times=0, asking=None)


def _notice(context: EventContext) -> None:
    seen = context.state.latest("pressure")
    gauge = measure(seen.report, context.parts.engine) if seen else None
    moved = (gauge or 0.0) > 0.0 or context.state.warm_since is not None
    warm = moved or context.believed(lambda outlook: outlook.near_boiling, False)
    context.update(progress=position.notice(context.state.progress, gauge, warm))


def _answers(context: EventContext, just_begun: bool = False) -> None:
    """What was said answers steps. just_begun: a reading also answers the list it led into."""
    meanings: list[Meaning] = [*context.accepted, *([Order("ready")] if context.ready else [])]
    if just_begun:
        meanings = [r for r in context.accepted if r.what in READINGS]
    for meaning in meanings:
        outcome = steps.answer(context.state.progress, meaning, context.at)
        reopened = bool(outcome.reopened)
        context.update(
            progress=outcome.progress, asked_times=0 if reopened else context.state.asked_times
        )
        for done in outcome.done:
            context.fact(StepDone(context.state.phase.value, done.step, done.answer))
        if not (context.alarmed and context.state.watch.danger):
            context.say(outcome.say, Urgency.ANSWER)


def _air_is_out(context: EventContext) -> None:
    """Whether steam or air comes is no question any more once the gauge stands well up."""
    seen = context.state.latest("pressure")
    gauge = (measure(seen.report, context.parts.engine) if seen else None) or 0.0
    for step in position.open_steps(context.state.progress):
        if step.near_boiling and gauge >= AIR_OUT_PA:
            done = position.Done(step.id, "the gauge shows steam", context.at)
            progress = context.state.progress
            context.update(progress=replace(progress, done=(*progress.done, done)))
            context.fact(StepDone(context.state.phase.value, done.step, done.answer))


def _lit_too_soon(context: EventContext) -> None:
    """A match before the water was proved: said at once, with what is still open."""
    early = context.state.phase in (Phase.PREPARATION, Phase.FIRING)
    if not early or context.state.parked or Report("fire", "lit") not in context.accepted:
        return
    holds = position.holds_open(context.state.progress)
    missing = [s.id for s in holds if context.state.phase is Phase.PREPARATION or s.killer]
    if context.state.phase is Phase.FIRING and context.state.progress.is_done(MATCH):
        return
    context.say(walkthrough.lit_too_soon(missing), Urgency.ANSWER)


def _fire_is_so(context: EventContext) -> None:
    """A step of the fire that was done before it could count is not asked for when it can."""
    for _ in range(2):  # lit, then built
        step = position.current(context.state.progress)
        if step is None or step.asks != "fire" or step.id in context.state.progress.skipped:
            return
        passing = {reply.state for reply in step.replies if reply.passes}
        today = [s.report for s in context.state.seen.of("fire")]
        drawn = [i for i, report in enumerate(today) if report.value == "drawn"]
        since = today[drawn[-1] :] if drawn else today
        so = [report for report in since if report.value in passing]
        outcome = steps.answer(context.state.progress, so[-1], context.at) if so else None
        if outcome is None or step.id not in {done.step for done in outcome.done}:
            return
        context.update(progress=outcome.progress)
        for done in outcome.done:
            context.fact(StepDone(context.state.phase.value, done.step, done.answer))


def _take_up_cure(context: EventContext) -> None:
    """A fault was named ("pump trouble"): its checks come first, the list in hand waits."""
    for report in context.accepted:
        cure = remedies.remedy_for(context.parts.cures, report)
        if cure is not None:
            _open(context, cure)
            park(context, cure)


def _take_up_move(context: EventContext) -> None:
    """Another phase was asked for ("standing by now"): it begins if the table lets it."""
    for report in context.accepted:
        if report.what != phases.MOVE or context.state.parked:
            continue
        known = phases.facts(context.state.progress)
        fresh = prompts.age_s(context, "water") <= FRESH_S
        now = replace(known, water_known=known.water_known and fresh)
        wanted = phases.next_phase(context.state.phase, now, str(report.value))
        if wanted is not None and context.parts.list_of(wanted) is not None:
            begin_phase(context, wanted)
            _notice(context)
            continue
        if known.water_known and not fresh:  # at this gate the water comes back
            asking.ask(context, "water")
            continue
        missing = [step.id for step in position.holds_open(context.state.progress)]
        named = dict.fromkeys(name.removesuffix(steps.ASKED_AGAIN) for name in missing)
        context.say(walkthrough.phase_waits(tuple(named)), Urgency.ANSWER)


def park(context: EventContext, cure: Checklist) -> None:
    """Take up a list in between; the one in hand waits."""
    parked = context.state.parked or (context.state.progress,)
    begun = steps.start_list(cure, context.parts.engine, context.at)
    context.update(parked=parked, progress=begun, asked_times=0)


def _end_cure(context: EventContext) -> bool:
    """When it is cured, or the checks are through: back to the list they interrupted."""
    came_to = remedies.outcome(context.state.progress)
    if came_to is None:
        return False
    cure, (before,) = context.state.progress.checklist, context.state.parked
    begun = context.state.progress.began_at
    context.update(progress=before, parked=(), asked_times=0)
    context.say(cure.closing if came_to == "not cured" and cure.closing else "Back to the list.")
    if cure.name == TAKING_OVER:
        _open(context, before.checklist)
        _notice(context)
        _answered_already(context, begun)
    return True


def _answered_already(context: EventContext, since: float) -> None:
    """What was told while taking over also answers the phase: nothing is asked twice."""
    told = [seen.report for seen in context.state.seen if seen.at >= since]
    for report in (*told, *told):  # one answer may make way for another
        outcome = steps.answer(context.state.progress, report, context.at)
        if outcome.done:
            context.update(progress=outcome.progress)
        for done in outcome.done:
            context.fact(StepDone(context.state.phase.value, done.step, done.answer))


def _phase_over(context: EventContext) -> bool:
    """End the phase if everything in it is answered, and begin the next; whether it did."""
    state = context.state
    if state.parked:
        return state.doubt is None and _end_cure(context)
    if state.doubt is not None or not position.can_leave(state.progress):
        return False
    if state.phase is Phase.PUTTING_AWAY:
        return _put_away(context)
    following = phases.next_phase(state.phase, phases.facts(state.progress))
    if following is None or context.parts.list_of(following) is None:
        return False
    context.fact(PhaseDone(state.phase.value))
    items = [step.id for step in position.open_items(state.progress)]
    closing = state.progress.checklist.closing
    context.say(
        walkthrough.phase_done(state.phase.value, items) if items or not closing else closing
    )
    begin_phase(context, following)
    _notice(context)
    _answers(context, just_begun=True)
    return True


def _put_away(context: EventContext) -> bool:
    """The last list is through: said once, and nothing follows it."""
    if not any(isinstance(fact, StepDone) for fact in context.facts):
        return False
    context.fact(PhaseDone(context.state.phase.value))
    items = [step.id for step in position.open_items(context.state.progress)]
    closing = context.state.progress.checklist.closing
    context.say(
        walkthrough.phase_done(context.state.phase.value, items)
        if items or not closing
        else closing
    )
    return False


def _to_put(context: EventContext) -> tuple[Step | None, bool]:
    """The step to be in hand now, and whether it is new."""
    state = context.state
    step = position.current(state.progress)
    if step is None:
        return None, False
    hand = position.in_hand(state.progress)
    if (
        hand is not None
        and hand.id != step.id
        and not hand.waiting
        and position.is_due(state.progress, hand)
    ):
        step = hand
    return step, state.progress.asked != step.id or state.asked_times == 0


def _put_step(context: EventContext, step: Step | None, fresh: bool, at_once: bool) -> None:
    """Put the step in hand: at once when it is new, again when its time has long passed.

    A reading that was just asked for comes first.
    """
    if step is None or not (fresh or context.elapsed(context.state.quiet_until)):
        return
    if fresh and _reading_first(context, step):
        return
    if not fresh and not at_once and not _impatient(context, step):
        return
    _remember(context, step, fresh)
    context.say(walkthrough.step(step.say, step.caution if fresh else ""))


def _remember(context: EventContext, step: Step, fresh: bool) -> None:
    """The step was put, first or again."""
    state = context.state
    context.update(
        progress=position.put_step(state.progress, step),
        asked_at=context.at,
        asked_since=context.at if fresh else state.asked_since,
        asked_times=1 if fresh else state.asked_times + 1,
        why="" if fresh else state.why,
        asking=None if state.asking == step.asks else state.asking,
    )
    if fresh:
        context.fact(StepAsked(state.phase.value, step.id))


def _reading_first(context: EventContext, step: Step) -> bool:
    state = context.state
    waits = state.asking is not None and state.asking != step.asks
    return waits and not context.elapsed(state.asking_at, prompts.PATIENCE_S)


def _impatient(context: EventContext, step: Step) -> bool:
    state = context.state
    patience = (_PATIENCE_S + 60.0 * step.minutes) * max(1, state.asked_times)
    return (
        isinstance(context.event, Tick)
        and not context.spoke
        and context.elapsed(state.asked_at, patience)
    )


def _answers_now(context: EventContext) -> tuple[tuple[str, Report], ...]:
    """The step's own words, those that call up a cure or a phase; a form counts once."""
    found = dict(position.possible_answers(context.state.progress))
    others = (
        *context.parts.cure_calls,
        *phases.move_calls(context.state.phase),
        *context.parts.bypass_forms,
    )
    for form, report in (*_emergencies(context), *others):
        found.setdefault(form, report)
    return tuple(found.items())


def _emergencies(context: EventContext) -> tuple[tuple[str, Report], ...]:
    """While a danger stands, that it is over; at any time, the calls of an owner's own file."""
    known, danger = context.parts.emergencies, context.state.watch.danger
    if known is None or not (danger or not known.general):
        return ()
    return known.calls(danger)


def expected(context: EventContext) -> Expected:
    """What is to be listened for after this event."""
    state = context.state
    answers, about = _answers_now(context), _about(context)
    if state.doubt is not None and (state.doubt.rival is None or about is None):
        return Expected("answer", answers, about, context.parts.dial)
    if state.doubt is not None:
        return Expected(about, answers, about, context.parts.dial)  # type: ignore[arg-type]
    if state.asking in READINGS:
        return Expected(state.asking, answers, about, context.parts.dial)  # type: ignore[arg-type]
    hand = position.in_hand(state.progress)
    if hand is not None and hand.kind == "value" and hand.asks in READINGS:
        return Expected(hand.asks, answers, about, context.parts.dial)  # type: ignore[arg-type]
    return Expected("state" if answers else "any", answers, about, context.parts.dial)


def _about(context: EventContext) -> str | None:
    """The reading that a "wrong, sixty five" would be about: the doubted one, or the last."""
    state = context.state
    if state.doubt is not None:
        doubted = [r.what for r in reports_in(state.doubt.meaning) if r.what in READINGS]
        return doubted[0] if doubted else None
    last = state.seen[-1] if state.seen else None
    if last is None or last.report.what not in READINGS or context.elapsed(last.at, _PATIENCE_S):
        return None
    return last.report.what
