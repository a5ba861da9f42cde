"""The question's own words, typed bare, answer the question in hand and nothing else."""

from __future__ import annotations

import pytest

from assistant.grammar.own_words import own_word
from assistant.grammar.phrases import grammar
from assistant.messages import Expected, Order, Report
from assistant.recogniser.typed_recogniser import hear_typed

PIPE = (
    ("pipe is cool", Report("pipe", "cool")),
    ("pipe is hot", Report("pipe", "hot")),
)
REGULATOR = (
    ("regulator is shut", Report("regulator", "shut")),
    ("regulator open", Report("regulator", "open")),
)
PEOPLE = (
    ("everyone is clear", Report("people", "clear")),
    ("people are too close", Report("people", "near")),
)
GEAR = (
    ("out of gear", Report("gear", "out")),
    ("gear is out", Report("gear", "out")),
    ("still in gear", Report("gear", "in")),
    ("everyone is clear", Report("people", "clear")),
)


@pytest.mark.parametrize(
    ("answers", "typed", "value"),
    [
        (PIPE, "cool", "cool"),
        (PIPE, "it's cool", "cool"),
        (PIPE, "Yes, hot.", "hot"),
        (PIPE, "she's hot now", "hot"),
        (REGULATOR, "open", "open"),
        (REGULATOR, "it is shut", "shut"),
        (PEOPLE, "clear", "clear"),
        (PEOPLE, "they are clear", "clear"),
        (PEOPLE, "aye, too close", "near"),
        (GEAR, "out", "out"),
        (GEAR, "that's out of gear", "out"),
        (GEAR, "in", "in"),
    ],
)
def test_its_own_word_answers(
    answers: tuple[tuple[str, Report], ...], typed: str, value: str
) -> None:
    report = own_word(grammar(Expected("state", answers)), typed)
    assert report is not None
    assert (report.what, report.value) == (answers[0][1].what, value)


@pytest.mark.parametrize(
    "typed",
    ["cool?", "not cool", "nearly cool", "was cool", "yes", "no", "aye", "no, cool", "clear", "it"],
)
def test_no_other_word_does(typed: str) -> None:
    known = grammar(Expected("state", (*PIPE, *PEOPLE)))
    assert own_word(known, typed) is None


def test_a_word_that_two_answers_have_says_nothing() -> None:
    answers = (("pump is on", Report("feed", "on")), ("spare is on", Report("feed", "spare")))
    assert own_word(grammar(Expected("state", answers)), "on") is None


def test_while_yes_or_no_is_awaited_no_own_word_counts() -> None:
    assert own_word(grammar(Expected("answer", PIPE)), "cool") is None


def test_the_own_word_goes_before_a_short_order() -> None:
    asked = hear_typed("open", Expected("state", REGULATOR), 1.0)
    assert asked.alternatives[0].meaning == Report("regulator", "open")
    assert hear_typed("open", Expected(), 1.0).alternatives[0].meaning == Order("open items")


def test_by_ear_none_of_them_counts() -> None:
    assert grammar(Expected("state", PIPE)).meaning(("cool",)) is None
