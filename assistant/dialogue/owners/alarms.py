"""Owner of `state.watch`: the alarms that stand."""

from __future__ import annotations

from dataclasses import replace

from assistant.alarms.watch import Watch
from assistant.dialogue.event_context import EventContext


def stand(context: EventContext, watch: Watch) -> None:
    """The alarms that stand from now on."""
    if watch != context.state.watch:
        context.become(replace(context.state, watch=watch))
