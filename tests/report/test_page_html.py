"""A page as HTML: escaped, struck, self-contained."""

from __future__ import annotations

from assistant.report.page import (
    Blanks,
    Page,
    Part,
    Picture,
    Section,
    SoundPart,
    TablePart,
    TableRow,
    TextPart,
)
from assistant.report.page_html import html


def written(*parts: Part) -> str:
    return html(Page("A & B", "below <it>", (Section("Part & parcel", parts),)))


def test_text_is_escaped_everywhere() -> None:
    sound = SoundPart("<sound>", b"x")
    text = written(
        TextPart("<script>"), TablePart(("<h>",), (TableRow(("<c>", sound)),), (1, 1)),
        Blanks(("<name>",)), Picture("<chart>", lambda form: b"<svg/>"),
    )  # fmt: skip
    for raw in ("<script>", "<h>", "<c>", "<sound>", "<name>", "<chart>", "A & B", "<it>"):
        assert raw not in text


def test_a_struck_row_keeps_its_remark_readable() -> None:
    text = written(TablePart((), (TableRow(("65 psi", "corrected"), struck=True),), (1, 1)))
    assert "<td><s>65 psi</s></td><td>corrected</td>" in text
    assert "<thead>" not in text


def test_columns_have_their_shares() -> None:
    text = written(TablePart((), (TableRow(("a", "b")),), (1, 3)))
    assert "width:25.0%" in text and "width:75.0%" in text


def test_a_picture_is_inside_the_page_in_both_widths_and_a_low_one_is_marked() -> None:
    drawn: list[str] = []

    def draw(form: str) -> bytes:
        drawn.append(form)
        return b'<svg viewBox="0 0 200 100">'

    text = written(Picture("words", draw))
    assert sorted(drawn) == ["narrow svg", "wide svg"]
    assert text.count("data:image/svg+xml;base64,") == 2
    assert 'class="low"' in text
    tall = written(Picture("words", lambda form: b'<svg viewBox="0 0 100 200">'))
    assert 'class="low"' not in tall
