"""The loop: recorded before performed, and a journal that fails does not end the session."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest
from session_story import parts

from assistant.app import Guarded, Loop
from assistant.commands.replay import replay
from assistant.dialogue.session import Session
from assistant.errors import WorldFailedError
from assistant.journal import reader
from assistant.messages import Effect, Event, Fault, Heard, Say, Started, StopAsked, Tick
from assistant.recogniser.typed_recogniser import hear_typed


class Paper:
    """A journal in memory that can be made to fail, as a full disk does."""

    def __init__(self) -> None:
        self.written: list[object] = []
        self.synced = 0
        self.full = False

    def event(self, event: Event) -> None:
        self._write(event)

    def effect(self, at_s: float, effect: Effect) -> None:
        self._write(effect)

    def sync(self) -> None:
        self.synced = len(self.written)

    def _write(self, entry: object) -> None:
        if self.full:
            raise WorldFailedError("no space left")
        self.written.append(entry)


class Witness:
    """Notes how much was on the disk whenever something was performed."""

    def __init__(self, paper: Paper) -> None:
        self.paper = paper
        self.performed: list[tuple[Effect, bool]] = []

    def perform(self, at_s: float, effect: Effect) -> None:
        on_disk = effect in self.paper.written[: self.paper.synced]
        self.performed.append((effect, on_disk))


def test_nothing_is_performed_before_it_is_on_the_disk() -> None:
    paper = Paper()
    witness = Witness(paper)
    loop = Loop(Session(parts()), paper, [witness])
    loop.process(Started(0.0))
    loop.process(hear_typed("regulator shut", loop.session.expected, 5.0))
    assert len(witness.performed) > 6
    assert all(on_disk for _, on_disk in witness.performed)


def test_a_full_disk_is_told_once_and_the_book_catches_up() -> None:
    paper = Paper()
    witness = Witness(paper)
    loop = Loop(Session(parts()), paper, [witness])
    loop.process(Started(0.0))
    paper.full = True
    loop.process(hear_typed("water half", loop.session.expected, 5.0))
    loop.process(Tick(10.0))
    told = [e.text for e, _ in witness.performed if isinstance(e, Say)]
    assert told.count("Warning. The book cannot be written. Use paper.") == 1
    assert "Brake on, chocked both ways, or not yet?" in told, "the steam-up goes on"
    paper.full = False
    loop.process(Tick(15.0))
    assert [e.at for e in paper.written if isinstance(e, Tick)] == [10.0, 15.0]
    assert witness.performed[-1][0] == Say(
        "The book is written again.", witness.performed[-1][0].urgency
    )
    again = Session(parts())
    events = [e for e in paper.written if not isinstance(e, Effect)]
    effects = [effect for event in events for effect in again.handle(event)]
    assert effects == [e for e in paper.written if isinstance(e, Effect)]


def test_the_end_is_noticed() -> None:
    loop = Loop(Session(parts()), Paper())
    loop.process(Started(0.0))
    assert loop.ended is None
    loop.process(StopAsked(1.0))
    assert loop.ended is not None


def test_an_utterance_that_kills_whoever_thinks_about_it_is_in_the_book(tmp_path: Path) -> None:
    """A process of its own is killed inside `handle`, as by a lack of memory or a fault in C."""
    program = """
import os, signal, sys
from pathlib import Path
import pytest
from session_story import parts
from assistant.app import Guarded, Loop
from assistant.config.engine_file import find_engine
from assistant.journal.writer import Journal
from assistant.recogniser.typed_recogniser import hear_typed
from assistant.messages import Heard, Started
from assistant.dialogue.session import Session
from assistant.commands.session_build import header_of

class Deadly(Session):
    def handle(self, event):
        if isinstance(event, Heard):
            os.kill(os.getpid(), signal.SIGKILL)
        return super().handle(event)

header = header_of(find_engine("practice"), "2026-05-01T09:00:00+00:00", 1, "test")
with Journal.create(Path(sys.argv[1]), header) as journal:
    loop = Loop(Deadly(parts()), journal)
    loop.process(Started(0.0))
    loop.process(hear_typed("regulator shut", loop.session.expected, 5.0))
"""
    path = tmp_path / "killed.jsonl"
    where = {**os.environ, "PYTHONPATH": str(Path(__file__).parent / "helpers")}
    died = subprocess.run([sys.executable, "-c", program, path], env=where, check=False)
    assert died.returncode == -signal.SIGKILL
    kept = reader.read(path)
    assert kept.state == "whole"
    assert [e.alternatives[0].words for e in kept.events() if isinstance(e, Heard)] == [
        "regulator shut"
    ]
    assert replay(path).differing == ()
    assert replay(path).interrupted == 1


def test_what_was_thought_about_is_written_before_and_not_twice() -> None:
    paper = Paper()

    class Looks(Session):
        def handle(self, event: Event) -> list[Effect]:
            assert paper.written[-1] is event
            return super().handle(event)

    loop = Loop(Looks(parts()), paper)
    for event in (Started(0.0), Tick(1.0), StopAsked(2.0)):
        loop.process(event)
    assert [e for e in paper.written if not isinstance(e, Effect)] == [
        Started(0.0), Tick(1.0), StopAsked(2.0),
    ]  # fmt: skip


def test_no_book_is_called_whole_while_a_record_waits() -> None:
    paper = Paper()
    loop = Loop(Session(parts()), paper)
    loop.process(Started(0.0))
    paper.full = True
    loop.process(StopAsked(1.0))
    waiting = loop.unwritten
    with pytest.raises(WorldFailedError, match=f"sealed, and its last {waiting} records are not"):
        loop.require_all_written()
    assert waiting == loop.unwritten > 0
    paper.full = False
    loop.require_all_written()
    assert loop.unwritten == 0
    assert StopAsked(1.0) in paper.written[: paper.synced]


def test_a_performer_that_fails_is_told_by_the_others_and_tried_again() -> None:
    class Breaks:
        def __init__(self) -> None:
            self.broken, self.tried = True, 0

        def perform(self, at_s: float, effect: Effect) -> None:
            self.tried += 1
            if self.broken:
                raise OSError("no space left on device")

    paper, stalled = Paper(), [""]
    breaks, witness = Breaks(), Witness(paper)
    screen = Guarded(breaks, "The screen is lost.", "The screen is back.", lambda: stalled[0])
    loop = Loop(Session(parts()), paper, [screen, witness])

    def told() -> list[str]:
        said = [e.text for e, _ in witness.performed if isinstance(e, Say)]
        return [text for text in said if "screen" in text]

    loop.process(Started(0.0))
    tried = breaks.tried
    assert tried > 3
    assert told() == ["The screen is lost."]
    loop.process(hear_typed("regulator shut", loop.session.expected, 5.0))
    assert breaks.tried > tried
    assert told() == ["The screen is lost."]
    breaks.broken = False
    loop.process(hear_typed("say again", loop.session.expected, 6.0))
    assert told()[1:] == ["The screen is back."]
    stalled[0] = "it takes no more"
    loop.process(Tick(7.0))
    assert told()[2:] == ["The screen is lost."]
    assert Fault("The screen is lost. (it takes no more)") in [e for e, _ in witness.performed]
