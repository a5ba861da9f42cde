"""Estimates are unknown where no report bears on them, and are worked out only when asked for."""

from __future__ import annotations

import pytest
from session_story import in_steam

from assistant.belief import water_forecast
from assistant.dialogue.estimates import LazyEstimates


def test_nothing_is_known_without_a_belief() -> None:
    unknown = LazyEstimates()
    assert (unknown.pressure, unknown.water, unknown.near_boiling) == (None, None, False)


def test_only_what_a_report_bears_on_is_estimated() -> None:
    belief = in_steam().session.state.belief
    cold = LazyEstimates(belief)
    assert (cold.pressure, cold.water, cold.near_boiling) == (None, None, False)
    warm = LazyEstimates(belief, warm=True, glass_read=True, fire_in=True)
    assert warm.pressure is not None and warm.pressure.low <= warm.pressure.mid
    assert warm.water == pytest.approx(0.5, abs=0.1)
    assert warm.near_boiling, "at sixty pounds the water boils"


def test_a_figure_is_worked_out_once_and_not_before_it_is_wanted(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    belief, calls = in_steam().session.state.belief, []

    def water_middle(of: object) -> float:
        calls.append(of)
        return 0.25

    monkeypatch.setattr(water_forecast, "water_middle", water_middle)
    estimates = LazyEstimates(belief, glass_read=True)
    assert calls == []
    assert [estimates.water, estimates.water] == [0.25, 0.25]
    assert calls == [belief]
