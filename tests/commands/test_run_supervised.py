"""A run as systemd starts it: it says that it is ready and alive, and comes back after a kill."""

from __future__ import annotations

import os
import socket
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pytest
from shell import own_engine, run, written

from assistant.commands import resume_tries
from assistant.commands.resume_tries import HUNG_S, MOST_CUT_SHORT, MOST_HUNG, ResumeTries
from assistant.commands.session_build import header_of
from assistant.config.engine_file import find_engine
from assistant.journal import reader
from assistant.journal.writer import Journal
from assistant.messages import Resumed, Started

pytestmark = pytest.mark.real  # a process of its own that is waited for

READY_S = 20.0  # what is promised from the start of the unit to listening
# The program with a session that never comes back from the word "hang".
HANGING = """
import sys, time
from assistant.dialogue.session import Session
handle = Session.handle
def hang(self, event):
    if getattr(event, "text", "") == "hang":
        time.sleep(1000)
    return handle(self, event)
Session.handle = hang
from assistant.cli import main
sys.exit(main(sys.argv[1:]))
"""


class Supervised:
    """A typed run with a socket to notify, in a process of its own."""

    def __init__(self, folder: Path, *program: str) -> None:
        address = str(folder / "notify")
        Path(address).unlink(missing_ok=True)
        self.socket = socket.socket(socket.AF_UNIX, socket.SOCK_DGRAM)
        self.socket.bind(address)
        self.began_s = time.monotonic()
        self.shown = folder / "shown"
        self.process = subprocess.Popen(
            [sys.executable, *(program or ("-m", "assistant.cli")), "run", "--typed", "--mute",
             "--resume-or-begin", "--engine", "practice", "--out", str(folder / "books")],
            stdin=subprocess.PIPE, stdout=self.shown.open("wb"), stderr=subprocess.STDOUT,
            env={**os.environ, "NOTIFY_SOCKET": address},
        )  # fmt: skip

    def told(self, within_s: float) -> str:
        """What comes next; empty when nothing does."""
        self.socket.settimeout(within_s)
        try:
            return self.socket.recv(1000).decode()
        except TimeoutError:
            return ""

    def types(self, words: str) -> None:
        assert self.process.stdin is not None
        self.process.stdin.write(words.encode() + b"\n")
        self.process.stdin.flush()

    def says(self, words: str) -> bool:
        """Whether it is on the screen, now or soon."""
        due_s = time.monotonic() + 10.0
        while words not in self.shown.read_text():
            if time.monotonic() > due_s:
                return False
            time.sleep(0.05)
        return True

    def kill(self) -> None:
        self.process.kill()
        self.process.wait()
        assert self.process.stdin is not None
        self.process.stdin.close()
        self.socket.close()


@pytest.fixture
def started(tmp_path: Path) -> Iterator[list[Supervised]]:
    runs: list[Supervised] = []
    yield runs
    for each in runs:
        each.kill()


def test_ready_then_alive_until_the_loop_hangs(tmp_path: Path, started: list[Supervised]) -> None:
    started.append(run := Supervised(tmp_path, "-c", HANGING))
    assert run.told(READY_S).startswith("READY=1\nSTATUS=the book is ")
    for _ in range(3):  # nobody says anything: its own ticks
        assert run.told(3.0) == "WATCHDOG=1"
    run.types("hang")
    while run.told(3.0):  # what was sent before it came there
        pass
    assert run.process.poll() is None
    assert run.told(3.0) == ""


def test_after_a_pulled_plug_it_is_in_the_same_steam_up(
    tmp_path: Path, started: list[Supervised]
) -> None:
    started.append(first := Supervised(tmp_path))
    assert first.told(READY_S)
    (journal,) = (tmp_path / "books").glob("*.jsonl")
    assert isinstance(next(iter(reader.read(journal).events())), Started)  # nothing to go on with
    for words in ("that's right", "fire lit", "water half", "correct"):
        first.types(words)
    assert first.says("water half")
    first.kill()
    started[:] = [second := Supervised(tmp_path)]
    assert second.told(READY_S).startswith("READY=1")
    assert time.monotonic() - second.began_s < READY_S
    assert second.says(f"going on with {journal}")
    assert second.says("Where is the water?")
    assert list((tmp_path / "books").glob("*.jsonl")) == [journal]
    assert any(isinstance(event, Resumed) for event in reader.read(journal).events())
    second.process.terminate()
    assert second.process.wait(20.0) == 0
    told = [second.told(0.5) for _ in range(6)]
    assert "STOPPING=1" in told


def test_a_book_that_cannot_be_gone_on_with_is_told_and_a_new_one_begun(
    tmp_path: Path, started: list[Supervised]
) -> None:
    old = written(tmp_path / "books" / "2026-05-01_a.jsonl", end=False)
    os.utime(old)
    old.write_bytes(old.read_bytes().replace(b'"value":20.0', b'"value":25.0'))
    started.append(run := Supervised(tmp_path))
    assert run.told(READY_S).startswith("READY=1")
    assert run.says("The last book cannot be gone on with.")
    assert len(list((tmp_path / "books").glob("*.jsonl"))) == 2


def test_a_book_left_last_week_is_over(tmp_path: Path, started: list[Supervised]) -> None:
    old = written(tmp_path / "books" / "2026-05-01_a.jsonl", end=False)
    os.utime(old, (time.time() - 7 * 86_400.0,) * 2)
    started.append(run := Supervised(tmp_path))
    assert run.told(READY_S).startswith("READY=1")
    assert run.says("too long to go on with")
    assert run.says("Is that her plate?")


def test_a_microphone_that_comes_late_costs_no_book(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """A machine that starts has no sound card for a while: the unit is started again and again."""
    engine = find_engine(own_engine(tmp_path))
    started = time.strftime("%Y-%m-%dT%H:%M:%S%z")
    books = tmp_path / "books"
    books.mkdir()
    with Journal.create(books / "a.jsonl", header_of(engine, started, 1, "live")) as journal:
        journal.event(Started(0.0, "raising steam"))
    for _ in range(MOST_CUT_SHORT + 1):
        code, _, err = run(
            capsys, "run", "--resume-or-begin", "--engine", engine.path, "--mute",
            "--microphone", "no such thing", "--out", books,
        )  # fmt: skip
        assert code in (2, 3), err
        assert f"going on with {books / 'a.jsonl'}" in err
    assert [path.name for path in books.glob("*.jsonl")] == ["a.jsonl"]


def tries_of(folder: Path) -> ResumeTries:
    return ResumeTries(folder, "Practice engine")


def later(monkeypatch: pytest.MonkeyPatch, seconds: float) -> None:
    """The machine's clock is so much later from here on."""
    now = resume_tries._now_s()
    monkeypatch.setattr(resume_tries, "_now_s", lambda: now + seconds)


def test_a_book_that_hangs_is_not_tried_for_ever(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    for _ in range(MOST_HUNG):
        assert tries_of(tmp_path).objection() == ""
        tries_of(tmp_path).begin()
        later(monkeypatch, HUNG_S + 1.0)
    assert "in vain" in tries_of(tmp_path).objection()
    tries_of(tmp_path).over()
    assert tries_of(tmp_path).objection() == ""


def test_a_plug_that_flickers_costs_no_book(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Cut short at once, or the machine was off meanwhile: however long, it did not hang."""
    for number in range(MOST_CUT_SHORT):
        assert tries_of(tmp_path).objection() == ""
        monkeypatch.setattr(resume_tries, "_boot", lambda boot=str(number // 2): boot)
        tries_of(tmp_path).begin()
        later(monkeypatch, HUNG_S + 1.0 if number % 2 else 1.0)
        monkeypatch.setattr(resume_tries, "_boot", lambda boot=str((number + 1) // 2): boot)
    assert "in vain" in tries_of(tmp_path).objection()


def test_killed_as_often_as_may_be_while_it_takes_events_it_goes_on(tmp_path: Path) -> None:
    for _ in range(3 * MOST_CUT_SHORT):
        assert tries_of(tmp_path).objection() == ""
        tries_of(tmp_path).begin()
        tries_of(tmp_path).goes_round()


def test_one_that_takes_events_and_hangs_then_is_not_tried_for_ever(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    for _ in range(MOST_HUNG):
        assert tries_of(tmp_path).objection() == ""
        tries_of(tmp_path).begin()
        tries_of(tmp_path).goes_round()
        later(monkeypatch, HUNG_S + 1.0)
    assert "in vain" in tries_of(tmp_path).objection()


@pytest.mark.parametrize("content", ["", "3\n", "1 2", "a b c d", "\xff"])
def test_a_file_of_tries_that_is_none_counts_as_none(tmp_path: Path, content: str) -> None:
    tries_of(tmp_path).begin()
    (kept,) = tmp_path.glob("*.tries")
    kept.write_bytes(content.encode("latin-1"))
    assert tries_of(tmp_path).objection() == ""


def test_a_folder_that_is_not_there_costs_the_count_only(tmp_path: Path) -> None:
    tries_of(tmp_path / "none").begin()
    assert tries_of(tmp_path / "none").objection() == ""
