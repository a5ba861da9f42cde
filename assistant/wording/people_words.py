"""What is said to and of people: who has the watch, how she is handed over, banked for the night.

Knows no name of its own and no decision.
"""

from __future__ import annotations

from collections.abc import Iterable

from assistant.grammar.numbers import number_words
from assistant.wording.quantities import sentence


def who_has_the_watch() -> str:
    """The watch was handed over, and to whom was not said."""
    return "Who has the watch? Say the name."


def who_stays() -> str:
    """She is banked for the night, and somebody is to be with her."""
    return "Who stays with her? Say the name."


def somebody_must() -> str:
    """A name was asked for, and nobody was named."""
    return "Somebody must be with her, or no fire left in. Say a name."


def handed_over(
    phase: str,
    pressure: str,
    water: str,
    opened: Iterable[str],
    standing: Iterable[str],
    wrong: Iterable[str] = (),
) -> str:
    """How she stands, for the person who takes the watch. wrong: defects told of.

    >>> handed_over("standing by", "pressure sixty, two minutes ago", "", ["damper half"], [])
    'Standing by. Pressure sixty, two minutes ago. Water not called. Open: damper half. No alarm.'
    >>> handed_over("standing by", "pressure sixty", "water half", [], [], ["blower is stuck"])
    'Standing by. Pressure sixty. Water half. Nothing told open. Blower is stuck. No alarm.'
    """
    fittings, alarms = ", ".join(opened), ", ".join(standing)
    defects = ", ".join(wrong)
    parts = (
        phase,
        pressure or "pressure not called",
        water or "water not called",
        f"open: {fittings}" if fittings else "nothing told open",
        defects,
        f"stands: {alarms}" if alarms else "no alarm",
    )
    return " ".join(sentence(part) for part in parts if part)


def not_banked_with(acts: list[str]) -> str:
    """What is to be shut before she is left for the night.

    >>> not_banked_with(["damper shut", "feed off"])
    'Not yet: damper shut, feed off.'
    """
    return f"Not yet: {', '.join(acts)}."


def not_banked_in_danger(danger: str) -> str:
    """Nobody goes home while a danger stands.

    >>> not_banked_in_danger("low water")
    'Not with a danger standing: low water.'
    """
    return f"Not with a danger standing: {danger}."


def banked(pressure: str, water: str, who: str, wrong: Iterable[str] = ()) -> str:
    """The last words of a day that ends with a banked fire. wrong: defects told of, and warnings.

    >>> banked("pressure forty", "water half", "Ann")
    'Banked for the night. Pressure forty, water half. Ann stays. Never leave her alone.'
    """
    stays = f"{who} stays" if who else "the one you named stays"
    return " ".join(
        (
            "Banked for the night.",
            sentence(f"{pressure}, {water}"),
            *map(sentence, wrong),
            sentence(stays),
            "Never leave her alone.",
        )
    )


def banked_before(hours: float, pressure: str, water: str, who: str) -> str:
    """At the next start: she was left with a banked fire, and is taken over warm.

    >>> banked_before(9.2, "pressure forty", "water half", "Ann")
    'Banked nine hours ago. Pressure forty, water half. Ann stayed. That is old: look again.'
    """
    whole = round(hours)
    ago = "less than an hour" if whole < 1 else f"{number_words(whole)} hour"
    ago += "s" if whole > 1 else ""
    stayed = sentence(f"{who} stayed") if who else ""
    pieces = (
        f"Banked {ago} ago.", sentence(", ".join(filter(None, (pressure, water)))), stayed,
        "That is old: look again.",
    )  # fmt: skip
    return " ".join(filter(None, pieces))
