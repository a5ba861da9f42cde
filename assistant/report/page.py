"""A page as plain parts: headings, tables, pictures, lines to sign. Knows neither HTML nor PDF."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

Form = Literal["wide svg", "narrow svg", "png"]


@dataclass(frozen=True, slots=True)
class SoundPart:
    """A sound that can be played where a page can play one; elsewhere its words stand for it."""

    words: str
    flac: bytes

    def __str__(self) -> str:
        return self.words


Cell = str | SoundPart


@dataclass(frozen=True, slots=True)
class TableRow:
    """One row of a table.

    struck: a single line goes through all but the last cell, the remark; the words stay readable.
    """

    cells: tuple[Cell, ...]
    struck: bool = False


@dataclass(frozen=True, slots=True)
class TablePart:
    """head: empty for a plain list of names and values. shares: relative widths of the columns."""

    head: tuple[str, ...]
    rows: tuple[TableRow, ...]
    shares: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class TextPart:
    """A paragraph. strong: in a frame of its own."""

    text: str
    strong: bool = False


@dataclass(frozen=True, slots=True)
class Picture:
    """A chart: words that tell what it shows, and how to draw it in a form."""

    words: str
    draw: Callable[[Form], bytes]


@dataclass(frozen=True, slots=True)
class Blanks:
    """Lines that only a person fills, with a pen."""

    names: tuple[str, ...]


Part = TablePart | TextPart | Picture | Blanks


@dataclass(frozen=True, slots=True)
class Section:
    """A heading and what stands under it."""

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
