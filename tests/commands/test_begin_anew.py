"""A run whose sound library hangs goes on as a new process, with the same book."""

from __future__ import annotations

import os
import sys
from types import SimpleNamespace
from typing import Any

import pytest

from assistant.commands import begin_anew, run
from assistant.commands.begin_anew import SoundHangsError, same_book
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
    run._until_ended(loop, start, inbox, Supervisor())
    assert settled == []
    monkeypatch.setattr(SoundCard, "hangs", lambda: True)
    loop, start, inbox = ticking(settled)
    with pytest.raises(SoundHangsError, match="--resume"):
        run._until_ended(loop, start, inbox, Supervisor())
    assert settled == ["settled"], "the book has not failed"


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
