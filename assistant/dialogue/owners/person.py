"""Owner of `state.person`: who is named, who was last understood when, the quiet asked for."""

from __future__ import annotations

from dataclasses import replace

from assistant.dialogue.event_context import EventContext
from assistant.dialogue.state import Person


def _put(context: EventContext, person: Person) -> None:
    if person != context.state.person:
        context.become(replace(context.state, person=person))


def heard(context: EventContext) -> None:
    """The operator was understood now."""
    _put(context, replace(context.state.person, heard_at=context.at))


def quiet_until(context: EventContext, until: float) -> None:
    """The end of the quiet asked for [s]; 0 for none."""
    _put(context, replace(context.state.person, quiet_until=until))


def named(context: EventContext, names: tuple[str, ...]) -> None:
    """The names given at the start."""
    _put(context, replace(context.state.person, named=names))
