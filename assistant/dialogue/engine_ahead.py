"""The engine is ahead of the list: there is steam in her, and the list in hand is a cold one.

One question moves the list. It is put when a pressure is called, not concluded.
"""

from __future__ import annotations

from assistant.dialogue.event_context import EventContext
from assistant.dialogue.owners import needs, questions
from assistant.dialogue.picture_now import picture_now
from assistant.dialogue.state import AHEAD, Doubt
from assistant.messages import Report, Urgency
from assistant.procedure.checklist import Phase
from assistant.procedure.phases import MOVE
from assistant.wording import walkthrough

COLD = frozenset({Phase.PREPARATION, Phase.FIRING})
AGAIN_S = 600.0  # judgement: the gauge is called far oftener
OVERTAKE = Report(MOVE, "overtake")


def ask_to_follow(context: EventContext) -> bool:
    """Ask whether to go on from raising steam, where a pressure says so; whether it was asked."""
    state = context.state
    if state.phase not in COLD or state.doubt is not None or state.procedure.parked:
        return False
    called = any(report.what == "pressure" for report in context.accepted)
    if not called or not picture_now(context).steam.high:
        return False
    asked = state.asked.get(AHEAD)
    if asked is not None and not context.elapsed(asked.last_at, AGAIN_S):
        return False
    needs.put(context, AHEAD, AHEAD)
    questions.doubt(context, Doubt(OVERTAKE, "the gauge shows steam", context.at))
    context.say(walkthrough.steam_in_her(), Urgency.ANSWER)
    return True
