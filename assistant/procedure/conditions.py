"""For which state of the engine a step is meant (`Step.while_`), and when that is over. Pure.

Knows the words of the table below and the order of a list; no reading, no formula, no clock.

| while   | meant for                                | over when                              |
|---------|------------------------------------------|----------------------------------------|
| unlit   | a boiler without a fire                  | a fire burns, or steam                 |
| cold    | a boiler without steam, fire or none     | steam (near boiling is not yet steam)  |
| fire in | a fire that burns, whatever the pressure | fire out                               |
| steam   | a boiler with steam, or about to have it | fire out and cold, both                |
| motion  | an engine that turns                     | stopped, or as steam                   |
| always  | whatever she does                        | never                                  |

A condition is in the set only when it is known to be so: what is unknown ends nothing.
"""

from __future__ import annotations

from dataclasses import replace

from assistant.procedure.checklist import Checklist, Phase, Step

COLD, FIRE_IN, STEAM, MOTION, ALWAYS = "cold", "fire in", "steam", "motion", "always"
UNLIT = "unlit"
WHILE = (UNLIT, COLD, FIRE_IN, STEAM, MOTION, ALWAYS)

FIRE_OUT, STOPPED = "fire out", "stopped"
# What the engine may be known to be. "cold": no steam by two witnesses; "stopped": stands again
# after she turned, not one that never did.
CONDITIONS = frozenset({COLD, FIRE_IN, STEAM, MOTION, FIRE_OUT, STOPPED})

# Fields of the picture that a step may prove. Each is one question, whichever list asks it: the
# glass drained cold proves nothing under steam, so the two have fields of their own.
PROOFS = (
    "water seen", "glass proved cold", "glass proved", "gauge at nothing", "gauge moves",
    "gauge read", "valve moves", "valve and gauge agree", "safety valve free", "feed proved",
    "fire lit", "fire known", "fire dead", "regulator shut", "regulator known", "brake on",
    "gear out", "drains open", "drains shut", "cylinder dry", "people clear", "blow-down shut",
    "papers", "blower eased", "damper eased", "feed taken",
)  # fmt: skip

_OF_PHASE = {
    Phase.PREPARATION: COLD,
    Phase.RAISING_STEAM: STEAM,
    Phase.TICK_OVER: STEAM,
    Phase.PUMPING: STEAM,
    Phase.STANDING_BY: STEAM,
    Phase.PUTTING_AWAY: ALWAYS,
}


def over(while_: str, conditions: frozenset[str]) -> bool:
    """Whether what a step is meant for is known to be over (see the table above).

    >>> over("cold", frozenset({"fire in"})), over("cold", frozenset({"fire in", "steam"}))
    (False, True)
    """
    out = FIRE_OUT in conditions and FIRE_IN not in conditions
    gone = out and COLD in conditions and STEAM not in conditions
    return {
        UNLIT: FIRE_IN in conditions or STEAM in conditions,
        COLD: STEAM in conditions,
        FIRE_IN: out,
        STEAM: gone,
        MOTION: gone or (STOPPED in conditions and MOTION not in conditions),
    }.get(while_, False)


def want_missing(while_: str, conditions: frozenset[str]) -> bool:
    """Whether what a step is meant for is known not to be: no fire, or no steam.

    >>> want_missing("steam", frozenset({"cold", "fire in"})), want_missing("steam", frozenset())
    (True, False)
    """
    no_steam = COLD in conditions and STEAM not in conditions
    no_fire = FIRE_OUT in conditions and FIRE_IN not in conditions
    return {STEAM: no_steam, MOTION: no_steam, FIRE_IN: no_fire}.get(while_, False)


def with_conditions(checklist: Checklist) -> Checklist:
    """The list with its phase's condition on every step that names none; a cure's is "always".

    Firing begins before the match: up to the first step about the fire "cold", after it "fire in".
    """
    if all(step.while_ for step in checklist.steps):
        return checklist
    firing = checklist.phase is Phase.FIRING
    match = next((i for i, s in enumerate(checklist.steps) if s.asks == "fire"), None)
    steps = []
    for place, step in enumerate(checklist.steps):
        usual = ALWAYS if checklist.phase is None else _OF_PHASE.get(checklist.phase, COLD)
        if firing and match is not None and place > match:
            usual = FIRE_IN
        steps.append(step if step.while_ else replace(step, while_=usual))
    return replace(checklist, steps=tuple(steps))


def wants_warm_form(step: Step) -> bool:
    """Whether the step guards something and may lapse with steam in her.

    One that is meant for steam lapses only without steam and fire, where nothing is left to guard.
    """
    return step.killer and step.while_ in (UNLIT, COLD, FIRE_IN, MOTION)
