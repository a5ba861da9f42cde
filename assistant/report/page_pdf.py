"""A page as a PDF on A4, its fonts embedded. Knows the PDF library; no story."""

from __future__ import annotations

import datetime
import io
from pathlib import Path
from typing import TYPE_CHECKING

from assistant.report.page import Blanks, Page, Part, Picture, Section, TablePart, TextPart

if TYPE_CHECKING:
    from fpdf import FPDF

FAMILY = "DejaVu Sans"  # ships with the plotting library, and has every character used
MARGIN_MM = 14.0
HEADING_MM = 7.0
BELOW_MM = 17.0  # room that a heading needs below it, so that it does not end a page
KEY_MM = 17.0  # room for the key below a picture
BLANK_MM = 11.0
LEAST_SCALE = 0.75
LINES_A_ROW = 60  # of a table: fewer than a page holds
WIDEST_MM = 2.7  # a wide letter of a table's type


def pdf(page: Page, made: datetime.datetime | None = None) -> bytes:
    """The page as the bytes of a PDF file. made: the date in it, if any."""
    paper = _paper(page)
    if made is not None:
        paper.set_creation_date(made)
    paper.add_page()
    _font(paper, 15, "B")
    paper.multi_cell(0, 7, page.title, new_x="LMARGIN", new_y="NEXT")
    _font(paper, 9)
    paper.multi_cell(0, 5, page.under, new_x="LMARGIN", new_y="NEXT")
    for section in page.sections:
        _section(paper, section)
    return bytes(paper.output())


def _paper(page: Page) -> FPDF:
    from fpdf import FPDF

    class Paper(FPDF):
        def normalize_text(self, text: str) -> str:
            return str(super().normalize_text(_without_surrogates(text)))

        def footer(self) -> None:
            self.set_y(-10)
            self.set_font(FAMILY, "", 7)
            self.cell(0, 4, f"{page.title}, {page.under}", align="L")
            self.set_x(MARGIN_MM)
            self.cell(0, 4, f"page {self.page_no()} of {{nb}}", align="R")

    paper = Paper(format="A4")
    paper.set_title(_without_surrogates(page.title))
    paper.set_margin(MARGIN_MM)
    paper.set_auto_page_break(True, 15)
    for style, file in (("", "DejaVuSans.ttf"), ("B", "DejaVuSans-Bold.ttf")):
        paper.add_font(FAMILY, style, font_folder() / file)
    return paper


def _without_surrogates(text: str) -> str:
    """Half a surrogate, which a journal may hold, as an escape."""
    return text.encode(errors="backslashreplace").decode()


def font_folder() -> Path:
    import matplotlib

    return Path(matplotlib.get_data_path()) / "fonts" / "ttf"


def _font(paper: FPDF, points: float, style: str = "") -> None:
    paper.set_font(FAMILY, style, points)


def _section(paper: FPDF, section: Section) -> None:
    if section.heading:
        paper.ln(3)
        if paper.will_page_break(
            HEADING_MM + max(_needs_mm(paper, part) for part in section.parts)
        ):
            paper.add_page()
        _font(paper, 10.5, "B")
        paper.cell(0, HEADING_MM - 1, section.heading, border="B", new_x="LMARGIN", new_y="NEXT")
        paper.ln(1)
    for part in section.parts:
        _part(paper, part)


def _needs_mm(paper: FPDF, part: Part) -> float:
    """How much of a part must be on the same page as its heading."""
    if isinstance(part, Picture):
        return LEAST_SCALE * _natural_mm(paper, part) + KEY_MM
    return BLANK_MM * len(part.names) if isinstance(part, Blanks) else BELOW_MM


def _natural_mm(paper: FPDF, part: Picture) -> float:
    """The height of a picture as wide as the page; never more than a page holds."""
    from PIL import Image

    with Image.open(io.BytesIO(part.draw("png"))) as image:
        return min(paper.epw * image.height / image.width, paper.eph - HEADING_MM - KEY_MM)


def _part(paper: FPDF, part: Part) -> None:
    match part:
        case TablePart():
            _table(paper, part)
        case TextPart():
            _font(paper, 8.5, "B" if part.strong else "")
            paper.multi_cell(
                0, 4.4, part.text, border=1 if part.strong else 0, new_x="LMARGIN", new_y="NEXT",
                padding=2 if part.strong else 0, align="L",
            )  # fmt: skip
            paper.ln(1)
        case Picture():
            _picture(paper, part)
        case Blanks():
            _blanks(paper, part)


def _picture(paper: FPDF, part: Picture) -> None:
    """As wide as the page, or smaller where it then fits on the rest of it."""
    natural_mm = _natural_mm(paper, part)
    rest_mm = paper.page_break_trigger - paper.get_y() - KEY_MM
    wide_mm = paper.epw * min(1.0, rest_mm / natural_mm)
    left_mm = paper.l_margin + (paper.epw - wide_mm) / 2
    paper.image(io.BytesIO(part.draw("png")), x=left_mm, w=wide_mm, alt_text=part.words)


def _blanks(paper: FPDF, part: Blanks) -> None:
    _font(paper, 8.5)
    for name in part.names:
        paper.ln(BLANK_MM - 5)
        paper.cell(paper.get_string_width(name) + 3, 5, name)
        paper.cell(0, 5, "", border="B", new_x="LMARGIN", new_y="NEXT")


def _table(paper: FPDF, part: TablePart) -> None:
    from fpdf.enums import TableBordersLayout
    from fpdf.fonts import FontFace

    _font(paper, 7.6)
    paper.set_draw_color(150)
    struck = FontFace(emphasis="STRIKETHROUGH")
    with paper.table(
        borders_layout=TableBordersLayout.HORIZONTAL_LINES,
        col_widths=part.shares,
        first_row_as_headings=bool(part.head),
        num_heading_rows=1 if part.head else 0,
        headings_style=FontFace(emphasis="BOLD"),
        line_height=3.6,
        padding=(0.6, 1),
        text_align="LEFT",
    ) as table:
        if part.head:
            table.row(part.head)
        for row in part.rows:
            line = table.row()
            for number, cell in enumerate(row.cells, 1):
                line.cell(
                    _within_a_page(paper, part, number - 1, str(cell)),
                    style=struck if row.struck and number < len(row.cells) else None,
                )
    paper.set_draw_color(0)


def _within_a_page(paper: FPDF, part: TablePart, column: int, text: str) -> str:
    """The text of a cell, cut where its row would be higher than a page, which cannot be drawn.

    Nothing that we write is so long; a book of somebody else's may hold it.
    """
    wide_mm = paper.epw * part.shares[column] / sum(part.shares)
    most = int(LINES_A_ROW * wide_mm / WIDEST_MM)
    return text if len(text) <= most else text[:most] + " ..."
