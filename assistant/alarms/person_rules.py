"""Alarm conditions for the person: nobody answers, or nobody watches her, with steam up. Pure."""

from __future__ import annotations

import math

from assistant.alarms.inputs import AlarmInputs
from assistant.alarms.water_rules import hot


def nobody_answers(inputs: AlarmInputs, at: float) -> str | None:
    """With steam up nothing was understood for two intervals of the water, though it would be."""
    if at <= answer_awaited_until(inputs) or inputs.picture is None:
        return None
    return f"nothing heard for {inputs.picture.person.age_s / 60:.0f} minutes"


def answer_awaited_until(inputs: AlarmInputs) -> float:
    """When his silence becomes too long if it goes on [s]."""
    away_at = None if inputs.picture is None else inputs.picture.person.away_at
    return math.inf if away_at is None else away_at


def answers(inputs: AlarmInputs, at: float) -> bool:
    return nobody_answers(inputs, at) is None


def nobody_watches(inputs: AlarmInputs, at: float) -> str | None:
    """It was told that nobody watches her, with a fire in or steam up."""
    seen = inputs.picture
    if seen is None or seen.person.unwatched_since is None or not hot(seen):
        return None
    if seen.fire.out and inputs.gauge_at_rest:
        return None
    return "watch not kept"
