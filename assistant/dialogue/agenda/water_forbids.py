"""What the state of the water forbids to ask for, and what has become of its troubles. Speaks
nothing.

Level unknown or lost, no water to feed, or a clack stuck open: no feed. Not to be steamed: no list
but putting away.
"""

from __future__ import annotations

import re

from assistant.alarms.inputs import AlarmInputs
from assistant.alarms.lifecycle import Alarm
from assistant.alarms.lost_water_rules import fed_unseen
from assistant.alarms.water_rules import UNREAD
from assistant.dialogue.agenda import stuck_clack, told_in_words
from assistant.dialogue.agenda.need import Need, Rank
from assistant.dialogue.event_context import EventContext
from assistant.dialogue.picture_now import picture_now
from assistant.messages import Report
from assistant.procedure.checklist import Phase, Step
from assistant.wording.quantities import sentences

FEEDS = frozenset(
    {("feed", "on"), ("bypass", "shut"), ("injector", "works"), ("hand pump", "works")}
)  # answers of steps that put a feed on
TRIES = frozenset({("injector", "works"), ("hand pump", "works")})
FEED_CURES = frozenset({"pump trouble", "injector trouble"})  # what their checks ask
FEED_WORDS = re.compile(r"\b(feed|bring the water)\b", re.IGNORECASE)
FORBIDS = re.compile(r"\b(no|stop)\b", re.IGNORECASE)
OTHER_FEED = re.compile(r"\bother feed\b", re.IGNORECASE)
COLD = (Phase.PREPARATION, Phase.FIRING)  # where a cold boiler is filled
NO_FEED = "no feed"
TANK_EMPTY, LOW_WATER = "tank empty", "low water"  # alarms
UPPER = frozenset({"water near the upper mark", "glass full"})  # alarms that stop the feed
NOT_STEAMED = "not to be steamed"
WEEPING = "firebox weeping"
LEAKING = "boiler leaking"
UNFIT = frozenset({NOT_STEAMED, WEEPING, LEAKING})  # alarms of a boiler that must not be steamed
DOUBTED = "water doubted"  # its act is to blow the glass through


def no_feed(context: EventContext) -> bool:
    """Whether no feed may be asked for: level unknown and fired today, water lost, tank empty, or a
    clack stuck open; or no water in sight was heard, and is being asked about.
    """
    if context.state.watch.stands(TANK_EMPTY, stuck_clack.NAME):
        return True
    if level_unknown(context) or told_in_words.stands_nose_down(context):
        return True
    return told_in_words.asks_whether_water_is_gone(context)


def level_unknown(context: EventContext) -> bool:
    """Whether the level of a boiler fired today is unknown, or was lost."""
    seen = picture_now(context)
    unknown = not seen.water.readable or seen.water.value in UNREAD
    hot = seen.fire.heat or seen.steam.value == "steam" or context.state.phase not in COLD
    unknown = unknown and hot
    return unknown or seen.water.not_to_be_fed_since is not None


def near_the_top(context: EventContext) -> bool:
    """Whether an alarm stands that stops the feed: no feed, and no gain of one, is spoken of."""
    return context.state.watch.stands(*UPPER)


def feed_enough(context: EventContext) -> bool:
    """Whether no feed is asked for to bring the pressure down: one runs, there is no room, or none
    may be asked for.
    """
    if no_feed(context):
        return True
    return picture_now(context).feeds.running_since is not None or near_the_top(context)


def allowed(context: EventContext, needs: list[Need]) -> list[Need]:
    """The needs without those that put a feed on, or steam her, while that must not be."""
    if near_the_top(context):
        needs = [need for need in needs if need.step is None or not tries_feed(need.step)]
    if not no_feed(context) and picture_now(context).water.lost is None:
        return needs
    forbidden = no_feed(context)
    lost = picture_now(context).water.not_to_be_steamed_since is not None
    away, clack = context.state.phase is Phase.PUTTING_AWAY, stuck_clack.stands(context)
    return [
        need
        for need in needs
        if need.step is None
        or not (
            (forbidden and _puts_feed_on(need.step))
            or (clack and need.step.asks in FEED_CURES)
            or (lost and not away and need.rank is not Rank.REMEDY)
        )
    ]


def forbids(context: EventContext, step: Step) -> bool:
    """Whether the step puts a feed on, and none may be asked for."""
    return (_puts_feed_on(step) and no_feed(context)) or (
        tries_feed(step) and near_the_top(context)
    )


def tries_feed(step: Step) -> bool:
    """Whether the step tries a feed: it waits until there is room for one."""
    return bool(step.replies) and (step.asks, step.replies[0].state) in TRIES


def _puts_feed_on(step: Step) -> bool:
    return bool(step.replies) and (step.asks, step.replies[0].state) in FEEDS


def words(context: EventContext, say: str) -> str:
    """The words of a step, without the sentence that asks for feed where none may be asked for, or
    where low water is a danger: whether to feed then is in the engine's own instructions.
    """
    low = context.state.watch.stands(LOW_WATER) and context.state.phase is not Phase.PUMPING
    return without_feed(say) if low or no_feed(context) else say


def reply(context: EventContext, text: str) -> str:
    """The reply to an answer; empty where it asks for feed and none may be asked for."""
    return "" if _asks_feed(text) and no_feed(context) else text


def acts(context: EventContext, text: str) -> str:
    """The acts of an emergency, without one that puts feed on where none may be asked for.

    What says "no feed" stays.
    """
    if not no_feed(context):
        return text
    kept = [each for each in sentences(text) if not _asks_feed(each)]
    return " ".join(kept)


def of_another_feed(context: EventContext, text: str) -> str:
    """The same without the sentence that sends to another feed, where every one has failed."""
    feeds = picture_now(context).feeds.by_name.values()
    if any(feed.value != "failed" for feed in feeds):
        return text
    return " ".join(each for each in sentences(text) if not OTHER_FEED.search(each))


def opposed(context: EventContext, report: Report) -> bool:
    """Whether a feed was just put on that must not be: that is said in place of a read-back."""
    if report not in stuck_clack.FED:
        return False
    look = AlarmInputs(context.config.engine, picture=picture_now(context))
    return stuck_clack.stands(context) or fed_unseen(look, context.at) is not None


def _asks_feed(sentence: str) -> bool:
    return bool(FEED_WORDS.search(sentence)) and not FORBIDS.search(sentence)


def without_feed(say: str) -> str:
    """The sentences that do not speak of feed; all of them where every one does.

    >>> without_feed("Feed to the upper mark. Where is the water?")
    'Where is the water?'
    """
    return " ".join(text for text in sentences(say) if not FEED_WORDS.search(text)) or say


def is_done(context: EventContext, alarm: Alarm) -> bool:
    """Whether what an alarm wants is being done: she is being put away."""
    new = alarm.name in (WEEPING, LEAKING) and alarm.raised_at >= context.at
    return alarm.name in UNFIT and context.state.phase is Phase.PUTTING_AWAY and not new


def acts_count_from(alarm: Alarm) -> float:
    """From when acts that were reported count for it [s]: a damper shut before is shut."""
    return float("-inf") if alarm.rule.group == NO_FEED else alarm.raised_at
