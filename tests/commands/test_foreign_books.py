"""A journal of somebody else, its chain right, cannot write to the terminal or bring us down."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from shell import run

from assistant.commands.session_build import header_of
from assistant.config.engine_file import find_engine
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
