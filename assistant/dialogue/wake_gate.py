"""Until when no wake phrase is needed, where the session wants one.

Without the phrase three things count: an answer, for ten seconds from the end of anything said
but a hint; what follows the phrase said alone; and the report of a danger, at any time. Whether an
utterance is for us is decided in `understanding`.
"""

from __future__ import annotations

import math
from dataclasses import replace

from assistant.dialogue.event_context import EventContext
from assistant.dialogue.owners import hearing
from assistant.dialogue.wake_state import WakeState
from assistant.grammar.wake_phrase import REPLY_S
from assistant.messages import Event, Resumed, Say, Spoke, Started, Urgency


def ends_answerable(wake: WakeState | None, event: Event) -> bool:
    """Whether a sentence that may be answered was said to its end, or cut off."""
    return (
        wake is not None
        and isinstance(event, Spoke)
        and event.ended != "failed"
        and event.text in wake.answerable
    )


def open_gate(context: EventContext) -> None:
    """First in an event: whether the phrase is wanted at all, and until when it is not needed."""
    event, wake = context.event, context.state.hearing.wake
    if isinstance(event, Started | Resumed):
        hearing.set_wake(context, WakeState() if event.wake else None)
    elif wake is not None and ends_answerable(wake, event):
        hearing.set_wake(context, replace(wake, until=context.at + REPLY_S))


def remember_answerable(context: EventContext) -> None:
    """Last in an event: keep what was said in it that may be answered."""
    wake = context.state.hearing.wake
    if wake is None or not context.spoke:
        return
    says = [effect for effect in context.effects() if isinstance(effect, Say)]
    answerable = tuple(say.text for say in says if say.urgency is not Urgency.CHAT)
    if answerable:
        hearing.set_wake(context, replace(wake, answerable=answerable))


def answer_call(context: EventContext) -> None:
    """The phrase was said alone: what follows in a while needs none."""
    _set_until(context, context.at + REPLY_S)


def spend_call(context: EventContext) -> None:
    """An utterance was understood: the next needs the phrase, unless it answers us."""
    _set_until(context, -math.inf)


def _set_until(context: EventContext, until: float) -> None:
    wake = context.state.hearing.wake
    if wake is not None and wake.until != until:
        hearing.set_wake(context, replace(wake, until=until))
