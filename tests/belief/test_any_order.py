"""Any well-formed story: no exception, finite ordered answers, the same twice."""

from __future__ import annotations

import math

from boiler_engines import COPPER, FULL, PSI, STEEL
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.belief import consumption, estimate, forecast, water_forecast
from assistant.belief.bands import Band
from assistant.belief.history import STATES
from assistant.belief.summary import forecast_summary
from assistant.boiler.figures import Engine
from assistant.messages import Report

numbers = st.floats(allow_nan=True, allow_infinity=True) | st.floats(-5.0, 400.0)
reports = st.one_of(
    st.builds(Report, st.just("pressure"), st.integers(0, 240).map(float), st.just("psi")),
    st.builds(Report, st.just("pressure"), numbers, st.sampled_from(["psi", "bar", "kPa", "x"])),
    st.builds(Report, st.just("water"), st.floats(0.0, 1.0), st.just("glass")),
    st.builds(Report, st.just("water"), numbers, st.sampled_from(["glass", "mm", "inch", None])),
    st.just(Report("water", "out of sight")),
    st.builds(Report, st.just("tank"), st.floats(0.0, 1.0), st.just("tank")),
    st.sampled_from([Report(what, state) for what, of in STATES.items() for state in sorted(of)]),
)
Story = list[tuple[float, Report]]
stories = st.lists(st.tuples(st.floats(0.0, 4 * 3600.0), reports), max_size=25)


def is_ordered(band: Band | None) -> bool:
    if band is None:
        return True
    values = (band.low, band.mid, band.high)
    return all(map(math.isfinite, values)) and list(values) == sorted(values)


@settings(max_examples=120, deadline=None)
@given(st.sampled_from([COPPER, STEEL, FULL]), stories, st.booleans())
def test_any_story_gives_finite_ordered_answers(engine: Engine, story: Story, sort: bool) -> None:
    rows = sorted(story, key=lambda row: row[0]) if sort else story

    def answers() -> dict[str, object]:
        belief = estimate.begin(engine, 0.0)
        for at_s, report in rows:
            chance = estimate.chance(belief, report)
            assert chance is None or 0.0 <= chance <= 1.0 + 1e-9
            objection = estimate.objection(belief, report)
            assert objection is None or objection
            belief = estimate.update(belief, report, at_s)
        belief = estimate.predict(belief, belief.at_s + 60.0)
        for band in (
            forecast.pressure(belief),
            water_forecast.water(belief),
            forecast.minutes_to(belief, engine.working_pressure_gauge_pa).band,
            forecast.minutes_to(belief, 5 * PSI).band,
            water_forecast.minutes_to_lower_mark(belief).band,
            water_forecast.minutes_to_upper_mark(belief).band,
            forecast.minutes_to_lift(belief).band,
            forecast.feed_cost(belief, 1.0).drop_pa,
        ):
            assert is_ordered(band), band
        used = consumption.used(belief)
        assert used.water_kg is None or math.isfinite(used.water_kg)
        return forecast_summary(belief, engine.working_pressure_gauge_pa)

    assert answers() == answers()
