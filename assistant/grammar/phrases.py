"""Which sentences are accepted now, and what each means: every one of them can be listed.

Knows what is expected; knows no sound, no boiler and no step. A sentence means exactly one thing,
or the grammar is not built.
"""

from __future__ import annotations

from collections import ChainMap
from collections.abc import Iterable, Iterator, Mapping, MutableMapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from types import MappingProxyType
from typing import cast

from assistant.grammar import corrections, orders, readings, states
from assistant.grammar import prior_weights as likely
from assistant.grammar.numbers import Words
from assistant.grammar.prior_weights import CALLS
from assistant.grammar.readings import Said
from assistant.grammar.typed_text import TYPED_SHORT, normalise, typed_pressure
from assistant.messages import Expected, ExpectedKind, Meaning, Report

EXPECTED_KINDS: tuple[ExpectedKind, ...] = ("any", "pressure", "water", "tank", "answer", "state")
CURE = "cure"

# The words the ear should be ready for; measured to be worth a great deal in noise. A list of words
# rather than a sentence with a state in it: after "Blower half open." the bundled ear took "damper
# is half open" and "leave it open" for that very sentence (60 sentences, four voices).
_WORDS = (
    "Pressure, water, glass, fire, coal, blower, damper, drain cocks, regulator, safety valve, "
    "feed, injector, tank. Say again. What next? That's right. Wrong."
)
PROMPTS: Mapping[ExpectedKind, str] = MappingProxyType(
    {
        "any": _WORDS,
        "pressure": "Pressure seventy five. One two zero. Fifteen pounds. Five bar. Not yet.",
        "water": "Water two thirds. Half a glass. Three quarters. No water in sight. Not yet.",
        "tank": "Tank half. Twenty litres. Three quarters. Full. Not yet.",
        "answer": "That's right. Wrong. Yes. No. Say again. Not yet.",
        "state": f"{_WORDS} Ready. Not yet.",
    }
)


@dataclass(frozen=True, eq=False)
class Grammar:
    """What is accepted while `expected` holds. Made by `grammar`, which keeps them.

    layers: sentences (lower-case words without punctuation) to what they mean, in parts that do
    not overlap: first the part that many grammars share (the same object in each, so that what an
    ear makes of it can be kept), last the part that is this question's own.
    likely: those of the sentences, once more, that answer the question in hand or have no number in
    them: an ear looks for them by themselves as well, so that thousands of numbers do not crowd
    them out.
    prompt: a short text naming the words, for an ear that can be told what to listen for.
    """

    expected: Expected
    layers: tuple[Mapping[Words, Meaning], ...] = field(repr=False)
    prompt: str
    likely: tuple[Mapping[Words, Meaning], ...] = field(default=(), repr=False)

    @property
    def sentences(self) -> Mapping[Words, Meaning]:
        """All layers as one."""
        return MappingProxyType(ChainMap(*map(_as_dict, self.layers)))

    def meaning(self, words: Sequence[str]) -> Meaning | None:
        """What these words mean, None if they are not exactly one of the sentences."""
        return _find(self.layers, tuple(words))

    def weight(self, meaning: Meaning) -> float:
        """How often this is meant before anything is heard; only ratios matter."""
        return likely.weight(meaning, self.expected)

    def _as_said_back(self, words: Words) -> Meaning | None:
        """An answer typed in the words in which we say it back ("gear out")."""
        said = " ".join(words)
        answers = (report for _, report in self.expected.answers)
        return next((r for r in answers if f"{r.what} {r.value}" == said), None)

    def parse(self, text: str) -> Meaning | None:
        """What typed text means: capitals, punctuation and figures are allowed ("Pressure 75")."""
        for words in normalise(text):
            found = self.meaning(words)
            if found is None and words in TYPED_SHORT:
                found = self.meaning(TYPED_SHORT[words])
            found = found or self._as_said_back(words)
            if found is not None:
                return found
        told = typed_pressure(text, self.expected.pressure_unit)
        return Report("pressure", *told) if told else None


_Layers = tuple[Mapping[Words, Meaning], ...]


def _as_dict(layer: Mapping[Words, Meaning]) -> MutableMapping[Words, Meaning]:
    return cast(MutableMapping[Words, Meaning], layer)  # a ChainMap only writes when it is told to


def _find(layers: _Layers, words: Words) -> Meaning | None:
    return next((layer[words] for layer in layers if words in layer), None)


class _Book:
    """Sentences gathered one by one, on top of others; a second meaning of one is an error."""

    def __init__(self, under: _Layers = ()) -> None:
        self._under = under
        self._own: dict[Words, Meaning] = {}

    def add(self, said: Iterable[tuple[Words, Meaning]]) -> None:
        for words, meaning in said:
            there = _find(self._under, words)
            if there is None:
                there = self._own.setdefault(words, meaning)
            if there != meaning:
                raise ValueError(f"{' '.join(words)!r} would mean both {there} and {meaning}")

    @property
    def layers(self) -> _Layers:
        return (*self._under, MappingProxyType(self._own)) if self._own else self._under


@lru_cache(maxsize=8)
def _answer_base(unit: str) -> _Layers:
    """What is live even while yes or no is awaited."""
    book = _Book()
    book.add(orders.answer_forms())
    book.add(orders.plain_orders())
    book.add(orders.waits())
    book.add(states.emergencies())
    book.add(readings.pressures_named(unit))
    for named in readings.units_heard(unit):
        book.add(readings.pressures_with_unit(named))
    book.add(readings.waters_named())
    return book.layers


@lru_cache(maxsize=8)
def _always(unit: str) -> _Layers:
    """What is live in every state but a bare yes-or-no."""
    book = _Book(_answer_base(unit))
    book.add(readings.waters_measured())
    book.add(readings.tanks_named())
    book.add(states.states())
    book.add(orders.how_longs(unit))
    book.add(orders.feeds())
    book.add(corrections.pressure_and_water(unit))
    book.add(corrections.state_pairs())
    book.add(corrections.corrections(tuple(states.states())))
    return book.layers


def _bare(what: str | None, unit: str) -> tuple[Said, ...]:
    """Numbers and fractions alone, as the reading `what`; none without a subject."""
    if what == "pressure":
        return readings.bare_pressures(unit)
    if what == "water":
        return readings.bare_waters()
    return readings.bare_tanks() if what == "tank" else ()


def _correctable(about: str | None, unit: str) -> Iterator[Said]:
    """What a correction may put right: the reading in hand, or pressure and water by their form."""
    if about == "tank":
        yield from readings.bare_tanks()
        yield from readings.tanks_in_litres()
        return
    if about != "water":
        yield from readings.bare_pressures(unit)
    numbers = {form for form, _ in readings.bare_pressures(unit)} if about is None else set()
    if about != "pressure":
        yield from ((form, told) for form, told in readings.bare_waters() if form not in numbers)
        yield from ((("water", *form), told) for form, told in readings.bare_waters())
    if about != "water":
        yield from ((("pressure", *form), told) for form, told in readings.bare_pressures(unit))
        for form, value in readings.pressure_numbers(unit):
            word = readings.unit_words(unit, value)[0]
            yield (*form, word), Report("pressure", value, unit)


@lru_cache(maxsize=16)
def _build(kind: ExpectedKind, about: str | None, unit: str) -> _Layers:
    book = _Book(_answer_base(unit) if kind == "answer" else _always(unit))
    subject = kind if kind in ("pressure", "water", "tank") else about if kind == "answer" else None
    bare = _bare(subject, unit)
    book.add(said for said in bare if kind != "answer" or len(said[0]) > 1)
    book.add(corrections.corrections(tuple(dict.fromkeys(_correctable(about or subject, unit)))))
    if kind == "answer":
        book.add(corrections.corrections(_bare(about, unit), corrections.ANSWER_FRAMES))
    return book.layers


@lru_cache(maxsize=16)
def _likely(kind: ExpectedKind, about: str | None, unit: str) -> _Layers:
    """What answers such a question in any step, and all that is said without a number."""
    expected = Expected(kind, about=about, pressure_unit=unit)
    found: dict[Words, Meaning] = {}
    for layer in _build(kind, about, unit):
        for words, meaning in layer.items():
            if likely.is_answer(meaning, expected) or likely.in_words(meaning):
                found[words] = meaning
    return (MappingProxyType(found),)


@lru_cache(maxsize=64)
def grammar(expected: Expected) -> Grammar:
    """The grammar while `expected` holds; built once for each.

    Raises ValueError, naming both meanings, if an answer of the step means something else already,
    or holds what cannot be spoken; and if `pressure_unit` is none we know.
    """
    if expected.pressure_unit not in readings.PRESSURE_UNITS:
        raise ValueError(f"no pressure is spoken in {expected.pressure_unit!r}")
    common = _build(expected.kind, expected.about, expected.pressure_unit)
    asked = _likely(expected.kind, expected.about, expected.pressure_unit)
    if not expected.answers:
        return Grammar(expected, common, PROMPTS[expected.kind], asked)
    own = [(spoken(text), report) for text, report in expected.answers]
    book = _Book(common)
    book.add(own)
    joined = [(words, report) for words, report in own if report.what not in CALLS]
    book.add(corrections.answers_together(joined))
    asked = (*asked, MappingProxyType(dict(joined)))
    return Grammar(expected, book.layers, _prompt(expected), asked)


def spoken(text: str) -> Words:
    """The words of a step's own answer; ValueError if they cannot be spoken."""
    words = tuple(text.split())
    if not words or not all(word.replace("'", "").isalpha() and word.islower() for word in words):
        raise ValueError(f"{text!r} cannot be spoken: words in lower case only")
    return words


def _prompt(expected: Expected) -> str:
    named = [text for text, report in expected.answers if report.what not in CALLS][:6]
    own = " ".join(f"{text.capitalize()}." for text in named)
    return f"{own} {PROMPTS[expected.kind]}".strip()


def listing(kind: ExpectedKind, pressure_unit: str = "psi") -> Iterator[tuple[str, Meaning]]:
    """Every sentence that is accepted while `kind` is expected, with its meaning."""
    made = grammar(Expected(kind, pressure_unit=pressure_unit))
    for words, meaning in made.sentences.items():
        yield " ".join(words), meaning
