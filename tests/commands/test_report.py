"""`footplate report` as its user meets it: the three forms, with 0, 5 and 500 readings."""

from __future__ import annotations

import csv
import json
import re
from pathlib import Path

import pytest
from report_books import ENGINE, STARTED, keep, many, reading

from assistant.cli import main
from assistant.config.readings_file import read_readings
from assistant.journal.header import Header
from assistant.journal.writer import Journal
from assistant.messages import NoteTaken
from assistant.report.story import read_story


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


def test_a_word_that_was_heard_is_never_a_formula(tmp_path: Path) -> None:
    out = tmp_path / "page.csv"
    journal = keep(tmp_path, [(5.0, NoteTaken('=HYPERLINK("x")'))])
    assert main(["report", str(journal), "--out", str(out)]) == 0
    with out.open(encoding="utf-8", newline="") as file:
        (row,) = [row for row in csv.DictReader(file) if row["kind"] == "note"]
    assert row["remark"] == '\'=HYPERLINK("x")'


def test_steam_ups_of_one_engine_are_compared(tmp_path: Path) -> None:
    days = [f"2027-05-0{day}T08:00:00+01:00" for day in (1, 2)]
    paces = zip((30.0, 60.0), days, strict=True)
    books = [str(keep(tmp_path, many(122, every_s), day)) for every_s, day in paces]
    for ending in ("html", "pdf", "csv"):
        out = tmp_path / f"both.{ending}"
        assert main(["report", "--compare", *books, "--out", str(out)]) == 0
    text = (tmp_path / "both.html").read_text(encoding="utf-8")
    assert "1: 2027-05-01 08:00" in text and "2: 2027-05-02 08:00" in text
    with (tmp_path / "both.csv").open(encoding="utf-8", newline="") as file:
        quick, slow = csv.DictReader(file)
    # the same rise in half the time; the fire is lit at nought
    assert float(slow["minutes_to_60_psi"]) == pytest.approx(60.0, abs=1.5)
    assert float(quick["minutes_to_60_psi"]) == pytest.approx(30.0, abs=1.5)
    assert float(slow["minutes_to_working"]) == pytest.approx(121.0, abs=1.5)


def test_other_engines_and_single_books_are_not_compared(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    one = str(keep(tmp_path, many(5)))
    out = str(tmp_path / "both.html")
    assert main(["report", "--compare", one, "--out", out]) == 2
    assert "two journals" in capsys.readouterr().err
    other = tmp_path / "other.jsonl"
    header = Header("Other engine", STARTED, 1, 101_325.0, ())
    Journal.create(other, header).close()
    assert main(["report", "--compare", one, str(other), "--out", out]) == 2
    assert "different engines" in capsys.readouterr().err
    assert main(["report", "--out", out]) == 2


def test_journals_are_listed_and_found(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    keep(tmp_path, many(6), "2027-05-01T08:00:00+01:00", seal=True)
    keep(tmp_path, many(10), "2027-05-09T08:00:00+01:00")
    assert main(["journals", str(tmp_path)]) == 0
    told = capsys.readouterr().out
    assert "2027-05-01 08:00" in told and "120 psi" in told and "sealed" in told
    words = ["journals", str(tmp_path), "--json", "--engine", "test", "--since", "2027-05-05"]
    assert main(words) == 0
    (found,) = [json.loads(line) for line in capsys.readouterr().out.splitlines()]
    assert found["started"].startswith("2027-05-09")
    assert (found["peak"], found["sealed"]) == ({"value": 120.0, "unit": "psi"}, None)
    assert main(["journals", str(tmp_path), "--since", "yesterday"]) == 2
    assert main(["journals", str(tmp_path / "nowhere")]) == 2


def test_an_export_goes_back_into_the_forecast(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    engine = tmp_path / "engine.yaml"
    engine.write_text(ENGINE, encoding="utf-8")
    out = tmp_path / "readings.csv"
    journal = keep(tmp_path, [*many(42), (2500.0, reading("gear", "out"))])
    assert main(["export", str(journal), "--out", str(out)]) == 0
    assert "1 answers to steps" in capsys.readouterr().err
    assert [report for _, report in read_readings(out).rows] == [
        call.report for call in read_story(journal).standing if call.report.what != "gear"
    ]
    assert main(["check", str(out)]) == 0
    words = ["--engine", str(engine), "--readings", str(out), "--past", str(out), "--json"]
    capsys.readouterr()
    assert main(["forecast", *words]) == 0
    told = json.loads(capsys.readouterr().out)
    # that every row was read, and believed though no fire of that file could make them
    assert told["pressure_psi"]["mid"] == pytest.approx(120.0, abs=5.0)
    assert told["at_s"] == pytest.approx(2460.0)


def test_an_export_to_something_else_is_refused(tmp_path: Path) -> None:
    assert main(["export", str(keep(tmp_path, [])), "--out", str(tmp_path / "r.txt")]) == 2
