"""`footplate report` as its user meets it: the three forms, with 0, 5 and 500 readings."""

from __future__ import annotations

import csv
import re
from pathlib import Path

import pytest
from report_books import keep, many

from assistant.cli import main


@pytest.mark.parametrize("count", [0, 5, 500])
def test_the_page_stands_alone_and_has_every_reading(tmp_path: Path, count: int) -> None:
    out = tmp_path / "page.html"
    assert main(["report", str(keep(tmp_path, many(count))), "--out", str(out)]) == 0
    text = out.read_text(encoding="utf-8")
    assert "<script" not in text
    assert re.findall(r'(?:src|href|srcset)="(?!data:image/svg\+xml;base64,)', text) == []
    assert "@import" not in text and "url(" not in text
    readings = text.split("<h2>Readings</h2>")[1].split("</section>")[0]
    assert readings.count("<tr>") == (count + 1 if count else 0)
    assert text.index("It is no certificate") < text.index("<h2>Course</h2>")
    assert "Nobody &lt;at&gt; all" in text
    assert 'name="viewport"' in text and "size: A4" in text


@pytest.mark.parametrize("count", [0, 5, 500])
def test_the_table_has_every_reading(tmp_path: Path, count: int) -> None:
    out = tmp_path / "page.csv"
    assert main(["report", str(keep(tmp_path, many(count))), "--out", str(out)]) == 0
    with out.open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    assert sum(row["kind"] == "reading" for row in rows) == count


@pytest.mark.parametrize("count", [0, 5])
def test_the_paper_is_a_pdf(tmp_path: Path, count: int) -> None:
    out = tmp_path / "page.pdf"
    assert main(["report", str(keep(tmp_path, many(count))), "--out", str(out)]) == 0
    assert out.read_bytes().startswith(b"%PDF-")


def test_another_ending_is_refused(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["report", str(keep(tmp_path, [])), "--out", str(tmp_path / "page.doc")]) == 2
    assert ".html" in capsys.readouterr().err
