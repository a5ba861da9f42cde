"""`footplate run` as a person uses it, on a virtual card: heard, answered aloud, unplugged."""

from __future__ import annotations

import json
import signal
import subprocess
import sys
import threading
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from delays import within
from shell import own_engine

from assistant.devices.sound import Clip, read_clip
from assistant.devices.sound_card import SoundCard
from assistant.devices.voice import SpokenVoice
from assistant.lab.faults.virtual_card import MICROPHONE, SPEAKER, Recording, VirtualCard

# A live session in a process of its own, by the real clock.
pytestmark = [pytest.mark.sound, pytest.mark.ear, pytest.mark.real]

REPEATED_S = 180.0  # a step that was put just before the report is put again after two minutes
PATIENCE_S = 90.0  # a machine that runs other things too; the figures under test are taken apart
OTHER_VOICE = "gmw/en-us"  # the assistant speaks with another


class Session:
    """A live session in a process of its own, and what it wrote, each line with its time."""

    def __init__(self, folder: Path) -> None:
        self.process = subprocess.Popen(
            [sys.executable, "-m", "assistant.cli", "run", "--json", "--out", str(folder),
             "--engine", str(own_engine(folder)), "--microphone", MICROPHONE, "--speaker", SPEAKER],
            stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
        )  # fmt: skip
        self.did: list[tuple[float, dict[str, Any]]] = []
        self.errors: list[str] = []
        for work in (self._read, self._read_errors):
            threading.Thread(target=work, daemon=True).start()

    def _read(self) -> None:
        assert self.process.stdout is not None
        for line in self.process.stdout:
            self.did.append((time.monotonic(), json.loads(line)))

    def _read_errors(self) -> None:
        assert self.process.stderr is not None
        self.errors += list(self.process.stderr)

    def wait(
        self,
        what: str,
        found: Callable[[dict[str, Any]], bool],
        since_s: float,
        patience_s: float = PATIENCE_S,
    ) -> float:
        """When a record of this kind came, the first after `since_s`."""
        end_s = time.monotonic() + patience_s
        while time.monotonic() < end_s:
            for at_s, record in list(self.did):
                if at_s >= since_s and found(record):
                    return at_s
            assert self.process.poll() is None, f"it ended: {''.join(self.errors)}"
            time.sleep(0.05)
        raise AssertionError(f"{what} never came; last: {self.did[-3:]}")


@pytest.fixture
def session(sound_server: VirtualCard, card: SoundCard, tmp_path: Path) -> Iterator[Session]:
    session = Session(tmp_path)
    yield session
    if session.process.poll() is None:
        session.process.kill()
        session.process.wait(5.0)


@pytest.fixture
def operator() -> Iterator[Callable[[str], Clip]]:
    voice = SpokenVoice(name=OTHER_VOICE, deadline_s=20.0)

    def words(text: str) -> Clip:
        clip = voice.make(text)
        if clip is None:
            pytest.skip(f"no synthesiser: {voice.trouble}")
        return clip

    yield words
    voice.close()


def say(record: dict[str, Any]) -> bool:
    return bool(record["did"] == "say")


def says(text: str) -> Callable[[dict[str, Any]], bool]:
    return lambda record: say(record) and record["text"] == text


def asks(record: dict[str, Any]) -> bool:
    return say(record) and bool(record["text"].endswith("?"))


def alarm(state: str) -> Callable[[dict[str, Any]], bool]:
    wanted = {"did": "alarm", "name": "microphone lost", "state": state}
    return lambda record: wanted.items() <= record.items()


def test_a_live_session_hears_answers_aloud_and_survives_an_unplugged_microphone(
    sound_server: VirtualCard, session: Session, operator: Callable[[str], Clip], tmp_path: Path
) -> None:
    with sound_server.record() as recording:
        session.wait("the first question", lambda record: record["did"] == "listen", 0.0)
        wait_until_spoken(recording, 0.0)
        asked_s = time.monotonic()
        sound_server.speak(operator("why")).wait(10.0)
        answered_s = session.wait("an answer to 'why'", say, asked_s)
        wait_until_spoken(recording, answered_s)

        noted_s = time.monotonic()
        sound_server.speak(operator("take a note")).wait(10.0)
        asked_s = session.wait("the asking for the note", says("Speak your note."), noted_s)
        wait_until_spoken(recording, asked_s)
        sound_server.speak(operator("The left washout plug weeps a little.")).wait(10.0)
        session.wait("the note", lambda record: record["did"] == "note", noted_s)
        kept_s = session.wait("that its sound is kept", says("Noted, with its sound."), noted_s)
        wait_until_spoken(recording, kept_s)

        reported_s = time.monotonic()
        sound_server.speak(operator("regulator shut")).wait(10.0)
        entered = {"did": "reading", "reading": "regulator", "value": "shut", "state": "accepted"}
        session.wait("the report", lambda record: entered.items() <= record.items(), reported_s)
        next_s = session.wait("the next question", asks, reported_s, REPEATED_S)
        wait_until_spoken(recording, next_s)

    backs_s: list[float] = []

    def unplug_and_plug() -> float:
        pulled_s = time.monotonic()
        sound_server.unplug()
        told_s = session.wait("the loss of the microphone", alarm("raised"), pulled_s)
        time.sleep(1.0)
        mended_s = time.monotonic()
        sound_server.plug()
        back_s = session.wait("the microphone's return", alarm("cleared"), mended_s)
        backs_s.append(back_s - mended_s)
        return told_s - pulled_s

    assert within(2.0, unplug_and_plug) <= 2.0
    assert min(backs_s) <= 5.0

    session.process.send_signal(signal.SIGINT)
    assert session.process.wait(PATIENCE_S) == 0
    assert not [line for line in session.errors if "Traceback" in line or "ALSA" in line]
    (journal,) = tmp_path.glob("*.jsonl")
    verified = subprocess.run([sys.executable, "-m", "assistant.cli", "verify", str(journal)])
    assert verified.returncode == 0
    (note,) = [record for _, record in session.did if record["did"] == "note"]
    assert note["clip"] == "note-001.flac"
    assert "washout" in note["text"].lower()
    kept = read_clip(journal.with_suffix(".clips") / note["clip"])
    assert 1.5 < kept.duration_s < 8.0
    assert any("the sound of 1 note is in" in line for line in session.errors)


def test_a_microphone_that_is_not_there_is_told(sound_server: VirtualCard, tmp_path: Path) -> None:
    run = subprocess.run(
        [sys.executable, "-m", "assistant.cli", "run", "--microphone", "no such thing",
         "--engine", str(own_engine(tmp_path)), "--out", str(tmp_path)],
        capture_output=True, text=True, timeout=PATIENCE_S, check=False,
    )  # fmt: skip
    assert run.returncode == 2
    assert "no such thing" in run.stderr
    assert "Traceback" not in run.stderr


def wait_until_spoken(recording: Recording, ordered_s: float, silent_s: float = 2.5) -> None:
    """Until what was ordered at `ordered_s` has been heard from the speaker and is over."""
    end_s = time.monotonic() + PATIENCE_S
    while not ordered_s < recording.last_loud_s() < time.monotonic() - silent_s:
        assert time.monotonic() < end_s, "it was not spoken, or never ended"
        time.sleep(0.1)
