"""What was counted on and in, as a total in words. Knows no boiler; pure."""

from __future__ import annotations

from collections.abc import Sequence

from assistant.grammar.numbers import number_words
from assistant.wording.quantities import sentence
from assistant.wording.text_normalisation import UNIT_NAMES

NAMES = {**UNIT_NAMES, "bucket": ("bucket", "buckets"), "shovel": ("shovel", "shovels")}


def total_words(what: str, counts: Sequence[tuple[str, float]], about: str | None) -> str:
    """A total as it is said. counts: each unit with how many; about: its weight or volume in words.

    >>> total_words("coal", [("bucket", 5.0), ("shovel", 0.5)], "forty kilograms")
    'Coal: five buckets and half a shovel, about forty kilograms.'
    """
    listed = " and ".join(count_words(count, unit) for unit, count in counts)
    return sentence(f"{what}: {listed}" + (f", about {about}" if about else ""))


def count_words(count: float, unit: str) -> str:
    """How many of a unit.

    >>> count_words(1.0, "bucket"), count_words(12.5, "litre")
    ('one bucket', 'twelve point five litres')
    """
    if count == 0.5:
        return f"half a {NAMES[unit][0]}"
    return f"{number_words(count)} {NAMES[unit][count != 1.0]}"
