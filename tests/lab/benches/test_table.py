"""The printer of the benches: every figure under its name, a dash where there is none."""

from __future__ import annotations

import pytest

from assistant.lab.benches.table import Column, ResultTable, median_and_95

TABLE = ResultTable(10, Column("n", 5), Column("right%", 8, ".1f"), corner="noise")


def test_a_row_is_as_wide_as_its_header() -> None:
    assert len(TABLE.row("blower", 40, 97.5)) == len(TABLE.header()) == 23
    assert TABLE.row("blower", 40, None).endswith("-")


def test_more_columns_leave_the_first_table_as_it_was() -> None:
    wider = TABLE.with_columns(Column("wrong%", 8, ".1f"))
    assert wider.header().startswith(TABLE.header())
    with pytest.raises(ValueError, match="zip"):
        TABLE.row("blower", 40, 97.5, 0.0)


def test_quantiles_of_nothing_are_nothing() -> None:
    assert median_and_95([]) == (0.0, 0.0)
    assert median_and_95([3.0]) == (3.0, 3.0)
