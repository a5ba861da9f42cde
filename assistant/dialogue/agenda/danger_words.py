"""What is said of an alarm as it stands: the act that is left of it, about what is so now. Speaks
nothing.

Once the fire is out the act is no longer to stop the heat; what was told done is not told again.
Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Callable

from assistant.alarms.lifecycle import Alarm
from assistant.alarms.lost_water_rules import lost_by
from assistant.alarms.rule import Rule
from assistant.dialogue.agenda import (
    danger_acts,
    heat_rows,
    heat_stop,
    level_unknown,
    stuck_clack,
    water_forbids,
)
from assistant.dialogue.event_context import EventContext
from assistant.dialogue.picture_now import picture_now
from assistant.dialogue.state import ALARM
from assistant.picture import let_out
from assistant.picture.glass import BROKEN
from assistant.picture.heat import DRAUGHT
from assistant.picture.lost_water import FAILED_AT_LIFT
from assistant.picture.picture import GAINED
from assistant.wording import walkthrough

STOP = "stop the heat"
HEAT_ACTS = frozenset({STOP, "damper shut now"})
FIRE_IS_OUT = level_unknown.NO_HEAT  # said in their place
FALLING, WATER_FIRST = "pressure falling", "water first, no blower"
GLASS_FIRST = "glass first, no blower"
WHERE, BLOW = "where is the water?", "no feed, blow through"
EMPTY, UNKNOWN = "glass stays empty", "level unknown"
GAUGE_WRONG, NO_FIRING = "gauge told wrong", "no firing"  # once damper and blower are shut
FULL_OR_EMPTY = "glass full, empty?"  # shorter beside more than one act
GLASS_FULL, HIGH = "glass full", "pressure above working"
LOW_WATER, WATER_LOW = "low water", "water low"  # the alarm, and its group
NEAR_MARK = "water near the lower mark"
REGULATOR_SHUT, BLOW_IT = "regulator shut", "blow it through"
ENDS_BY_WORD = frozenset(
    {
        "somebody is burned", "someone hurt", "someone is trapped", "driver is ill",
        "fire outside", "chimney fire", "steam escaping",
    }
)  # fmt: skip
HOW_IT_ENDS_AFTER = 3  # times that it was said: then how it is ended. Judgement
STAY_ON = "stay on"  # a wire is touched: in place of an act that sends people off her


def words(context: EventContext, alarm: Alarm) -> str:
    """What is said of an alarm: with the fire out, not that the heat be stopped; no act done."""
    on_a_wire = alarm.name != danger_acts.ON_A_WIRE and context.state.watch.stands(
        danger_acts.ON_A_WIRE
    )
    if on_a_wire and danger_acts.EVERYBODY.search(alarm.rule.act):
        return alarm.rule.with_act(STAY_ON)
    return _OWN.get(alarm.name, _usual)(context, alarm)


def how_it_ends(context: EventContext, alarm: Alarm) -> str:
    """Said once, of a danger that he called, was told often and only his word can end."""
    asked = context.state.asked.get(ALARM + alarm.name)
    often = asked is not None and asked.times == HOW_IT_ENDS_AFTER
    return walkthrough.how_it_ends() if often and alarm.name in ENDS_BY_WORD else ""


def more(context: EventContext, alarm: Alarm) -> str:
    """The further sentence of an alarm; an engine at work is stopped first."""
    text = water_forbids.acts(context, alarm.rule.more)
    text = water_forbids.of_another_feed(context, text)
    steam = danger_acts.NO_STEAM_VALVE in text
    return danger_acts.stopped_first(context, text) if steam else text


def heat_is_over(context: EventContext, rule: Rule) -> bool:
    """Whether it asks for what is done: the fire was told to be out, and nothing speaks for one."""
    return rule.act in HEAT_ACTS and picture_now(context).fire.out


def _usual(context: EventContext, alarm: Alarm) -> str:
    return alarm.rule.with_act(_act_left(context, alarm))


def _act_left(context: EventContext, alarm: Alarm) -> str:
    """The act of an alarm; of stopping the heat what is left of it, once it was begun."""
    if heat_is_over(context, alarm.rule):
        return FIRE_IS_OUT
    if alarm.rule.act != STOP or ALARM + alarm.name not in context.state.asked:
        return alarm.rule.act
    if left := heat_stop.left(context):
        return left if _begun(context) else STOP
    if level_unknown.rises(context):
        return heat_stop.LET_DIE
    worked = alarm.rule.group == WATER_LOW and picture_now(context).motion.worked
    return REGULATOR_SHUT if worked else STOP


def _begun(context: EventContext) -> bool:
    """Whether damper or blower was told last to be shut: then the other is what is wanted."""
    told = [context.state.latest(part) for part in DRAUGHT]
    last = max((t for t in told if t is not None), key=lambda t: t.at, default=None)
    return last is not None and last.report.value == "shut"


# --- those with words of their own


def doubts_the_glass(context: EventContext) -> bool:
    """Whether a level above the mark was called that no feed and no heat explain."""
    seen, mark = picture_now(context), context.config.engine.glass.lower_mark
    level = seen.water.level
    return level is not None and level > mark and seen.no_level == GAINED


def _of_low_water(context: EventContext, alarm: Alarm) -> str:
    """Called higher, and not ended by it: why that is no level, or that it is called again. Never
    that the water is low then.
    """
    seen, mark = picture_now(context), context.config.engine.glass.lower_mark
    if seen.water.level is None or seen.water.level <= mark:
        return _usual(context, alarm)
    if not seen.no_level:
        return alarm.rule.once_more_text
    act = _act_left(context, alarm)
    stopped = ALARM + alarm.name in context.state.asked and not heat_stop.left(context)
    doubted = stopped and act == STOP and doubts_the_glass(context)
    return alarm.rule.with_act(BLOW_IT if doubted else act, seen.no_level)


def _of_a_full_glass(context: EventContext, alarm: Alarm) -> str:
    """A feed that runs, and an engine at work, are stopped first; then it is blown through."""
    seen = picture_now(context)
    acts = ["regulator shut", "drains open"] if seen.motion.worked else []
    acts += ["feed off"] if seen.feeds.running_since is not None else []
    if not acts:
        return _usual(context, alarm)
    return alarm.rule.with_act(", ".join((*acts, alarm.rule.act)), FULL_OR_EMPTY)


def _of_empty(context: EventContext, alarm: Alarm) -> str:
    """A glass that stayed empty: in another state now, or proved, the level is unknown until it is
    called. With the heat stopped it is to be blown through again.
    """
    seen, rule = picture_now(context), alarm.rule
    if seen.glass.emptied_at is None:
        act = WHERE
    elif heat_is_over(context, rule):
        act = FIRE_IS_OUT
    else:
        act = BLOW if seen.heat_stopped else rule.act
    return rule.with_act(act, "" if seen.glass.stays_empty else UNKNOWN)


def _of_water_near_the_mark(context: EventContext, alarm: Alarm) -> str:
    """A blow-down that is open is shut first: it takes more than a feed gives."""
    if let_out.is_open(context.state.reports):
        return alarm.rule.with_act("shut blow-down, then feed")
    return _usual(context, alarm)


def _of_an_unfit_boiler(context: EventContext, alarm: Alarm) -> str:
    failed = lost_by(picture_now(context)) == FAILED_AT_LIFT
    return alarm.rule.with_act(alarm.rule.act, FAILED_AT_LIFT if failed else "")


def _of_a_fall(context: EventContext, alarm: Alarm) -> str:
    """The pressure falls: no more heat before the level is known."""
    if heat_rows.glass_first(context):
        return alarm.rule.with_act(GLASS_FIRST)
    if heat_rows.water_first(context):
        return alarm.rule.with_act(WATER_FIRST)
    return _usual(context, alarm)


def _of_a_high_pressure(context: EventContext, alarm: Alarm) -> str:
    """The draught cannot be shut: what is left is the rest of it, feed, and the fire itself."""
    stuck = heat_stop.stuck(context)
    if not stuck:
        return _usual(context, alarm)
    room = not water_forbids.no_feed(context)
    act = f"{heat_stop.left(context) or heat_stop.LET_DIE}{', feed' if room else ''}"
    return alarm.rule.with_act(act)


def _of_a_wrong_gauge(context: EventContext, alarm: Alarm) -> str:
    return alarm.rule.with_act(alarm.rule.act if heat_stop.left(context) else NO_FIRING)


_OWN: dict[str, Callable[[EventContext, Alarm], str]] = {
    BROKEN: level_unknown.words,
    level_unknown.NAME: level_unknown.words,
    stuck_clack.NAME: stuck_clack.words,
    EMPTY: _of_empty,
    water_forbids.NOT_STEAMED: _of_an_unfit_boiler,
    FALLING: _of_a_fall,
    LOW_WATER: _of_low_water,
    NEAR_MARK: _of_water_near_the_mark,
    GLASS_FULL: _of_a_full_glass,
    GAUGE_WRONG: _of_a_wrong_gauge,
    HIGH: _of_a_high_pressure,
}
