"""Alarm conditions for the person: nobody answers with steam up. Pure."""

from __future__ import annotations

import math

from assistant.alarms.inputs import AlarmInputs


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
