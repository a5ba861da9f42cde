"""By what the water moves: as believed, mended by what the last two calls show. Says nothing."""

from __future__ import annotations

from assistant.dialogue.event_context import EventContext
from assistant.dialogue.picture_now import level_change, picture_now
from assistant.picture.readings import Reading, waters

SWOLLEN = 0.2  # of the glass: a smaller rise as steam is drawn is not spoken of. Judgement
BEYOND = 0.06  # of the glass, half an eighth: so much over expansion is the feed. Judgement


def cause_of(context: EventContext, believed: str) -> str:
    """The cause; with a feed on, what has risen beyond what heat did between two calls is fed."""
    two = _last_two(context)
    if believed != "expansion" or picture_now(context).feeds.running_since is None or two is None:
        return believed
    before, last = two
    risen = (last.value or 0.0) - (before.value or 0.0)
    return "feed" if risen - level_change(context, before.at, last.at) >= BEYOND else believed


def is_swollen(context: EventContext) -> bool:
    """Whether the level called last stands far up, unfed, and steam was first drawn just before."""
    two = _last_two(context)
    if two is None or picture_now(context).feeds.running_since is not None:
        return False
    before, last = two
    opened = (t for t in context.state.reports.of("regulator") if t.report.value == "open")
    drawn = any(before.at < told.at <= last.at for told in opened)
    return drawn and (last.value or 0.0) - (before.value or 0.0) >= SWOLLEN


def _last_two(context: EventContext) -> tuple[Reading, Reading] | None:
    """The last two calls of the glass, where both are levels."""
    *_, before, last = (None, None, *waters(context.state.reports, context.config.engine))
    if before is None or last is None or before.value is None or last.value is None:
        return None
    return before, last
