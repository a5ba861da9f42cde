"""The end of a session: what is in her is said, whoever asks for it and however.

Knows what is known of fire and steam; asks nothing and ends nothing.
"""

from __future__ import annotations

from assistant.dialogue.event_context import EventContext
from assistant.dialogue.picture_now import picture_now
from assistant.messages import Grade, Meaning, Order
from assistant.wording import alarm_words, quantities, readback, walkthrough

STOP = Order("stop")


def in_her(context: EventContext) -> str:
    """Fire, steam with the age of the gauge, and dangers that stand, in words; else empty."""
    picture = picture_now(context)
    fire = "fire in" if picture.fire.burning or context.state.fire_in else ""
    steam = _steam(context) if picture.steam.value == "steam" else ""
    return ", ".join(filter(None, (fire, steam, *_dangers(context))))


def _dangers(context: EventContext) -> tuple[str, ...]:
    """The dangers that stand, but for one that is only a person's silence."""
    alarms = (a for a in context.state.watch.spoken() if a.rule.grade is Grade.DANGER)
    return tuple(alarm_words.plain(a.name) for a in alarms if a.rule.kind != "overdue")


def _steam(context: EventContext) -> str:
    called = [t for t in context.state.reports.of("pressure") if t.report.unit is not None]
    if not called:
        return "steam in her"
    report = called[-1].report
    words = quantities.quantity_words(float(report.value), report.unit or "")
    return walkthrough.with_age(words, context.at - called[-1].at)


def confirm(context: EventContext, meaning: Meaning) -> str:
    """The question whether this was meant; of the end, with what is in her."""
    if meaning == STOP:
        return walkthrough.end_asked(in_her(context))
    return readback.confirm(meaning, context.dial)


def ended(context: EventContext) -> str:
    """The last words."""
    return walkthrough.ended(in_her(context))
