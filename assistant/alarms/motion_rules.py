"""Alarm conditions for motion out of order, and for priming. Pure; reads the picture."""

from __future__ import annotations

from assistant.alarms.inputs import AlarmInputs
from assistant.alarms.water_rules import hot
from assistant.picture.motion import OutOfOrder


def _is(inputs: AlarmInputs, what: OutOfOrder) -> bool:
    return inputs.picture is not None and what in inputs.picture.motion.out_of_order


def opened_on_shut_drains(inputs: AlarmInputs, at: float) -> str | None:
    """The regulator was opened on shut drain cocks: water may be trapped in the cylinder."""
    return "regulator opened with the drain cocks shut" if _is(inputs, "drains shut") else None


def opened_in_gear(inputs: AlarmInputs, at: float) -> str | None:
    """The regulator is open and the gear is in: she drives off."""
    return "regulator opened with the gear in" if _is(inputs, "in gear") else None


def opened_on_people(inputs: AlarmInputs, at: float) -> str | None:
    """The regulator is open and somebody is near."""
    return "regulator opened with somebody near" if _is(inputs, "people near") else None


def opened_without_oil(inputs: AlarmInputs, at: float) -> str | None:
    """The regulator is open and the lubricator was told to stand still while she turned."""
    return "regulator open with the lubricator standing still" if _is(inputs, "no oil") else None


def opened_on_hot_bearing(inputs: AlarmInputs, at: float) -> str | None:
    """The regulator is open and a bearing was told to be hot."""
    return "regulator open with a bearing hot" if _is(inputs, "bearing hot") else None


def shut_on_water(inputs: AlarmInputs, at: float) -> str | None:
    """The drain cocks were shut while water was still called from them."""
    wet = inputs.picture is not None and inputs.picture.motion.shut_on_water
    return "drain cocks shut with water still coming" if wet else None


def priming(inputs: AlarmInputs, at: float) -> str | None:
    """Water goes over with the steam, as it was called, and there is steam to take any: not with
    the fire out and the gauge at rest.
    """
    seen = inputs.picture
    primes = seen is not None and seen.motion.priming and hot(seen) and not inputs.dead_at_rest
    return "priming was called, and not that it has settled" if primes else None
