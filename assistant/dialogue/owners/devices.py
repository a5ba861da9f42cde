"""Owner of `state.lost_devices`. Noise above the voice is a loss of hearing, not of a device."""

from __future__ import annotations

from dataclasses import replace

from assistant.dialogue.event_context import EventContext

MICROPHONE, HEARING = "microphone", "hearing"


def lost(context: EventContext, device: str) -> None:
    """A device does not work."""
    gone = context.state.lost_devices | {device}
    context.become(replace(context.state, lost_devices=gone))


def back(context: EventContext, device: str) -> None:
    """A device works again; with the microphone the hearing comes back."""
    works = {device, HEARING} if device == MICROPHONE else {device}
    gone = context.state.lost_devices - works
    context.become(replace(context.state, lost_devices=gone))


def only_noise(context: EventContext, device: str) -> bool:
    """Whether the microphone worked all the time, and the noise alone was too loud."""
    lost_now = context.state.lost_devices
    return device == MICROPHONE and HEARING in lost_now and MICROPHONE not in lost_now
