"""The words of a danger as they fit what else is known: no act against another one. Speaks nothing.

Three rules, all common practice, no source: she is stopped before people are sent away from her;
nobody is told to stay beside a boiler from which everybody is sent away; and once the fire is out
the act is no longer to stop the heat.
"""

from __future__ import annotations

import re
from collections.abc import Callable

from assistant.alarms.lifecycle import Alarm
from assistant.alarms.lost_water_rules import lost_by
from assistant.alarms.rule import Rule
from assistant.dialogue.agenda import (
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
from assistant.picture.lost_water import FAILED_AT_LIFT
from assistant.picture.picture import GAINED
from assistant.procedure.emergency import Emergency

EVERYBODY = re.compile(r"\beverybody (away|back)\b", re.IGNORECASE)
LEAVES_HER = re.compile(r"\b(everybody (away|back)|fresh air)\b", re.IGNORECASE)
SENDS_OFF = re.compile(r"\b(everybody (away|back)|away from|out into)\b", re.IGNORECASE)
ON_A_WIRE, STAY_ON = "touched a power line", "stay on"  # the danger: nobody steps off her
LEAVE_THE_VALVE = "Leave the valve."  # over the lift her own use of steam helps
STOPPED = re.compile(r"\bregulator shut\b", re.IGNORECASE)
STOP_HER = "Stop her gently, regulator shut."
WATCHED, FROM_HER = "Somebody watches the boiler.", "Away from the boiler with them, if it is safe."
NO_STEAM_VALVE, NO_OTHER = "Touch no steam valve.", "Touch no other steam valve."
SHUT_THE_BLOW_DOWN = "Shut the blow-down, if you can reach it."
LETS_NO_WATER_GO = re.compile(r"\b(no feed|water in sight)\b", re.IGNORECASE)
HURT = frozenset({"someone hurt", "somebody is burned", "someone is trapped", "driver is ill"})
COCKS_ACTS = frozenset(
    {"face away", "glove on", "arm before your eyes", "shut both glass cocks", "water cock first"}
)
CONDITION = re.compile(r"\b(only if|if)\b", re.IGNORECASE)  # what is said of an act that is done
STOP = "stop the heat"
HEAT_ACTS = frozenset({STOP, "damper shut now"})
FALLING, WATER_FIRST = "pressure falling", "water first, no blower"
GLASS_FIRST = "glass first, no blower"
WHERE, BLOW = "where is the water?", "no feed, blow through"
EMPTY, UNKNOWN = "glass stays empty", "level unknown"
GAUGE_WRONG, NO_FIRING = "gauge told wrong", "no firing"  # once damper and blower are shut
GLASS_FULL = "glass full"
LOW_WATER, WATER_LOW = "low water", "water low"  # the alarm, and its group
REGULATOR_SHUT, BLOW_IT = "regulator shut", "blow it through"
NOT_STEAMED = "not to be steamed"
FIRE_IS_OUT = level_unknown.NO_HEAT  # said in their place


def acts(context: EventContext, text: str, told: str = "") -> str:
    """The acts of an emergency, as they fit water, regulator and the other dangers that stand.

    told: what was said before them.
    """
    text = heat_stop.acts(context, water_forbids.acts(context, text))
    if context.state.watch.stands(ON_A_WIRE):
        return _staying_on(text)
    moves = picture_now(context).motion.regulator.value == "open"
    leaves_her = LEAVES_HER.search(f"{told} {text}") and LEAVE_THE_VALVE not in text
    if moves and leaves_her and not STOPPED.search(text):
        text = f"{STOP_HER} {text}".replace(NO_STEAM_VALVE, NO_OTHER)
    if context.state.watch.stands(*HURT):  # whose first act is to shut the regulator
        text = text.replace(NO_STEAM_VALVE, NO_OTHER)
    blows = let_out.is_open(context.state.reports) and let_out.SUBJECT not in text
    if blows and LETS_NO_WATER_GO.search(text):
        text = f"{SHUT_THE_BLOW_DOWN} {text}"
    if WATCHED in text and everybody_is_away(context):
        text = text.replace(WATCHED, FROM_HER)
    return text


def _staying_on(text: str) -> str:
    """The acts without those that send anybody off her: she touches a wire."""
    sentences = [each.strip() for each in re.findall(r"[^.?!]+[.?!]", text)]
    return " ".join(each for each in sentences if not SENDS_OFF.search(each))


def next_acts(context: EventContext, text: str) -> str:
    """The same asked for as what comes next: without what was reported done."""
    return without_done(acts(context, text), lambda clause: _is_done(context, clause))


def without_done(text: str, is_done: Callable[[str], bool]) -> str:
    """The sentences without the clauses that are done.

    >>> without_done("Damper shut, blower shut. No firing.", {"damper shut"}.__contains__)
    'Blower shut. No firing.'
    >>> without_done("Damper shut, only if you can reach. Call.", {"damper shut"}.__contains__)
    'Call.'
    """
    kept = []
    for sentence in re.findall(r"[^.?!]+[.?!]*", text):
        said = sentence.strip()
        clauses = said.rstrip(".").split(", ")
        open_ = [clause for clause in clauses if not is_done(clause.lower())]
        if len(open_) == len(clauses):
            kept.append(said)
        elif open_ and not CONDITION.match(open_[0]):
            words = ", ".join(open_)
            kept.append(f"{words[0].upper()}{words[1:]}.")
    return " ".join(kept)


def _is_done(context: EventContext, clause: str) -> bool:
    """Whether that act of an emergency was reported done."""
    seen = picture_now(context)
    if clause in COCKS_ACTS:
        return seen.glass.cocks_shut
    match clause:
        case "damper shut":
            return seen.damper.value == "shut"
        case "blower shut":
            return seen.blower.value == "shut"
        case "regulator shut":
            return seen.motion.regulator.value == "shut"
        case "drain cocks open":
            return seen.motion.drains.value == "open"
        case "stop the heat":
            return seen.fire.out
    return False


def words(context: EventContext, alarm: Alarm) -> str:
    """What is said of an alarm: with the fire out, not that the heat be stopped; no act done."""
    rule = alarm.rule
    on_a_wire = alarm.name != ON_A_WIRE and context.state.watch.stands(ON_A_WIRE)
    if on_a_wire and EVERYBODY.search(rule.act):
        return rule.with_act(STAY_ON)
    if alarm.name in (BROKEN, level_unknown.NAME):
        return level_unknown.words(context, alarm)
    if alarm.name == stuck_clack.NAME:
        return stuck_clack.words(context, alarm)
    if alarm.name == EMPTY:
        return _of_empty(context, rule)
    if alarm.name == NOT_STEAMED and lost_by(picture_now(context)) == FAILED_AT_LIFT:
        return rule.with_act(rule.act, FAILED_AT_LIFT)
    if alarm.name == FALLING and heat_rows.glass_first(context):
        return rule.with_act(GLASS_FIRST)
    if alarm.name == FALLING and heat_rows.water_first(context):
        return rule.with_act(WATER_FIRST)
    if alarm.name == LOW_WATER and _is_higher(context):
        return _of_a_higher_level(context, alarm)
    if heat_is_over(context, rule):
        return rule.with_act(FIRE_IS_OUT)
    if alarm.name == GLASS_FULL and (stopped := _full_acts(context)):
        return rule.with_act(stopped)
    return rule.with_act(_act_left(context, alarm))


def _full_acts(context: EventContext) -> str:
    """What is to be stopped with the glass full; empty: neither a feed nor the engine runs."""
    seen = picture_now(context)
    worked = seen.motion.regulator.value == "open"
    acts = ["regulator shut", "drains open"] if worked else []
    acts += ["feed off"] if seen.feeds.running_since is not None else []
    return ", ".join(acts)


def _is_higher(context: EventContext) -> bool:
    """Whether the level called last is above the lower mark."""
    level = picture_now(context).water.level
    return level is not None and level > context.config.engine.glass.lower_mark


def _of_a_higher_level(context: EventContext, alarm: Alarm) -> str:
    """Low water that a higher level has not ended: why it is no level, or that it is called again.

    Never that the water is low, for it was called higher.
    """
    about = picture_now(context).no_level
    if not about:
        return alarm.rule.once_more_text
    over = heat_is_over(context, alarm.rule)
    return alarm.rule.with_act(FIRE_IS_OUT if over else _act_left(context, alarm), about)


def _act_left(context: EventContext, alarm: Alarm) -> str:
    """The act of an alarm; of stopping the heat what is left of it, once it was begun."""
    act, seen = alarm.rule.act, picture_now(context)
    if alarm.name == GAUGE_WRONG and not heat_stop.left(context):
        return NO_FIRING
    if ALARM + alarm.name not in context.state.asked or act != STOP:
        return act
    left = heat_stop.left(context)
    if left:
        return left if _begun(context) else act
    if level_unknown.rises(context):
        return heat_stop.LET_OUT
    if alarm.rule.group == WATER_LOW and seen.motion.regulator.value == "open":
        return REGULATOR_SHUT
    doubted = alarm.name == LOW_WATER and seen.no_level == GAINED and _is_higher(context)
    return BLOW_IT if doubted else act


def _begun(context: EventContext) -> bool:
    """Whether damper or blower was told last to be shut: then the other is what is wanted."""
    told = [context.state.latest(part) for part in heat_stop.AIR]
    last = max((t for t in told if t is not None), key=lambda t: t.at, default=None)
    return last is not None and last.report.value == "shut"


def more(context: EventContext, alarm: Alarm) -> str:
    """The further sentence of an alarm; an engine at work is stopped first."""
    text = water_forbids.acts(context, alarm.rule.more)
    if NO_STEAM_VALVE in text and picture_now(context).motion.regulator.value == "open":
        return f"{STOP_HER} {text}".replace(NO_STEAM_VALVE, NO_OTHER)
    return text


def _of_empty(context: EventContext, rule: Rule) -> str:
    """A glass that stayed empty: in another state now, or proved, the level is unknown until it is
    called. With the heat stopped it is to be blown through again.
    """
    glass = picture_now(context).glass
    if glass.emptied_at is None:
        act = WHERE
    elif heat_is_over(context, rule):
        act = FIRE_IS_OUT
    else:
        act = BLOW if level_unknown.heat_stopped(context) else rule.act
    return rule.with_act(act, "" if glass.stays_empty else UNKNOWN)


def heat_is_over(context: EventContext, rule: Rule) -> bool:
    """Whether it asks for what is done: the fire was told to be out, and nothing speaks for one."""
    return rule.act in HEAT_ACTS and picture_now(context).fire.out


def everybody_is_away(context: EventContext) -> bool:
    """Whether a danger stands from which everybody is sent away."""
    return any(map(_sends_away, _standing(context)))


def _standing(context: EventContext) -> list[Emergency]:
    """The emergencies whose alarms stand."""
    file = context.config.emergencies
    found = [] if file is None else [file.for_alarm(a.name) for a in context.state.watch.alarms]
    return [emergency for emergency in found if emergency is not None]


def _sends_away(emergency: Emergency) -> bool:
    return bool(EVERYBODY.search(" ".join(emergency.acts)))
