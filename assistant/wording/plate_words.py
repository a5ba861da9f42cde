"""The engine and her figures, said at the start, so that a file of another engine is noticed."""

from __future__ import annotations

from assistant.wording.quantities import dial_rounded, level_words, quantity_words, sentence

QUESTION = "Is that her plate?"


def plate_question(
    name: str,
    allowed: float | None,
    wanted: float,
    lifts: float,
    marks: tuple[float, float],
    unit: str,
) -> str:
    """The engine, what is allowed, her marks, and the question; pressures in the dial's unit.

    Where the engine file gives no allowed pressure, what is wanted and where the valve lifts.

    >>> plate_question("Test engine", 120.0, 110.0, 120.0, (0.25, 0.75), "psi")[:53]
    'Test engine. Allowed a hundred and twenty pounds. Low'
    >>> plate_question("Test engine", None, 8.27, 10.0, (0.25, 0.75), "bar")[13:71]
    'Wanted pressure eight point three bar. Valve lifts at ten '
    """
    pressures = (
        [f"wanted pressure {_pressure(wanted, unit)}", f"valve lifts at {_pressure(lifts, unit)}"]
        if allowed is None
        else [f"allowed {_pressure(allowed, unit)}"]
    )
    lower, upper = (level_words(mark, "glass") for mark in marks)
    figures = (name, *pressures, f"lower mark {lower}, upper {upper}")
    return " ".join((*(sentence(part) for part in figures), QUESTION))


def _pressure(value: float, unit: str) -> str:
    return quantity_words(dial_rounded(value, unit), unit)


def plate_wrong() -> str:
    """The file is not this engine's; the session goes on until the operator ends it."""
    return "Then stop. Give me the right engine file."


def plate_open() -> str:
    """It was not answered; said where a phase ends."""
    return "Still open: plate right, or plate wrong?"


def plate_why() -> str:
    """Why it is asked."""
    return "Every limit and mark comes from the engine file. Another engine's would mislead us."
