"""A page as one HTML file: no script, nothing from outside, for a screen, a telephone and A4."""

from __future__ import annotations

import base64
import re
from html import escape

from assistant.report.page import (
    Blanks,
    Cell,
    Page,
    Part,
    Picture,
    Section,
    TablePart,
    TableRow,
    TextPart,
)

STYLE = """
:root { color-scheme: light; }
* { box-sizing: border-box; }
body { font: 15px/1.4 "DejaVu Sans", Verdana, sans-serif; color: #111; background: #fff;
  max-width: 800px; margin: 0 auto; padding: 12px; }
h1 { font-size: 1.5em; margin: 0 0 2px; }
h2 { font-size: 1.1em; margin: 1.4em 0 .4em; border-bottom: 2px solid #111; break-after: avoid; }
p { margin: .4em 0; }
.under { color: #444; }
.strong { border: 2px solid #111; padding: 8px 10px; font-weight: bold; }
img { width: 100%; height: auto; display: block; }
table { border-collapse: collapse; width: 100%; table-layout: fixed; font-size: .87em; }
th, td { text-align: left; vertical-align: top; padding: 3px 6px; border-bottom: 1px solid #bbb;
  overflow-wrap: break-word; }
th { border-bottom: 2px solid #555; }
thead { display: table-header-group; }
tr { break-inside: avoid; }
audio { width: 100%; height: 34px; }
s { text-decoration-thickness: 1.5px; }
.blank { display: flex; align-items: flex-end; margin: 1.1em 0 0; break-inside: avoid; }
.blank span { flex: none; padding-right: 8px; }
.blank i { flex: 1; border-bottom: 1px solid #111; height: 1.2em; }
@media (max-width: 640px) {
  body { font-size: 14px; padding: 8px; }
  table { font-size: .8em; }
  th, td { padding: 3px 3px; }
}
@page { size: A4; margin: 14mm 13mm; }
@media print {
  body { font-size: 9pt; max-width: none; padding: 0; }
  figure, p { break-inside: avoid; }
  audio, audio + br { display: none; }
  img { width: auto; max-width: 100%; max-height: 225mm; margin: 0 auto; }
  img.low { max-height: 145mm; }
  h2 { margin-top: 1em; }
}
figure { margin: 0; }
"""


def html(page: Page) -> str:
    """The page as the text of an HTML file."""
    body = "\n".join(_section(section) for section in page.sections)
    return (
        '<!doctype html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f"<title>{escape(page.title)}</title>\n<style>{STYLE}</style>\n</head>\n<body>\n"
        f'<h1>{escape(page.title)}</h1>\n<p class="under">{escape(page.under)}</p>\n'
        f"{body}\n</body>\n</html>\n"
    )


def _section(section: Section) -> str:
    heading = f"<h2>{escape(section.heading)}</h2>\n" if section.heading else ""
    return f"<section>\n{heading}{''.join(_part(part) for part in section.parts)}</section>"


def _part(part: Part) -> str:
    match part:
        case TablePart():
            return _table(part)
        case TextPart():
            kind = ' class="strong"' if part.strong else ""
            return f"<p{kind}>{escape(part.text)}</p>\n"
        case Picture():
            return _picture(part)
        case Blanks():
            lines = "".join(f"<span>{escape(name)}</span><i></i>\n" for name in part.names)
            return lines.replace("<span>", '<div class="blank"><span>').replace(
                "</i>", "</i></div>"
            )


def _table(part: TablePart) -> str:
    whole = sum(part.shares)
    widths = "".join(f'<col style="width:{100 * share / whole:.1f}%">' for share in part.shares)
    head = "".join(f"<th>{escape(name)}</th>" for name in part.head)
    head = f"<thead><tr>{head}</tr></thead>" if head else ""
    rows = "\n".join(_row(row) for row in part.rows)
    return f"<table><colgroup>{widths}</colgroup>{head}\n<tbody>\n{rows}\n</tbody></table>\n"


def _row(row: TableRow) -> str:
    cells = [_cell(cell) for cell in row.cells]
    if row.struck:
        cells[:-1] = [f"<s>{cell}</s>" for cell in cells[:-1]]
    return f"<tr>{''.join(f'<td>{cell}</td>' for cell in cells)}</tr>"


def _cell(cell: Cell) -> str:
    if isinstance(cell, str):
        return escape(cell)
    inside = f"data:audio/flac;base64,{base64.b64encode(cell.flac).decode('ascii')}"
    return f'<audio controls preload="none" src="{inside}"></audio><br>{escape(cell.words)}'


def _picture(part: Picture) -> str:
    """Wide, and narrow for a telephone so that its lettering is readable.

    One no higher than wide is printed low enough to share a page with what precedes it.
    """
    wide = part.draw("wide svg")
    kind = ' class="low"' if _ratio(wide) <= 1.0 else ""
    return (
        f'<figure><picture><source media="screen and (max-width: 640px)" '
        f'srcset="{_inline(part.draw("narrow svg"))}">'
        f'<img{kind} alt="{escape(part.words)}" src="{_inline(wide)}">'
        "</picture></figure>\n"
    )


def _ratio(svg: bytes) -> float:
    """Height over width of a drawing, by its own header; 0 where it does not say."""
    size = re.search(rb'viewBox="0 0 ([\d.]+) ([\d.]+)"', svg)
    return float(size[2]) / float(size[1]) if size else 0.0


def _inline(svg: bytes) -> str:
    return f"data:image/svg+xml;base64,{base64.b64encode(svg).decode('ascii')}"
