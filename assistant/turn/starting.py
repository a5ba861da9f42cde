"""How a session begins: cold, taken over warm, or after a break."""

from __future__ import annotations

from assistant.messages import PhaseBegan, Resumed, Started, Urgency
from assistant.procedure import progress as steps
from assistant.procedure.checklist import Phase
from assistant.talk import walking
from assistant.turn import walk
from assistant.turn.turn import Turn

TAKING_OVER = "taking_over"  # the list of what must be known of an engine that is already warm


def start(turn: Turn, event: Started) -> None:
    """The cautions, then the first list, or the killer questions of a warm engine."""
    turn.say(walking.cautions())
    if event.from_phase is None or event.from_phase == Phase.PREPARATION.value:
        cold = turn.mind.phase
        turn.fact(PhaseBegan(cold.value))
        turn.say(turn.mind.progress.checklist.opening or walking.phase_began(cold.value))
        return
    phase = Phase(event.from_phase)
    turn.now(warm_since=turn.at)
    walk.begin_phase(turn, phase)
    turn.say(walking.taking_over(phase.value))
    questions = next((c for c in turn.parts.cures if c.name == TAKING_OVER), None)
    if questions is not None:
        walk.park(turn, questions)


def resume(turn: Turn, event: Resumed) -> None:
    """After a break: where we were; the water, the pressure and the step in hand are asked anew."""
    mind = turn.mind
    hand = steps.in_hand(mind.progress) or steps.current(mind.progress)
    last = mind.progress.done[-1].step if mind.progress.done else ""
    turn.say(
        walking.resumed(event.away_s / 60.0, mind.phase.value, last, hand.say if hand else ""),
        Urgency.ANSWER,
    )
    turn.now(
        doubt=None, noting=False, asking="water", asking_at=turn.at, asked_times=1, asked_at=turn.at
    )
