"""The walk-through: answers to steps, the next step, phases, cures, moves asked for.

Decides what the list does with this event; knows nothing of how a thing was heard.
"""

from __future__ import annotations

from dataclasses import replace

from assistant.boiler.scales import PSI_PA
from assistant.dialogue import asking, feed_check, prompts, reprompts
from assistant.dialogue.event_context import Turn
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
from assistant.understanding.decide import reports_in
from assistant.wording import readback, walkthrough

TAKING_OVER = "taking_over"  # the list of what must be known of an engine that is already warm
AIR_OUT_PA = 10.0 * PSI_PA  # nobody asks for the first steam above this. Judgement
FRESH_S = 120.0  # no older is a water reading on which an engine moves again. Judgement
MATCH = "water before the match"
PATIENCE_S = 60.0  # a step is put again after this and its own expected time


def begin_phase(turn: Turn, phase: Phase, aloud: bool = True) -> None:
    """Take up the list of a phase, with the open items that earlier phases left."""
    checklist = turn.parts.list_of(phase)
    assert checklist is not None  # the files were checked before the session began
    carried = tuple(
        step
        for step in position.open_items(turn.mind.progress)
        if turn.mind.progress.checklist is not checklist
    )
    begun = steps.begin(checklist, turn.parts.engine, turn.at, carried)
    turn.now(phase=phase, progress=begun, asked_times=0, offered=None)
    turn.fact(PhaseBegan(phase.value))
    if aloud:
        _open(turn, checklist)


def _open(turn: Turn, checklist: Checklist) -> None:
    """The list's opening, less what was said back in this event already."""
    opening = checklist.opening or walkthrough.phase_began(checklist.title)
    for report in turn.taken:
        opening = opening.removeprefix(readback.read_back(report, turn.mind.dial)).strip()
    turn.say(opening)


def proceed(turn: Turn) -> None:
    """Everything the list does in this event, in order: answers, phase, readings, next step.

    While a danger stands the list rests: only the gauge that would end it is asked for.
    """
    if turn.mind.over:
        return
    _back_to_before(turn)
    _notice(turn)
    _take_up_cure(turn)
    _answers(turn)
    _lit_too_soon(turn)
    reprompts.unanswered_doubt(turn)
    if turn.mind.watch.danger:
        if turn.resumed:
            reprompts.recap(turn, None, False)
        prompts.ask_in_danger(turn)
        return
    for _ in range(len(Phase)):
        if not _phase_over(turn):
            break
    _take_up_move(turn)
    if turn.mind.doubt is None:
        _go_on(turn)


def _go_on(turn: Turn) -> None:
    quiet_over = reprompts.quiet_over(turn)
    _air_is_out(turn)
    _fire_is_so(turn)
    step, fresh = _to_put(turn)
    if turn.mind.phase in prompts.STEAM or turn.mind.fire_in:
        prompts.forecasts(turn)
        feed_check.tell(turn)
    if reprompts.came_back(turn):
        reprompts.recap(turn, step, fresh)
        if step is not None and turn.order != "where":
            _remember(turn, step, fresh)
        return
    if turn.mind.phase in prompts.STEAM or turn.mind.fire_in:
        prompts.ask_readings(turn, step if fresh else None)
    _put_step(turn, step, fresh, quiet_over or _first_word(turn))
    if turn.mind.phase in prompts.STEAM or turn.mind.fire_in:
        prompts.offer(turn)


def _first_word(turn: Turn) -> bool:
    """The first that is understood after a break: the step in hand is put behind it."""
    resumed = turn.mind.resumed_at
    return turn.understood and resumed is not None and turn.before.heard_at <= resumed


def _back_to_before(turn: Turn) -> None:
    """A phase or a cure that was called by mistake is taken back: the list before it goes on."""
    last = turn.before.seen[-1] if turn.taken_back and turn.before.seen else None
    if last is None or last.report.what not in (phases.SUBJECT, remedies.SUBJECT):
        return
    earlier = last.progress_before
    phase = earlier.checklist.phase or turn.mind.phase
    if phase is not turn.mind.phase:
        turn.fact(PhaseBegan(phase.value))
    turn.now(phase=phase, progress=earlier, parked=(), asked_times=0, asking=None)


def _notice(turn: Turn) -> None:
    seen = turn.mind.latest("pressure")
    gauge = measure(seen.report, turn.parts.engine) if seen else None
    moved = (gauge or 0.0) > 0.0 or turn.mind.warm_since is not None
    warm = moved or turn.believed(lambda outlook: outlook.near_boiling, False)
    turn.now(progress=position.notice(turn.mind.progress, gauge, warm))


def _answers(turn: Turn, just_begun: bool = False) -> None:
    """What was said answers steps. just_begun: a reading also answers the list it led into."""
    meanings: list[Meaning] = [*turn.taken, *([Order("ready")] if turn.ready else [])]
    if just_begun:
        meanings = [r for r in turn.taken if r.what in READINGS]
    for meaning in meanings:
        outcome = steps.answer(turn.mind.progress, meaning, turn.at)
        reopened = bool(outcome.reopened)
        turn.now(progress=outcome.progress, asked_times=0 if reopened else turn.mind.asked_times)
        for done in outcome.done:
            turn.fact(StepDone(turn.mind.phase.value, done.step, done.answer))
        if not (turn.alarmed and turn.mind.watch.danger):
            turn.say(outcome.say, Urgency.ANSWER)


def _air_is_out(turn: Turn) -> None:
    """Whether steam or air comes is no question any more once the gauge stands well up."""
    seen = turn.mind.latest("pressure")
    gauge = (measure(seen.report, turn.parts.engine) if seen else None) or 0.0
    for step in position.open_steps(turn.mind.progress):
        if step.near_boiling and gauge >= AIR_OUT_PA:
            done = position.Done(step.id, "the gauge shows steam", turn.at)
            progress = turn.mind.progress
            turn.now(progress=replace(progress, done=(*progress.done, done)))
            turn.fact(StepDone(turn.mind.phase.value, done.step, done.answer))


def _lit_too_soon(turn: Turn) -> None:
    """A match before the water was proved: said at once, with what is still open."""
    early = turn.mind.phase in (Phase.PREPARATION, Phase.FIRING)
    if not early or turn.mind.parked or Report("fire", "lit") not in turn.taken:
        return
    holds = position.holds_open(turn.mind.progress)
    missing = [s.id for s in holds if turn.mind.phase is Phase.PREPARATION or s.killer]
    if turn.mind.phase is Phase.FIRING and turn.mind.progress.is_done(MATCH):
        return
    turn.say(walkthrough.lit_too_soon(missing), Urgency.ANSWER)


def _fire_is_so(turn: Turn) -> None:
    """A step of the fire that was done before it could count is not asked for when it can."""
    for _ in range(2):  # lit, then built
        step = position.current(turn.mind.progress)
        if step is None or step.asks != "fire" or step.id in turn.mind.progress.skipped:
            return
        passing = {reply.state for reply in step.replies if reply.passes}
        today = [s.report for s in turn.mind.seen.of("fire")]
        drawn = [i for i, report in enumerate(today) if report.value == "drawn"]
        since = today[drawn[-1] :] if drawn else today
        so = [report for report in since if report.value in passing]
        outcome = steps.answer(turn.mind.progress, so[-1], turn.at) if so else None
        if outcome is None or step.id not in {done.step for done in outcome.done}:
            return
        turn.now(progress=outcome.progress)
        for done in outcome.done:
            turn.fact(StepDone(turn.mind.phase.value, done.step, done.answer))


def _take_up_cure(turn: Turn) -> None:
    """A fault was named ("pump trouble"): its checks come first, the list in hand waits."""
    for report in turn.taken:
        cure = remedies.called(turn.parts.cures, report)
        if cure is not None:
            _open(turn, cure)
            park(turn, cure)


def _take_up_move(turn: Turn) -> None:
    """Another phase was asked for ("standing by now"): it begins if the table lets it."""
    for report in turn.taken:
        if report.what != phases.SUBJECT or turn.mind.parked:
            continue
        known = phases.facts(turn.mind.progress)
        fresh = prompts.age_s(turn, "water") <= FRESH_S
        now = replace(known, water_known=known.water_known and fresh)
        wanted = phases.next_phase(turn.mind.phase, now, str(report.value))
        if wanted is not None and turn.parts.list_of(wanted) is not None:
            begin_phase(turn, wanted)
            _notice(turn)
            continue
        if known.water_known and not fresh:  # at this gate the water comes back
            asking.ask(turn, "water")
            continue
        missing = [step.id for step in position.holds_open(turn.mind.progress)]
        named = dict.fromkeys(name.removesuffix(steps.AGAIN) for name in missing)
        turn.say(walkthrough.phase_waits(tuple(named)), Urgency.ANSWER)


def park(turn: Turn, cure: Checklist) -> None:
    """Take up a list in between; the one in hand waits."""
    parked = turn.mind.parked or (turn.mind.progress,)
    begun = steps.begin(cure, turn.parts.engine, turn.at)
    turn.now(parked=parked, progress=begun, asked_times=0)


def _end_cure(turn: Turn) -> bool:
    """When it is cured, or the checks are through: back to the list they interrupted."""
    came_to = remedies.outcome(turn.mind.progress)
    if came_to is None:
        return False
    cure, (before,) = turn.mind.progress.checklist, turn.mind.parked
    begun = turn.mind.progress.began_at
    turn.now(progress=before, parked=(), asked_times=0)
    turn.say(cure.closing if came_to == "not cured" and cure.closing else "Back to the list.")
    if cure.name == TAKING_OVER:
        _open(turn, before.checklist)
        _notice(turn)
        _answered_already(turn, begun)
    return True


def _answered_already(turn: Turn, since: float) -> None:
    """What was told while taking over also answers the phase: nothing is asked twice."""
    told = [seen.report for seen in turn.mind.seen if seen.at >= since]
    for report in (*told, *told):  # one answer may make way for another
        outcome = steps.answer(turn.mind.progress, report, turn.at)
        if outcome.done:
            turn.now(progress=outcome.progress)
        for done in outcome.done:
            turn.fact(StepDone(turn.mind.phase.value, done.step, done.answer))


def _phase_over(turn: Turn) -> bool:
    """End the phase if everything in it is answered, and begin the next; whether it did."""
    mind = turn.mind
    if mind.parked:
        return mind.doubt is None and _end_cure(turn)
    if mind.doubt is not None or not position.can_leave(mind.progress):
        return False
    if mind.phase is Phase.PUTTING_AWAY:
        return _put_away(turn)
    following = phases.next_phase(mind.phase, phases.facts(mind.progress))
    if following is None or turn.parts.list_of(following) is None:
        return False
    turn.fact(PhaseDone(mind.phase.value))
    items = [step.id for step in position.open_items(mind.progress)]
    closing = mind.progress.checklist.closing
    turn.say(walkthrough.phase_done(mind.phase.value, items) if items or not closing else closing)
    begin_phase(turn, following)
    _notice(turn)
    _answers(turn, just_begun=True)
    return True


def _put_away(turn: Turn) -> bool:
    """The last list is through: said once, and nothing follows it."""
    if not any(isinstance(fact, StepDone) for fact in turn.facts):
        return False
    turn.fact(PhaseDone(turn.mind.phase.value))
    items = [step.id for step in position.open_items(turn.mind.progress)]
    closing = turn.mind.progress.checklist.closing
    turn.say(
        walkthrough.phase_done(turn.mind.phase.value, items) if items or not closing else closing
    )
    return False


def _to_put(turn: Turn) -> tuple[Step | None, bool]:
    """The step to be in hand now, and whether it is new."""
    mind = turn.mind
    step = position.current(mind.progress)
    if step is None:
        return None, False
    hand = position.in_hand(mind.progress)
    if (
        hand is not None
        and hand.id != step.id
        and not hand.waiting
        and position.is_due(mind.progress, hand)
    ):
        step = hand
    return step, mind.progress.asked != step.id or mind.asked_times == 0


def _put_step(turn: Turn, step: Step | None, fresh: bool, at_once: bool) -> None:
    """Put the step in hand: at once when it is new, again when its time has long passed.

    A reading that was just asked for comes first.
    """
    if step is None or not (fresh or turn.passed(turn.mind.quiet_until)):
        return
    if fresh and _reading_first(turn, step):
        return
    if not fresh and not at_once and not _impatient(turn, step):
        return
    _remember(turn, step, fresh)
    turn.say(walkthrough.step(step.say, step.caution if fresh else ""))


def _remember(turn: Turn, step: Step, fresh: bool) -> None:
    """The step was put, first or again."""
    mind = turn.mind
    turn.now(
        progress=position.ask(mind.progress, step),
        asked_at=turn.at,
        asked_since=turn.at if fresh else mind.asked_since,
        asked_times=1 if fresh else mind.asked_times + 1,
        why="" if fresh else mind.why,
        asking=None if mind.asking == step.asks else mind.asking,
    )
    if fresh:
        turn.fact(StepAsked(mind.phase.value, step.id))


def _reading_first(turn: Turn, step: Step) -> bool:
    mind = turn.mind
    waits = mind.asking is not None and mind.asking != step.asks
    return waits and not turn.passed(mind.asking_at, prompts.PATIENCE_S)


def _impatient(turn: Turn, step: Step) -> bool:
    mind = turn.mind
    patience = (PATIENCE_S + 60.0 * step.minutes) * max(1, mind.asked_times)
    return isinstance(turn.event, Tick) and not turn.spoke and turn.passed(mind.asked_at, patience)


def _answers_now(turn: Turn) -> tuple[tuple[str, Report], ...]:
    """The step's own words, those that call up a cure or a phase; a form counts once."""
    found = dict(position.answers(turn.mind.progress))
    others = (*turn.parts.cure_calls, *phases.calls(turn.mind.phase), *turn.parts.bypass_forms)
    for form, report in (*_emergencies(turn), *others):
        found.setdefault(form, report)
    return tuple(found.items())


def _emergencies(turn: Turn) -> tuple[tuple[str, Report], ...]:
    """While a danger stands, that it is over; at any time, the calls of an owner's own file."""
    known, danger = turn.parts.emergencies, turn.mind.watch.danger
    if known is None or not (danger or not known.general):
        return ()
    return known.calls(danger)


def expected(turn: Turn) -> Expected:
    """What is to be listened for after this event."""
    mind = turn.mind
    answers, about = _answers_now(turn), _about(turn)
    if mind.doubt is not None and (mind.doubt.rival is None or about is None):
        return Expected("answer", answers, about, turn.parts.dial)
    if mind.doubt is not None:
        return Expected(about, answers, about, turn.parts.dial)  # type: ignore[arg-type]
    if mind.asking in READINGS:
        return Expected(mind.asking, answers, about, turn.parts.dial)  # type: ignore[arg-type]
    hand = position.in_hand(mind.progress)
    if hand is not None and hand.kind == "value" and hand.asks in READINGS:
        return Expected(hand.asks, answers, about, turn.parts.dial)  # type: ignore[arg-type]
    return Expected("state" if answers else "any", answers, about, turn.parts.dial)


def _about(turn: Turn) -> str | None:
    """The reading that a "wrong, sixty five" would be about: the doubted one, or the last."""
    mind = turn.mind
    if mind.doubt is not None:
        doubted = [r.what for r in reports_in(mind.doubt.meaning) if r.what in READINGS]
        return doubted[0] if doubted else None
    last = mind.seen[-1] if mind.seen else None
    if last is None or last.report.what not in READINGS or turn.passed(last.at, PATIENCE_S):
        return None
    return last.report.what
