"""Forecasts in words: rounded minutes, ranges, and what is said when nothing is known."""

from __future__ import annotations

import pytest

from assistant.wording import forecast_words
from assistant.wording.quantities import PROMPT_WORDS, word_count


@pytest.mark.parametrize(
    ("args", "said"),
    [
        (
            (10, 12, 16, 120, "psi"),
            "About twelve minutes to a hundred and twenty pounds, ten to sixteen.",
        ),
        ((9.1, 12.4, 16.8, 8, "bar"), "About twelve minutes to eight bar, nine to seventeen."),
        ((0, 0, 0, 120, "psi"), "Already at a hundred and twenty pounds."),
        ((0.2, 0.3, 0.4, 60, "psi"), "Less than a minute to sixty pounds."),
        ((1, 1, 1, 60, "psi"), "About one minute to sixty pounds."),
        (
            (50, 70, 95, 60, "psi"),
            "About one hour ten to sixty pounds, fifty minutes to one hour forty.",
        ),
    ],
)
def test_minutes_to_a_pressure(args: tuple[float, float, float, float, str], said: str) -> None:
    assert forecast_words.minutes_to_words(*args) == said


def test_other_forecasts() -> None:
    assert forecast_words.cannot_say("no reading yet") == "I cannot say when yet. No reading yet."
    assert (
        forecast_words.water_trend_words("rising", "expansion")
        == "Water rising, likely by expansion."
    )
    assert forecast_words.water_trend_words("falling", "strange") == "Water falling."
    assert forecast_words.water_trend_words("?", "?") == "I cannot tell how the water is moving."
    assert forecast_words.is_it_expansion("rising", "expansion").startswith("Likely")
    assert forecast_words.is_it_expansion("falling", "use").startswith("Not rising now.")
    assert (
        forecast_words.water_lasts(15, 20, 30)
        == "About twenty minutes to the lower mark, fifteen to thirty."
    )
    assert (
        forecast_words.water_lasts(None, None, None)
        == "By your readings, not falling. Look at the glass."
    )
    assert forecast_words.feed_cost_words(2, "litre", 6.2, "psi", 0.1) == (
        "Two litres: pressure down about six pounds, glass up a tenth."
    )
    assert (
        forecast_words.when_lift(5, 8, 12) == "About eight minutes until she lifts, five to twelve."
    )
    assert forecast_words.used_words(12.4, 8.0) == (
        "About twelve litres of water and about eight kilograms of coal."
    )
    assert forecast_words.used_words(None) == "I do not know yet."
    assert (
        forecast_words.meanwhile(11, "Oil round now?")
        == "Eleven minutes to go. Meanwhile: oil round now?"
    )


def test_every_trend_has_its_words() -> None:
    for trend in ("rising", "steady", "falling", "unknown"):
        for cause in ("expansion", "feed", "use", "loss", "unknown"):
            said = forecast_words.water_trend_words(trend, cause)
            assert 2 <= word_count(said) <= PROMPT_WORDS
            assert trend in said.lower() or trend == "unknown" or "flat" in said


@pytest.mark.parametrize(
    ("minutes", "said"),
    [
        (0.4, "zero minutes"),
        (19.4, "nineteen minutes"),
        (21.9, "twenty minutes"),
        (57.6, "one hour"),
        (64.0, "one hour"),
        (119.0, "two hours"),
    ],
)
def test_the_longer_a_time_the_coarser_it_is_said(minutes: float, said: str) -> None:
    assert forecast_words.minutes_words(minutes) == said


def test_a_feed_that_costs_nothing_readable_is_said_so() -> None:
    assert forecast_words.feed_cost_words(0.5, "litre", 0.3, "psi", 0.01) == (
        "Zero point five litres: pressure hardly down, glass up hardly at all."
    )
    assert forecast_words.feed_expected(5, 1.2, 0.04, "bar") == (
        "Five minutes: glass up to the top."
    )
