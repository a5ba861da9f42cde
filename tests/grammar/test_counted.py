"""Coal and water as they are counted: few sentences for the ear, any number from the keyboard."""

from __future__ import annotations

import pytest

from assistant.grammar.counted import LISTENED_FOR, counted
from assistant.grammar.phonetics import alike
from assistant.grammar.phrases import EXPECTED_KINDS, grammar, listing
from assistant.grammar.prior_weights import weight
from assistant.messages import COAL_PUT_ON, WATER_PUT_IN, Expected, Report

COAL, WATER = COAL_PUT_ON, WATER_PUT_IN


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("One bucket on.", Report(COAL, 1.0, "bucket")),
        ("a bucket on", Report(COAL, 1.0, "bucket")),
        ("12 shovels on", Report(COAL, 12.0, "shovel")),
        ("five shovelfuls of coal on", Report(COAL, 5.0, "shovel")),
        ("half a bucket of coal on", Report(COAL, 0.5, "bucket")),
        ("15 l in", Report(WATER, 15.0, "litre")),
        ("ten liters in", Report(WATER, 10.0, "litre")),
        ("3 buckets of water in", Report(WATER, 3.0, "bucket")),
        ("7 imperial gallons in", Report(WATER, 7.0, "imperial_gallon")),
        ("ten litres", Report("tank", 10.0, "litre")),
        ("ten gallons in", None),
        ("500 buckets on", None),
        ("-2 buckets on", None),
        ("0 buckets on", None),
        ("buckets on", None),
        ("one bucket in", None),
    ],
)
def test_typed_counts(typed: str, meant: Report | None) -> None:
    for kind in EXPECTED_KINDS:
        if kind == "answer" and meant is not None and meant.what == "tank":
            continue
        assert grammar(Expected(kind)).parse(typed) == meant, kind


def test_a_dozen_at_most_are_listened_for_whatever_is_asked() -> None:
    forms = dict(counted())
    assert len(forms) == sum(map(len, LISTENED_FOR.values())) <= 12
    for kind in EXPECTED_KINDS:
        sentences = grammar(Expected(kind)).sentences
        heard = {w: m for w, m in sentences.items() if m in forms.values()}
        assert heard == forms, kind


def test_they_sound_like_nothing_else_that_means_something_else() -> None:
    short = [(text, meaning) for text, meaning in listing("any") if len(text) < 40]
    for words, report in counted():
        said = " ".join(words)
        assert [t for t, m in short if m != report and alike(said, t)] == []


def test_a_count_is_as_likely_as_any_other_remark() -> None:
    weights = [weight(report, Expected()) for _, report in counted()]
    assert set(weights) == {weight(Report("fire", "coal"), Expected())}
