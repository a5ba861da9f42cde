"""Readers of single keys: a value of the right kind, or a problem at its place and None."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.config import field_readers
from assistant.config.positioned_yaml import Problems, Table, parse


def table_of(text: str) -> tuple[Problems, Table]:
    problems = Problems("f")
    table = parse(text, problems)
    assert table is not None, problems.problems
    return problems, table


def told(problems: Problems) -> list[str]:
    return [str(problem).removeprefix("f:") for problem in problems.sorted()]


def test_a_mistyped_required_key_is_one_problem() -> None:
    problems, table = table_of("nmae: x\nother: y\n")
    field_readers.want_keys(problems, table, ("name", "title"), of="'list'")
    assert told(problems) == [
        "1:1: unknown key 'nmae' (did you mean 'name'?)",
        "1:1: 'title' is missing in 'list'",
        "2:1: unknown key 'other' (one of: name, title)",
    ]


def test_a_missing_key_is_no_problem_of_its_reader() -> None:
    problems, table = table_of("a: b\n")
    for reader in (field_readers.want_text, field_readers.want_yes_no, field_readers.want_table):
        assert reader(problems, table, "x") is None
    assert field_readers.want_texts(problems, table, "x") == ()
    assert field_readers.want_tables(problems, table, "x") == ()
    assert told(problems) == []


@pytest.mark.parametrize(
    ("reader", "text", "problem"),
    [
        ("want_text", "x: [a]", "'x': one value is wanted, not a list or a table"),
        ("want_text", "x: ~", "'x': nothing is given"),
        ("want_text", "x: ''", "'x': nothing is given"),
        ("want_yes_no", "x: 1", "'x': yes or no, not '1'"),
        ("want_table", "x: [a]", "'x': a table of 'key: value' is wanted"),
        ("want_tables", "x: a", "'x': a list is wanted, each entry beginning with '- '"),
        ("want_tables", "x: [a]", "'x': each entry is a table of 'key: value'"),
        ("want_texts", "x: {a: b}", "'x': a list of words is wanted"),
        ("want_texts", "x: [a, a]", "'x': 'a' is given twice"),
    ],
)
def test_what_is_refused(reader: str, text: str, problem: str) -> None:
    problems, table = table_of(text)
    getattr(field_readers, reader)(problems, table, "x")
    assert [line.split(": ", 1)[1] for line in told(problems)] == [problem]


def test_one_text_counts_as_a_list_of_one_and_blanks_are_joined() -> None:
    problems, table = table_of("x:   one   two\n")
    assert field_readers.want_texts(problems, table, "x") == ("one two",)


def test_a_quantity_outside_its_range_is_refused_with_the_range() -> None:
    problems, table = table_of("x: 700 psi\n")
    assert field_readers.want_quantity(problems, table, "x", "pressure", "0 psi", "600 psi") is None
    assert told(problems) == ["1:4: 'x': '700 psi' is out of range (0 psi to 600 psi)"]


@given(st.floats(-1e6, 1e6))
def test_a_number_is_read_as_it_was_written_or_refused_by_its_range(value: float) -> None:
    problems, table = table_of(f"x: {value!r}\n")
    number = field_readers.want_number(problems, table, "x", 0.0, 1000.0)
    assert number == (value if 0.0 <= value <= 1000.0 else None)
    assert (number is None) == bool(problems.problems)
