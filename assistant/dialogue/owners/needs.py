"""Owner of `state.asked`: which needs were put, when, and how often without an answer."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from assistant.dialogue.event_context import EventContext
from assistant.dialogue.state import STEP, Asked

OFTEN = 3  # times. Judgement


def _put(context: EventContext, asked: Mapping[str, Asked]) -> None:
    if asked != context.state.asked:
        context.become(replace(context.state, asked=asked))


def put(context: EventContext, name: str, what: str, again: bool = True) -> None:
    """A need was put now: once more where `again`, else for the first time."""
    before = context.state.asked.get(name)
    if before is None or not again:
        asked = Asked(what, context.at, context.at, 1)
    else:
        asked = Asked(what, before.first_at, context.at, before.times + 1)
    _put(context, {**context.state.asked, name: asked})


def answered(context: EventContext, name: str) -> None:
    """A need is answered, or wanted no more."""
    if name in context.state.asked:
        _put(context, {key: a for key, a in context.state.asked.items() if key != name})


def put_off(context: EventContext, name: str) -> None:
    """The patience of a need begins again now."""
    before = context.state.asked.get(name)
    if before is not None:
        _put(context, {**context.state.asked, name: replace(before, last_at=context.at)})


def put_steps_again(context: EventContext) -> None:
    """The steps that are open are put as if for the first time.

    Not one that was put so often that he knows it: that waits its time.
    """
    asked = context.state.asked.items()
    kept = {n: each for n, each in asked if not n.startswith(STEP) or each.times >= OFTEN}
    _put(context, kept)


def begin_anew(context: EventContext) -> None:
    """After a break nothing was asked yet."""
    _put(context, {})
