"""Who is spoken to, in a session that wants its wake phrase before what is said to it.

Without the phrase counts what answers us: for ten seconds from the end of anything we said but
chat, and after the phrase alone; and what reports a danger, at any time. Time is that of events.
"""

from __future__ import annotations

import math
from dataclasses import replace

from assistant.dialogue.event_context import EventContext
from assistant.dialogue.wake_state import WakeState
from assistant.grammar.wake_phrase import ANSWER, CALL, REPLY_S
from assistant.messages import Event, Heard, Resumed, Say, Spoke, Started, Urgency
from assistant.understanding.decide import Decision


def ends_ours(attention: WakeState | None, event: Event) -> bool:
    """Whether a sentence of ours that may be answered was said to its end, or cut off."""
    return (
        attention is not None
        and isinstance(event, Spoke)
        and event.ended != "failed"
        and event.text in attention.asked
    )


def look_for_phrase(context: EventContext) -> None:
    """Before anything else in an event: whether the phrase is wanted, and not just now."""
    event, attention = context.event, context.state.attention
    if isinstance(event, Started | Resumed):
        context.update(attention=WakeState() if event.wake else None)
    elif attention is not None and ends_ours(attention, event):
        context.update(attention=replace(attention, until=context.at + REPLY_S))


def remember(context: EventContext) -> None:
    """After everything else: what was said in this event and may be answered."""
    attention = context.state.attention
    if attention is None or not context.spoke:
        return
    said = [effect for effect in context.effects() if isinstance(effect, Say)]
    asked = tuple(say.text for say in said if say.urgency is not Urgency.CHAT)
    if asked:
        context.update(attention=replace(attention, asked=asked))


def ignores(context: EventContext, heard: Heard, decision: Decision, danger: bool) -> bool:
    """Whether nothing more is to be made of an utterance: a mere call, or not said to us.

    danger: it would be taken for the report of one, or asked about as one.
    """
    attention = context.state.attention or WakeState()
    if decision.meaning == CALL:
        if decision.kind == "accept":
            context.say(ANSWER, Urgency.ANSWER)
            _attend(context, context.at + REPLY_S)
        return True
    began = heard.at - heard.audio_s
    if heard.called is False and began > attention.until and not danger:
        return True
    if decision.kind in ("accept", "confirm"):
        _attend(context, -math.inf)
    return False


def _attend(context: EventContext, until: float) -> None:
    attention = context.state.attention
    if attention is not None and attention.until != until:
        context.update(attention=replace(attention, until=until))
