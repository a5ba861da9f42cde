"""A table of figures as lines of text: the one printer of all benches. Knows no bench."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np


@dataclass(frozen=True, slots=True)
class Column:
    """One column of figures, set right."""

    name: str
    width: int
    format: str = ""  # format specification of its values

    def cell(self, value: float | str | None) -> str:
        """A value in this column; None, where there is none, is a dash.

        >>> Column("right%", 8, ".1f").cell(62.55), Column("held", 5).cell(None)
        ('    62.5', '    -')
        """
        if value is None:
            return f"{'-':>{self.width}}"
        text = value if isinstance(value, str) else format(value, self.format)
        return f"{text:>{self.width}}"


class ResultTable:
    """Columns after a column of labels, set left.

    >>> table = ResultTable(8, Column("n", 4), Column("wrong%", 8, ".1f"), corner="noise")
    >>> print(table.header(), table.row("blower", 40, 2.5), sep="\\n")
    noise      n  wrong%
    blower    40     2.5
    """

    def __init__(self, label_width: int, *columns: Column, corner: str = "") -> None:
        self._label_width = label_width
        self._columns = columns
        self._corner = corner

    def with_columns(self, *more: Column) -> ResultTable:
        """The same table with more columns on the right."""
        return ResultTable(self._label_width, *self._columns, *more, corner=self._corner)

    def header(self) -> str:
        """The line of the columns' names."""
        return self._line(self._corner, [column.cell(column.name) for column in self._columns])

    def row(self, label: str, *values: float | str | None) -> str:
        """A line of values, one for each column."""
        cells = [column.cell(v) for column, v in zip(self._columns, values, strict=True)]
        return self._line(label, cells)

    def _line(self, label: str, cells: Sequence[str]) -> str:
        return f"{label:<{self._label_width}}" + "".join(cells)


def median_and_95(seconds: Sequence[float]) -> tuple[float, float]:
    """The median and the 95th percentile; 0 of nothing.

    >>> median_and_95([0.1, 0.2, 0.3])
    (0.2, 0.29)
    """
    if not seconds:
        return 0.0, 0.0
    median, late = np.quantile(seconds, [0.5, 0.95])
    return float(median), float(late)
