"""Steps that nobody answers: left open after a few askings, so that the list goes on.

Only acts that guard nothing; never a killer, a hold or an act that takes heat away. What is left
open is named, stands among the open items and is in the report: silence answers nothing.
"""

from __future__ import annotations

from dataclasses import replace

from assistant.boiler.figures import Engine
from assistant.dialogue.event_context import EventContext
from assistant.dialogue.owners import needs, work
from assistant.dialogue.picture_now import picture_now
from assistant.dialogue.state import STEP
from assistant.messages import StepDone, StepSkipped
from assistant.procedure import position
from assistant.procedure.checklist import Phase, Step
from assistant.procedure.position import Done, Progress
from assistant.wording import walkthrough

TIMES = 3  # so often a step is put. Judgement
TIMES_LIT = 2  # in preparation, with the fire lit
FEED_TEST = "feed test"  # asks whether a feed has worked today
FEED_FROM = 0.35  # of working pressure: below it no feed is tried; as in the list. Judgement
COLD = frozenset({Phase.PREPARATION, Phase.FIRING})
# What stays as it was told until something else is told of it: no step asks for it once more.
STANDS = frozenset({"blower", "extension", "fire"})


def leave(context: EventContext, step: Step) -> bool:
    """Leave the step open instead of putting it once more; whether that was done."""
    progress = context.state.progress
    if step not in progress.steps or not _may_be_left(context, step):
        return False
    asked = context.state.asked.get(STEP + step.id)
    at_the_gate = step.id in progress.skipped
    if asked is None or asked.times < (1 if at_the_gate else _limit(context)):
        return False
    _leave_open(context, step)
    if not at_the_gate and not position.can_leave(context.state.progress):
        # the end of a phase names it anyway
        context.say(walkthrough.skipped(step.id))
    return True


def _limit(context: EventContext) -> int:
    return TIMES_LIT if context.state.phase is Phase.PREPARATION else TIMES


def _may_be_left(context: EventContext, step: Step) -> bool:
    if step.must or not picture_now(context).fire.burning:
        return False
    if step.asks == FEED_TEST:
        return True
    return step.kind == "act" and (not step.proves or context.state.phase in COLD)


def leave_feed_test(context: EventContext) -> None:
    """Below the pressure at which a feed can be tried nobody is asked which one has worked."""
    progress, gauge = context.state.progress, picture_now(context).gauge
    step = next((s for s in position.open_steps(progress) if s.asks == FEED_TEST), None)
    if step is None or step.id in progress.skipped or gauge.pressure_pa is None:
        return
    if gauge.pressure_pa < feed_from_pa(context.config.engine) and gauge.moved:
        _leave_open(context, step)


def feed_from_pa(engine: Engine) -> float:
    """From where on a feed can be tried [Pa gauge]."""
    return FEED_FROM * engine.working_pressure_gauge_pa


def _leave_open(context: EventContext, step: Step) -> None:
    """Open, and asked once more at the end of the list; of a list of questions, of the next one."""
    progress = context.state.progress
    skipped = (*progress.skipped, step.id) if step.id not in progress.skipped else progress.skipped
    at_once = bool(context.state.procedure.parked) or context.state.phase is Phase.PREPARATION
    gone = at_once or step.id in progress.skipped
    left = (*progress.left, step.id) if gone else progress.left
    asked = None if progress.asked == step.id else progress.asked
    nobody = (*progress.unanswered, step.id)
    work.come_to(
        context, replace(progress, skipped=skipped, left=left, asked=asked, unanswered=nobody)
    )
    if context.state.procedure.parked:
        work.carry_to_parked(context, step)
    needs.answered(context, STEP + step.id)
    context.record(StepSkipped(context.state.phase.value, step.id))


def no_gain_again(context: EventContext, say: str) -> str:
    """What is said against a reading that has not gained, in few words from the second time on."""
    progress = context.state.progress
    for step in progress.steps:
        before = next((d.at for d in progress.done if d.step == step.gain_on), None)
        if say and say == step.no_gain and before is not None:
            read = [t for t in context.state.reports.of(step.asks) if t.at > before]
            return walkthrough.no_gain_yet() if len(read) > 1 else say
    return say


def credit_told(context: EventContext) -> None:
    """What was told already, and stands, is the answer when its step becomes due."""
    progress = context.state.progress
    done = tuple(d for s in position.ready_steps(progress) if (d := _told(context, progress, s)))
    if not done:
        return
    work.come_to(context, replace(progress, done=(*progress.done, *done)))
    for each in done:
        context.record(StepDone(context.state.phase.value, each.step, each.answer))


def _told(context: EventContext, progress: Progress, step: Step) -> Done | None:
    latest = context.state.latest(step.asks)
    passing = {r.state for r in step.replies[:1] if r.passes}  # what it wants, not what will do
    if step.must or step.id in progress.skipped:
        return None
    if step.kind == "value":  # its answer that is no reading: "no blow-down"
        told = [t for t in context.state.reports.of(step.asks) if t.report.value in passing]
        at = told[-1].at if told else progress.began_at
        latest = told[-1] if told and at >= progress.began_at else None
    elif step.asks not in STANDS or step.kind != "act" or step.only_when_asked:
        return None
    since = max((end for _, end in context.state.clock.breaks), default=0.0)
    if latest is None or latest.at < since or latest.report.value not in passing:
        return None
    return Done(step.id, f"{step.asks} {latest.report.value}", context.at)
