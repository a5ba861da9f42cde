"""Motion and draught: unknown is not safe."""

from __future__ import annotations

import pytest
from picture_story import picture, psi

from assistant.messages import Report

LONG = ((120.0, 1200.0),)


def test_never_told_of_each_is_unknown() -> None:
    told = picture((0, psi(0)))
    motion = told.motion
    parts = (motion.regulator, motion.drains, motion.gear, motion.brake, motion.people)
    draught = (told.blower, told.damper, told.firehole)
    assert {part.value for part in (*parts, *draught)} == {"unknown"}
    assert {part.age_s for part in parts} == {None}
    assert motion.may_move


@pytest.mark.parametrize(
    ("subject", "state", "proof"),
    [
        ("regulator", "shut", "regulator shut"),
        ("drains", "open", "drains open"),
        ("gear", "out", "gear out"),
        ("brake", "on and chocked", "brake on"),
    ],
)
def test_a_state_told_proves_its_field_until_a_long_break(
    subject: str, state: str, proof: str
) -> None:
    told = (1, Report(subject, state))
    assert not picture((1, psi(0))).proves(proof)
    assert picture(told, minute=3).proves(proof)
    assert picture(told, minute=25, breaks=((120.0, 1000.0),)).proves(proof), "a short break"
    assert not picture(told, minute=25, breaks=LONG).proves(proof)
    assert not picture(told, (2, Report(subject, "not so"))).proves(proof)


def test_a_draught_state_with_age_and_beginning() -> None:
    blower = picture((1, Report("blower", "half")), (5, Report("blower", "half")), minute=6).blower
    assert (blower.value, blower.since, blower.age_s) == ("half", 60.0, 60.0)
    assert blower.witnesses == ("blower half, 1 min ago",)
    assert picture((1, Report("damper", "shut")), minute=30, breaks=LONG).damper.value == "unknown"


def test_the_regulator_opened_on_shut_drains() -> None:
    shut = ((0, Report("regulator", "shut")), (1, Report("drains", "shut")))
    assert picture(*shut, (2, Report("regulator", "open"))).motion.on_shut_drains
    assert not picture(*shut).motion.on_shut_drains


CHOCKED, FREED = Report("brake", "on and chocked"), Report("brake", "not chocked")
IN, OUT = Report("gear", "in"), Report("gear", "out")
SHUT, OPEN = Report("regulator", "shut"), Report("regulator", "open")


@pytest.mark.parametrize(
    ("reports", "in_order"),
    [
        ((CHOCKED, FREED, IN, OPEN), True),
        ((CHOCKED, IN, FREED, FREED, OPEN, SHUT, OPEN), True),
        ((CHOCKED, IN, OPEN), False),
        ((FREED, IN, OPEN), False),  # "not chocked yet": nobody has freed her
        ((CHOCKED, FREED, IN, OPEN, CHOCKED), False),
        ((CHOCKED, FREED, OPEN, IN), True),
        ((CHOCKED, FREED, OUT, OPEN), True),
    ],
)
def test_in_gear_with_her_wheels_freed_she_is_driven(
    reports: tuple[Report, ...], in_order: bool
) -> None:
    motion = picture(*enumerate(reports)).motion
    assert ("in gear" not in motion.out_of_order) == in_order
