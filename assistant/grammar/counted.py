"""What a driver counts: buckets and shovels of coal put on, litres and buckets of water put in.

A few of them are listened for; any number may be typed, because a typed word is certain.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache

from assistant.grammar.numbers import Words, number_words, spoken_forms
from assistant.messages import COAL_PUT_ON, WATER_PUT_IN, Report

# As said after the number: one of them, and several.
ENDINGS: dict[tuple[str, str], tuple[str, str]] = {
    (COAL_PUT_ON, "bucket"): ("bucket on", "buckets on"),
    (COAL_PUT_ON, "shovel"): ("shovel on", "shovels on"),
    (WATER_PUT_IN, "litre"): ("litre in", "litres in"),
    (WATER_PUT_IN, "bucket"): ("bucket of water in", "buckets of water in"),
    (WATER_PUT_IN, "imperial_gallon"): ("imperial gallon in", "imperial gallons in"),
    (WATER_PUT_IN, "US_gallon"): ("american gallon in", "american gallons in"),
}
# Each sentence more makes all others harder to hear: these counts only are listened for. Judgement.
LISTENED_FOR: dict[tuple[str, str], tuple[int, ...]] = {
    (COAL_PUT_ON, "bucket"): (1, 2, 3),
    (COAL_PUT_ON, "shovel"): (1, 2, 3, 4),
    (WATER_PUT_IN, "litre"): (5, 10, 20),
    (WATER_PUT_IN, "bucket"): (1, 2),
}
MOST = 200  # of one thing in one sentence
SUBJECTS = frozenset({COAL_PUT_ON, WATER_PUT_IN})


def counted_words(report: Report) -> str:
    """The sentence for a count, its number whole.

    >>> counted_words(Report("coal put on", 2.0, "bucket"))
    'two buckets on'
    """
    value = float(report.value)
    if value == 0.5:
        return f"half a {_ending(report, 1.0)}"
    return f"{number_words(value)} {_ending(report, value)}"


def _ending(report: Report, value: float) -> str:
    return ENDINGS[report.what, report.unit or ""][value != 1.0]


def counted() -> Iterator[tuple[Words, Report]]:
    """The sentences that are listened for, with their meanings."""
    for (what, unit), counts in LISTENED_FOR.items():
        for count in counts:
            report = Report(what, float(count), unit)
            yield tuple(counted_words(report).split()), report


def typed_counted(words: Words) -> Report | None:
    """What typed words count; None where they count nothing.

    >>> typed_counted(("half", "a", "bucket", "of", "coal", "on"))
    Report(what='coal put on', value=0.5, unit='bucket')
    """
    return _typed().get(words)


@lru_cache(maxsize=1)
def _typed() -> dict[Words, Report]:
    found: dict[Words, Report] = {}
    for what, unit in ENDINGS:
        for value in (0.5, *map(float, range(1, MOST + 1))):
            report = Report(what, value, unit)
            ending = _ending(report, 1.0 if value == 0.5 else value)
            for number in _numbers(value):
                for form in _forms(what, ending):
                    found[(*number, *form.split())] = report
    return found


def _numbers(value: float) -> tuple[Words, ...]:
    """How a count is typed, figures already in words."""
    if value == 0.5:
        return (("half", "a"),)
    return (*spoken_forms(value), *([("a",)] if value == 1.0 else []))


def _forms(what: str, ending: str) -> tuple[str, ...]:
    """The ending as it may be typed: "shovels of coal on", "shovelfuls on"."""
    if what != COAL_PUT_ON:
        return (ending,)
    unit = ending.removesuffix(" on")
    full = f"{unit.removesuffix('s')}ful{'s' if unit.endswith('s') else ''}"
    return ending, f"{unit} of coal on", f"{unit} of coal", f"{full} on", f"{full} of coal on"
