"""Microphones and speakers, and which of them a name means. Knows no sound library."""

from __future__ import annotations

import difflib
from dataclasses import dataclass
from typing import Literal

from assistant.errors import InputWrongError, WorldFailedError

Direction = Literal["microphone", "speaker"]


@dataclass(frozen=True, slots=True)
class Device:
    """A microphone or a speaker as the card lists it."""

    index: int  # its number in the listing
    name: str
    through: str  # the host API it is reached through, e.g. ALSA
    inputs: int  # channels
    outputs: int  # channels
    rate_hz: int  # its default rate
    default: bool

    def fits(self, direction: Direction) -> bool:
        """Whether it can be used in that direction."""
        return (self.inputs if direction == "microphone" else self.outputs) > 0


def choose(name: str | None, among: tuple[Device, ...], direction: Direction) -> Device:
    """The device meant by `name`: its number, its whole name, or a part of it that only one has.

    None: the card's default one. InputWrongError when no or more than one device has that name,
    WorldFailedError when there is no device of that direction at all.
    """
    fitting = [device for device in among if device.fits(direction)]
    if not fitting:
        raise WorldFailedError(f"there is no {direction} on this machine")
    if name is None:
        return next((device for device in fitting if device.default), fitting[0])
    if name.isdecimal():
        matching = [device for device in fitting if device.index == int(name)]
    else:
        matching = [device for device in fitting if device.name == name]
        matching = matching or [device for device in fitting if name.lower() in device.name.lower()]
    if len(matching) == 1:
        return matching[0]
    if matching:
        each = ", ".join(f"{device.index}: {device.name} ({device.through})" for device in matching)
        raise InputWrongError(
            f"{len(matching)} {direction}s are named {name!r}; choose one by its number: {each}"
        )
    raise InputWrongError(f"there is no {direction} {name!r}; {_hint(name, fitting)}")


def _hint(name: str, fitting: list[Device]) -> str:
    names = [device.name for device in fitting]
    near = difflib.get_close_matches(name, names, n=1, cutoff=0.5)
    if near:
        return f"did you mean {near[0]!r}?"
    return "there are " + ", ".join(f"{device.index}: {device.name}" for device in fitting)
