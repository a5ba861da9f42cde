"""`footplate run` on a virtual sound card: spoken to, answering, unplugged and plugged in again."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
from virtual_card import MICROPHONE, SPEAKER, VirtualCard, environment, skip_where_absent

from assistant.devices.sound import Clip
from assistant.errors import WorldFailedError
from assistant.rehearsal import voices

pytestmark = [pytest.mark.sound, pytest.mark.ear]


class Running:
    """A live run whose screen is read as it comes."""

    def __init__(self, *words: str) -> None:
        self.process = subprocess.Popen(
            [sys.executable, "-m", "assistant.cli", "run", *words],
            stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True,
            env={**os.environ, "PYTHONUNBUFFERED": "1"},
        )  # fmt: skip
        self.lines: list[tuple[float, str]] = []
        threading.Thread(target=self._read, daemon=True).start()

    def _read(self) -> None:
        assert self.process.stdout is not None
        for line in self.process.stdout:
            self.lines.append((time.monotonic(), line.rstrip()))

    def wait_for(self, text: str, seconds: float, since: float = 0.0) -> float:
        """When a line with this text came; fails when none does."""
        end = time.monotonic() + seconds
        while time.monotonic() < end:
            for at, line in list(self.lines):
                if at >= since and text in line:
                    return at
            time.sleep(0.05)
        raise AssertionError(f"no {text!r} in {seconds} s:\n" + "\n".join(t for _, t in self.lines))


@pytest.fixture
def card(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[VirtualCard]:
    skip_where_absent()
    folder = tmp_path / "card"
    folder.mkdir()
    for name, value in environment(folder).items():
        monkeypatch.setenv(name, value)
    monkeypatch.setenv("FOOTPLATE_HOME", str(tmp_path / "home"))
    made = VirtualCard(folder)
    made.start()
    yield made
    made.stop()


def test_spoken_to_answering_unplugged_and_back(card: VirtualCard, tmp_path: Path) -> None:
    try:
        voice = voices.available()[0]
    except WorldFailedError as missing:
        pytest.skip(str(missing))
    rng = np.random.default_rng(2)
    words = voices.in_a_room(voices.speak(voice, "regulator shut"), rng)
    with card.record() as speaker:
        run = Running(
            "--engine", "practice", "--microphone", MICROPHONE, "--speaker", SPEAKER,
            "--out", str(tmp_path / "books"),
        )  # fmt: skip
        try:
            run.wait_for("Regulator: open or shut?", 60)
            speaker.wait_loud(20)
            _wait_quiet(speaker.last_loud_s)
            spoken = time.monotonic()
            card.speak(Clip(words, 16_000)).wait(20)
            run.wait_for("entered: regulator shut", 20, since=spoken)
            run.wait_for("Gear: in or out?", 5, since=spoken)
            _until(lambda: speaker.last_loud_s() > spoken, 15, "the answer is not heard")
            _wait_quiet(speaker.last_loud_s)
            pulled = time.monotonic()
            card.unplug()
            told = run.wait_for("cannot hear you", 10, since=pulled) - pulled
            assert told < 2.0
            put_back = time.monotonic()
            card.plug()
            assert run.wait_for("I hear you again", 15, since=put_back) - put_back < 6.0
            run.process.send_signal(signal.SIGINT)
            assert run.process.wait(30) == 0
        finally:
            run.process.kill()
    (journal,) = (tmp_path / "books").glob("*.jsonl")
    verified = subprocess.run(
        [sys.executable, "-m", "assistant.cli", "verify", str(journal)], check=False
    )
    assert verified.returncode == 0


def test_a_microphone_that_is_not_there_is_told(card: VirtualCard, tmp_path: Path) -> None:
    run = Running("--microphone", "no such thing", "--out", str(tmp_path))
    assert run.process.wait(60) == 2
    assert any("no such thing" in line for _, line in run.lines)
    assert not any("Traceback" in line for _, line in run.lines)


def _wait_quiet(last_loud_s, quiet_s: float = 1.5) -> None:
    _until(lambda: time.monotonic() - last_loud_s() > quiet_s, 60, "it does not stop speaking")


def _until(test, seconds: float, otherwise: str) -> None:
    end = time.monotonic() + seconds
    while not test():
        assert time.monotonic() < end, otherwise
        time.sleep(0.05)
