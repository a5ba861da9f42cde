"""A journal of somebody else, its chain right, cannot write to the terminal or bring us down."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import pytest
from shell import run

from assistant.commands.session_build import header_of
from assistant.config.engine_file import find_engine
from assistant.journal import hash_chain, reader
from assistant.journal.writer import Journal
from assistant.messages import Ended, Heard, NoteTaken, ReadingAccepted, Report, Say, Started

pytestmark = pytest.mark.real  # a header has a date
EVIL = "\x1b]0;owned\x07\x9b2J\x7f\u202e\ud800"
COMMANDS = set("\x1b\x07\x9b\x7f\u202e\ud800")


@pytest.fixture
def book(tmp_path: Path) -> Path:
    header = header_of(find_engine("practice"), "2026-05-01T09:00:00+00:00", 1, "typed")
    path = tmp_path / "2026-05-01T09-00-00_evil.jsonl"
    with Journal.create(path, replace(header, engine_name=f"Evil {EVIL}")) as journal:
        journal.event(Started(0.0))
        journal.effect(0.0, Say(EVIL))
        journal.event(Heard(1.0, EVIL, (), text=EVIL, clip=EVIL))
        journal.effect(1.0, ReadingAccepted(Report("pressure", 60.0, "psi")))
        journal.effect(1.0, NoteTaken(EVIL))
        journal.effect(1.0, Ended(EVIL))
        journal.seal()
    return path


@pytest.mark.parametrize(
    "words",
    [
        ("journals", "{folder}"), ("journals", "{folder}", "--json"), ("verify", "{book}"),
        ("verify", "{book}", "--json"), ("check", "{book}"), ("replay", "{book}"),
        ("replay", "{book}", "--json"), ("export", "{book}", "--out", "{folder}/out.csv"),
        ("report", "{book}", "--out", "{folder}/out.html"),
        ("report", "{book}", "--out", "{folder}/out.csv"),
        ("report", "{book}", "--out", "{folder}/out.pdf"),
        ("forecast", "--engine", "practice", "--readings", "{book}"),
        ("run", "--typed", "--mute", "--resume", "--out", "{folder}"),
    ],
    ids=" ".join,
)  # fmt: skip
def test_its_text_commands_no_terminal(
    book: Path, capsys: pytest.CaptureFixture[str], words: tuple[str, ...]
) -> None:
    code, out, err = run(capsys, *(word.format(book=book, folder=book.parent) for word in words))
    assert code in (0, 1, 2), err
    for told in (out, err):
        assert not set(told) & COMMANDS, repr(told)


@pytest.mark.parametrize("key", ["engine_name", "started", "how", "program"])
def test_a_header_longer_than_any_we_write_is_none(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], key: str
) -> None:
    header = header_of(find_engine("practice"), "2026-05-01T09:00:00+00:00", 1, "typed")
    path = tmp_path / "2026-05-01T09-00-00_long.jsonl"
    with Journal.create(path, replace(header, engine_name="Long")) as journal:
        journal.event(Started(0.0))
    records = [json.loads(line) for line in path.read_bytes().splitlines()]
    records[0][key] = "x " * 100_000
    before, lines = hash_chain.FIRST_BEFORE, []
    for record in records:
        record.pop("sum")
        raw = json.dumps({**record, "before": before}, separators=(",", ":")).encode()
        lines.append(hash_chain.with_sum(raw))
        before = hash_chain.hash_of(lines[-1][:-1])
    path.write_bytes(b"".join(lines))
    assert reader.read(path).state == "whole"  # its chain is right
    for words in (("report", path, "--out", tmp_path / "o.pdf"), ("replay", path)):
        code, out, err = run(capsys, *words)
        assert code == 2, err
        assert "does not hold its first records" in err
    code, out, err = run(capsys, "journals", tmp_path)
    assert max(map(len, (out + err).splitlines())) < 500


def test_a_text_longer_than_a_page_is_cut_in_the_pdf(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    header = header_of(find_engine("practice"), "2026-05-01T09:00:00+00:00", 1, "typed")
    path = tmp_path / "2026-05-01T09-00-00_long.jsonl"
    with Journal.create(path, header) as journal:
        journal.event(Started(0.0))
        journal.effect(0.0, NoteTaken("W" * 50_000))
    code, _, err = run(capsys, "report", path, "--out", tmp_path / "o.pdf")
    assert code == 0, err
