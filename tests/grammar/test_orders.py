"""Orders in words: each has some, and numbers in them are spoken in the usual way only."""

from __future__ import annotations

from assistant.grammar import orders, phrases
from assistant.messages import ORDERS, Order


def test_every_order_has_words_and_no_other_order_exists() -> None:
    spoken = {m.name for _, m in phrases.listing("any") if isinstance(m, Order)}
    assert spoken == set(ORDERS)


def test_a_wait_is_a_whole_number_of_minutes() -> None:
    waits = dict(orders.waits())
    assert waits[("wait", "one", "minute")] == waits[("wait", "a", "minute")]
    assert waits[("give", "me", "forty", "five", "minutes")] == Order("wait", 45.0, "minute")
    assert ("wait", "one", "minutes") not in waits
    assert ("wait", "thirty", "one", "minutes") not in waits


def test_a_time_to_a_pressure_is_in_the_dials_unit_unless_another_is_named() -> None:
    on_a_bar_dial = dict(orders.how_longs("bar"))
    assert on_a_bar_dial[("how", "long", "to", "five")] == Order("how long", 5.0, "bar")
    pounds = ("how", "long", "to", "sixty", "pounds")
    assert on_a_bar_dial[pounds] == Order("how long", 60.0, "psi")
    assert ("how", "long", "to", "sixty") not in on_a_bar_dial


def test_a_feed_is_counted_in_named_units() -> None:
    feeds = dict(orders.feeds())
    assert feeds[("what", "if", "i", "feed", "half", "a", "litre")] == Order(
        "if feed", 0.5, "litre"
    )
    gallon = ("what", "if", "i", "feed", "one", "imperial", "gallon")
    assert feeds[gallon] == Order("if feed", 1.0, "imperial_gallon")
    assert ("what", "if", "i", "feed", "one", "gallon") not in feeds
    assert ("what", "if", "i", "feed", "sixty", "one", "litres") not in feeds
