"""What is said in the words of an American footplate. Pure; one table, applied to whole sentences.

The words after American traction-engine books (Maggard; Stephenson 1903) and Farm Collector; where
they have none, the British one stays. A sentence that lists what may be said stays as it is: those
words are understood.
"""

from __future__ import annotations

import re

_TABLE: tuple[tuple[str, str], ...] = (
    (r"(oil|kerosene), petrol or gasoline", r"\1 or gasoline"),
    (r"petrol or gasoline|petrol", "gasoline"),
    (r"safety valve", "pop valve"),
    (r"valve lifts", "valve pops"),
    (r"valve lifting", "valve blowing"),
    (r"valve should lift", "valve should pop"),
    (r"she lifts", "she pops"),
    (r"she may lift", "she may pop"),
    (r"expect no lift", "expect no pop"),
    (r"(above|under|over) the lift", r"\1 the pop"),
    (r"each lift wastes", "each pop wastes"),
    (r"(should|does it) feather", r"\1 simmer"),
    (r"valve feathering", "valve simmering"),
    (r"chimney", "stack"),
    (r"firehole door|firehole", "fire door"),
    (r"clack stop valve", "check stop valve"),
    (r"clacks", "check valves"),
    (r"clack", "check valve"),
    (r"drain cocks", "cylinder cocks"),
    (r"drains open", "cylinder cocks open"),
    (r"steam at the drains", "steam at the cylinder cocks"),
    (r"leaks at drains", "leaks at cylinder cocks"),
    (r"(shut|leave|open) the drains", r"\1 the cylinder cocks"),
    (r"drains: (still water|open)", r"cylinder cocks: \1"),
    (r"glass cocks", "water glass valves"),
    (r"both cocks", "both water glass valves"),
    (r"glass broken", "water glass broken"),
    (r"regulator", "throttle"),
    (r"blow-down", "blow-off"),
    (r"dampers?", "draft door"),
    (r"chock her", "block her"),
    (r"chocked", "blocked"),
    (r"chocks", "blocks"),
    (r"brake on", "brake set"),
    (r"mud doors", "hand holes"),
    (r"ash pan and bars", "ash pan and grates"),
    (r"tubes swept", "flues cleaned"),
    (r"tubes choked", "flues plugged"),
    (r"tube ends", "flue ends"),
    (r"certificate in date", "certificate current"),
    (r"papers in date", "papers current"),
    (r"reverser", "reverse lever"),
    (r"ten metres", "thirty five feet"),
)
_RULES = tuple(
    (re.compile(rf"\b(?:{british})\b", re.IGNORECASE), american) for british, american in _TABLE
)
_LISTS_WORDS = re.compile(r"\b(you can say|say|also|in trouble)\b[^.?!]*[:;]", re.IGNORECASE)
_SENTENCE = re.compile(r"[^.?!]+[.?!]*\s*")


def american(text: str) -> str:
    """The same sentences in American words.

    >>> american("Regulator shut. Drain cocks open. You can say: regulator shut; help.")
    'Throttle shut. Cylinder cocks open. You can say: regulator shut; help.'
    """
    return "".join(
        part if _LISTS_WORDS.search(part) else _translated(part) for part in _SENTENCE.findall(text)
    )


def _translated(text: str) -> str:
    for british, word in _RULES:
        text = british.sub(lambda found, word=word: _like(found, word), text)  # type: ignore[misc]
    return text


def _like(found: re.Match[str], word: str) -> str:
    """The word, with a capital where the British one had it."""
    american_word = found.expand(word)
    return american_word[0].upper() + american_word[1:] if found[0][0].isupper() else american_word
