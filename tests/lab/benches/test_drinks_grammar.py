"""The grammar of people's recorded orders: what is an order, and what of it counts."""

from __future__ import annotations

import pytest

from assistant.lab.benches.drinks_grammar import Orders, as_meaning, slots

LARGE_LATTE = "can i get a large latte with a bit of whole milk and sugar"


@pytest.mark.parametrize(
    ("text", "meant"),
    [
        ("i want a cappuccino", {"coffeeDrink": "cappuccino"}),
        ("make me a small dark roast espresso", None),
    ],
)
def test_the_same_slots_are_the_same_meaning(text: str, meant: dict[str, str] | None) -> None:
    grammar = Orders()
    words = tuple(text.split())
    found = grammar.meaning(words)
    assert found is not None
    assert found == as_meaning(slots(words))
    if meant is not None:
        assert found == as_meaning(meant)


def test_how_it_is_asked_for_does_not_count_and_what_is_asked_for_does() -> None:
    grammar = Orders()
    one = grammar.meaning(tuple(LARGE_LATTE.split()))
    other = grammar.meaning(tuple(LARGE_LATTE.replace("can i get", "give me").split()))
    small = grammar.meaning(tuple(LARGE_LATTE.replace("large", "small").split()))
    assert one == other != small


@pytest.mark.parametrize("text", ["", "milk", "i want a", "i want a large", "pressure seventy"])
def test_what_is_no_order_has_no_meaning(text: str) -> None:
    assert Orders().meaning(tuple(text.split())) is None
