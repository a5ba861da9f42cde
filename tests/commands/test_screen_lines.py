"""Lines on the screen: what is news to a person, and nothing else."""

from __future__ import annotations

import io

import pytest

from assistant.commands.screen_lines import ScreenPerformer, show
from assistant.devices.console import Screen
from assistant.messages import (
    AlarmChanged,
    Alternative,
    Answer,
    Effect,
    Expected,
    Grade,
    Heard,
    Hush,
    Listen,
    ReadingCorrected,
    ReadingRefused,
    Report,
    Say,
    Tone,
)

PSI = Report("pressure", 75.0, "psi")


def shown(message: object) -> str:
    out = io.StringIO()
    with Screen(out, plain=True) as screen:
        show(screen, 61.0, message)
    return out.getvalue()


@pytest.mark.parametrize(
    ("message", "text"),
    [
        (Say("Where is the water?"), "Where is the water?"),
        (ReadingRefused(None, "too quiet"), "not taken: what was said (too quiet)"),
        (ReadingCorrected(PSI, None), "-> nothing yet"),
        (
            AlarmChanged("low water", Grade.DANGER, "raised", "0.1"),
            "danger: low water raised (0.1)",
        ),
        (Heard(0.0, "ear", (), text=""), "(not understood)"),
        (Heard(0.0, "ear", (Alternative(Answer("yes"), "correct", 0.99),)), "correct   [99%]"),
        (Heard(0.0, "typed", (Alternative(Answer("yes"), "correct", 1.0),)), "correct\n"),
    ],
)
def test_a_line(message: object, text: str) -> None:
    line = shown(message)
    assert text in line
    assert line.count("\n") == 1


@pytest.mark.parametrize("effect", [Hush(), Tone(Grade.CAUTION), Listen(Expected())])
def test_what_is_no_news_has_no_line(effect: Effect) -> None:
    out = io.StringIO()
    with Screen(out, plain=True) as screen:
        ScreenPerformer(screen).perform(1.0, effect)
    assert out.getvalue() == ""
