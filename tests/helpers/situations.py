"""Four moments in which a word may fall: nothing open, a gauge asked for, yes or no, a danger."""

from __future__ import annotations

from functools import lru_cache

from day_story import Day, taken_over

STANDING = "0:50 drains open\n0:55 damper nearly shut\n1:00 i will watch her"
NAMES = ("nothing open", "pressure asked", "yes or no", "a danger stands")


def situation(name: str, engine: str = "practice") -> Day:
    """A day that has come to this moment."""
    return _situation(name, engine).copied()


@lru_cache(maxsize=16)
def _situation(name: str, engine: str) -> Day:
    """Played once."""
    if name == "pressure asked":
        day = Day(engine, "standing by")
        day.tell("0:05 that's right\n0:10 water half\n0:15 comes back at once")
        assert day.session.expected.kind == "pressure"
        return day
    day = taken_over("standing by", engine)
    day.tell(STANDING)
    if name == "yes or no":
        day.say("end the session")
        assert day.session.expected.kind == "answer"
    elif name == "a danger stands":
        day.say("chimney fire")
        assert day.dangers == {"chimney fire"}
    return day


def situations(engine: str = "practice") -> list[tuple[str, Day]]:
    """All four, each with its name."""
    return [(name, situation(name, engine)) for name in NAMES]
