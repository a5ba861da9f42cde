"""The program as a user runs it: in this process or in one of its own, and files to give it."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from assistant.cli import main
from assistant.commands.session_build import header_of
from assistant.config.engine_file import find_engine
from assistant.journal.writer import Journal
from assistant.messages import Ended, ReadingAccepted, Report, StopAsked, Tick

SCRIPT = """\
00:00:05\tregulator shut
00:00:12\tgear is out
00:00:30\tpressure zero
00:00:40\thello there
00:01:00\twater half
00:06:00\t
"""


def run(capsys: pytest.CaptureFixture[str], *words: object) -> tuple[int, str, str]:
    """Exit code, standard output and standard error of a command."""
    try:
        code = main([str(word) for word in words])
    except SystemExit as left:  # argparse leaves this way
        code = int(left.code or 0)
    out, err = capsys.readouterr()
    return code, out, err


def footplate(*words: str, stdin: str = "") -> subprocess.CompletedProcess[str]:
    """A command in a process of its own."""
    return subprocess.run(
        [sys.executable, "-m", "assistant.cli", *words],
        input=stdin, capture_output=True, text=True, timeout=60, check=False,
    )  # fmt: skip


def records(out: str) -> list[dict[str, Any]]:
    """The JSON lines of an output."""
    return [json.loads(line) for line in out.splitlines()]


def scripted(capsys: pytest.CaptureFixture[str], folder: Path, text: str = SCRIPT) -> Path:
    """The journal of a scripted session."""
    file = folder / "script.txt"
    file.write_text(text, encoding="utf-8")
    code, _, err = run(
        capsys, "run", "--script", file, "--engine", "practice", "--json",
        "--out", folder / "books",
    )  # fmt: skip
    assert code == 0, err
    (journal,) = (folder / "books").glob("*.jsonl")
    return journal


def own_engine(folder: Path) -> Path:
    """The practice engine's figures as an owner's file: not marked as invented."""
    path = folder / "own.yaml"
    text = find_engine("practice").text.replace("invented: yes\n", "")
    path.write_text(text, encoding="utf-8")
    return path


def written(path: Path, end: bool = True, engine: str = "practice", seal: bool = False) -> Path:
    """A small journal with the texts of a real session."""
    path.parent.mkdir(parents=True, exist_ok=True)
    header = header_of(find_engine(engine), "2026-05-01T09:00:00+00:00", 1, "typed")
    with Journal.create(path, header) as journal:
        journal.event(Tick(1.0))
        journal.effect(1.0, ReadingAccepted(Report("pressure", 20.0, "psi")))
        if end:
            journal.event(StopAsked(2.0))
            journal.effect(2.0, Ended("asked for"))
        if seal:
            journal.seal()
        journal.sync()
    return path


def newer(path: Path) -> Path:
    """The first record of a journal as a newer program might write it."""
    path.parent.mkdir(parents=True, exist_ok=True)
    first = {"n": 0, "at": 0, "kind": "journal", "format": 99, "program": "9.0",
             "engine_name": "Practice engine"}  # fmt: skip
    path.write_text(json.dumps(first) + "\n")
    return path
