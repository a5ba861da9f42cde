"""The first `footplate` at a terminal: the sound both ways, ten things to say, a practice; once."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from kept_output import KeptOutput

from assistant.cli import parser_for
from assistant.commands import default_command, first_meeting
from assistant.commands.first_meeting import PRACTICE, TRY, is_first, meet
from assistant.errors import WorldFailedError
from assistant.grammar.phrases import grammar
from assistant.messages import Expected
from assistant.wording.things_to_say import first_ten


class Sound:
    """A machine with these troubles, on which these words are understood."""

    def __init__(self, words: str = TRY, deaf: str = "", mute: str = "") -> None:
        self.words, self.deaf, self.mute = words, deaf, mute
        self.played = 0

    def play(self) -> str:
        self.played += 1
        return self.mute

    def hear(self) -> tuple[list[str], str]:
        if self.deaf:
            raise WorldFailedError(self.deaf)
        return ["speech 30 dB over the noise: good"], self.words


def met(sound: Sound, *answers: str) -> tuple[list[str] | None, str, list[str]]:
    """What was chosen, what was printed, what was asked."""
    out, left, asked = KeptOutput(), iter(answers), []

    def ask(question: str) -> str:
        asked.append(question)
        return next(left)

    chosen = meet(out, ask, sound)
    assert not list(_rest(left)), "every answer was asked for"
    return chosen, "\n".join(out.lines), asked


def _rest(left: Iterator[str]) -> Iterator[str]:
    yield from left


def test_all_well_and_a_practice_wanted() -> None:
    assert is_first()
    chosen, told, asked = met(Sound(), "y", "", "yes")
    assert chosen == list(PRACTICE)
    assert "understood: pressure seventy five" in told
    assert first_meeting.NOT_HEARD not in told
    assert asked[-1].startswith("A practice of 5 minutes")
    assert not is_first()


def test_the_practice_is_one_that_the_command_line_takes() -> None:
    given = parser_for(["rehearse"]).parse_args(list(PRACTICE))
    assert (given.speed, given.minutes) == ("real", 5.0)


def test_nothing_heard_either_way_is_told_and_the_rest_comes_all_the_same() -> None:
    chosen, told, _ = met(Sound(words=""), "n", "", "")
    assert chosen is None
    assert first_meeting.NOT_HEARD in told and "Nothing was understood" in told
    assert all(saying.form in told for saying in first_ten())


def test_a_machine_without_sound_meets_on_the_screen() -> None:
    chosen, told, asked = met(Sound(deaf="there is no microphone", mute="No loudspeaker"), "", "y")
    assert chosen == list(PRACTICE)
    assert "No loudspeaker" in told and "there is no microphone" in told
    assert not any("Did you hear" in question for question in asked)


def test_other_words_than_were_asked_for_are_shown() -> None:
    _, told, _ = met(Sound(words="pressure sixty five"), "y", "", "n")
    assert "understood: pressure sixty five" in told and "not what was wanted" in told


def test_the_ten_are_ten_and_understood() -> None:
    forms = [saying.form for saying in first_ten()]
    assert len(forms) == 10
    assert all(grammar(Expected("state")).parse(form) is not None for form in forms)


def test_it_comes_once_and_only_at_a_terminal(monkeypatch: pytest.MonkeyPatch) -> None:
    class Terminal:
        def __init__(self, tty: bool) -> None:
            self.isatty = lambda: tty

    answers = iter(["y", "", "n", "n"])
    monkeypatch.setattr(default_command, "_microphone", lambda: None)
    monkeypatch.setattr(default_command, "OwnSoundCheck", lambda out: Sound())
    monkeypatch.setattr("builtins.input", lambda _: next(answers))
    for stream in ("sys.stdin", "sys.stdout"):
        monkeypatch.setattr(stream, Terminal(False))
    out = KeptOutput()
    assert default_command.choose_command(out) is None
    assert "first time" not in out.lines[0] and is_first()
    for stream in ("sys.stdin", "sys.stdout"):
        monkeypatch.setattr(stream, Terminal(True))
    for first in (True, False):
        out = KeptOutput()
        assert default_command.choose_command(out) is None
        assert ("first time" in out.lines[0]) == first


def test_a_terminal_that_closes_meets_again(monkeypatch: pytest.MonkeyPatch) -> None:
    def closed(question: str) -> str:
        raise EOFError

    with pytest.raises(EOFError):
        meet(KeptOutput(), closed, Sound())
    assert is_first()
