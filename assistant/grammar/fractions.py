"""Fractions of a glass or a tank in words, both ways. Knows no sentence.

Halves, thirds, quarters and eighths; no fifths: "fifths" and "eighths" are told apart by f and th
alone, the first sounds that hissing steam covers.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from types import MappingProxyType

from assistant.grammar.numbers import Words, spoken_forms

# "Just under" and "just over" are taken as this share of the glass. Judgement: half the distance
# at which a person would name the next eighth instead.
JUST = 0.05

NAMED: Mapping[float, tuple[str, ...]] = MappingProxyType(
    {
        1 / 8: ("one eighth", "an eighth"),
        1 / 4: ("one quarter", "a quarter"),
        1 / 3: ("one third", "a third"),
        3 / 8: ("three eighths",),
        1 / 2: ("half", "one half"),
        5 / 8: ("five eighths",),
        2 / 3: ("two thirds",),
        3 / 4: ("three quarters",),
        7 / 8: ("seven eighths",),
    }
)
LEANING = (1 / 4, 1 / 3, 1 / 2, 2 / 3, 3 / 4)  # the ones that "just under" is said of
FULL = ("full",)


def _named_forms(value: float) -> tuple[Words, ...]:
    return tuple(tuple(text.split()) for text in NAMED[value])


@lru_cache(maxsize=1)
def forms() -> Mapping[Words, float]:
    """Every accepted form of a fraction and its value, 0.05 to 1; nothing is not a fraction.

    >>> forms()[("just", "under", "half")]
    0.45
    """
    table: dict[Words, float] = {}
    for value in NAMED:
        for form in _named_forms(value):
            table[form] = value
            table["about", *form] = value
            table[*form, "full"] = value
    for value in LEANING:
        for form in _named_forms(value):
            table["just", "under", *form] = round(value - JUST, 3)
            table["just", "over", *form] = round(value + JUST, 3)
    table[FULL] = 1.0
    table["just", "under", *FULL] = table["nearly", "full"] = 1 - JUST
    for tenths in range(1, 10):
        table[*spoken_forms(tenths)[0], "tenths" if tenths > 1 else "tenth"] = tenths / 10
        for form in spoken_forms(tenths / 10):
            table[form] = tenths / 10
    for percent in range(5, 101, 5):
        for form in spoken_forms(percent):
            table[*form, "percent"] = percent / 100
    return MappingProxyType(table)


@lru_cache(maxsize=1)
def _said() -> tuple[tuple[float, str], ...]:
    """What we say ourselves: the named ones first, then the leaning ones, nought and full."""
    said = [(0.0, "nothing"), (1.0, "full")]
    said += [(value, NAMED[value][0]) for value in NAMED]
    for value in LEANING:
        said += [(value - JUST, f"just under {NAMED[value][0]}")]
        said += [(value + JUST, f"just over {NAMED[value][0]}")]
    said += [(JUST, "just showing"), (1 - JUST, "nearly full")]
    return tuple(said)


@lru_cache(maxsize=1)
def _exact() -> Mapping[float, str]:
    """Every value that has a form of its own, said as it was: tenths, then parts of a hundred."""
    said: dict[float, str] = {}
    for value, text in _said():
        said.setdefault(round(value, 3), text)
    for form, value in forms().items():
        if form[-1] in ("tenth", "tenths", "percent"):
            said.setdefault(round(value, 3), " ".join(form))
    return MappingProxyType(said)


def exact(fraction: float) -> str | None:
    """How a called height is said back as the same height; None where no form has this value.

    >>> exact(0.9), exact(0.35), exact(0.351)
    ('nine tenths', 'thirty five percent', None)
    """
    return _exact().get(round(fraction, 3))


def fraction_words(fraction: float) -> str:
    """The nearest fraction that has a name. [fraction: of the visible glass; held to 0..1]

    >>> words(0.5), words(0.63), words(0.44), words(2 / 3)
    ('half', 'five eighths', 'just under half', 'two thirds')
    """
    held = min(max(fraction, 0.0), 1.0)
    return min(_said(), key=lambda pair: abs(pair[0] - held))[1]
