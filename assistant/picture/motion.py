"""Whether she may move: regulator, drains, gear, brake, people. Unknown is not safe. Pure."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from assistant.picture.given import Given
from assistant.picture.part import UNKNOWN, Told, told
from assistant.picture.report_log import ReportLog
from assistant.picture.shut_drains import opened_on_shut_drains

PRIMED = frozenset({("cure", "priming"), ("priming", "still there")})
SETTLED = ("priming", "cured")
CAUGHT = frozenset(
    {"someone hurt", "someone is trapped", "somebody is burned", "child inside the barrier"}
)  # calls of somebody beside her

OutOfOrder = Literal["drains shut", "in gear", "people near", "no oil", "bearing hot"]


@dataclass(frozen=True, slots=True)
class Motion:
    """What moves her and what holds her."""

    regulator: Told
    drains: Told
    gear: Told
    brake: Told
    people: Told
    on_shut_drains: bool
    """Whether the regulator was opened on drain cocks called shut while it was shut."""
    may_move: bool
    """Whether the regulator is open, or not known to be shut."""
    out_of_order: tuple[OutOfOrder, ...] = ()
    """What was told to be against it when the regulator was opened, and is so still."""
    shut_on_water: bool = False
    """Whether the drain cocks were shut while water was still called from them."""
    priming: bool = False
    """Whether priming was called, and that it has settled was not."""
    caught: bool = False
    """Whether somebody was caught or hurt beside her, that was called over, and nobody has told
    since that all are clear."""

    @property
    def worked(self) -> bool:
        """Whether the regulator was last told to be open."""
        return self.regulator.value == "open"

    @property
    def somebody_near(self) -> bool:
        """Whether somebody was told to be near, or was caught and nobody told to be clear since."""
        return self.caught or self.people.value == "near"


def motion_of(given: Given) -> Motion:
    """The motion now."""
    parts = (told(given, name) for name in ("regulator", "drains", "gear", "brake", "people"))
    regulator, drains, gear, brake, people = parts
    caught = given.reports.once("caught", _caught)
    trapped = opened_on_shut_drains(given.reports)
    may_move = regulator.value in ("open", UNKNOWN)
    found: list[OutOfOrder] = ["drains shut"] if trapped else []
    if regulator.value == "open":
        driven = given.reports.once("driven", _driven)
        found += ["in gear"] if gear.value == "in" and not driven else []
        found += ["people near"] if people.value == "near" or caught else []
        found += ["no oil"] if given.reports.once("no oil", _no_oil) else []
        found += ["bearing hot"] if told(given, "bearings").value == "hot" else []
    reports = given.reports
    return Motion(
        regulator,
        drains,
        gear,
        brake,
        people,
        trapped,
        may_move,
        tuple(found),
        regulator.value == "open" and reports.once("shut on water", _shut_on_water),
        reports.once("priming", _priming),
        caught,
    )


def _caught(reports: ReportLog) -> bool:
    called = now = False
    for timed in reports:
        match timed.report.what, timed.report.value:
            case "emergency", "over":
                now = now or called
            case "emergency", name if name in CAUGHT:
                called = True
            case "people", "clear":
                called = now = False
    return now


def _driven(reports: ReportLog) -> bool:
    """Whether she is in gear on purpose: her wheels are freed that were chocked before.

    "Not chocked yet" of an engine that never was frees none.
    """
    chocked = freed = geared = False
    for timed in reports:
        match timed.report.what, timed.report.value:
            case "brake", state:
                freed = state == "not chocked" and (chocked or freed)
                chocked = state == "on and chocked"
            case "gear", state:
                geared = state == "in"
    return freed and geared


def _shut_on_water(reports: ReportLog) -> bool:
    """Drain cocks shut after the cylinder was last called wet, and not opened since."""
    wet = shut = False
    for timed in reports:
        match timed.report.what, timed.report.value:
            case "cylinder", state:
                wet = state == "wet"
                shut = shut and wet
            case "drains", state:
                shut = state == "shut" and wet
    return shut


def _no_oil(reports: ReportLog) -> bool:
    """Whether the lubricator was told to stand still where she may have turned, and not to move
    since: with the regulator shut it stands with her.
    """
    still = shut = False
    for timed in reports:
        match timed.report.what, timed.report.value:
            case "regulator", state:
                shut = state == "shut"
            case "lubricator", state:
                still = state == "stands still" and not shut
    return still


def _priming(reports: ReportLog) -> bool:
    now = False
    for timed in reports:
        report = (timed.report.what, str(timed.report.value))
        now = (now or report in PRIMED) and report != SETTLED
    return now
