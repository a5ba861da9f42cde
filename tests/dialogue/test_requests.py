"""The operator's orders: what is answered, obeyed, refused."""

from __future__ import annotations

from dataclasses import replace

import pytest
from session_story import Story, in_steam, set_progress, steaming, texts, warm_engine

from assistant.messages import (
    Ended,
    Fault,
    ForecastMade,
    ReadingAccepted,
    StepAsked,
    Tick,
)
from assistant.wording import forecast_words, walkthrough


def test_where_we_are_ends_with_the_step_as_it_is_put() -> None:
    story = Story()
    story.say("where are we")
    assert story.said()[0].endswith("to go. Both glass cocks open. Where is the water?")
    story = warm_engine()
    set_progress(story, replace(story.session.state.progress, asked=None, steps=()))
    story.say("where are we")
    assert "None to go" in story.text() and "Waiting for pressure" not in story.text()


def test_a_hold_that_cannot_be_skipped_says_why_and_asks_again() -> None:
    story = Story()
    story.say("skip")
    water = (
        "This one stays: the next phase waits for it. Both glass cocks open. Where is the water?"
    )
    assert story.said() == [water]
    story.say("water half")
    story.say("skip")
    brake = "This one stays: it must be seen. Brake on, chocked both ways, or not yet?"
    assert story.said() == [brake]


def test_in_danger_why_gives_the_reason_and_what_next_the_acts() -> None:
    story = in_steam()
    story.say("water one quarter")
    story.say("why")
    assert "Bare plates weaken" in story.text()
    story.say("what next")
    assert (
        story.text().startswith("Damper shut, blower shut. No firing.")
        and "competent person" in story.text()
    )


def test_small_amounts_are_told_as_such() -> None:
    assert forecast_words.used_words(0.2, 0.3) == "Hardly any water and hardly any coal."
    assert (
        forecast_words.used_words(0.8, 1.2)
        == "About one litre of water and about one kilogram of coal."
    )
    assert "pressure hardly down" in forecast_words.feed_cost_words(2, "litre", 0.2, "psi", 0.1)
    reason = "glass +0.12 in 8 minutes: +0.13 expansion, -0.01 use"
    assert walkthrough.why(forecast_words.trend_reason(reason)) == (
        "Glass up twelve hundredths in eight minutes: up thirteen by expansion, down one by use."
    )
    assert forecast_words.trend_reason("no water in sight") == "no water in sight"


def test_an_end_that_was_not_meant_goes_on() -> None:
    story = Story()
    story.say("end the session")
    story.say("no")
    assert story.said() == ["Then we go on."]


def test_ending_is_asked_twice() -> None:
    story = in_steam()
    story.say("end session")
    assert not story.got(Ended)
    story.say("correct")
    assert story.got(Ended)


def test_wait_is_quiet_and_then_the_step_is_put_again() -> None:
    story = Story()
    step = story.session.state.progress.asked
    story.say("wait four minutes")
    assert texts(story.wait(235)) == []
    assert texts(story.wait(10)) == ["Both glass cocks open. Where is the water?"]
    assert story.session.state.progress.asked == step


def test_back_puts_the_last_step_again() -> None:
    story = Story()
    story.say("regulator shut")
    story.say("go back")
    assert story.said() == ["Regulator: open or shut?"]
    assert [a.step for a in story.got(StepAsked)] == ["regulator shut"]


@pytest.mark.parametrize("order", ["open items", "where are we", "what next", "why", "say again"])
def test_a_question_changes_no_step(order: str) -> None:
    story = steaming()
    progress = story.session.state.progress
    story.say(order)
    assert story.said()
    assert story.session.state.progress == progress


def test_where_we_are_tells_how_old_the_readings_are() -> None:
    story = in_steam()
    story.say("where are we")
    assert "Pressure sixty. Water half." in story.said()[0]
    story.wait(600.0)
    story.say("where are we")
    assert "Pressure sixty, ten minutes ago. Water half, ten minutes ago." in story.said()[0]
    story.say("pressure seventy")
    story.say("where are we")
    assert "Pressure seventy. Water half, ten minutes ago." in story.said()[0]


@pytest.mark.parametrize("words", ["pressure -5 psi", "-5 psi", "pressure -0.5 bar"])
def test_a_pressure_under_the_end_of_the_gauge_is_not_taken_and_that_is_said(words: str) -> None:
    story = in_steam()
    story.say(words)
    assert story.got(ReadingAccepted) == [] and story.got(Fault) == []
    assert story.said()[0].startswith("Pressure minus")
    assert story.said()[0].endswith("Not taken. The gauge begins at nothing.")


def test_a_pressure_finer_than_any_dial_is_not_followed() -> None:
    story = in_steam()
    story.say("pressure 0.001 psi")
    assert story.got(ReadingAccepted) == []


@pytest.mark.parametrize("hours", [24, 48, 96, 240])
def test_a_fire_lit_days_ago_with_nothing_called_since_is_no_fault(hours: int) -> None:
    """A journal left after lighting, gone on with after a weekend."""
    story = Story()
    story.through("regulator shut", "water half", "fire lit")
    story.at = 3600.0 * hours
    story.event(Tick(story.at))
    assert story.got(Fault) == []
    story.say("how long")
    assert story.got(Fault) == []
    (made,) = story.got(ForecastMade)
    assert made.mid is None or hours <= 24


def test_the_heat_that_feed_costs_is_told_in_whole_minutes_of_one_or_more() -> None:
    story = in_steam()
    story.say("what if i put in two litres")
    story.say("why")
    assert "minus" not in story.said()[0] and "zero minutes" not in story.said()[0]
    assert "one minute of this fire" in story.said()[0]
