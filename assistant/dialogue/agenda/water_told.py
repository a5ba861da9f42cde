"""The water was told of in words without a level, or she stands where no level is one: ask at once.

Speaks nothing; knows no alarm.
"""

from __future__ import annotations

from assistant.dialogue.event_context import EventContext
from assistant.wording import engine_words, readback

TOLD, STANDS, BLOW_DOWN = "water told", "stands", "blow-down"
ON_A_SLOPE = frozenset({"nose up", "nose down", "on a slope"})


def words(context: EventContext) -> str:
    """The words in which the level is asked for; empty where none was told of since the last."""
    state = context.state
    level = state.latest("water")
    since = float("-inf") if level is None else level.at
    stood = [str(timed.report.value) for timed in state.reports.of(STANDS)]
    stands, told = state.latest(STANDS), state.latest(TOLD)
    if stands is not None and stands.at > since and stood[-1] in ON_A_SLOPE:
        return engine_words.stand_her_level(nose_down=stood[-1] == "nose down")
    level_again = stands is not None and stands.at > since and not ON_A_SLOPE.isdisjoint(stood)
    told_of = told is not None and told.at > since
    return (
        readback.ask_for("water") if level_again or told_of or _shut_since(context, since) else ""
    )


def _shut_since(context: EventContext, since: float) -> bool:
    """Whether she was blown down, and the blow-down was told shut after the last level."""
    told = context.state.reports.of(BLOW_DOWN)
    opened = len(told) > 1 and told[-2].report.value == "open"
    return opened and told[-1].report.value == "shut" and told[-1].at > since


def now(context: EventContext) -> bool:
    """Whether it was told in this event."""
    just = (TOLD, STANDS, BLOW_DOWN)
    return any(report.what in just for report in context.accepted)
