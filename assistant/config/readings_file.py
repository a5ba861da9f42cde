"""A readings file in CSV -> (seconds, report) in order of time, with all its problems; and back.

Knows the form of the file; what a gauge can show is asked of belief/history.py.
"""

from __future__ import annotations

import csv
import datetime
import math
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

from assistant.belief.history import STATES, report_fault
from assistant.boiler.figures import Engine
from assistant.config.field_readers import number_in
from assistant.config.positioned_yaml import Problems, read_text
from assistant.config.readings_row import (
    UNITS,
    has_room,
    moment_in,
    off_gauge_problem,
    same_value,
    unit_problem,
)
from assistant.config.suggest import closest, did_you_mean, in_quotes
from assistant.messages import OUT_OF_SIGHT, Report

_COLUMNS = ("time", "what", "value", "unit")
_MAX_BYTES = 20_000_000
Row = tuple[float, Report]


@dataclass(frozen=True, slots=True)
class Readings:
    """The rows of one file in order of time."""

    rows: tuple[Row, ...]
    """(time since the start [s], report)."""
    started: datetime.datetime | None = None
    """The moment of second 0; None where the file has no dates."""
    engine_name: str | None = None
    """None where the file names no engine."""


def read_readings(path: Path, engine: Engine | None = None) -> Readings:
    """The readings of a file; with an engine, they are checked against its gauges and its name.

    Raises FileWrongError with all problems.
    """
    return readings_from_text(read_text(path, _MAX_BYTES), str(path), engine)


def readings_from_text(text: str, file: str, engine: Engine | None = None) -> Readings:
    """The readings that a text holds. Raises FileWrongError with all problems."""
    problems = Problems(file)
    reader = _Reader(problems, engine)
    reader.read(text)
    problems.stop_if_any()
    return Readings(tuple(reader.rows), reader.started, reader.engine_name)


@dataclass(frozen=True, slots=True)
class _Cell:
    text: str
    line: int
    column: int

    @property
    def place(self) -> tuple[int, int]:
        return self.line, self.column


class _Reader:
    """One pass over the lines; everything wrong with them is added to `problems`."""

    def __init__(self, problems: Problems, engine: Engine | None) -> None:
        self.problems = problems
        self.engine = engine
        self.rows: list[Row] = []
        self.started: datetime.datetime | None = None
        self.engine_name: str | None = None
        self._header: list[str] | None = None
        self._line_of: dict[tuple[float, str], tuple[Report, int]] = {}
        self._latest = (-math.inf, 0)
        self._dated: bool | None = None

    def read(self, text: str) -> None:
        if not text.strip():
            self.problems.add((0, 0), "the file is empty")
            return
        rows = 0
        for number, line in enumerate(text.split("\n"), 1):
            if line.lstrip().startswith("#"):
                self._comment(line, number)
                continue
            if not line.replace(",", "").strip():
                continue
            cells = self._cells(line, number)
            if cells is None:
                continue
            if self._header is None:
                if not self._take_header(cells):
                    return
                continue
            rows += 1
            self._row(cells)
        if rows == 0:
            self.problems.add((0, 0), "there is no reading in it")

    def _comment(self, line: str, number: int) -> None:
        match = re.match(r"\s*#\s*engine\s*:\s*(.+?)\s*$", line)
        if match:
            self._name(_Cell(match[1], number, match.start(1) + 1))

    def _name(self, cell: _Cell) -> None:
        """Every row or comment that names an engine names the same one, and the one given."""
        if self.engine_name is None:
            self.engine_name = cell.text
        wanted = self.engine.name if self.engine is not None else self.engine_name
        if cell.text.casefold() != wanted.casefold():
            self.problems.add(
                cell.place, f"of another engine: {in_quotes(cell.text)}, not {in_quotes(wanted)}"
            )

    def _cells(self, line: str, number: int) -> list[_Cell] | None:
        try:
            texts = next(csv.reader([line], strict=True))
        except (csv.Error, StopIteration) as wrong:
            self.problems.add((number, 1), f"not a CSV line: {wrong}")
            return None
        cells, column = [], 1
        for text in texts:
            lead = len(text) - len(text.lstrip())
            cells.append(_Cell(text.strip(), number, column + lead))
            quoted = line[column - 1 : column] == '"'
            column += len(text) + (2 + text.count('"') if quoted else 0) + 1
        return cells

    def _take_header(self, cells: list[_Cell]) -> bool:
        names = [cell.text.lower() for cell in cells]
        line = cells[0].line
        if len(names) == 1 and re.search(r"[;\t]", names[0]):
            self.problems.add((line, 1), "the columns must be parted by commas")
            return False
        missing = [name for name in _COLUMNS if name not in names]
        lacking = list(missing)
        for cell, name in zip(cells, names, strict=True):
            if name not in (*_COLUMNS, "engine"):
                near = closest(name, missing)
                if near in lacking:
                    lacking.remove(near)
                meant = f" (did you mean '{near}'?)" if near else ""
                self.problems.add(cell.place, f"unknown column {in_quotes(cell.text)}{meant}")
            elif names.index(name) != cells.index(cell):
                self.problems.add(cell.place, f"the column {in_quotes(name)} is there twice")
        if lacking:
            wanted = f"the first line must name the columns {','.join(_COLUMNS)}"
            self.problems.add((line, 1), f"{wanted}; it lacks {', '.join(lacking)}")
        if missing:
            return False
        self._header = names
        return True

    def _row(self, cells: list[_Cell]) -> None:
        assert self._header is not None
        end = cells[-1]
        if len(cells) > len(self._header):
            extra = cells[len(self._header)]
            self.problems.add(extra.place, f"more cells than the {len(self._header)} columns")
        by_name = {
            name: cells[i] if i < len(cells) else _Cell("", end.line, end.column + len(end.text))
            for i, name in enumerate(self._header)
        }
        named = by_name.get("engine")
        if named is not None and named.text:
            self._name(named)
        at_s = self._time(by_name["time"])
        report = self._report(by_name["what"], by_name["value"], by_name["unit"])
        if at_s is not None and report is not None:
            self._take(at_s, report, by_name)

    def _take(self, at_s: float, report: Report, by_name: dict[str, _Cell]) -> None:
        line = by_name["what"].line
        earlier = self._line_of.get((at_s, report.what))
        if earlier is None:
            self._line_of[at_s, report.what] = (report, line)
            self.rows.append((at_s, report))
        elif not same_value(earlier[0], report):
            self.problems.add(
                by_name["value"].place,
                f"two values of {report.what} at one time (the other in line {earlier[1]})",
            )

    def _time(self, cell: _Cell) -> float | None:
        try:
            at_s, moment = moment_in(cell.text)
        except ValueError as wrong:
            self.problems.add(cell.place, str(wrong))
            return None
        dated = moment is not None
        if self._dated is None:
            self._dated = dated
            self.started = moment
        if dated != self._dated:
            self.problems.add(cell.place, "times since the start and dates in one file")
            return None
        if moment is not None and self.started is not None:
            try:
                at_s = (moment - self.started).total_seconds()
            except TypeError:
                self.problems.add(cell.place, "dates with and without a time zone in one file")
                return None
        if at_s < self._latest[0]:
            self.problems.add(cell.place, f"the time goes back (line {self._latest[1]} is later)")
            return None
        self._latest = (at_s, cell.line)
        return at_s

    def _report(self, what: _Cell, value: _Cell, unit: _Cell) -> Report | None:
        name = what.text
        if name in STATES:
            return self._state(name, value, unit)
        if name not in UNITS:
            near = did_you_mean(name, [*UNITS, *STATES])
            self.problems.add(what.place, f"unknown reading {in_quotes(name)}{near}")
            return None
        if name == "water" and value.text == OUT_OF_SIGHT and not unit.text:
            return Report(name, OUT_OF_SIGHT)
        return self._number(name, value, unit)

    def _state(self, name: str, value: _Cell, unit: _Cell) -> Report | None:
        if unit.text:
            self.problems.add(
                unit.place, f"{name} has no unit, but {in_quotes(unit.text)} is given"
            )
        if value.text not in STATES[name]:
            near = did_you_mean(value.text, sorted(STATES[name]))
            self.problems.add(value.place, f"{name} is not {in_quotes(value.text)}{near}")
            return None
        return Report(name, value.text)

    def _number(self, name: str, value: _Cell, unit: _Cell) -> Report | None:
        number = number_in(value.text)
        if number is None:
            self.problems.add(value.place, f"{name}: {in_quotes(value.text)} is not a plain number")
        if unit.text not in UNITS[name]:
            self.problems.add(unit.place, unit_problem(name, unit.text))
        elif number is not None:
            report = Report(name, number, unit.text)
            reason = off_gauge_problem(report) or (
                self.engine and report_fault(self.engine, report)
            )
            if not reason:
                return report
            self.problems.add(value.place, reason)
        return None


def write_readings(
    rows: Iterable[Row], engine_name: str | None = None, started: str | None = None
) -> str:
    """The rows as the text of a readings file, times since the start to a millisecond.

    Reports that the form cannot hold (a checklist's own subjects) are left out.
    """
    head = [f"# engine: {engine_name}"] if engine_name else []
    head += [f"# started: {started}"] if started else []
    lines = [*head, ",".join(_COLUMNS), *(_line(at_s, report) for at_s, report in _with_room(rows))]
    return "\n".join(lines) + "\n"


def _with_room(rows: Iterable[Row]) -> Iterator[Row]:
    return (row for row in rows if has_room(row[1]))


def _line(at_s: float, report: Report) -> str:
    value = report.value if isinstance(report.value, str) else _shortest(report.value)
    return f"{_clock(at_s)},{report.what},{value},{report.unit or ''}"


def _shortest(value: float) -> str:
    return str(int(value)) if value == int(value) and abs(value) < 1e15 else repr(value)


def _clock(at_s: float) -> str:
    """Seconds as HH:MM:SS, with milliseconds where there are some.

    >>> _clock(3750.0), _clock(0.25)
    ('01:02:30', '00:00:00.250')
    """
    whole, milli = divmod(round(at_s * 1000), 1000)
    text = f"{whole // 3600:02d}:{whole // 60 % 60:02d}:{whole % 60:02d}"
    return f"{text}.{milli:03d}" if milli else text
