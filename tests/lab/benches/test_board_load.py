"""What the board costs: the verdict follows the figures, and the whole program is what is run."""

from __future__ import annotations

import pytest

from assistant.lab.benches import board_load
from assistant.lab.benches.board_load import CASES, Figures

WITHOUT = Figures([0.001], [90.0, 92.0], [20.0, 21.0, 22.0])


@pytest.mark.parametrize(
    ("beside", "met"),
    [
        (Figures([0.004, 0.019], [120.0], [20.0, 25.0, 30.0]), True),
        (Figures([0.004, 0.021], [120.0], [20.0, 25.0, 30.0]), False),  # one run of two
        (Figures([0.004], [152.0], [20.0]), False),
        (Figures([0.004], [100.0], [20.0, 26.5, 30.0]), False),
    ],
)
def test_the_verdict_follows_processor_memory_and_time(beside: Figures, met: bool) -> None:
    told = board_load._verdict(WITHOUT, Figures([0.001], [95.0], [20.0]), beside)
    assert told.endswith(": met" if met else "NOT MET")


@pytest.mark.real  # the whole program runs, and is asked by its sockets
@pytest.mark.enable_socket
def test_a_run_with_a_page_that_reads_and_one_that_never_does(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(board_load, "SETTLES_S", 0.5)
    figures = Figures()
    board_load._measure(CASES[-1], figures, rest_s=0.5, reports=2)
    assert len(figures.core) == 1 and figures.resident_mb[0] > 10.0
    assert len(figures.answered_ms) == 2 and len(figures.shown_ms) == 2 * CASES[-1].reading
    assert figures.unsent_kb[0] > 0.0  # it was sent what it did not read
    assert "| five pages, one stalled |" in board_load._row(CASES[-1].name, figures)
