"""Fractions of a glass or a tank in words, both ways. Knows no sentence.

Halves, thirds, quarters and eighths; no fifths: "fifths" and "eighths" differ only in f and th, the
first sounds that hissing steam masks.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from types import MappingProxyType

from assistant.grammar.numbers import Words, spoken_forms

# What "just under" and "just over" subtract or add, as a fraction of the glass. Judgement: half the
# distance at which a person would name the next eighth instead.
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
WITH_JUST = (1 / 4, 1 / 3, 1 / 2, 2 / 3, 3 / 4)  # may follow "just under" and "just over"
FULL = ("full",)


def _named_forms(value: float) -> tuple[Words, ...]:
    return tuple(tuple(text.split()) for text in NAMED[value])


@lru_cache(maxsize=1)
def forms() -> Mapping[Words, float]:
    """Every accepted form of a fraction and its value, 0.05 to 1. "Nothing" is not among them.

    >>> forms()[("just", "under", "half")]
    0.45
    """
    table: dict[Words, float] = {}
    for value in NAMED:
        for form in _named_forms(value):
            table[form] = value
            table["about", *form] = value
            table[*form, "full"] = value
    for value in WITH_JUST:
        for form in _named_forms(value):
            table["just", "under", *form] = round(value - JUST, 3)
            table["just", "over", *form] = round(value + JUST, 3)
    table[FULL] = 1.0
    table["just", "under", *FULL] = table["nearly", "full"] = 1 - JUST
    for tenths in range(1, 10):
        table[*spoken_forms(tenths)[0], "tenths" if tenths > 1 else "tenth"] = tenths / 10
        for form in spoken_forms(tenths / 10):
            table[form] = tenths / 10
    table["a", "tenth"] = 0.1
    for percent in range(5, 101, 5):
        for form in spoken_forms(percent):
            table[*form, "percent"] = percent / 100
    return MappingProxyType(table)


@lru_cache(maxsize=1)
def _spoken_names() -> tuple[tuple[float, str], ...]:
    """The fractions that the assistant says, each with its value; the first wins a tie."""
    names = [(0.0, "nothing"), (1.0, "full")]
    names += [(value, NAMED[value][0]) for value in NAMED]
    for value in WITH_JUST:
        names += [(value - JUST, f"just under {NAMED[value][0]}")]
        names += [(value + JUST, f"just over {NAMED[value][0]}")]
    names += [(JUST, "just showing"), (1 - JUST, "nearly full")]
    return tuple(names)


@lru_cache(maxsize=1)
def _exact_names() -> Mapping[float, str]:
    """One form for every value that has one: a named fraction, else tenths, else percent."""
    names: dict[float, str] = {}
    for value, text in _spoken_names():
        names.setdefault(round(value, 3), text)
    for form, value in forms().items():
        if form[-1] in ("tenth", "tenths", "percent"):
            names.setdefault(round(value, 3), " ".join(form))
    return MappingProxyType(names)


def exact(fraction: float) -> str | None:
    """The words for exactly this fraction; None where no form has this value.

    >>> exact(0.9), exact(0.35), exact(0.351)
    ('nine tenths', 'thirty five percent', None)
    """
    return _exact_names().get(round(fraction, 3))


def fraction_words(fraction: float) -> str:
    """The nearest fraction that has a name. [fraction: of the visible glass; clamped to 0..1]

    >>> fraction_words(0.5), fraction_words(0.63), fraction_words(0.44), fraction_words(2 / 3)
    ('half', 'five eighths', 'just under half', 'two thirds')
    """
    clamped = min(max(fraction, 0.0), 1.0)
    return min(_spoken_names(), key=lambda pair: abs(pair[0] - clamped))[1]
