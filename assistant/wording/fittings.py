"""Words about a fitting that she has not got are left out of what is said. Pure.

The lists leave such steps out themselves; alarms, cautions and remarks name a fitting in passing.
"""

from __future__ import annotations

import re
from collections.abc import Mapping

# By the fitting that is missing: what a sentence, or a part of one, is about.
_ABOUT: Mapping[str, str] = {
    "blower": "blower",
    "drain cocks": "drains|drain cocks",
    "wheels": "brake|chocks|wheels",
    "road gear": "gear",
}
FITTINGS = frozenset(_ABOUT)


def without(text: str, missing: frozenset[str]) -> str:
    """The text without what is said of fittings that are not there; empty where nothing is left.

    >>> without("Damper shut, blower down. No firing.", frozenset({"blower"}))
    'Damper shut. No firing.'
    >>> without("Blower on before the firehole door. Stand aside.", frozenset({"blower"}))
    'Stand aside.'
    """
    for fitting in sorted(missing & FITTINGS):
        text = _without(text, _ABOUT[fitting])
    return text


def _without(text: str, about: str) -> str:
    if not re.search(rf"\b({about})\b", text, re.IGNORECASE):
        return text
    kept = (_sentence(sentence, about) for sentence in re.findall(r"[^.?!]+[.?!]", text))
    return " ".join(sentence for sentence in kept if sentence)


def _sentence(sentence: str, about: str) -> str:
    """A sentence without its parts that name it; empty where it is about nothing else."""
    end, body = sentence[-1], sentence[:-1].strip()
    state = r"(shut|open|on|off|in|out)"
    body = re.sub(
        rf"\b{state} and (?:the )?(?:{about}) {state}\b", r"\1", body, flags=re.IGNORECASE
    )
    body = re.sub(rf" and (the )?({about})\b", "", body, flags=re.IGNORECASE)
    parts = [part for part in body.split(", ") if not re.search(rf"\b({about})\b", part, re.I)]
    if not parts or (len(parts) < len(body.split(", ")) and re.match(r"(wheels|or) ", parts[0])):
        return ""
    said = ", ".join(parts)
    return f"{said[0].upper()}{said[1:]}{end}"
