"""The picture: what is known of engine and person now, with its age and its doubt.

Made anew from reports, a few estimates and time; never written to. Knows no alarm, no question
and no word that is said.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from assistant.picture.fall import Fall, fall_of
from assistant.picture.false_gain import gains_too_much, swells
from assistant.picture.feeds import Feeds, feeds_of_engine
from assistant.picture.fire import Fire, fire_of
from assistant.picture.gauge import Gauge, gauge_of
from assistant.picture.given import Given
from assistant.picture.glass import Glass, glass_of
from assistant.picture.heat import DRAUGHT
from assistant.picture.let_out import let_out_until
from assistant.picture.loss import Loss, loss_of
from assistant.picture.motion import Motion, motion_of
from assistant.picture.part import UNKNOWN, Told, told
from assistant.picture.person import Person, person_of
from assistant.picture.slope import sloped_until
from assistant.picture.steam import Steam, steam_of
from assistant.picture.valve import Valve, valve_of
from assistant.picture.water import Water, water_of

FOAMS, LEANS, SWELLS, GAINED = "water foams", "she leans", "water swells", "doubt the glass"
# why a level is none, as it is said


@dataclass(frozen=True, slots=True)
class Picture:
    """One moment. Times in s since the session began, pressures in Pa gauge."""

    at: float
    fire: Fire
    steam: Steam
    water: Water
    gauge: Gauge
    valve: Valve
    feeds: Feeds
    glass: Glass
    motion: Motion
    blower: Told
    damper: Told
    firehole: Told
    person: Person
    agreed: bool
    """Whether gauge and moving valve have agreed today."""
    fall: Fall | None = None
    """How the pressure falls; None while it does not."""
    loss: Loss | None = None
    """A fall of the glass that is no use of steam; None: none is shown."""
    no_level: str = ""
    """Why a level called after a low one is none: it foams, swells, leans or gained too much."""
    compares_from: float = -math.inf
    """Levels called before this are not compared with later ones [s]: she was blown down, or stood
    on a slope."""
    stuck: frozenset[str] = frozenset()
    """Of blower and damper, what was told not to shut, and not told shut since."""

    @property
    def heat_stopped(self) -> bool:
        """Whether the fire is out, or damper and blower were told to be shut."""
        blower_shut = self.blower.value in ("shut", UNKNOWN)
        return self.fire.out or (self.damper.value == "shut" and blower_shut)

    def true_of(self, condition: str) -> bool:
        """Whether a step's `while` holds: a key of `CONDITIONS`; KeyError for another word."""
        return CONDITIONS[condition](self)

    def proves(self, name: str) -> bool:
        """Whether a field that a step may prove is proved: a key of `PROOFS`; KeyError else."""
        return PROOFS[name](self)


CONDITIONS: dict[str, Callable[[Picture], bool]] = {
    "cold": lambda p: p.steam.value == "cold",
    "fire in": lambda p: p.fire.burning,
    "steam": lambda p: p.steam.value == "steam",
    "motion": lambda p: p.steam.value == "steam" and p.motion.may_move,
}
"""The words of a step's `while`."""

PROOFS: dict[str, Callable[[Picture], bool]] = {
    "water seen": lambda p: p.water.known and p.water.value in ("known", "at the mark"),
    "glass proved": lambda p: (
        p.glass.value == "proved hot"
        or (p.glass.value == "proved cold" and p.steam.value != "steam")
    ),
    "gauge moves": lambda p: p.gauge.value == "believed" and p.gauge.moved,
    "valve and gauge agree": lambda p: p.agreed and p.gauge.value != "in conflict",
    "feed proved": lambda p: bool(p.feeds.values("proved today")),
    "feed taken": lambda p: bool(p.feeds.values("taken") or p.feeds.values("proved today")),
    "regulator shut": lambda p: p.motion.regulator.value == "shut",
    "drains open": lambda p: p.motion.drains.value == "open",
    "gear out": lambda p: p.motion.gear.value == "out",
    "brake on": lambda p: p.motion.brake.value == "on and chocked",
    "blower eased": lambda p: p.blower.value == "crack",
    "damper eased": lambda p: p.damper.value in ("crack", "shut"),
}
"""The fields that a step may prove."""


def _no_level(given: Given, motion: Motion) -> str:
    if motion.priming:
        return FOAMS
    if sloped_until(given.reports) > given.at:
        return LEANS
    if swells(given.reports, given.at):
        return SWELLS
    return GAINED if gains_too_much(given) else ""


def _is_stuck(given: Given, part: str) -> bool:
    faults, states = given.reports.of(f"{part} fault"), given.reports.of(part)
    shut_at = states[-1].at if states and states[-1].report.value == "shut" else -math.inf
    return bool(faults) and shut_at < faults[-1].at


def picture_of(given: Given) -> Picture:
    """The picture at one moment."""
    steam, glass = steam_of(given), glass_of(given)
    fire, valve, motion = fire_of(given, steam), valve_of(given), motion_of(given)
    damper = told(given, "damper")
    water = water_of(given, fire, steam, glass)
    return Picture(
        at=given.at,
        fire=fire,
        steam=steam,
        water=water,
        gauge=gauge_of(given, steam),
        valve=valve,
        feeds=feeds_of_engine(given),
        glass=glass,
        motion=motion,
        blower=told(given, "blower"),
        damper=damper,
        firehole=told(given, "firehole"),
        person=person_of(given, steam, water),
        agreed=given.agreed,
        fall=fall_of(given, fire, damper),
        loss=loss_of(given),
        no_level=_no_level(given, motion),
        compares_from=max(let_out_until(given.reports), sloped_until(given.reports)),
        stuck=frozenset(part for part in DRAUGHT if _is_stuck(given, part)),
    )
