"""Owner of `state.lost_devices`."""

from __future__ import annotations

from dataclasses import replace

from assistant.dialogue.event_context import EventContext


def lost(context: EventContext, device: str) -> None:
    """A device does not work."""
    gone = context.state.lost_devices | {device}
    context.become(replace(context.state, lost_devices=gone))


def back(context: EventContext, device: str) -> None:
    """A device works again."""
    gone = context.state.lost_devices - {device}
    context.become(replace(context.state, lost_devices=gone))
