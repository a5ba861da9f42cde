"""Every part of the bench of faults bites: the program passes it, a spoiled program does not."""

from __future__ import annotations

import itertools
import mmap
import os
import sys
import time
from collections.abc import Callable

import pytest

import assistant.cli
from assistant.cli import main
from assistant.commands import check
from assistant.devices import microphone, watchdog
from assistant.devices.listener import Listener
from assistant.devices.microphone import Microphone
from assistant.devices.sound import Clip, Samples
from assistant.dialogue.session import Session
from assistant.journal import hash_chain
from assistant.journal.writer import Journal
from assistant.lab.commands import fault_trials
from assistant.lab.faults import (
    device_faults,
    device_hours,
    faults_bench,
    killed_service,
    live_faults,
    live_run,
    spoiled_files,
)
from assistant.lab.faults.tally import Tally
from assistant.messages import AlarmChanged, Effect, Event

pytestmark = pytest.mark.real  # processes, threads and deadlines by the clock

PART = faults_bench.PARTS


def spoiled_program(patch: str) -> tuple[str, ...]:
    """The program with some lines of Python before it."""
    return (
        sys.executable, "-c",
        f"import sys\n{patch}\nfrom assistant.cli import main\nsys.exit(main(sys.argv[1:]))",
    )  # fmt: skip


def test_the_command_names_the_parts_that_there_are() -> None:
    assert tuple(PART) == fault_trials.PARTS
    assert all(part.few < part.many for part in PART.values())


def test_rows_and_a_verdict(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["bench", "faults", "--part", "cuts", "--times", "5"]) == 0
    assert capsys.readouterr().out.splitlines()[-1] == "good"
    monkeypatch.setattr(hash_chain, "_torn_end", lambda n, line, before: ("altered", n, "no"))
    assert main(["bench", "faults", "--part", "cuts", "--times", "5"]) == 1
    lines = capsys.readouterr().out.splitlines()
    assert lines[-1] == "NOT GOOD: 5 failed"
    assert "it is told altered, and is cut" in lines[2]
    assert main(["bench", "faults", "--part", "teens"]) == 2
    assert main(["bench", "faults", "--times", "0"]) == 2


def test_files(monkeypatch: pytest.MonkeyPatch) -> None:
    assert PART["files"].try_it(25, 1) == Tally(25, [])

    def broken(file: object) -> object:
        raise KeyError("a bug")

    monkeypatch.setattr(check, "check_file", broken)
    failures = PART["files"].try_it(5, 1).failures
    assert len(failures) == 5
    assert "check ended with 4" in failures[0]


def test_cuts() -> None:
    assert PART["cuts"].try_it(60, 1) == Tally(60, [])


def test_kills(monkeypatch: pytest.MonkeyPatch) -> None:
    assert PART["kills"].try_it(20, 1) == Tally(21, [])
    write, kept = Journal._write, []

    def lazy(journal: Journal, line: bytes) -> None:
        kept.append(line)
        if len(kept) > 5:
            journal._size -= sum(map(len, kept[:-1]))
            write(journal, b"".join(kept))
            journal._size += sum(map(len, kept[:-1]))
            kept.clear()

    monkeypatch.setattr(Journal, "_write", lazy)
    monkeypatch.setattr(Journal, "sync", lambda journal: None)
    assert PART["kills"].try_it(60, 1).failures


def test_service() -> None:
    tally = killed_service.killed_services(2, 1, back_s=30.0)  # a machine that runs other things
    assert (tally.tried, tally.failures) == (2, [])
    assert "back after" in tally.notes[0]


@pytest.mark.parametrize(
    ("patch", "failure"),
    [
        (
            "from assistant.commands.resume_tries import ResumeTries\n"
            "ResumeTries.objection = lambda self: 'no'",
            "it began another book",
        ),
        (
            "from assistant.dialogue import reprompts\n"
            "reprompts.walkthrough.resumed = lambda *given: 'Here we are.'",
            "the water was not asked",
        ),
    ],
)
def test_service_bites(patch: str, failure: str) -> None:
    tally = killed_service.killed_services(1, 1, spoiled_program(patch), back_s=30.0)
    assert failure in tally.failures[0]
    assert "it was back after" in killed_service.killed_services(1, 1, back_s=0.0).failures[0]


def test_disk() -> None:
    assert live_faults.full_disks(2, 1) == Tally(2, [])
    silent = "from assistant.app import Loop\nLoop._journal_notice = lambda self, was_lost: []"
    (failure,) = live_faults.full_disks(2, 1, spoiled_program(silent)).failures
    assert "was not said that the book cannot be written" in failure


def test_terminals(monkeypatch: pytest.MonkeyPatch) -> None:
    assert live_faults.lost_terminals(2, 1) == Tally(2, [])
    monkeypatch.setattr(live_run, "WAIT_S", 15.0)
    attached = (
        "import contextlib\nfrom assistant.commands import run\n"
        "run.detached_output = lambda: contextlib.nullcontext(())"
    )
    (failure,) = live_faults.lost_terminals(1, 1, spoiled_program(attached)).failures
    assert "stopped" in failure
    assert "the danger in the book did not come" in failure


def test_ears() -> None:
    assert PART["ears"].try_it(4, 1) == Tally(4, [])

    class Unwatched(Microphone):
        def check(self) -> None:
            """Nobody looks."""

    failures = device_faults.broken_ears(2, 1, Unwatched).failures
    assert any("DeviceLost was not told" in failure for failure in failures)


def test_hours_of_failing_devices() -> None:
    tally = device_hours.hours(device_hours.FakeWorld(), 0.25, 1, "false clock")
    assert tally.failures == []
    assert tally.tried > 4
    assert "0.25 h, " in tally.notes[0]


def _slow_watch(patch: pytest.MonkeyPatch) -> None:
    patch.setattr(watchdog, "NO_BLOCKS_S", 6.0)
    patch.setattr(watchdog, "PROBE_EVERY_S", 600.0)


def _slow_ear(patch: pytest.MonkeyPatch) -> None:
    patch.setattr(microphone, "FAULT_OVER_S", 30.0)


def _lost_words(patch: pytest.MonkeyPatch) -> None:
    recognise, count = Listener._recognise, itertools.count()

    def forgetful(listener: Listener, sound: Samples, overlapping: bool) -> None:
        recognise(listener, sound, overlapping)
        if next(count) == 3:
            listener._inbox._queue.get_nowait()

    patch.setattr(Listener, "_recognise", forgetful)


def _leak(patch: pytest.MonkeyPatch) -> None:
    say, kept = device_hours.FakeWorld.say, []

    def leaky(world: device_hours.FakeWorld) -> None:
        kept.append(os.dup(0))
        say(world)

    patch.setattr(device_hours.FakeWorld, "say", leaky)


def _hoard(patch: pytest.MonkeyPatch) -> None:
    say, kept = device_hours.FakeWorld.say, []

    def hoarding(world: device_hours.FakeWorld) -> None:
        kept.append(mmap.mmap(-1, 2_000_000))  # pages that no freed memory can serve
        kept[-1].write(b"x" * 2_000_000)
        say(world)

    patch.setattr(device_hours, "SETTLED_S", 120.0)
    patch.setattr(device_hours.FakeWorld, "say", hoarding)


@pytest.mark.parametrize(
    ("spoil", "failure"),
    [
        (_slow_watch, "not told after"),
        (_slow_ear, "its end not told after"),
        (_lost_words, "utterances were closed"),
        (_leak, "more descriptors are open"),
        (_hoard, "memory grows by"),
    ],
)
def test_hours_bite(
    spoil: Callable[[pytest.MonkeyPatch], None], failure: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    spoil(monkeypatch)
    tally = device_hours.hours(device_hours.FakeWorld(), 0.5, 1, "false clock")
    assert any(failure in line for line in tally.failures), tally.failures


def test_voices(monkeypatch: pytest.MonkeyPatch) -> None:
    assert PART["voices"].try_it(7, 1) == Tally(7, [])
    monkeypatch.setattr(device_faults, "PATIENCE_S", 1.0)

    class Endless:
        def prepare(self) -> None:
            """Nothing."""

        def make(self, text: str, pace_wpm: int = 0) -> Clip | None:
            time.sleep(2.0)
            return None

        def close(self) -> None:
            """Nothing."""

    (failure,) = device_faults.broken_voices(1, 1, lambda program: Endless()).failures
    assert "does not come to an end" in failure


AT_EVERY_EVENT = """
from assistant.commands.run import Loop
process = Loop.process
def needing(self, event):
    {what}
    return process(self, event)
Loop.process = needing
"""


@pytest.mark.parametrize(
    ("part", "needed"),
    [
        (live_faults.lost_folders, "import tempfile; tempfile.TemporaryFile().close()"),
        (live_faults.no_descriptors, "open('/dev/null').close()"),
    ],
)
def test_folders_and_descriptors(
    part: Callable[..., Tally], needed: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    assert part(2, 1) == Tally(2, [])
    monkeypatch.setattr(live_run, "WAIT_S", 15.0)
    assert part(2, 1, spoiled_program(AT_EVERY_EVENT.format(what=needed))).failures


def test_books(monkeypatch: pytest.MonkeyPatch) -> None:
    assert PART["books"].try_it(8, 4) == Tally(8, [])
    monkeypatch.setattr(assistant.cli, "printable", lambda text: text)
    monkeypatch.setattr(spoiled_files, "ODD_VALUES", ("\x1b]0;owned\x07",))
    failures = PART["books"].try_it(8, 4).failures
    assert failures
    assert all("wrote control characters" in failure for failure in failures)


def test_days(monkeypatch: pytest.MonkeyPatch) -> None:
    assert PART["days"].try_it(1, 1) == Tally(1, [])
    handle = Session.handle

    def silent(session: Session, event: Event) -> list[Effect]:
        effects = handle(session, event)
        return [effect for effect in effects if not isinstance(effect, AlarmChanged)]

    monkeypatch.setattr(Session, "handle", silent)
    assert PART["days"].try_it(2, 1).failures
