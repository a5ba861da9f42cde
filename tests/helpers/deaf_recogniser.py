"""A recogniser that hears nothing, and other work for a process of its own.

Beside the tests: another process must be able to import them by name.
"""

from __future__ import annotations

import os

from assistant.recogniser.base import Grammar, NBest, Sound


class Deaf:
    """Hears nothing, at once."""

    name = "deaf"

    def prepare(self, grammar: Grammar) -> None:
        """Nothing to do."""

    def hear(self, sound: Sound, grammar: Grammar) -> NBest:
        """Nothing."""
        return NBest(self.name, ())


def whole(sound: Sound) -> list[Sound]:
    """A detector that takes all of it for one utterance."""
    return [sound]


def cores_left(count: int) -> int:
    """Keep this process to so many cores; how many it may use then."""
    os.sched_setaffinity(0, sorted(os.sched_getaffinity(0))[:count])
    return len(os.sched_getaffinity(0))
