"""The words in which pressure, water and tank are reported. Knows no question and no order.

A frame is a sentence with `#` in place of the number. Bare numbers are listed separately: `phrases`
accepts them only where a question makes their subject clear.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import lru_cache

from assistant.grammar import fractions
from assistant.grammar.numbers import Words, spoken_forms
from assistant.messages import Report

SpokenReport = tuple[Words, Report]

PRESSURE_UNITS = ("psi", "bar", "kPa", "kgf/cm2")
# What is said after the number. "Kilos" is the workshop's word for kgf/cm2.
UNIT_WORDS: dict[str, tuple[str, ...]] = {
    "psi": ("pounds", "psi"),
    "bar": ("bar",),
    "kPa": ("kilopascals",),
    "kgf/cm2": ("kilos",),
}
PRESSURE_FRAMES = ("pressure #", "pressure is #", "pressure now #")
# These fit any value; the others only a measure (not "empty of a glass").
ANY_WATER_FRAMES = ("water #", "water is #", "glass #", "glass is #")
WATER_FRAMES = (*ANY_WATER_FRAMES, "water at #", "water level #", "# of a glass", "# in the glass")
TANK_FRAMES = ("tank #", "tank is #", "tank at #", "# in the tank")

UNMEASURED = ("nothing", "empty", "showing", "full")  # last words of values that are no measure

NO_WATER_SEEN = Report("water", "out of sight")
OUT_OF_SIGHT_WORDS = (
    "no water in sight", "no water in the glass", "nothing in the glass", "no water showing",
    "water out of sight", "water is out of sight", "glass is empty", "glass empty", "empty glass",
    "cannot see any water", "can't see any water", "i can't see any water", "no water",
    "cannot see water", "can't see water", "i can't see water", "i cannot see water",
    "there is no water", "there's no water", "there is no water in sight",
    "cannot see the water", "can't see the water", "i can't see the water", "lost the water",
    "i have lost the water", "in the bottom nut", "water in the bottom nut",
    "water is in the bottom nut",
    "water at the bottom nut", "water is at the bottom nut", "water has gone", "the water has gone",
    "water is gone", "the water is gone", "i don't see any water", "i see no water", "glass is dry",
    "the water is in the bottom nut", "there is no water in the glass",
    "no water in the glass at all", "there is no water in the glass at all",
    "water is not in sight", "the water is not in sight", "water has gone out of the glass",
    "water has gone out of sight", "the water has gone out of sight",
    "water is out of the bottom of the glass", "water gone out of the bottom",
    "water has gone out of the bottom", "water is out of the bottom",
    "nothing showing in the glass", "nothing shows in the glass", "i have lost the glass",
    "lost the glass",
)  # fmt: skip
FULL_WORDS = (
    "full glass", "water at the top", "water at the top of the glass", "water in the top nut",
    "water is in the top nut", "water over the top nut", "water is over the top nut",
    "water is up to the top nut", "water up to the top nut", "water is at the top nut",
    "glass is full cannot see a level", "glass is full can't see a level",
    "the glass is full can't see a level",
)  # fmt: skip
BOTTOM_WORDS = (
    "water just showing", "water just in sight", "water at the bottom",
    "water at the bottom of the glass", "just showing in the glass", "just a touch of water",
    "only a touch of water",
)  # fmt: skip


def fill(frame: str, number: Words) -> Words:
    """The frame with the number in its slot.

    >>> fill("water #", ("two", "thirds"))
    ('water', 'two', 'thirds')
    """
    before, _, after = frame.partition("#")
    return (*before.split(), *number, *after.split())


@lru_cache(maxsize=8)
def pressure_numbers(unit: str) -> tuple[tuple[Words, float], ...]:
    """Every spoken number of a dial in `unit`, with its value. Raises KeyError for another unit.

    Whole pounds to 300, tenths of a bar to 20, tens of kilopascals to 2000.
    """
    scales: dict[str, Sequence[float]] = {
        "psi": [float(pounds) for pounds in range(301)],
        "bar": [tenths / 10 for tenths in range(201)],
        "kPa": [float(tens) for tens in range(0, 2001, 10)],
        "kgf/cm2": [tenths / 10 for tenths in range(201)],
    }
    return tuple((form, value) for value in scales[unit] for form in spoken_forms(value))


def units_heard(dial: str) -> tuple[str, ...]:
    """The units that may be named: the dial's own, and the two that people mix up.

    Each further unit is one more word that a number can be mistaken for ("nine four", "nine bar").
    """
    return tuple(dict.fromkeys(("psi", "bar", dial)))


def unit_words(unit: str, value: float) -> tuple[str, ...]:
    """What is said after the number, "pound" for one of them.

    >>> unit_words("psi", 1), unit_words("psi", 2)
    (('pound', 'psi'), ('pounds', 'psi'))
    """
    words = UNIT_WORDS[unit]
    return words if value != 1 else (words[0].removesuffix("s"), *words[1:])


@lru_cache(maxsize=8)
def bare_pressures(unit: str) -> tuple[SpokenReport, ...]:
    """A number alone, and "nothing", as a pressure in `unit`."""
    numbers = [(form, Report("pressure", value, unit)) for form, value in pressure_numbers(unit)]
    return (*numbers, (("nothing",), Report("pressure", 0.0, unit)))


def pressures_with_unit(unit: str) -> Iterator[SpokenReport]:
    """ "seventy five pounds", "pressure five bar": the unit makes a question unnecessary."""
    for form, value in pressure_numbers(unit):
        report = Report("pressure", value, unit)
        for word in unit_words(unit, value):
            yield (*form, word), report
            if word != "psi":  # "pressure twenty five" is heard as "pressure twenty psi"
                yield ("pressure", *form, word), report
    if unit in ("bar", "kgf/cm2"):
        yield ("half", "a", UNIT_WORDS[unit][0]), Report("pressure", 0.5, unit)


def pressures_named(unit: str) -> Iterator[SpokenReport]:
    """ "pressure seventy five": the quantity is said, the unit is the dial's."""
    for number, report in bare_pressures(unit):
        for frame in PRESSURE_FRAMES:
            yield fill(frame, number), report
    yield ("gauge", "at", "nothing"), Report("pressure", 0.0, unit)


@lru_cache(maxsize=1)
def _percents_and_fractions() -> tuple[tuple[Words, float], ...]:
    return tuple(fractions.forms().items())


@lru_cache(maxsize=1)
def bare_waters() -> tuple[SpokenReport, ...]:
    """A fraction alone, "nothing" and "empty", as the water in the glass."""
    waters = [(form, Report("water", value, "glass")) for form, value in _percents_and_fractions()]
    waters += [((word,), NO_WATER_SEEN) for word in ("nothing", "empty")]
    waters += [(("just", "showing"), Report("water", fractions.JUST, "glass"))]
    return tuple(waters)


def waters_named() -> Iterator[SpokenReport]:
    """Everything that names water or glass, in fractions."""
    for number, report in bare_waters():
        # beside steam "valve is lifting" is heard as "water is nothing"
        if report == NO_WATER_SEEN:
            continue
        for frame in WATER_FRAMES if number[-1] not in UNMEASURED else ANY_WATER_FRAMES:
            yield fill(frame, number), report
    half = Report("water", 0.5, "glass")
    for text in ("half a glass", "half glass", "about half a glass"):
        yield tuple(text.split()), half
    yield from levels_in_words()


def levels_in_words() -> Iterator[SpokenReport]:
    """Out of sight, full, and at the bottom of the glass."""
    for texts, report in (
        (OUT_OF_SIGHT_WORDS, NO_WATER_SEEN),
        (FULL_WORDS, Report("water", 1.0, "glass")),
        (BOTTOM_WORDS, Report("water", fractions.JUST, "glass")),
    ):
        for text in texts:
            yield tuple(text.split()), report


def waters_measured() -> Iterator[SpokenReport]:
    """The water in the glass in millimetres and inches."""
    for value in range(5, 301):
        report = Report("water", float(value), "mm")
        for form in spoken_forms(value):
            yield ("water", *form, "millimetres"), report
            yield (*form, "millimetres"), report
    for quarters in range(1, 49):
        report = Report("water", quarters / 4, "inch")
        for form in spoken_forms(quarters / 4):
            yield ("water", *form, "inches" if quarters > 4 else "inch"), report
            yield (*form, "inches" if quarters > 4 else "inch"), report


TANK_UNITS: dict[str, tuple[str, ...]] = {
    "litre": ("litres",),
    "imperial_gallon": ("imperial", "gallons"),
    "US_gallon": ("american", "gallons"),
}
LITRES = (*range(1, 101), *range(110, 1001, 10))  # an empty tank is "tank empty"
GALLONS = (*range(1, 101), *range(110, 301, 10))


@lru_cache(maxsize=1)
def bare_tanks() -> tuple[SpokenReport, ...]:
    """A fraction alone as what is left in the tank. No bare litres: "full" is near "four"."""
    tanks = [(form, Report("tank", value, "tank")) for form, value in _percents_and_fractions()]
    tanks += [((word,), Report("tank", 0.0, "tank")) for word in ("empty", "nothing")]
    return tuple(tanks)


def tanks_in_litres() -> Iterator[SpokenReport]:
    """ "twenty litres"."""
    for count in LITRES:
        for form in spoken_forms(count):
            yield (
                (*form, "litre" if count == 1 else "litres"),
                Report("tank", float(count), "litre"),
            )


def tanks_named() -> Iterator[SpokenReport]:
    """ "tank half", "twenty litres", "tank ten imperial gallons"; a plain gallon is ambiguous."""
    for number, report in bare_tanks():
        if report.unit == "tank":
            for frame in TANK_FRAMES:
                yield fill(frame, number), report
    yield ("half", "a", "tank"), Report("tank", 0.5, "tank")
    for unit, ending in TANK_UNITS.items():
        for count in LITRES if unit == "litre" else GALLONS:
            report = Report("tank", float(count), unit)
            spoken = (ending[0][:-1],) if unit == "litre" and count == 1 else ending
            for form in spoken_forms(count):
                yield (*form, *spoken), report
                yield ("tank", *form, *spoken), report
