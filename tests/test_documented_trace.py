"""DEVELOPERS.md: one reading, file by file, is what runs; and the document stays short."""

from __future__ import annotations

import io
import sys
from collections.abc import Iterator
from contextlib import redirect_stdout
from pathlib import Path
from types import FrameType

import pytest

from assistant import cli
from assistant.messages import Heard

DOCUMENT = Path(__file__).parents[1] / "DEVELOPERS.md"
MOST_BYTES = 12_000
SAID = "pressure seventy five"
Call = tuple[str, str]  # file below assistant/, function


def documented() -> list[Call]:
    """The calls of the trace, in their order."""
    text = DOCUMENT.read_text(encoding="utf-8")
    block = text.split("## One reading, file by file")[1].split("```")[1]
    rows = (line.split() for line in block.strip().splitlines())
    return [(file, function) for file, function, *_ in rows]


def calls_of_the_reading(script: Path, out: Path) -> list[Call]:
    """Every call of ours from the writing of that reading's event to that of the next."""
    calls: list[Call] = []
    on = False

    def watch(frame: FrameType, event: str, _: object) -> None:
        nonlocal on
        _, inside, file = frame.f_code.co_filename.partition("/assistant/")
        if event != "call" or not inside:
            return
        call = (file, frame.f_code.co_name)
        if call == ("journal/writer.py", "event"):
            written = frame.f_locals["event"]
            on = isinstance(written, Heard) and written.text == SAID
        if on:
            calls.append(call)

    words = ["run", "--script", str(script), "--engine", "practice", "--out", str(out)]
    before = sys.getprofile()
    sys.setprofile(watch)
    try:
        with redirect_stdout(io.StringIO()):
            assert cli.main([*words, "--from", "raising steam"]) == 0
    finally:
        sys.setprofile(before)
    return calls


def in_this_order(wanted: list[Call], calls: list[Call]) -> Iterator[Call]:
    """Those of the wanted calls that do not come after the one before them."""
    rest = iter(calls)
    for call in wanted:
        if call not in rest:  # takes the calls up to it
            yield call
            rest = iter(calls)


@pytest.mark.real
def test_one_reading_runs_through_the_files_in_the_documented_order(tmp_path: Path) -> None:
    script = tmp_path / "reading.tsv"
    lines = ("00:00:10\tthat's right", "00:00:20\twater half", f"00:01:00\t{SAID}")
    script.write_text("\n".join(lines) + "\n", encoding="utf-8")
    calls = calls_of_the_reading(script, tmp_path)
    assert len(documented()) >= 15
    assert list(in_this_order(documented(), calls)) == []
    assert list(in_this_order(documented()[::-1], calls)), "the order is looked at"


def test_the_document_stays_short() -> None:
    assert len(DOCUMENT.read_bytes()) <= MOST_BYTES
