"""The life of an alarm in words: cleared, acknowledged, shelved. Knows no rule and no engine.

How an alarm itself is worded stands in its rule.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from assistant.wording.forecast_words import minutes_words
from assistant.wording.quantities import sentence, sentences

# The names of some rows, as a driver would call them.
PLAIN = {
    "forecast far from plan": "steam not when planned",
    "glass stays empty": "empty glass",
    "feed after lost water": "feed with the level unknown",
    "fire after lost water": "fire after the water was lost",
    "heat in an unfit boiler": "fire in a boiler not to be steamed",
    "fire after a failure": "fire before she is looked at",
    "pressure above working": "pressure above the wanted one",
}


def plain(name: str) -> str:
    """An alarm by its name, as a driver would call it.

    >>> plain("forecast far from plan"), plain("tank empty")
    ('steam not when planned', 'tank empty')
    """
    return PLAIN.get(name, name)


def unsaid(alarm_text: str, acts: Iterable[str]) -> str:
    """The acts that follow an alarm, without the sentences that the alarm itself has just said.

    >>> unsaid("Danger. Water low. Stop the heat.", ["Stop the heat. Damper shut, blower shut."])
    'Damper shut, blower shut.'
    """
    return " ".join(text for text in sentences(" ".join(acts)) if text not in alarm_text)


def cleared(name: str, over: str = "") -> str:
    """Two good readings ended it. over: how that is said, where the name does not fit.

    >>> cleared("water out of sight", "water shows. Not safe yet: prove the glass")
    'Water shows. Not safe yet: prove the glass.'
    """
    return sentence(over or f"{name} cleared")


def acknowledged(names: Sequence[str]) -> str:
    """The operator has heard; each alarm stands until its cause is gone.

    >>> acknowledged(["glass broken", "tank empty"])
    'Heard. Glass broken, tank empty still stand.'
    """
    listed = ", ".join(map(plain, names))
    return f"Heard. {sentence(listed + (' still stands' if len(names) == 1 else ' still stand'))}"


def shelved(name: str, minutes: float) -> str:
    """It is not repeated for a while; that is granted once."""
    return f"{sentence(plain(name))} Quiet for {minutes_words(minutes)}."


def no_alarm() -> str:
    """There is no alarm to acknowledge or shelve."""
    return "No alarm stands."
