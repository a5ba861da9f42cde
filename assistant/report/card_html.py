"""The card as one HTML file: two A5 sides, no script, nothing from outside."""

from __future__ import annotations

from html import escape

from assistant.report.card import Card, GlassDrawn

STYLE = """
* { box-sizing: border-box; }
body { font: 12px/1.3 "DejaVu Sans", Verdana, sans-serif; color: #111; background: #fff;
  margin: 0; }
.side { width: 148mm; min-height: 210mm; padding: 8mm; margin: 0 auto 6mm; border: 1px solid #999; }
h1 { font-size: 20px; margin: 0; }
h2 { font-size: 13px; margin: 10px 0 3px; border-bottom: 2px solid #111; }
h3 { font-size: 11px; margin: 5px 0 0; break-after: avoid; }
p { margin: 0; }
.under { color: #333; }
.top { display: flex; gap: 6mm; align-items: flex-start; }
.top table { flex: 1; }
table { border-collapse: collapse; width: 100%; }
td { padding: 2px 4px; border-bottom: 1px solid #bbb; vertical-align: top; }
td.value { font-weight: bold; font-size: 15px; text-align: right; white-space: nowrap; }
svg { flex: none; }
.two { columns: 2; column-gap: 6mm; font-size: 10px; line-height: 1.22; }
.two > div { break-inside: avoid; }
.says { columns: 2; column-gap: 6mm; font-size: 11px; }
.says div { break-inside: avoid; margin-bottom: 3px; }
.says small { color: #333; display: block; font-size: 9px; }
.strong { border: 2px solid #111; padding: 4px 6px; font-weight: bold; margin: 4px 0; }
@media (max-width: 640px) {
  .side { width: auto; min-height: 0; padding: 10px; border: 0; }
  .two, .says { columns: 1; font-size: 14px; }
  .top { flex-wrap: wrap; }
  .says small { font-size: 12px; }
}
@page { size: A5; margin: 0; }
@media print { .side { border: 0; margin: 0; break-after: page; } }
"""
GLASS_PX = (120, 240)  # the drawing, wide and high
COLUMN_PX = (40, 34, 14, 212)  # the glass in it: left, width, top, height


def card_html(card: Card) -> str:
    """The text of the file."""
    return (
        '<!doctype html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f"<title>{escape(card.name)}: card for the cab</title>\n<style>{STYLE}</style>\n</head>\n"
        f"<body>\n{_front(card)}{_back(card)}</body>\n</html>\n"
    )


def _front(card: Card) -> str:
    rows = "".join(
        f'<tr><td>{escape(name)}</td><td class="value">{escape(value)}</td></tr>\n'
        for name, value in card.figures
    )
    says = "".join(
        f"<div><b>{escape(form)}</b><small>{escape(varies)}</small></div>\n"
        for form, varies in card.says
    )
    return (
        f'<section class="side">\n<h1>{escape(card.name)}</h1>\n'
        f'<p class="under">{escape(card.under)}</p>\n'
        f'<div class="top"><table>{rows}</table>{_glass(card.glass)}</div>\n'
        f'<h2>Say</h2>\n<div class="says">{says}</div>\n'
        f'<p class="strong">{escape(card.caution)}</p>\n</section>\n'
    )


def _back(card: Card) -> str:
    acts = "".join(
        f"<div><h3>{escape(each.name)}</h3>"
        + "".join(f"<p>{number}. {escape(act)}</p>" for number, act in enumerate(each.acts, 1))
        + "</div>\n"
        for each in card.acts
    )
    return (
        f'<section class="side">\n<h2>{escape(heading(card))}</h2>\n'
        f'<div class="two">{acts}</div>\n<p class="strong">{escape(card.ending)}</p>\n</section>\n'
    )


def heading(card: Card) -> str:
    """What the second side is called."""
    return "In trouble (general: her own instructions first)" if card.general else "In trouble"


def _glass(glass: GlassDrawn) -> str:
    wide, high = GLASS_PX
    left, width, top, height = COLUMN_PX

    def y(part: float) -> float:
        return top + height * (1.0 - part)

    marks = (
        (glass.upper_mark, "upper", 2.5),
        (glass.cold_fill, "fill cold", 1.0),
        (glass.lower_mark, "lower", 2.5),
    )
    lines = "".join(
        f'<line x1="{left - 12}" x2="{left + width + 6}" y1="{y(part):.1f}" y2="{y(part):.1f}" '
        f'stroke="#111" stroke-width="{thick}"/>'
        f'<text x="{left + width + 8}" y="{y(part) + 4:.1f}" font-size="10">{name}</text>'
        for part, name, thick in marks
    )
    below = height * glass.lower_mark
    return (
        f'<svg width="{wide}" height="{high}" viewBox="0 0 {wide} {high}" role="img" '
        f'aria-label="the glass: lower mark {glass.lower_mark:.0%}, fill cold '
        f'{glass.cold_fill:.0%}, upper mark {glass.upper_mark:.0%}">'
        '<defs><pattern id="never" width="6" height="6" patternUnits="userSpaceOnUse" '
        'patternTransform="rotate(45)"><line x1="0" y1="0" x2="0" y2="6" stroke="#111" '
        'stroke-width="2"/></pattern></defs>'
        f'<rect x="{left}" y="{y(glass.lower_mark):.1f}" width="{width}" height="{below:.1f}" '
        'fill="url(#never)"/>'
        f'<rect x="{left}" y="{top}" width="{width}" height="{height}" fill="none" stroke="#111" '
        f'stroke-width="2"/>{lines}'
        f'<text x="{left}" y="{high - 2}" font-size="9">{glass.visible}</text></svg>'
    )
