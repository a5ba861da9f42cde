"""Owner of `state.clock`: the time, breaks, the end."""

from __future__ import annotations

from dataclasses import replace

from assistant.dialogue.event_context import EventContext
from assistant.dialogue.state import Clock


def _put(context: EventContext, clock: Clock) -> None:
    context.become(replace(context.state, clock=clock))


def begin(context: EventContext, at: float) -> None:
    """The time of the event that is handled."""
    _put(context, replace(context.state.clock, at=at))


def go_on_after_break(context: EventContext, away_s: float) -> None:
    """Time goes on after a break of so many seconds."""
    clock, at = context.state.clock, context.at
    breaks = (*clock.breaks, (at - away_s, at))
    _put(context, replace(clock, resumed_at=at, away_s=away_s, breaks=breaks))


def break_was_told(context: EventContext) -> None:
    """The length of the break need not be told any more."""
    _put(context, replace(context.state.clock, away_s=0.0))


def end(context: EventContext) -> None:
    """The session is over."""
    _put(context, replace(context.state.clock, over=True))
