"""What a remark about damper, grate or a new glass asks for, said once. Speaks nothing."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.dialogue.agenda.need import Need, Rank
from assistant.dialogue.event_context import EventContext
from assistant.dialogue.picture_now import picture_now
from assistant.wording import engine_words

STUCK_DAMPER, DROPPED_BARS, GLASS = "damper fault", "fire bars", "glass"
NEW = "new"
JUST_S = 60.0  # a remark so old still asks for what belongs to it. Judgement


def remarks(context: EventContext) -> Iterator[Need]:
    """The acts that belong to a remark just made."""
    picture = picture_now(context)
    burning = picture.fire.burning or picture.steam.value == "steam"
    if _just_told(context, STUCK_DAMPER):
        yield _need(STUCK_DAMPER, engine_words.damper_stuck(burning))
    if _just_told(context, DROPPED_BARS):
        yield _need(DROPPED_BARS, engine_words.bars_dropped(burning))
    if _just_told(context, GLASS, NEW):
        yield _need(NEW, engine_words.new_glass())


def _need(name: str, words: str) -> Need:
    return Need(f"remark: {name}", Rank.STOP, words=words)


def _just_told(context: EventContext, subject: str, value: str | None = None) -> bool:
    latest = context.state.latest(subject)
    if latest is None or context.elapsed(latest.at, JUST_S):
        return False
    return value is None or latest.report.value == value
