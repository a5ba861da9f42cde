"""A run whose sound library hangs goes on as a new process, with the same book."""

from __future__ import annotations

import argparse
import os
import sys
import threading
from queue import SimpleQueue
from types import SimpleNamespace
from typing import Any

import pytest
from timing import until

from assistant.commands import begin_anew, run
from assistant.commands.begin_anew import NewStart, SoundHangsError, same_book
from assistant.devices.sound_card import SoundCard
from assistant.devices.supervisor import Supervisor
from assistant.messages import Tick


def test_the_words_go_on_with_the_book_whatever_began_it() -> None:
    went_on = ["run", "--engine", "a.yaml", "--resume"]
    assert same_book(["run", "--engine", "a.yaml", "--resume-or-begin"]) == went_on
    assert same_book(["run", "--resume", "--engine", "a.yaml", "--from=pumping"]) == went_on
    assert same_book([]) == [], "chosen by questions: nobody answers them again"


def ticking(settled: list[str]) -> tuple[Any, Any, Any]:
    """A loop that never ends, its start, and an inbox of ticks."""
    loop = SimpleNamespace(process=lambda event: None, ended=None)
    journal = SimpleNamespace(path=SimpleNamespace(name="book"))
    start = SimpleNamespace(
        first=Tick(0.0), journal=journal, goes_round=lambda: None,
        settled=lambda: settled.append("settled"),
    )  # fmt: skip
    ticks = iter([Tick(1.0), Tick(2.0), Tick(3.0)])
    return loop, start, SimpleNamespace(events=lambda tick_s: ticks)


def test_the_loop_is_left_once_the_sound_library_hangs(monkeypatch: pytest.MonkeyPatch) -> None:
    settled: list[str] = []
    loop, start, inbox = ticking(settled)
    run._until_ended(loop, start, inbox, Supervisor(), NewStart([]))
    assert settled == []
    monkeypatch.setattr(SoundCard, "hangs", lambda: True)
    new_start = NewStart([])
    until(new_start.due)
    loop, start, inbox = ticking(settled)
    with pytest.raises(SoundHangsError, match="--resume"):
        run._until_ended(loop, start, inbox, Supervisor(), new_start)
    assert settled == ["settled"], "the book has not failed"


def test_a_new_process_waits_until_it_would_have_its_devices(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(begin_anew, "TRY_S", 0.0)
    monkeypatch.setattr(SoundCard, "hangs", lambda: True)
    there = {("microphone", "Headset")}
    tried: SimpleQueue[tuple[str, str | None]] = SimpleQueue()

    def works(direction: str, name: str | None) -> bool:
        tried.put((direction, name))
        return (direction, name) in there

    new_start = NewStart([("microphone", "Headset"), ("speaker", None)], works)
    for _ in range(3):
        until(lambda: bool(new_start.due() or tried.qsize()))
        assert [tried.get(timeout=5.0), tried.get(timeout=5.0)] == [
            ("microphone", "Headset"),
            ("speaker", None),
        ]
        assert not new_start.due()
    there.add(("speaker", None))
    until(new_start.due)
    monkeypatch.setattr(SoundCard, "hangs", lambda: False)
    assert not new_start.due(), "the library came back"


def test_while_the_devices_are_tried_the_run_goes_on(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(SoundCard, "hangs", lambda: True)
    go = threading.Event()
    tried: SimpleQueue[str] = SimpleQueue()

    def slow(direction: str, name: str | None) -> bool:
        tried.put(direction)
        return go.wait(60.0)

    new_start = NewStart([("speaker", None)], slow)
    settled: list[str] = []
    loop, start, inbox = ticking(settled)
    run._until_ended(loop, start, inbox, Supervisor(), new_start)
    assert settled == []
    assert tried.get(timeout=5.0) == "speaker"
    assert tried.empty(), "one trial at a time"
    go.set()
    until(new_start.due)


def test_a_run_needs_the_devices_that_it_uses_again() -> None:
    def needs(*words: str, silent: bool = False) -> list[tuple[str, str | None]]:
        parser = argparse.ArgumentParser()
        run.add(parser)
        given = parser.parse_args([*words, "--engine", "practice"])
        return list(run._devices(given, SimpleNamespace(silent=silent)))  # type: ignore[arg-type]

    assert needs() == [("microphone", None), ("speaker", None)]
    assert needs("--microphone", "Headset", silent=True) == [("microphone", "Headset")]
    assert needs("--typed", "--speaker", "Cab") == [("speaker", "Cab")]
    assert needs("--typed", silent=True) == []


@pytest.mark.parametrize(("address", "took_its_place"), [("", True), ("/run/none", False)])
def test_it_takes_its_own_place_unless_a_supervisor_starts_it_again(
    monkeypatch: pytest.MonkeyPatch, address: str, took_its_place: bool
) -> None:
    said: list[str] = []
    places: list[list[str]] = []
    monkeypatch.setattr(sys, "argv", ["footplate", "run", "--engine", "a.yaml"])
    monkeypatch.setattr(os, "execv", lambda program, words: places.append(words))
    monkeypatch.setattr(Supervisor, "of_environment", lambda: Supervisor(address))

    def hangs(*given: object) -> int:
        raise SoundHangsError(begin_anew.HANGS)

    monkeypatch.setattr(run, "_run", hangs)
    with pytest.raises(SoundHangsError):
        run.run(SimpleNamespace(), SimpleNamespace(tell=said.append))  # type: ignore[arg-type]
    wanted = ["-m", "assistant.cli", "run", "--engine", "a.yaml", "--resume"]
    assert [words[1:] for words in places] == ([wanted] if took_its_place else [])
    assert bool(said) is took_its_place
