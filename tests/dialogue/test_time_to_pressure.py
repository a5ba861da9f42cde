"""The time to a pressure: what is recorded, and that a gauge that does not fit gets no figure."""

from __future__ import annotations

import pytest
from session_story import Story, in_steam, parts

from assistant.belief import forecast
from assistant.belief.bands import Band
from assistant.dialogue import time_to_pressure
from assistant.dialogue.event_context import EventContext
from assistant.messages import ForecastMade, Tick


def context_of(story: Story) -> EventContext:
    return EventContext(parts(), story.session.state, Tick(story.at))


def test_the_forecast_is_recorded_in_pounds_and_kept() -> None:
    context = context_of(in_steam())
    made = time_to_pressure.forecast_time(context)
    assert context.records == (made,)
    assert context.state.told.forecast == made
    working_psi = parts().engine.working_pressure_gauge_pa / 6894.757293168
    assert made.target_psi == pytest.approx(working_psi, abs=1e-3)


def test_no_time_is_told_when_the_belief_is_far_from_the_gauge(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    context = context_of(in_steam())
    monkeypatch.setattr(forecast, "pressure", lambda belief: Band(8e5, 8.1e5, 8.2e5))
    made = time_to_pressure.forecast_time(context)
    assert (made.low, made.mid, made.high) == (None, None, None)
    assert made.why == "the gauge does not fit what I reckon"


@pytest.mark.parametrize(
    ("target_psi", "dial", "words"),
    [(60.0, "psi", "sixty pounds"), (72.5189, "bar", "five bar"), (48.3, "psi", "forty eight")],
)
def test_the_target_is_named_in_the_unit_of_the_dial(
    target_psi: float, dial: str, words: str
) -> None:
    story = in_steam()
    calls = {"psi": "pressure sixty", "bar": "four point one bar"}
    story.say(calls[dial])
    made = ForecastMade(target_psi, 10.0, 12.0, 16.0, "")
    assert words in time_to_pressure.time_words(context_of(story), made)


def test_a_forecast_without_a_band_says_that_it_cannot_say() -> None:
    made = ForecastMade(100.0, None, None, None, "the fire is out")
    words = time_to_pressure.time_words(context_of(in_steam()), made)
    assert "The fire is out." in words
    assert "minutes" not in words
