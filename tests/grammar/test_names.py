"""Sentences with a name in them: what they mean, and which names cannot be used."""

from __future__ import annotations

import pytest

from assistant.grammar import names
from assistant.grammar.phrases import grammar
from assistant.messages import Expected, Report


def test_each_form_means_one_thing_in_the_grammar_of_a_session() -> None:
    answers = tuple(names.forms(["Ann", "Bob Lee"]))
    listened = grammar(Expected("state", answers))
    assert listened.parse("Ann has the watch") == Report("on watch", "Ann")
    assert listened.parse("Bob Lee takes the watch") == Report("on watch", "Bob Lee")
    looked = Report("boiler", "looked at by Ann")
    assert listened.parse("boiler has been looked at by Ann") == looked
    assert listened.parse("Ann has looked at the boiler") == looked


def test_a_name_alone_counts_only_where_it_is_given_as_an_answer() -> None:
    listened = grammar(Expected("state", tuple(names.forms(["Ann"]))))
    assert listened.parse("Ann") is None
    bare = tuple(names.bare_forms(["Ann"], names.watch_of))
    asked = grammar(Expected("state", bare))
    assert asked.parse("Ann") == asked.parse("by Ann") == Report("on watch", "Ann")


def test_names_that_can_be_spoken_and_told_apart_are_not_objected_to() -> None:
    assert not list(names.objections(["Ann", "Bob", "Mary Lee", "O'Hara"]))


@pytest.mark.parametrize(
    ("given", "who", "why"),
    [
        (["R2"], "R2", "letters only"),
        (["Ann of the Old Mill"], "Ann of the Old Mill", "three words"),
        (["Ready"], "Ready", "already means"),
        (["Half"], "Half", "where that is asked"),
        (["Ten"], "Ten", "where that is asked"),
        (["Ann", "Anna"], "Anna", "sounds too much like 'Ann'"),
        (["ann", "Ann"], "Ann", "sounds too much"),
    ],
)
def test_a_name_that_clashes_is_told_with_the_reason(given: list[str], who: str, why: str) -> None:
    ((name, said),) = names.objections(given)
    assert name == who
    assert why in said


def test_a_list_of_names_is_read_with_its_commas() -> None:
    assert names.names_in(" Ann,Bob  Lee, ,Ann") == ("Ann", "Bob Lee")
    assert names.names_in("") == ()
