"""How sure the ear was of an utterance, for a person to look at. Decides nothing."""

from __future__ import annotations

from assistant.messages import Heard

_CERTAIN = 0.995


def doubt_shown(heard: Heard) -> str:
    """The probability of the likeliest words, as "97%"; empty where they are as good as certain.

    >>> doubt_shown(Heard(1.0, "typed", ()))
    ''
    """
    best = heard.alternatives[0].probability if heard.alternatives else 1.0
    return "" if best >= _CERTAIN else f"{best:.0%}"
