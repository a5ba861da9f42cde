"""The bench of the wake phrase: what counts as called, taken and passed over."""

from __future__ import annotations

import pytest

from assistant.grammar.wake_phrase import CALL
from assistant.lab.benches.talk_wake import COLUMNS, WAKE_TABLE, WakeTally
from assistant.messages import Alternative, Expected, Heard, Meaning, Report

SEVENTY, SIXTY = Report("pressure", 70.0, "psi"), Report("pressure", 60.0, "psi")
PRESSURE = Expected("pressure")


def heard(meaning: Meaning, called: bool, share: float = 0.999) -> Heard:
    words = "engine minder" if meaning == CALL else "pressure seven zero"
    found = (Alternative(meaning, words, share),)
    return Heard(0.0, "ear", found, 0.0, -0.2, 1.0, words, None, called)


@pytest.mark.parametrize(
    ("pieces", "meant", "column", "called"),
    [
        ([heard(SEVENTY, True)], SEVENTY, "right", True),
        ([heard(SEVENTY, True)], SIXTY, "wrong", True),
        ([heard(SEVENTY, True, 0.9)], SEVENTY, "asked", True),
        ([heard(SEVENTY, False)], SEVENTY, "passed", False),
        ([heard(SEVENTY, False)], None, "passed", False),
        ([heard(CALL, True)], CALL, "right", True),
        ([heard(CALL, True)], None, "wrong", True),
        ([heard(CALL, True), heard(SEVENTY, False)], SEVENTY, "right", True),
        ([heard(CALL, True)], SEVENTY, "again", True),
        ([], SEVENTY, "passed", False),
    ],
)
def test_what_came_of_an_utterance(
    pieces: list[Heard], meant: Meaning | None, column: str, called: bool
) -> None:
    tally = WakeTally()
    tally.add(pieces, PRESSURE, meant)
    assert {name for name in COLUMNS[1:] if tally.counts[name]} == {column}
    assert tally.counts["called"] == called
    assert bool(tally.wrong) == (column == "wrong")
    assert len(tally.row("one").split()) == len(WAKE_TABLE.header().split()) + 1
