"""A page as a PDF: every part, a date, page numbers."""

from __future__ import annotations

import datetime
import io

from matplotlib.figure import Figure

from assistant.report.page import (
    Blanks,
    Page,
    Picture,
    Section,
    SoundPart,
    TablePart,
    TableRow,
    TextPart,
)
from assistant.report.page_pdf import pdf


def png(form: str) -> bytes:
    buffer = io.BytesIO()
    Figure(figsize=(2, 3)).savefig(buffer, format="png")
    return buffer.getvalue()


def page(rows: int = 1) -> Page:
    table = TablePart(
        ("a", "b"), tuple(TableRow((f"½ {i}", SoundPart("s", b"x")), True) for i in range(rows)),
        (1, 2),
    )  # fmt: skip
    parts = (TextPart("strong", strong=True), table, Picture("words", png), Blanks(("Driver",)))
    return Page("Title", "under", (Section("", parts[:1]), Section("Heading", parts[1:])))


def pages_of(paper: bytes) -> int:
    return paper.count(b"/Type /Page\n")


def test_every_part_can_be_printed() -> None:
    paper = pdf(page())
    assert paper.startswith(b"%PDF-")
    assert b"/Subtype /Image" in paper


def test_a_long_table_goes_on_to_more_pages() -> None:
    assert pages_of(pdf(page(200))) > pages_of(pdf(page())) >= 1


def test_the_date_makes_the_same_page_the_same_bytes() -> None:
    moment = datetime.datetime(2027, 5, 3, 8, 0, tzinfo=datetime.UTC)
    assert pdf(page(), moment) == pdf(page(), moment)
    assert b"20270503" in pdf(page(), moment)
