"""A grammar of orders for drinks, to measure a recogniser on a subject it was not made for.

Source: the public speech-to-intent benchmark (Picovoice, Apache-2.0), whose recordings it fits.
About 10^9 sentences, so it is built from expressions and parsed by rule, not listed.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from assistant.lab.benches.expressions import Expression, alt, any_order, build, opt, seq
from assistant.messages import Meaning, Report, Several
from assistant.recogniser.automaton import Automaton
from assistant.recogniser.base import ListedSentences

_OPENINGS = (
    "brew", "can i get", "can i have", "i want", "get me", "give me", "i'd like", "make me",
    "may i have",
)  # fmt: skip
_SIZES = (
    "small",
    "medium",
    "large",
    "eight ounce",
    "twelve ounce",
    "sixteen ounce",
    "twenty ounce",
)
_ROASTS = ("light", "medium", "dark")
_SHOTS = ("single shot", "double shot", "triple shot")
_DRINKS = (
    "americano", "cappuccino", "espresso", "iced mocha", "latte", "mocha", "coffee",
    "drip coffee", "house coffee", "iced coffee",
)  # fmt: skip
_AMOUNTS = ("a little bit of", "a bit of", "some", "a lot of", "lots of")
_MILKS = ("milk", "skim milk", "whole milk", "soy milk", "almond milk", "cream")
_SUGARS = ("sugar", "brown sugar", "sweetener")

_SLOTS = ("size", "roast", "numberOfShots", "coffeeDrink", "milkAmount", "sugarAmount")


def _some(things: tuple[str, ...]) -> Expression:
    return seq(opt(alt(*_AMOUNTS)), alt(*things))


def slots(words: Sequence[str]) -> dict[str, str]:
    """What was ordered, by the benchmark's own slot names.

    >>> slots("can i get a large dark roast latte with a bit of milk".split())
    {'size': 'large', 'roast': 'dark roast', 'coffeeDrink': 'latte', 'milkAmount': 'a bit of milk'}
    """
    text = f" {' '.join(words)} "
    order, _, extras = text.partition(" with ")
    found: dict[str, str] = {}
    for roast in _ROASTS:
        if f" {roast} roast " in order:
            found["roast"] = f"{roast} roast"
            order = order.replace(f" {roast} roast ", " ")
    for name, things in (("size", _SIZES), ("numberOfShots", _SHOTS), ("coffeeDrink", _DRINKS)):
        for thing in sorted(things, key=len, reverse=True):
            if f" {thing} " in f"{order} ":
                found[name] = thing
                break
    for extra in filter(None, (part.strip() for part in extras.split(" and "))):
        found["milkAmount" if extra.endswith(_MILKS) else "sugarAmount"] = extra
    return {name: found[name] for name in _SLOTS if name in found}


def as_meaning(order: Mapping[str, str]) -> Meaning:
    """Slots as one meaning, whatever their order."""
    return Several(tuple(Report(name, order[name]) for name in _SLOTS if name in order))


@dataclass(frozen=True, eq=False)
class Orders:
    """The grammar. A meaning is several reports, one a slot."""

    prompt: str = (
        "Can I get a small dark roast double shot americano with some soy milk and brown sugar."
    )

    @property
    def layers(self) -> tuple[Automaton]:
        """Every order, in one automaton."""
        return (self.automaton,)

    @property
    def likely(self) -> tuple[ListedSentences, ...]:
        """Nothing in particular."""
        return ()

    @property
    def sentences(self) -> ListedSentences:
        """None: they are too many to list."""
        return {}

    def weight(self, meaning: Meaning) -> float:
        """Alike for all."""
        return 1.0

    @cached_property
    def automaton(self) -> Automaton:
        """Every order."""
        milk, sugar = _some(_MILKS), _some(_SUGARS)
        with_what = alt(milk, sugar, seq(milk, "and", sugar), seq(sugar, "and", milk))
        ways = any_order(opt(alt(*_SIZES)), opt(seq(alt(*_ROASTS), "roast")), opt(alt(*_SHOTS)))
        return build(
            seq(opt(alt(*_OPENINGS)), opt(alt("a", "an")), ways, alt(*_DRINKS),
                opt("with", with_what))
        )  # fmt: skip

    def meaning(self, words: Sequence[str]) -> Meaning | None:
        """The order's slots; None if it is no order."""
        if not self.automaton.accepts(words):
            return None
        return as_meaning(slots(words))
