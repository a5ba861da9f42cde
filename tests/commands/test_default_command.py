"""`footplate` without a command: suggestions for this machine; begun only after a yes."""

from __future__ import annotations

import pytest
from kept_output import KeptOutput

from assistant.cli import COMMANDS
from assistant.commands import default_command, first_meeting
from assistant.commands.default_command import SUGGESTIONS, choose_command


class Terminal:
    def isatty(self) -> bool:
        return True


def at_a_terminal(
    monkeypatch: pytest.MonkeyPatch, microphone: str | None, answer: str
) -> tuple[list[str] | None, list[str]]:
    monkeypatch.setattr(default_command, "_microphone", lambda: microphone)
    monkeypatch.setattr(first_meeting, "is_first", lambda: False)
    monkeypatch.setattr("sys.stdin", Terminal())
    monkeypatch.setattr("sys.stdout", Terminal())
    monkeypatch.setattr("builtins.input", lambda _: answer)
    out = KeptOutput()
    return choose_command(out), out.lines


def test_with_a_microphone_a_live_run_is_told_and_only_a_practice_offered(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    words, lines = at_a_terminal(monkeypatch, "Headset", "y")
    assert words == ["rehearse", "--speed", "real"]
    assert "There is a microphone (Headset)" in lines[0]
    assert lines[0].endswith("run --engine FILE")


@pytest.mark.parametrize(
    ("answer", "words"),
    [("YES", ["rehearse", "--speed", "real"]), ("", None), ("n", None), ("yes please", None)],
)
def test_without_one_a_practice_and_only_after_a_yes(
    monkeypatch: pytest.MonkeyPatch, answer: str, words: list[str] | None
) -> None:
    chosen, lines = at_a_terminal(monkeypatch, None, answer)
    assert chosen == words
    assert "No microphone here" in lines[0]


def test_every_suggestion_is_a_command() -> None:
    commands = {command.split()[0] for rows in SUGGESTIONS.values() for _, command in rows}
    assert commands - {"--help"} <= set(COMMANDS)
