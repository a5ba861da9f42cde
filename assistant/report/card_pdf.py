"""The card as a PDF: two sides of A5, its fonts embedded. Knows the PDF library."""

from __future__ import annotations

from typing import TYPE_CHECKING

from assistant.report.card import Card, GlassDrawn
from assistant.report.card_html import heading
from assistant.report.page_pdf import FAMILY, font_folder

if TYPE_CHECKING:
    from fpdf import FPDF

MARGIN_MM = 8.0
GUTTER_MM = 5.0
GLASS_MM = (34.0, 62.0)  # room for the glass, wide and high
COLUMN_MM = 9.0  # width of the glass itself
SIZES_PT = (
    9.0,
    8.6,
    8.3,
    8.0,
    7.6,
    7.2,
    6.8,
    6.4,
    6.0,
    5.6,
)  # of the acts: the largest that fits one side
LEADING = 0.44  # mm for each point: type and the space to the next line


def card_pdf(card: Card) -> bytes:
    """The bytes of the file: always two sides.

    Raises ValueError where the acts do not fit one side at the smallest type.
    """
    paper = _paper(card)
    paper.add_page()
    _front(paper, card)
    paper.add_page()
    _back(paper, card)
    return bytes(paper.output())


def _paper(card: Card) -> FPDF:
    from fpdf import FPDF

    paper = FPDF(format=(148, 210))
    paper.set_title(f"{card.name}: card for the cab")
    paper.set_margin(MARGIN_MM)
    paper.set_auto_page_break(False)
    for style, file in (("", "DejaVuSans.ttf"), ("B", "DejaVuSans-Bold.ttf")):
        paper.add_font(FAMILY, style, font_folder() / file)
    return paper


def _font(paper: FPDF, points: float, style: str = "") -> None:
    paper.set_font(FAMILY, style, points)


def _front(paper: FPDF, card: Card) -> None:
    _font(paper, 16, "B")
    paper.cell(0, 8, card.name, new_x="LMARGIN", new_y="NEXT")
    _font(paper, 7.5)
    paper.cell(0, 4, card.under, new_x="LMARGIN", new_y="NEXT")
    top = paper.get_y() + 2
    wide = paper.epw - GLASS_MM[0] - GUTTER_MM
    paper.set_y(top)
    for name, value in card.figures:
        _font(paper, 9)
        paper.cell(wide * 0.55, 7, name, border="B")
        _font(paper, 13, "B")
        paper.cell(wide * 0.45, 7, value, border="B", align="R", new_x="LMARGIN", new_y="NEXT")
    _glass(paper, card.glass, paper.l_margin + wide + GUTTER_MM, top)
    paper.set_y(max(paper.get_y(), top + GLASS_MM[1]) + 2)
    _heading(paper, "Say")
    _says(paper, card)
    _framed(paper, card.caution)


def _says(paper: FPDF, card: Card) -> None:
    wide = (paper.epw - GUTTER_MM) / 2
    half = (len(card.says) + 1) // 2
    top, lowest = paper.get_y(), 0.0
    for column, says in enumerate((card.says[:half], card.says[half:])):
        left = paper.l_margin + column * (wide + GUTTER_MM)
        paper.set_y(top)
        for form, varies in says:
            paper.set_x(left)
            _font(paper, 9, "B")
            paper.multi_cell(wide, 4.2, form, new_x="LEFT", new_y="NEXT", align="L")
            if varies:
                _font(paper, 6.5)
                paper.multi_cell(wide, 3, varies, new_x="LEFT", new_y="NEXT", align="L")
            paper.set_y(paper.get_y() + 1)
        lowest = max(lowest, paper.get_y())
    paper.set_y(lowest)


def _back(paper: FPDF, card: Card) -> None:
    _heading(paper, heading(card))
    room = paper.h - MARGIN_MM - paper.get_y() - 14
    wide = (paper.epw - GUTTER_MM) / 2
    for points in SIZES_PT:
        heights = [_high(paper, each.name, each.acts, wide, points) for each in card.acts]
        turn = _turn(heights, room)
        if turn is not None:
            break
    else:
        raise ValueError("the acts of the emergencies do not fit one side of A5")
    top, lowest = paper.get_y(), 0.0
    for column, acts in enumerate((card.acts[:turn], card.acts[turn:])):
        paper.set_y(top)
        for each in acts:
            _one(paper, each.name, each.acts, wide, points, column)
        lowest = max(lowest, paper.get_y())
    paper.set_y(lowest + 1)
    _framed(paper, card.ending)


def _turn(heights: list[float], room: float) -> int | None:
    """How many stand in the first column, so that both fit; None where they do not."""
    fitting = [
        n for n in range(len(heights) + 1) if sum(heights[:n]) <= room and sum(heights[n:]) <= room
    ]
    half = sum(heights) / 2
    return min(fitting, key=lambda n: abs(sum(heights[:n]) - half), default=None)


def _high(paper: FPDF, name: str, acts: tuple[str, ...], wide: float, points: float) -> float:
    line = points * LEADING
    _font(paper, points)
    numbered = (f"{number}. {act}" for number, act in enumerate(acts, 1))
    lines = sum(_lines(paper, text, wide, line) for text in numbered)
    return (lines + 1) * line + 1.2


def _lines(paper: FPDF, text: str, wide: float, line: float) -> int:
    """How many lines a text takes."""
    broken = paper.multi_cell(wide, line, text, dry_run=True, output="LINES", align="L")
    assert isinstance(broken, list)
    return len(broken)


def _one(
    paper: FPDF, name: str, acts: tuple[str, ...], wide: float, points: float, column: int
) -> None:
    line = points * LEADING
    left = paper.l_margin + column * (wide + GUTTER_MM)
    paper.set_x(left)
    _font(paper, points, "B")
    paper.cell(wide, line, name, new_x="LEFT", new_y="NEXT")
    _font(paper, points)
    for number, act in enumerate(acts, 1):
        paper.set_x(left)
        paper.multi_cell(wide, line, f"{number}. {act}", new_x="LEFT", new_y="NEXT", align="L")
    paper.set_y(paper.get_y() + 1.2)


def _heading(paper: FPDF, text: str) -> None:
    _font(paper, 10, "B")
    paper.cell(0, 6, text, border="B", new_x="LMARGIN", new_y="NEXT")
    paper.ln(1.5)


def _framed(paper: FPDF, text: str) -> None:
    _font(paper, 7.5, "B")
    paper.multi_cell(0, 3.6, text, border=1, padding=1, align="L")


def _glass(paper: FPDF, glass: GlassDrawn, left: float, top: float) -> None:
    column, height = left + 6.0, GLASS_MM[1] - 8.0

    def y(part: float) -> float:
        return top + height * (1.0 - part)

    paper.set_line_width(0.2)
    step, x = 1.6, 0.0
    with paper.rect_clip(column, y(glass.lower_mark), COLUMN_MM, height * glass.lower_mark):
        while x < COLUMN_MM + height:  # never steam here: hatched
            paper.line(column + x - height, top + height, column + x, top)
            x += step
    paper.set_line_width(0.6)
    paper.rect(column, top, COLUMN_MM, height)
    for part, name, thick in (
        (glass.upper_mark, "upper", 0.8), (glass.cold_fill, "fill cold", 0.3),
        (glass.lower_mark, "lower", 0.8),
    ):  # fmt: skip
        paper.set_line_width(thick)
        paper.line(column - 3.0, y(part), column + COLUMN_MM + 2.0, y(part))
        _font(paper, 8, "B" if thick > 0.5 else "")
        paper.text(column + COLUMN_MM + 3.0, y(part) + 1.0, name)
    paper.set_line_width(0.2)
    _font(paper, 6.5)
    paper.text(column - 3.0, top + height + 4.0, f"glass, {glass.visible}")
