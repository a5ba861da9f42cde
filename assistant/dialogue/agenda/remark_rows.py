"""What a remark about a fitting, the glass or the blow-down asks for, said once. Speaks nothing."""

from __future__ import annotations

from collections.abc import Iterator

from assistant.alarms.water_rules import FULL_GLASS, NEAR_LOWER, UNREAD
from assistant.dialogue.agenda import heat_rows, heat_stop, told_in_words
from assistant.dialogue.agenda.need import Need, Rank
from assistant.dialogue.event_context import EventContext
from assistant.dialogue.picture_now import picture_now
from assistant.picture import let_out
from assistant.picture.feed_names import feeds_of
from assistant.picture.fire import IN
from assistant.procedure.checklist import Phase
from assistant.procedure.scale import options
from assistant.wording import engine_words

STUCK_DAMPER, DROPPED_BARS, GLASS = "damper fault", "fire bars", "glass"
STUCK_BLOWER = "blower fault"
BLOW_THROUGH, BYPASS, FLUID = "blow through", "bypass fault", "fluid"
STUCK_OPEN = "blow down is stuck open"  # the danger that says more
NEW = "new"
FED_BLIND = "feed beside water perhaps gone"
BELT, COAL, USED_UP = "belt", "coal", "used up"
SHUT_NOW, CHIMNEY, CAPPED = "blow-down shut", "chimney", "fire under a cap"
DRAINS = "drains"
EMPTIED = 0.1  # of working pressure; the list has the figure for the emptying itself. Judgement
COOLED_S = 600.0  # of standing, after which a cylinder counts as cold. Judgement
FLUID_S = 600.0  # so long after fluid was thrown on it nothing is done to the fire. Judgement
JUST_S = 60.0  # a remark so old still asks for what belongs to it. Judgement


def remarks(context: EventContext) -> Iterator[Need]:
    """The acts that belong to a remark just made."""
    picture = picture_now(context)
    burning = picture.fire.burning or picture.steam.value == "steam"
    both = len(heat_stop.stuck(context)) > 1 and burning
    if both and (_just_told(context, STUCK_DAMPER) or _just_told(context, STUCK_BLOWER)):
        yield _need(f"{STUCK_DAMPER} and {STUCK_BLOWER}", engine_words.draught_stuck())
    elif _just_told(context, STUCK_DAMPER):
        yield _need(STUCK_DAMPER, engine_words.damper_stuck(burning))
    elif _just_told(context, STUCK_BLOWER):
        yield _need(STUCK_BLOWER, engine_words.blower_stuck(burning))
    if _just_told(context, DROPPED_BARS):
        yield _need(DROPPED_BARS, engine_words.bars_dropped(burning))
    if _just_told(context, GLASS, NEW):
        yield _need(NEW, engine_words.new_glass())
    if _just_told(context, BELT):
        yield _need(BELT, engine_words.belt_off())
    if _just_told(context, COAL, USED_UP) and burning:
        yield _need(COAL, engine_words.no_more_coal())
    if _just_told(context, FLUID):
        yield _need(FLUID, engine_words.no_more_fluid())
    if _just_told(context, BLOW_THROUGH) and not _told_after(context, GLASS, BLOW_THROUGH):
        yield _need(BLOW_THROUGH, engine_words.how_it_returns())
    stuck = context.state.watch.stands(STUCK_OPEN)
    blows = let_out.is_open(context.state.reports)
    if blows and picture.steam.value == "steam" and not stuck:
        if _no_more_may_go(context) or _too_hot_to_empty(context):
            yield _need(SHUT_NOW, engine_words.shut_the_blow_down())
        else:
            yield _need(let_out.SUBJECT, engine_words.blowing_down())
    if told_in_words.water_may_be_gone(context) and picture.feeds.running_since is not None:
        yield _need(FED_BLIND, engine_words.stop_the_feed())
    if _opened_on_an_old_word(context):
        yield _need(DRAINS, engine_words.drains_after_standing())
    if is_capped(context) and picture.fire.value in IN:
        yield _need(CAPPED, engine_words.uncap())
    if _just_told(context, BYPASS) and "pump" in feeds_of(context.config.engine):
        yield _need(BYPASS, engine_words.bypass_jammed())


def _opened_on_an_old_word(context: EventContext) -> bool:
    """Whether the regulator was just opened after standing long, on drain cocks last told shut: the
    cylinder has cooled, and what condensed there stands in it.
    """
    reports = context.state.reports
    told, drains = reports.of("regulator"), context.state.latest(DRAINS)
    if len(told) < 2 or told[-1].report.value != "open" or context.elapsed(told[-1].at, JUST_S):
        return False
    if told[-2].report.value != "shut" or told[-1].at - told[-2].at < COOLED_S:
        return False
    return drains is not None and drains.report.value == "shut" and drains.at < told[-2].at


def is_capped(context: EventContext) -> bool:
    """Whether the chimney was told to be capped, and not open since."""
    return context.state.latest_is(CHIMNEY, "capped")


def keep_the_heat_off(context: EventContext) -> bool:
    """Whether something told of fire, draught or feed wants no more heat, though no alarm does.

    Where a feed has failed, one that was proved must be left that feeds her as she stands.
    """
    if heat_stop.stuck(context) or _bars_are_out(context):
        return True
    fluid = context.state.latest(FLUID)
    if fluid is not None and not context.elapsed(fluid.at, FLUID_S):
        return True
    seen = picture_now(context)
    if not seen.feeds.values("failed"):
        return False
    geared = "geared pump" in options(context.config.engine) and not seen.motion.worked
    ready = (name for name in seen.feeds.values("proved today") if name != "pump" or not geared)
    return next(ready, None) is None


def _bars_are_out(context: EventContext) -> bool:
    """Whether a fire bar was told to have dropped, and no fire was lit on the grate since."""
    dropped = context.state.latest(DROPPED_BARS)
    lit = (t for t in context.state.reports.of("fire") if t.report.value == "lit")
    return dropped is not None and not any(t.at > dropped.at for t in lit)


def out_of_coal(context: EventContext) -> bool:
    """Whether the coal was told to be used up, and none put on since."""
    gone, fire = context.state.latest(COAL), context.state.latest("fire")
    if gone is None or gone.report.value != USED_UP:
        return False
    return fire is None or fire.at <= gone.at or fire.report.value != "coal"


def _too_hot_to_empty(context: EventContext) -> bool:
    """Whether she is put away, and the pressure is above that at which she may be emptied."""
    away = context.state.phase is Phase.PUTTING_AWAY
    return away and heat_rows.has_reached(context, EMPTIED)


def _no_more_may_go(context: EventContext) -> bool:
    """Whether no more water may go: a level near the lower mark, none, or one not to be trusted."""
    water, glass = picture_now(context).water, context.config.engine.glass
    if heat_rows.glass_first(context) or water.level is None or water.value in UNREAD:
        return True
    return water.level <= glass.lower_mark + NEAR_LOWER or water.level >= FULL_GLASS


def _told_after(context: EventContext, subject: str, other: str) -> bool:
    """Whether the one was told of since the other."""
    latest, before = context.state.latest(subject), context.state.latest(other)
    return latest is not None and before is not None and latest.at > before.at


def _need(name: str, words: str) -> Need:
    return Need(f"remark: {name}", Rank.STOP, words=words)


def _just_told(context: EventContext, subject: str, value: str | None = None) -> bool:
    latest = context.state.latest(subject)
    if latest is None or context.elapsed(latest.at, JUST_S):
        return False
    return value is None or latest.report.value == value
