"""A bench's lines as a document: under which circumstances, and the lines as they were printed."""

from __future__ import annotations

from pathlib import Path

import pytest

from assistant.lab import results_file
from assistant.lab.results_file import FOLDER, write_result

pytestmark = pytest.mark.real  # the date of the day is in the document


def test_the_document_names_command_commit_date_and_machine(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(results_file, "FOLDER", tmp_path / "results")
    file = write_result("hear-people", ["bench", "hear", "--part", "people"], ["a", "", "b"])
    text = file.read_text(encoding="utf-8")
    assert text.startswith("# bench hear, people\n")
    row = text.splitlines()[4]
    cells = [cell.strip() for cell in row.strip("|").split("|")]
    assert cells[0] == "`footplate bench hear --part people`"
    assert len(cells) == 4 and all(cells)
    assert "cores, Python 3." in cells[3]
    assert text.endswith("```\na\n\nb\n```\n")


@pytest.mark.parametrize("file", sorted(FOLDER.glob("*.md")), ids=lambda file: file.name)
def test_what_is_kept_names_no_place_on_anybodys_machine(file: Path) -> None:
    text = file.read_text(encoding="utf-8")
    assert not any(place in text for place in ("/home/", "/root/", "/tmp/", "/work/"))
