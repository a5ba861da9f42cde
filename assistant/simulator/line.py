"""What somebody at the practice engine says, and what it means. Knows no boiler."""

from __future__ import annotations

from dataclasses import dataclass

from assistant.grammar import fractions
from assistant.messages import Meaning, Report


@dataclass(frozen=True, slots=True)
class Line:
    """What the operator says, and what it means."""

    words: str
    meaning: Meaning


def level_line(what: str, value: float) -> Line:
    """A level of the glass or the tank as people call it."""
    words = "full" if value == 1.0 else fractions.fraction_words(value)
    if (what, words) == ("tank", "full"):
        words = "is full"  # in steam noise "tank full" is misheard as "tank half"
    return Line(f"{what} {words}", Report(what, value, "glass" if what == "water" else "tank"))


PRIMING = Line("boiler is priming", Report("cure", "priming"))  # as that remedy is called
LEAK = Line("leak in the firebox", Report("emergency", "water in the firebox"))
