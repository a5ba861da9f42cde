"""A system that gives no more threads: told in words, and no book is left by the failed start."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

pytestmark = pytest.mark.real  # processes of their own that are waited for

# The program where only so many threads can be started.
FEW = """
import sys, threading
start, left = threading.Thread.start, [int(sys.argv.pop(1))]
def bounded(self):
    left[0] -= 1
    if left[0] < 0:
        raise RuntimeError("can't start new thread")
    start(self)
threading.Thread.start = bounded
from assistant.cli import main
sys.exit(main(sys.argv[1:]))
"""


def with_threads(count: int, folder: Path) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-c", FEW, str(count), "run", "--typed", "--mute", "--engine",
         "practice", "--out", str(folder)],
        input="", capture_output=True, text=True, timeout=60, check=False,
    )  # fmt: skip


def test_a_start_without_threads_is_the_worlds_fault(tmp_path: Path) -> None:
    for count in range(20):
        folder = tmp_path / str(count)
        done = with_threads(count, folder)
        if done.returncode == 0:
            break
        assert done.returncode == 3, done.stderr
        assert "gives no more threads" in done.stderr
        assert "Traceback" not in done.stderr
        assert not list(folder.glob("*.jsonl"))
    assert count >= 4, "it wants threads for output, voice, speaker and keyboard"
    assert done.returncode == 0
