"""What does not apply today, or is so already: a need of rank 4 to 7 ends for the day, in the book.

Ranks 1 to 3 take only readings and acts. A step of the list in hand is left out by its list.
"""

from __future__ import annotations

from assistant.dialogue.acceptance import accept_silently
from assistant.dialogue.agenda.need import Need, Rank
from assistant.dialogue.agenda.rows import needs_of
from assistant.dialogue.event_context import EventContext
from assistant.dialogue.owners import needs
from assistant.dialogue.state import AHEAD, NOT_TODAY, STEP
from assistant.messages import Report, Urgency
from assistant.wording import walkthrough


def end_what_was_put_last(context: EventContext) -> bool:
    """End the need that was put last, or say why not; False where it is a step of the list."""
    need = _put_last(context)
    if need is None or need.rank is Rank.OFFER or need.step in context.state.progress.steps:
        return False
    guards = need.step is not None and need.step.must
    if need.rank <= Rank.READING or need.wants_name or guards:
        context.say(walkthrough.not_put_off(), Urgency.ANSWER)
        return True
    report = Report(NOT_TODAY, need.name)
    accept_silently(context, report)
    needs.answered(context, need.name)
    context.say(walkthrough.not_asked_today(), Urgency.ANSWER)
    return True


def _put_last(context: EventContext) -> Need | None:
    """The need that is wanted and was put last; of two that were put together the step."""
    asked = context.state.asked
    put = [need for need in needs_of(context) if need.name in asked and need.name != AHEAD]
    order = {need.name: (asked[need.name].last_at, need.name.startswith(STEP)) for need in put}
    return max(put, key=lambda need: order[need.name], default=None)
