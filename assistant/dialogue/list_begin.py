"""How a list is begun: a phase, a trouble, an engine taken over; what is due in it."""

from __future__ import annotations

from dataclasses import replace

from assistant.dialogue import (
    engine_ahead,
)
from assistant.dialogue.agenda import water_forbids
from assistant.dialogue.event_context import EventContext
from assistant.dialogue.owners import boiler, needs, work
from assistant.dialogue.picture_now import picture_now
from assistant.messages import (
    PhaseBegan,
)
from assistant.procedure import position, remedies
from assistant.procedure import progress as steps
from assistant.procedure.checklist import Checklist, Phase
from assistant.procedure.scale import measure
from assistant.wording import readback, walkthrough

VALVE_TEST = "valve test"  # what the step asks that wants to know whether it lifted today


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
        say_opening(context, checklist)


def say_opening(context: EventContext, checklist: Checklist) -> None:
    """Say the opening of a list, without what was read back in this event already."""
    opening = checklist.opening or walkthrough.phase_began(checklist.title)
    for report in context.accepted:
        opening = opening.removeprefix(readback.read_back(report, context.dial)).strip()
    context.say(water_forbids.of_another_feed(context, opening))


def make_due(context: EventContext) -> None:
    """Make the steps due that the gauge, or warmth without it, has reached."""
    gauge = last_pressure(context)
    moved = (gauge or 0.0) > 0.0 or context.state.procedure.warm_since is not None
    warm = moved or boiler.estimated(context, lambda estimates: estimates.near_boiling, False)
    work.come_to(context, position.mark_due(context.state.progress, gauge, warm))


def last_pressure(context: EventContext) -> float | None:
    """The last pressure called [Pa gauge]; None for none."""
    latest = context.state.latest("pressure")
    return measure(latest.report, context.config.engine) if latest else None


def park(context: EventContext, remedy: Checklist) -> None:
    """Begin a remedy; the list in hand waits."""
    begun = steps.start_list(remedy, context.config.engine, context.at)
    work.interrupt(context, begun)
    needs.put_steps_again(context)


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
    gauge, moves = last_pressure(context), context.config.engine.valve_moves_gauge_pa
    if gauge is None or gauge >= moves or context.state.reports.of("valve"):
        return
    progress = context.state.progress
    below = [s for s in position.open_steps(progress) if s.asks == VALVE_TEST]
    done = tuple(position.Done(step.id, "below the feather", context.at) for step in below)
    work.come_to(context, replace(progress, done=(*progress.done, *done)))
