"""By what the water moves: as believed, mended by what the last two calls show. Says nothing."""

from __future__ import annotations

from assistant.dialogue.event_context import EventContext
from assistant.dialogue.picture_now import level_change, picture_now
from assistant.picture.readings import waters

BEYOND = 0.06  # of the glass, half an eighth: so much over expansion is the feed. Judgement


def cause_of(context: EventContext, believed: str) -> str:
    """The cause; with a feed on, what has risen beyond what heat did between two calls is fed."""
    if believed != "expansion" or picture_now(context).feeds.running_since is None:
        return believed
    *_, before, last = (None, None, *waters(context.state.reports, context.config.engine))
    if before is None or last is None or before.value is None or last.value is None:
        return believed
    risen = last.value - before.value - level_change(context, before.at, last.at)
    return "feed" if risen >= BEYOND else believed
