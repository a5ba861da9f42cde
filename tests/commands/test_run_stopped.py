"""Ctrl-C, SIGTERM and a closed terminal: the last words say what is in her, and it can go on."""

from __future__ import annotations

import contextlib
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from shell import footplate

from assistant.journal import reader
from assistant.messages import Ended, Heard, Resumed

pytestmark = pytest.mark.real  # `run` writes its time of start, and waits

RUN = ("run", "--typed", "--mute", "--engine", "practice")


def stopped_by(number: int, folder: Path) -> str:
    """What a typed run with a fire in showed, ended by a signal."""
    process = subprocess.Popen(
        [sys.executable, "-m", "assistant.cli", *RUN, "--from", "raising steam", "--out", folder],
        stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
        env={**os.environ, "PYTHONUNBUFFERED": "1"}, start_new_session=True,
    )  # fmt: skip
    assert process.stdin is not None
    for words in ("water half", "fire lit", "pressure sixty"):
        process.stdin.write(f"{words}\n")
    process.stdin.flush()
    due_s = time.monotonic() + 30.0
    while not any(b'"value":60' in path.read_bytes() for path in folder.glob("*.jsonl")):
        assert time.monotonic() < due_s
        time.sleep(0.05)
    process.send_signal(number)
    assert process.wait(30.0) == 0
    shown = process.stdout.read() if process.stdout is not None else ""
    for pipe in (process.stdin, process.stdout, process.stderr):
        with contextlib.suppress(BrokenPipeError):
            assert pipe is not None
            pipe.close()
    return shown


@pytest.mark.parametrize("name", ["SIGINT", "SIGTERM", "SIGHUP"])
def test_a_signal_tells_what_is_in_her_and_the_book_can_be_gone_on_with(
    name: str, tmp_path: Path
) -> None:
    assert "Fire in, sixty pounds: keep watch." in stopped_by(getattr(signal, name), tmp_path)
    (journal,) = tmp_path.glob("*.jsonl")
    assert reader.read(journal).seal is not None
    again = footplate(*RUN, "--resume", "--out", str(tmp_path), stdin="where are we\n")
    assert again.returncode == 0, again.stderr
    assert f"going on with {journal}" in again.stderr
    assert "Raising steam." in again.stdout
    assert "Where is the water?" in again.stdout
    kept = reader.read(journal)
    assert kept.state == "whole"
    events = kept.events()
    resumed = next(n for n, event in enumerate(events) if isinstance(event, Resumed))
    assert any(isinstance(event, Heard) for event in events[resumed:])
    assert footplate("replay", str(journal)).returncode == 0
    assert footplate("verify", str(journal)).returncode == 0


def test_only_the_last_book_of_all_is_gone_on_with_after_a_stop(tmp_path: Path) -> None:
    for words in ("pressure sixty\n", "end session\nthat's right\n"):
        time.sleep(1.1)  # another name
        done = footplate(*RUN, "--from", "raising steam", "--out", str(tmp_path), stdin=words)
        assert done.returncode == 0, done.stderr
    stopped, ended = sorted(tmp_path.glob("*.jsonl"))
    first, last = reader.read(stopped), reader.read(ended)
    assert (first.finished, first.stopped) == (True, True)
    assert (last.finished, last.stopped) == (True, False)
    assert reader.last_unfinished(tmp_path, "Practice engine") is None
    ended.unlink()
    found = reader.last_unfinished(tmp_path, "Practice engine")
    assert found is not None and found.path == stopped
    assert any(isinstance(effect, Ended) for turn in found.exchanges() for effect in turn.effects)
