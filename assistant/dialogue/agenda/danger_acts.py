"""The acts of an emergency as they fit what else is known: none against another. Speaks nothing.

Three rules, all common practice, no source: she is stopped before people are sent away from her;
nobody is told to stay beside a boiler from which everybody is sent away; and nobody steps off one
that touches a wire.
"""

from __future__ import annotations

import re
from collections.abc import Callable

from assistant.dialogue.agenda import (
    heat_stop,
    water_forbids,
)
from assistant.dialogue.event_context import EventContext
from assistant.dialogue.picture_now import picture_now
from assistant.picture import let_out
from assistant.procedure.emergency import Emergency
from assistant.wording.quantities import sentences

EVERYBODY = re.compile(r"\beverybody (away|back)\b", re.IGNORECASE)
LEAVES_HER = re.compile(r"\b(everybody (away|back)|fresh air)\b", re.IGNORECASE)
SENDS_OFF = re.compile(r"\b(everybody (else )?(away|back)|away from|out into)\b", re.IGNORECASE)
ON_A_WIRE = "touched a power line"  # the danger: nobody steps off her
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


def acts(context: EventContext, text: str, told: str = "") -> str:
    """The acts of an emergency, as they fit water, regulator and the other dangers that stand.

    told: what was said before them.
    """
    text = heat_stop.acts(context, water_forbids.acts(context, text))
    if context.state.watch.stands(ON_A_WIRE):
        return _staying_on(text)
    leaves_her = LEAVES_HER.search(f"{told} {text}") and LEAVE_THE_VALVE not in text
    if leaves_her and not STOPPED.search(text):
        text = stopped_first(context, text)
    if context.state.watch.stands(*HURT):  # whose first act is to shut the regulator
        text = text.replace(NO_STEAM_VALVE, NO_OTHER)
    blows = let_out.is_open(context.state.reports) and let_out.SUBJECT not in text
    if blows and LETS_NO_WATER_GO.search(text):
        text = f"{SHUT_THE_BLOW_DOWN} {text}"
    if WATCHED in text and everybody_is_away(context):
        text = text.replace(WATCHED, FROM_HER)
    return text


def stopped_first(context: EventContext, text: str) -> str:
    """The sentences, behind the act that stops her where she is at work."""
    if not picture_now(context).motion.worked:
        return text
    return f"{STOP_HER} {text}".replace(NO_STEAM_VALVE, NO_OTHER)


def _staying_on(text: str) -> str:
    """The acts without those that send anybody off her: she touches a wire."""
    return " ".join(each for each in sentences(text) if not SENDS_OFF.search(each))


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
