"""The sentences that are accepted now, with their meanings; all of them can be listed.

Knows what is expected; knows no sound, no boiler and no step. A sentence with two meanings is an
error when the grammar is built.
"""

from __future__ import annotations

from collections import ChainMap
from collections.abc import Iterable, Iterator, Mapping, MutableMapping, Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache
from types import MappingProxyType
from typing import cast

from assistant.grammar import corrections, counted, orders, prior_weights, readings, states
from assistant.grammar.numbers import Words
from assistant.grammar.readings import SpokenReport
from assistant.grammar.states import CALL_SUBJECTS
from assistant.grammar.together import together
from assistant.grammar.typed_text import TYPED_SHORT, normalise, typed_pressure, typed_watch
from assistant.messages import ON_WATCH, READINGS, Expected, ExpectedKind, Meaning, Report

EXPECTED_KINDS: tuple[ExpectedKind, ...] = ("any", "pressure", "water", "tank", "answer", "state")

# The recogniser's prompt, which helps it in noise. Words, not a sentence with a state in it: after
# "Blower half open." other sentences that end in "open" are taken for that one.
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
    """What is accepted while `expected` holds. Made and cached by `grammar`.

    Sentences are lower-case words without punctuation.
    """

    expected: Expected
    """What the operator was asked."""
    layers: tuple[Mapping[Words, Meaning], ...] = field(repr=False)
    """Sentence to meaning; where two have one, the first counts. The first layers are shared by
    many grammars (the same objects, so that a recogniser can cache what it makes of them), the last
    are this question's."""
    prompt: str
    """A short text with the words to be expected, for a recogniser that takes a prompt."""
    likely: tuple[Mapping[Words, Meaning], ...] = field(default=(), repr=False)
    """Sentences of `layers` that answer the question or hold no number. A recogniser searches them
    separately too, so that thousands of numbers do not crowd them out of the beam."""

    @property
    def sentences(self) -> Mapping[Words, Meaning]:
        """All layers as one."""
        return MappingProxyType(ChainMap(*map(_as_dict, self.layers)))

    def meaning(self, words: Sequence[str]) -> Meaning | None:
        """What these words mean, None if they are not exactly one of the sentences."""
        return _find(self.layers, tuple(words))

    def weight(self, meaning: Meaning) -> float:
        """The prior of a meaning, before anything is heard; only ratios matter."""
        return prior_weights.weight(meaning, self.expected)

    def _as_read_back(self, words: Words) -> Meaning | None:
        """An answer typed in the words of its read-back ("gear out")."""
        text = " ".join(words)
        forms = (*self.expected.answers, *self.expected.elsewhere)
        return next((r for _, r in forms if f"{r.what} {r.value}" == text), None)

    def _typed_anywhere(self, words: Words) -> Meaning | None:
        """A report that says its subject, typed while only yes or no is listened for."""
        if self.expected.kind != "answer":
            return None
        elsewhere = _elsewhere("any", None, self.expected.pressure_unit, self.expected.elsewhere)
        return _find(elsewhere, words) or _find(elsewhere, TYPED_SHORT.get(words, words))

    def parse(self, text: str) -> Meaning | None:
        """What typed text means: capitals, punctuation and figures are allowed ("Pressure 75")."""
        for words in normalise(text):
            meaning = self.meaning(words)
            if meaning is None and words in TYPED_SHORT:
                meaning = self.meaning(TYPED_SHORT[words])
            meaning = meaning or self._typed_anywhere(words) or self._as_read_back(words)
            meaning = meaning or counted.typed_counted(words)
            if meaning is not None:
                return meaning
        if (name := typed_watch(text)) is not None:
            return Report(ON_WATCH, name)
        pressure = typed_pressure(text, self.expected.pressure_unit)
        return Report("pressure", *pressure) if pressure else None


_Layers = tuple[Mapping[Words, Meaning], ...]


def _as_dict(layer: Mapping[Words, Meaning]) -> MutableMapping[Words, Meaning]:
    return cast(MutableMapping[Words, Meaning], layer)  # nothing writes to this ChainMap


def _find(layers: _Layers, words: Words) -> Meaning | None:
    for layer in layers:  # a loop: this runs fifty thousand times when a grammar is built
        meaning = layer.get(words)
        if meaning is not None:
            return meaning
    return None


class _LayerBuilder:
    """Collects the sentences of one layer on top of others; a second meaning is an error."""

    def __init__(self, base: _Layers = ()) -> None:
        self._base = base
        self._top: dict[Words, Meaning] = {}

    def add(self, sentences: Iterable[tuple[Words, Meaning]]) -> None:
        for words, meaning in sentences:
            existing = _find(self._base, words)
            if existing is None:
                existing = self._top.setdefault(words, meaning)
            if existing != meaning:
                raise ValueError(f"{' '.join(words)!r} would mean both {existing} and {meaning}")

    @property
    def layers(self) -> _Layers:
        return (*self._base, MappingProxyType(self._top)) if self._top else self._base


@lru_cache(maxsize=8)
def _answer_base(unit: str) -> _Layers:
    """What is accepted even while yes or no is expected."""
    builder = _LayerBuilder()
    builder.add(orders.answer_forms())
    builder.add(orders.plain_orders())
    builder.add(orders.waits())
    builder.add(states.emergencies())
    builder.add(states.states_at_any_time())
    builder.add(counted.counted())
    builder.add(states.moves())
    builder.add(readings.pressures_named(unit))
    for named_unit in readings.units_heard(unit):
        builder.add(readings.pressures_with_unit(named_unit))
    builder.add(readings.waters_named())
    return builder.layers


@lru_cache(maxsize=8)
def _always(unit: str) -> _Layers:
    """What is accepted whatever is expected, except while it is yes or no."""
    builder = _LayerBuilder(_answer_base(unit))
    builder.add(readings.waters_measured())
    builder.add(readings.tanks_named())
    builder.add(states.states())
    builder.add(orders.how_longs(unit))
    builder.add(orders.feeds())
    builder.add(corrections.pressure_and_water(unit))
    builder.add(corrections.state_pairs())
    builder.add(corrections.corrections(tuple(states.correctable())))
    return builder.layers


def _bare(what: str | None, unit: str) -> tuple[SpokenReport, ...]:
    """Numbers and fractions alone, as readings of `what`; empty for None."""
    if what == "pressure":
        return readings.bare_pressures(unit)
    if what == "water":
        return readings.bare_waters()
    return readings.bare_tanks() if what == "tank" else ()


def _correctable(about: str | None, unit: str) -> Iterator[SpokenReport]:
    """What may follow "wrong": readings of `about`; without it pressure and water by their form."""
    if about == "tank":
        yield from readings.bare_tanks()
        yield from readings.tanks_in_litres()
        return
    if about != "water":
        yield from readings.bare_pressures(unit)
    numbers = {form for form, _ in readings.bare_pressures(unit)} if about is None else set()
    if about != "pressure":
        yield from (
            (form, report) for form, report in readings.bare_waters() if form not in numbers
        )
        yield from ((("water", *form), report) for form, report in readings.bare_waters())
    if about != "water":
        yield from ((("pressure", *form), report) for form, report in readings.bare_pressures(unit))
        for form, value in readings.pressure_numbers(unit):
            word = readings.unit_words(unit, value)[0]
            yield (*form, word), Report("pressure", value, unit)


def _is_bare(form: Words, unit: str) -> bool:
    """Whether it is a number or fraction alone: no gauge named, no unit."""
    units = {*readings.UNIT_WORDS[unit], readings.UNIT_WORDS[unit][0].removesuffix("s"), "litres"}
    return form[0] not in READINGS and form[-1] not in units


@lru_cache(maxsize=64)
def _build(kind: ExpectedKind, about: str | None, unit: str) -> _Layers:
    builder = _LayerBuilder(_answer_base(unit) if kind == "answer" else _always(unit))
    subject = kind if kind in ("pressure", "water", "tank") else about if kind == "answer" else None
    bare = _bare(subject, unit)
    builder.add((form, report) for form, report in bare if kind != "answer" or len(form) > 1)
    correctable = tuple(dict.fromkeys(_correctable(about or subject, unit)))
    builder.add(corrections.corrections(correctable))
    if about is not None:  # something was just said, or is doubted
        slips = tuple(pair for pair in correctable if _is_bare(pair[0], unit))
        builder.add(corrections.corrections(slips, corrections.SLIP_FRAMES))
    if kind == "answer":
        builder.add(corrections.corrections(_bare(about, unit), corrections.ANSWER_FRAMES))
    return builder.layers


@lru_cache(maxsize=64)
def _elsewhere(
    kind: ExpectedKind, about: str | None, unit: str, named: tuple[tuple[str, Report], ...]
) -> _Layers:
    """With what answers any list and says its subject; not where only yes or no is awaited.

    A form that is a sentence already keeps its meaning: `check` tells of a clash.
    """
    base = _build(kind, about, unit)
    if kind == "answer" or not named:
        return base
    asked_only = {text for text, _ in states.UNLESS_ASKED}
    new = ((spoken(text), report) for text, report in named if text not in asked_only)
    layer = {words: report for words, report in new if _find(base, words) is None}
    return (*base, _shared_layer(tuple(layer.items())))


@lru_cache(maxsize=32)
def _shared_layer(sentences: tuple[tuple[Words, Meaning], ...]) -> Mapping[Words, Meaning]:
    """The same object for the same sentences, whatever is asked."""
    return MappingProxyType(dict(sentences))


@lru_cache(maxsize=64)
def _likely(kind: ExpectedKind, about: str | None, unit: str) -> _Layers:
    """What answers such a question in any step, and everything without a number."""
    expected = Expected(kind, about=about, pressure_unit=unit)
    sentences: dict[Words, Meaning] = {}
    for layer in _build(kind, about, unit):
        for words, meaning in layer.items():
            if prior_weights.is_answer(meaning, expected) or prior_weights.has_no_number(meaning):
                sentences[words] = meaning
    return (MappingProxyType(sentences),)


def grammar(expected: Expected) -> Grammar:
    """The grammar while `expected` holds; built once for each.

    Raises ValueError if an answer of the step already means something else (naming both meanings)
    or cannot be spoken, and if `pressure_unit` is unknown.
    """
    if expected.pressure_unit not in readings.PRESSURE_UNITS:
        raise ValueError(f"no pressure is spoken in {expected.pressure_unit!r}")
    made = _made(expected, expected.elsewhere)
    if _weighed(made.expected) == _weighed(expected):
        return made
    return replace(made, expected=expected)


def _weighed(expected: Expected) -> tuple[frozenset[Report], frozenset[Report]]:
    """What changes the weights and no sentence."""
    return expected.another_phase, expected.impossible


@lru_cache(maxsize=64)
def _made(expected: Expected, elsewhere: tuple[tuple[str, Report], ...]) -> Grammar:
    """elsewhere: that of `expected`, which counts here and not when two of them are compared."""
    common = _elsewhere(expected.kind, expected.about, expected.pressure_unit, elsewhere)
    likely = _likely(expected.kind, expected.about, expected.pressure_unit)
    answers = [(spoken(text), report) for text, report in expected.answers]
    builder = _LayerBuilder(common)
    builder.add(answers)
    taken = {words for words, _ in answers}
    unless = ((spoken(text), report) for text, report in states.UNLESS_ASKED)
    builder.add((words, report) for words, report in unless if words not in taken)
    if not answers:
        return Grammar(expected, builder.layers, PROMPTS[expected.kind], likely)
    states_only = [(words, report) for words, report in answers if report.what not in CALL_SUBJECTS]
    likely = (*likely, MappingProxyType(dict(states_only)))
    layers = (*builder.layers, together(tuple(states_only)))
    return Grammar(expected, layers, _prompt(expected), likely)


def kinds_of_question(expected: Expected) -> Iterator[Expected]:
    """A question of each kind that there is beside this one: what is compiled of them is shared."""
    for kind in EXPECTED_KINDS:
        for about in (None, *READINGS):
            yield replace(expected, kind=kind, about=about, answers=())


def spoken(text: str) -> Words:
    """The words of a step's own answer; ValueError if they cannot be spoken."""
    words = tuple(text.split())
    if not words or not all(word.replace("'", "").isalpha() and word.islower() for word in words):
        raise ValueError(f"{text!r} cannot be spoken: words in lower case only")
    return words


def _prompt(expected: Expected) -> str:
    answers = [text for text, report in expected.answers if report.what not in CALL_SUBJECTS][:6]
    sentences = " ".join(f"{text.capitalize()}." for text in answers)
    return f"{sentences} {PROMPTS[expected.kind]}".strip()


def listing(kind: ExpectedKind, pressure_unit: str = "psi") -> Iterator[tuple[str, Meaning]]:
    """Every sentence that is accepted while `kind` is expected, with its meaning."""
    for words, meaning in grammar(Expected(kind, pressure_unit=pressure_unit)).sentences.items():
        yield " ".join(words), meaning
