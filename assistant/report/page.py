"""A page as plain parts: headings, tables, pictures, lines to sign. Knows neither HTML nor PDF."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

Form = Literal["wide svg", "narrow svg", "png"]


@dataclass(frozen=True, slots=True)
class SoundPart:
    """A sound, played where a page can; elsewhere its words are shown instead."""

    words: str
    flac: bytes

    def __str__(self) -> str:
        return self.words


Cell = str | SoundPart


@dataclass(frozen=True, slots=True)
class TableRow:
    """One row of a table."""

    cells: tuple[Cell, ...]
    struck: bool = False
    """struck through but for the last cell, the remark; the words stay readable"""


@dataclass(frozen=True, slots=True)
class TablePart:
    """A table."""

    head: tuple[str, ...]
    """empty for a plain list of names and values"""
    rows: tuple[TableRow, ...]
    shares: tuple[int, ...]
    """relative widths of the columns"""


@dataclass(frozen=True, slots=True)
class TextPart:
    """A paragraph."""

    text: str
    strong: bool = False
    """in a frame of its own"""


@dataclass(frozen=True, slots=True)
class Picture:
    """A chart: what it shows in words, and how to draw it in a form."""

    words: str
    draw: Callable[[Form], bytes]


@dataclass(frozen=True, slots=True)
class Blanks:
    """Lines for a person to fill with a pen."""

    names: tuple[str, ...]


Part = TablePart | TextPart | Picture | Blanks


@dataclass(frozen=True, slots=True)
class Section:
    """A heading and what is under it."""

    heading: str
    parts: tuple[Part, ...]


@dataclass(frozen=True, slots=True)
class Page:
    """The whole page."""

    title: str
    under: str
    sections: tuple[Section, ...]


def table(
    head: tuple[str, ...], rows: list[TableRow], shares: tuple[int, ...], none: str
) -> TablePart | TextPart:
    """A table, or the words that there is nothing to put in it."""
    return TablePart(head, tuple(rows), shares) if rows else TextPart(none)
