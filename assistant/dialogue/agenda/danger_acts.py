"""The words of a danger as they fit what else is known: no act against another one. Speaks nothing.

Three rules, all common practice, no source: she is stopped before people are sent away from her;
nobody is told to stay beside a boiler from which everybody is sent away; and once the fire is out
the act is no longer to stop the heat.
"""

from __future__ import annotations

import re

from assistant.alarms.lifecycle import Alarm
from assistant.alarms.rule import Rule
from assistant.dialogue.agenda import water_forbids
from assistant.dialogue.event_context import EventContext
from assistant.dialogue.picture_now import picture_now
from assistant.procedure.emergency import Emergency

EVERYBODY = re.compile(r"\beverybody (away|back)\b", re.IGNORECASE)
LEAVE_THE_VALVE = "Leave the valve."  # over the lift her own use of steam helps
STOPPED = re.compile(r"\bregulator shut\b", re.IGNORECASE)
STOP_HER = "Stop her gently, regulator shut."
WATCHED, FROM_HER = "Somebody watches the boiler.", "Away from the boiler with them, if it is safe."
NO_STEAM_VALVE, NO_OTHER = "Touch no steam valve.", "Touch no other steam valve."
HURT = frozenset({"someone hurt", "somebody is burned", "someone is trapped", "driver is ill"})
HEAT_ACTS = frozenset({"stop the heat", "damper shut now"})
FIRE_IS_OUT = "no heat, keep away"  # said in their place


def acts(context: EventContext, text: str) -> str:
    """The acts of an emergency, as they fit water, regulator and the other dangers that stand."""
    text = water_forbids.acts(context, text)
    moves = picture_now(context).motion.regulator.value == "open"
    leaves_her = EVERYBODY.search(text) and LEAVE_THE_VALVE not in text
    if moves and leaves_her and not STOPPED.search(text):
        text = f"{STOP_HER} {text}".replace(NO_STEAM_VALVE, NO_OTHER)
    if context.state.watch.stands(*HURT):  # whose first act is to shut the regulator
        text = text.replace(NO_STEAM_VALVE, NO_OTHER)
    if WATCHED in text and any(map(_sends_away, _standing(context))):
        text = text.replace(WATCHED, FROM_HER)
    return text


def words(context: EventContext, alarm: Alarm) -> str:
    """What is said of an alarm: with the fire out, not that the heat be stopped."""
    rule = alarm.rule
    return rule.with_act(FIRE_IS_OUT) if heat_is_over(context, rule) else rule.text


def heat_is_over(context: EventContext, rule: Rule) -> bool:
    """Whether it asks for what is done: the fire was told to be out, and nothing speaks for one."""
    return rule.act in HEAT_ACTS and picture_now(context).fire.out


def _standing(context: EventContext) -> list[Emergency]:
    """The emergencies whose alarms stand."""
    file = context.config.emergencies
    found = [] if file is None else [file.for_alarm(a.name) for a in context.state.watch.alarms]
    return [emergency for emergency in found if emergency is not None]


def _sends_away(emergency: Emergency) -> bool:
    return bool(EVERYBODY.search(" ".join(emergency.acts)))
