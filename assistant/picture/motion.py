"""Whether she may move: regulator, drains, gear, brake, people. Unknown is not safe. Pure."""

from __future__ import annotations

from dataclasses import dataclass

from assistant.picture.given import Given
from assistant.picture.part import UNKNOWN, Told, told
from assistant.picture.shut_drains import opened_on_shut_drains


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


def motion_of(given: Given) -> Motion:
    """The motion now."""
    parts = (told(given, name) for name in ("regulator", "drains", "gear", "brake", "people"))
    regulator, drains, gear, brake, people = parts
    trapped = opened_on_shut_drains(given.reports)
    may_move = regulator.value in ("open", UNKNOWN)
    return Motion(regulator, drains, gear, brake, people, trapped, may_move)
