"""Sentences made from other sentences: corrections, and several reports in one breath.

Knows which words join them; takes the reports themselves from `readings` and `states`.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import permutations

from assistant.grammar import fractions
from assistant.grammar.numbers import Words, digit_by_digit, spoken_forms
from assistant.grammar.readings import NO_WATER_SEEN, SpokenReport, fill
from assistant.grammar.states import STATE_FORMS, TOGETHER
from assistant.messages import Correction, Report, Several

CORRECTION_FRAMES = ("wrong #", "no #", "i said #")
# For a number or a fraction alone: what a driver says who has misread, or was misheard.
SLIP_FRAMES = ("sorry #", "i mean #")
# Only while yes or no is expected: replies to a question that has the wrong number in it.
ANSWER_FRAMES = ("no it's #", "no it is #", "it's #", "it is #", "no i said #", "it should be #")


def corrections(
    reports: Sequence[SpokenReport], frames: Sequence[str] = CORRECTION_FRAMES
) -> Iterator[tuple[Words, Correction]]:
    """ "wrong sixty five", "I said half": each frame around each report."""
    for form, report in reports:
        correction = Correction(report)
        for frame in frames:
            yield fill(frame, form), correction


def _short_pressures(unit: str) -> Iterator[SpokenReport]:
    """The usual forms of a pressure: whole, digit by digit, in hundreds where it ends in 0 or 5."""
    values = range(301) if unit == "psi" else range(0, 2001, 10) if unit == "kPa" else range(201)
    for count in values:
        value = count / 10 if unit in ("bar", "kgf/cm2") else float(count)
        forms = spoken_forms(value)
        digits = tuple(digit_by_digit(value).split())
        clipped = [f for f in forms if f != digits and "hundred" not in f][:1]
        hundreds = [f for f in forms if "hundred" in f and f[0] != "hundred"]
        round_ = (hundreds or forms[:1]) if value % 10 == 0 else hundreds if value % 5 == 0 else ()
        for form in dict.fromkeys((*clipped, digits, *round_)):
            yield form, Report("pressure", value, unit)


def _short_waters() -> Iterator[SpokenReport]:
    for value, names in fractions.NAMED.items():
        yield tuple(names[0].split()), Report("water", value, "glass")
    yield ("full",), Report("water", 1.0, "glass")


def pressure_and_water(unit: str) -> Iterator[tuple[Words, Several]]:
    """ "pressure seventy five water half", in either order, in the usual forms."""
    waters = [(("water", *form), report) for form, report in _short_waters()]
    waters.append((("no", "water", "in", "sight"), NO_WATER_SEEN))
    for number, pressure in _short_pressures(unit):
        for form, water in waters:
            yield ("pressure", *number, *form), Several((pressure, water))
            yield (*form, "pressure", *number), Several((water, pressure))


def state_pairs() -> Iterator[tuple[Words, Several]]:
    """Acts that are often reported together, in either order, in their first form."""
    for pair in TOGETHER:
        for first, second in permutations(pair):
            words = f"{STATE_FORMS[first][0]} {STATE_FORMS[second][0]}"
            yield tuple(words.split()), Several((Report(*first), Report(*second)))
