"""How long until an answer sounds: the verdict follows the figures, and a sound card is wanted."""

from __future__ import annotations

import pytest

from assistant.lab.benches import board_aloud
from assistant.lab.benches.board_run import CASES

pytestmark = pytest.mark.sound


@pytest.mark.parametrize(
    ("beside", "met"),
    [([60.0, 70.0, 500.0], True), ([60.0, 79.0, 80.0], True), ([60.0, 81.0, 90.0], False)],
)
def test_the_verdict_follows_the_median(beside: list[float], met: bool) -> None:
    told = board_aloud.verdict([50.0, 60.0, 300.0], beside)
    assert told.endswith(": met" if met else "NOT MET")


def test_without_a_virtual_card_it_says_why(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(board_aloud.virtual_card, "why_absent", lambda: "no pacat")
    assert list(board_aloud.bench_lines(1)) == ["the spoken answer was not measured: no pacat"]


@pytest.mark.real  # the whole program runs, and is heard
@pytest.mark.enable_socket
def test_an_answer_is_heard_from_a_run_with_a_board(monkeypatch: pytest.MonkeyPatch) -> None:
    if why := board_aloud.virtual_card.why_absent():
        pytest.skip(why)
    monkeypatch.setattr(board_aloud, "TAKEN_OVER", ())
    ((sounded_ms,),) = board_aloud.measured(CASES[-1:], 3)
    assert 0.0 < sounded_ms < 1000.0 * board_aloud.SPEAKS_WITHIN_S
