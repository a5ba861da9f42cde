"""How a session begins: cold, taken over warm, or after a break."""

from __future__ import annotations

from assistant.dialogue import checklist_flow
from assistant.dialogue.checklist_flow import TAKING_OVER
from assistant.dialogue.event_context import Turn
from assistant.messages import PhaseBegan, Resumed, Started
from assistant.procedure.checklist import Phase
from assistant.wording import due_words, walkthrough


def start(turn: Turn, event: Started) -> None:
    """The cautions, then the first list, or the killer questions of a warm engine."""
    turn.say(walkthrough.cautions())
    if event.due is not None:
        turn.say(due_words.told(event.due))
    if event.from_phase is None or event.from_phase == Phase.PREPARATION.value:
        cold = turn.mind.phase
        turn.fact(PhaseBegan(cold.value))
        turn.say(turn.mind.progress.checklist.opening or walkthrough.phase_began(cold.value))
        return
    phase = Phase(event.from_phase)
    turn.now(warm_since=turn.at)
    questions = next((c for c in turn.parts.cures if c.name == TAKING_OVER), None)
    checklist_flow.begin_phase(turn, phase, aloud=questions is None)
    turn.say(walkthrough.taking_over(phase.value))
    if questions is not None:
        checklist_flow.park(turn, questions)


def resume(turn: Turn, event: Resumed) -> None:
    """After a break: nothing that was in doubt stands; where we were is said by `pace.recap`."""
    turn.resumed = True
    turn.now(
        doubt=None,
        noting=False,
        away_s=event.away_s,
        come_back=True,
        resumed_at=turn.at,
        asked_since=turn.at,
        asking_since=turn.at,
    )
