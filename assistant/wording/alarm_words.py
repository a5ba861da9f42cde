"""Alarms in words: grade, thing, state, action, eight words at most. Knows no rule and no engine.

The action itself comes from the rule, and for an engine from its own instructions.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from assistant.messages import Grade
from assistant.wording.forecast_words import minutes_words
from assistant.wording.quantities import sentence, word_count
from assistant.wording.readback import ask_for

ALARM_WORDS = 8  # 3.7 s at 130 words a minute


def alarm(grade: Grade, thing: str, state: str, action: str) -> str:
    """The spoken alarm. Raises ValueError above eight words.

    >>> alarm(Grade.DANGER, "water", "low", "drop the fire")
    'Danger. Water low. Drop the fire.'
    """
    told = f"{sentence(grade.word)} {sentence(f'{thing} {state}')} {sentence(action)}".strip()
    if word_count(told) > ALARM_WORDS:
        raise ValueError(f"{word_count(told)} words, {ALARM_WORDS} at most: {told!r}")
    return told


def unsaid(said: str, acts: Iterable[str]) -> str:
    """The acts that follow an alarm, less the sentences that the alarm itself has just said.

    >>> unsaid("Danger. Water low. Stop the heat.", ["Stop the heat. Damper shut, blower off."])
    'Damper shut, blower off.'
    """
    sentences = re.findall(r"[^.?!]+[.?!]", " ".join(acts))
    told = [one.strip() for one in sentences]
    return " ".join(one for one in told if one not in said)


def overdue(what: str) -> str:
    """A reading that should have come.

    >>> overdue("water")
    'Warning. Water reading overdue. Where is the water?'
    """
    return f"Warning. {what.capitalize()} reading overdue. {ask_for(what)}"


def also(consequences: Sequence[str]) -> str:
    """The held-back consequences of a first cause, when asked for."""
    if not consequences:
        return "Nothing else."
    return "And also: " + ", ".join(consequences) + "."


def cleared(name: str, over: str = "") -> str:
    """Two good readings ended it. over: how that is said, where its name will not do.

    >>> cleared("water out of sight", "water in sight again")
    'Water in sight again.'
    """
    return sentence(over or f"{name} cleared")


def acknowledged(names: Sequence[str]) -> str:
    """The operator has heard; each stands until it is cured.

    >>> acknowledged(["glass broken", "tank empty"])
    'Heard. Glass broken, tank empty still stand.'
    """
    told = ", ".join(names)
    return f"Heard. {sentence(told + (' still stands' if len(names) == 1 else ' still stand'))}"


def shelved(name: str, minutes: float) -> str:
    """Quiet about it for a while, once."""
    return f"{sentence(name)} Quiet for {minutes_words(minutes)}."


def not_shelved(name: str, why: str) -> str:
    """Never the danger class, never twice."""
    return f"{sentence(name + ' stays')} {sentence(why)}"


def shelf_ends(name: str) -> str:
    """The quiet time is over and it still stands."""
    return f"Quiet time over. {sentence(name + ' still stands')}"


def no_alarm() -> str:
    """Nothing stands that could be acknowledged or shelved."""
    return "No alarm stands."
